import type { Mention, Seen } from '../../care/visit/findings-part.ts';
import type { VisitSummary, WoundPart } from '../../care/visit/summary.ts';
import type { SupplyLine } from '../../care/visit/supplies-part.ts';
import { formatDays, formatShortDay } from '../../words/figures.ts';
import { formatDay, formatList, formatMonth, formatNumber, inARow } from '../../words/format.ts';
import { apart, t } from '../../words/i18n.ts';
import { footName } from '../../words/names.ts';
import { findingText, reasonText } from '../../words/reasons.ts';
import { useSay } from './speak.tsx';
import { Table } from './table.tsx';
import { nameOfWound } from './visit-words.ts';

/** What the rules kept for the visit: no call, only a word. */
export function Mentions({ mention }: { mention: readonly Mention[] }) {
  return useSay()(() => (
    <ul>
      {mention.map(({ rule, days }) => (
        <li key={`${rule.rule}${rule.variant ?? ''}`}>{t('visit:mention.line', { what: reasonText(rule), days: formatDays(days) })}</li>
      ))}
    </ul>
  ));
}

/** What else was seen, and what of it the clinic knows. */
export function SeenList({ seen, wounds }: { seen: readonly Seen[]; wounds: readonly WoundPart[] }) {
  return useSay()(() => (
    <ul>
      {seen.map((s) => {
        const what = t('check:line', { question: t(`check:${s.finding.split(':')[0]}.short`), answer: findingText(s.finding) });
        const place = placeOf(s, wounds);
        const line = t('visit:seen.line', { what: place ? t('visit:ofFoot', { what, foot: place }) : what, days: formatDays(s.days) });
        return <li key={line}>{s.known ? t('visit:seen.known', { line }) : line}</li>;
      })}
    </ul>
  ));
}

/** Where it was seen, where that needs saying. */
function placeOf({ side, wound }: Seen, wounds: readonly WoundPart[]): string | undefined {
  if (wounds.length < 2) return undefined;
  if (wound !== undefined) return nameOfWound(wounds.find((w) => w.id === wound) ?? { wound: undefined });
  return side && footName(side);
}

/** Supplies used in the period and what is left. What nobody counted and nothing was used of is only named. */
export function Supplies({ supplies }: { supplies: readonly SupplyLine[] }) {
  return useSay()(() => {
    const name = (s: SupplyLine): string => (s.name === undefined ? t('visit:supplies.noName') : apart(s.name));
    const idle = supplies.filter((s) => s.left === undefined && s.used === 0 && s.wasted === 0);
    const rows = supplies
      .filter((s) => !idle.includes(s))
      .map((s) => {
        const left = s.left === undefined ? t('visit:supplies.notCounted') : formatNumber(s.left, 2);
        return {
          key: s.item,
          cells: [name(s), formatNumber(s.used, 2), left, lastsText(s)],
          short: s.lackingNext,
        };
      });
    const head = [t('visit:supplies.item'), t('visit:supplies.used'), t('visit:supplies.left'), t('visit:supplies.lasts')];
    return (
      <>
        {rows.length > 0 && <Table head={head} rows={rows} />}
        {idle.length > 0 && <p class="visit-gap">{t('visit:supplies.noneCounted', { items: formatList(idle.map(name)) })}</p>}
      </>
    );
  });
}

function lastsText({ left, lackingNext, runsOut, earliest }: SupplyLine): string {
  if (left === undefined) return t('visit:notKnown');
  if (lackingNext) return t('visit:supplies.lacking');
  if (runsOut === undefined) return t('visit:supplies.long');
  return earliest !== undefined && earliest < runsOut
    ? t('visit:supplies.between', { earliest: formatShortDay(earliest), day: formatShortDay(runsOut) })
    : formatShortDay(runsOut);
}

/** The plan versions in force: the clinic once, and from when on each version. */
export function plansText(plans: VisitSummary['plans']): string {
  const lines = plans.map(({ clinic, revision, accepted }, i) => {
    const version = accepted
      ? t('visit:plans.from', { revision, day: formatDay(accepted, 'short') })
      : t('visit:plans.version', { revision });
    return i > 0 && plans[i - 1]?.clinic === clinic ? version : t('visit:plans.line', { clinic, version });
  });
  return inARow(lines, ';');
}

/** Sentences on what the log cannot tell; none where there is nothing to say. */
export function gapLines({ gaps, period, wounds, checks }: VisitSummary): (() => string)[] {
  const noSize = wounds.filter((w) => w.wound && w.size.inPeriod.length === 0);
  return [
    period.asked !== undefined ? () => t('visit:gaps.begins', { day: formatDay(period.from, 'short') }) : undefined,
    checks.none.length > 0 ? () => t('visit:gaps.noCheck', { count: checks.none.length }) : undefined,
    noSize.length > 0
      ? () => (wounds.length > 1 ? t('visit:gaps.noSizeOf', { wounds: formatList(noSize.map(nameOfWound)) }) : t('visit:gaps.noSize'))
      : undefined,
    gaps.monthsNotLoaded.length > 0 ? () => t('visit:gaps.months', { months: inARow(gaps.monthsNotLoaded.map(formatMonth)) }) : undefined,
    gaps.unreadable > 0 ? () => t('visit:gaps.unreadable', { count: gaps.unreadable }) : undefined,
    gaps.ahead > 0 ? () => t('visit:gaps.ahead', { count: gaps.ahead }) : undefined,
  ].filter((line) => line !== undefined);
}

export function Gaps({ lines }: { lines: readonly (() => string)[] }) {
  return useSay()(() => (
    <ul>
      {lines.map((line, i) => (
        <li key={i}>{line()}</li>
      ))}
    </ul>
  ));
}
