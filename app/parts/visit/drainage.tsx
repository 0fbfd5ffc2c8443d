import { BANDS } from '../../care/check/questions.ts';
import type { DrainagePart, DrainageRow } from '../../care/visit/changes-part.ts';
import type { Period } from '../../care/visit/period.ts';
import { formatDays, formatShortDay } from '../../words/figures.ts';
import { formatNumber } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { Chart } from '../chart/chart.tsx';
import { drainageChart, pauseDays } from '../chart/wound-charts.ts';
import { Facts, useSay } from './speak.tsx';
import { countedDays } from './visit-words.ts';

/** Drainage against the plan's range: which amount on which days, where it stood apart, and the picture. */
export function Drainage({ drainage, period }: { drainage: DrainagePart; period: Period }) {
  const say = useSay();
  const { rows, fit } = drainage;
  if (rows.length === 0) return <p>{say(() => t('visit:drainage.none'))}</p>;
  return say(() => (
    <>
      <Facts
        rows={[
          { label: t('visit:drainage.looks'), value: formatNumber(rows.length) },
          { label: t('visit:drainage.found'), value: foundTexts(rows) },
          { label: t('visit:drainage.expected'), value: expectedTexts(rows) },
          { label: t('visit:drainage.above'), value: countedDays(daysAt(rows, 'above')) },
          { label: t('visit:drainage.below'), value: countedDays(daysAt(rows, 'below')) },
        ]}
      />
      {fit && <p class="visit-open">{t(`visit:drainage.fit.${fit.says}`, { count: fit.changes.length })}</p>}
      <DrainageChart drainage={drainage} period={period} />
    </>
  ));
}

/** The picture, in the language of its place. */
function DrainageChart({ drainage, period }: { drainage: DrainagePart; period: Period }) {
  // Called, not placed: what a chart says of itself must be said within the language too.
  return useSay()(() => Chart(drainageChart(drainage.points, period, pauseDays(drainage.changeEveryHours ?? 0))));
}

const amountText = (amount: DrainageRow['amount']): string =>
  amount === undefined ? t('visit:drainage.notSeen') : t(`check:drainageAmount.said.${amount}`);

const daysAt = (rows: readonly DrainageRow[], place: DrainageRow['place']) => rows.filter((r) => r.place === place).map((r) => r.day);

/** Each amount with the days on which it was found, the driest first. */
const foundTexts = (rows: readonly DrainageRow[]): string[] =>
  [...BANDS, 'unsure' as const, undefined].flatMap((amount) => {
    const days = rows.filter((r) => r.amount === amount).map((r) => r.day);
    return days.length === 0 ? [] : [t('visit:codeOn', { what: amountText(amount), days: formatDays(days) })];
  });

function rangeText(range: DrainageRow['expected']): string {
  if (!range) return t('visit:drainage.notInPlan');
  const [low, high] = range;
  return low === high ? amountText(low) : t('visit:drainage.range', { least: amountText(low), most: amountText(high) });
}

/** What the plan expects; where it changed within the rows, from which day on. */
function expectedTexts(rows: readonly DrainageRow[]): string[] {
  const turns = rows.filter((row, i) => i === 0 || rangeText(row.expected) !== rangeText(rows[i - 1]?.expected));
  return turns.map(({ day, expected }, i) => {
    const range = rangeText(expected);
    return i === 0 ? range : t('visit:drainage.from', { day: formatShortDay(day), range });
  });
}
