import type { ComponentChildren } from 'preact';
import { dayNumber } from '../care/schedule/day.ts';
import type { AlertLine } from '../care/visit/alerts-part.ts';
import type { DayChange, DayCheck, DayNote, VisitDay } from '../care/visit/days.ts';
import type { WoundPart } from '../care/visit/summary.ts';
import { LevelMark } from '../parts/level.tsx';
import { as } from '../parts/visit/table.tsx';
import { answerOfAlert, nameOfWound, sizeText } from '../parts/visit/visit-words.ts';
import { answerText } from '../words/answers.ts';
import { formatShortDay } from '../words/figures.ts';
import { formatTime, formatWeekdayShort, inARow } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { isOneOf, reasonText } from '../words/reasons.ts';

interface Props {
  days: readonly VisitDay[];
  wounds: readonly WoundPart[];
  length: 'cm' | 'in';
}

const HEADS = ['day', 'check', 'temperature', 'change', 'amount', 'alerts', 'notes'] as const;

/** The log day by day. What is not there is said to be missing. */
export function LogDays({ days, wounds, length }: Props) {
  const several = wounds.length > 1;
  const nameOf = (id: string): string => nameOfWound(wounds.find((w) => w.id === id) ?? { wound: undefined });
  const about = (id: string, text: string): string => (several ? t('visit:ofFoot', { what: text, foot: nameOf(id) }) : text);
  return (
    <table {...as('table')} class="log-days">
      <thead {...as('rowgroup')}>
        <tr {...as('row')}>
          {HEADS.map((head) => (
            <th key={head} {...as('columnheader')} scope="col">
              {t(`clinic:log.head.${head}`)}
            </th>
          ))}
        </tr>
      </thead>
      <tbody {...as('rowgroup')}>
        {days.map((d) => (
          <tr key={d.day} {...as('row')} class={d.checks.length === 0 ? 'log-empty' : undefined}>
            <th {...as('rowheader')} scope="row">
              {formatWeekdayShort((dayNumber(d.day) + 3) % 7)} {formatShortDay(d.day)}
            </th>
            <Cell head="check">
              {d.checks.length === 0 ? t('clinic:log.noCheck') : d.checks.map((c) => <Check key={c.id} check={c} />)}
            </Cell>
            <Cell head="temperature">
              {d.checks.map((c) => c.temperature && <p key={c.id}>{answerText('temperature', c.temperature)}</p>)}
            </Cell>
            <Cell head="change">
              {d.changes.map((c) => (
                <p key={c.row.change}>{about(c.wound, changeText(c))}</p>
              ))}
            </Cell>
            <Cell head="amount">
              {d.changes.map((c) => (
                <p key={c.row.change} class={c.row.place === 'above' ? 'log-strong' : undefined}>
                  {amountText(c)}
                </p>
              ))}
            </Cell>
            <Cell head="alerts">
              {d.alerts.map((a) => (
                <Alert key={a.id} alert={a} />
              ))}
            </Cell>
            <Cell head="notes">
              {otherLines(d, about, length).map((line) => (
                <p key={line}>{line}</p>
              ))}
              {d.notes.map((n) => (
                <Note key={n.id} note={n} />
              ))}
            </Cell>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** A cell that carries its heading along, for a narrow screen. */
function Cell({ head, children }: { head: (typeof HEADS)[number]; children: ComponentChildren }) {
  return (
    <td {...as('cell')} data-head={t(`clinic:log.head.${head}`)}>
      {children}
    </td>
  );
}

function Check({ check: { told, whole, at, zone } }: { check: DayCheck }) {
  return (
    <p class="log-check">
      <LevelMark level={told} />
      <span>
        {t(`alert:short.${told}`)}
        {!whole && ` (${t('clinic:log.cutShort')})`} <span class="log-time">{formatTime(at, zone)}</span>
      </span>
    </p>
  );
}

/** How a change stood to the schedule. */
function changeText({ timing, row }: DayChange): string {
  const time = formatTime(row.at, row.zone);
  if (!timing) return t('visit:dayWhat', { day: time, what: t('visit:changes.stopped') });
  const { timing: how, why, daysLate = 0 } = timing;
  const late = daysLate === 0 ? t('visit:changes.hoursLate') : t('visit:changes.daysLate', { count: daysLate });
  const early = why === undefined || why === 'other' ? t('visit:changes.noReason') : t(`check:dressing.said.${why}`);
  return t(`clinic:log.timing.${how}`, { time, late, why: early });
}

function amountText({ row: { amount, colour, place } }: DayChange): string {
  const found = inARow([
    amount === undefined ? t('visit:drainage.notSeen') : t(`check:drainageAmount.said.${amount}`),
    ...(colour !== undefined && colour !== 'clear' ? [t(`check:drainageColour.said.${colour}`)] : []),
  ]);
  return place === 'above' || place === 'below' ? t('clinic:log.against', { found, place: t(`visit:drainage.${place}`) }) : found;
}

function Alert({ alert: { told, fired, answers, open } }: { alert: AlertLine }) {
  const why = fired.filter((rule, i) => fired.findIndex((other) => isOneOf(other, rule)) === i).map(reasonText);
  return (
    <div>
      <p class="log-check">
        <LevelMark level={told} />
        <strong>{t(`alert:short.${told}`)}</strong>
      </p>
      <p>{why.join(' ')}</p>
      {answers.map((answer) => (
        <p key={answer.id}>
          {answerOfAlert(answer)} {answer.said && <q dir="auto">{answer.said}</q>}
        </p>
      ))}
      {open && <p class="log-strong">{t('visit:alerts.open')}</p>}
    </div>
  );
}

/** Sizes, photos, a visit and plan versions of a day. */
function otherLines(
  { sizes, photos, visit, plans }: VisitDay,
  about: (wound: string, text: string) => string,
  length: 'cm' | 'in',
): string[] {
  return [
    ...(visit ? [t('clinic:log.visit')] : []),
    ...plans.map((revision) => t('clinic:log.plan', { revision })),
    ...sizes.map(({ wound, size }) =>
      about(wound, t('clinic:log.size', { size: sizeText(size, length), how: t(`visit:size.method.${size.method}`) })),
    ),
    ...(photos > 0 ? [t('clinic:log.photo', { count: photos })] : []),
  ];
}

function Note({ note: { of, text } }: { note: DayNote }) {
  return (
    <p>
      {of === 'question' && <strong>{t('clinic:found.kind.question')} </strong>}
      <q dir="auto">{text}</q>
    </p>
  );
}
