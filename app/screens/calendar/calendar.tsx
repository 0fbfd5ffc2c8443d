import { type CalendarDay, type CalendarMark, calendarDays } from '../../care/schedule/calendar.ts';
import { WEEKDAYS, weekdayOf } from '../../care/schedule/day.ts';
import { Page } from '../../parts/page.tsx';
import { formatClock, formatDay, formatMonth, formatNumber, formatWeekday, formatWeekdayHead, inARow } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { useBook, useNow } from '../context.ts';
import { go } from '../route.ts';

/** The past and the coming four weeks: what was done, what is due, and the visits. */
export function CalendarScreen() {
  const { notebook, state, book } = useBook();
  const now = useNow(notebook);
  const { days } = calendarDays(book.plan, state.entries, now, notebook.device.zone(), { older: book.earlierPlans });
  const coming = days.filter((d) => d.when !== 'past' && d.marks.length > 0);
  const past = days.filter((d) => d.when === 'past' && d.marks.length > 0).reverse();
  return (
    <Page
      title={t('calendar:title')}
      back={() => go('today')}
      foot={
        <a class="button button-second" href="#/reminders">
          {t('calendar:reminders')}
        </a>
      }
    >
      <Months days={fromFirstMark(days)} />
      <ul class="legend">
        {(['due', 'done', 'early', 'late', 'missed', 'visit', 'review'] as const).map((kind) => (
          <li key={kind}>
            <Sign kind={kind} /> {t(`calendar:kind.${kind}`)}
          </li>
        ))}
      </ul>
      <h2>{t('calendar:coming')}</h2>
      <DayList days={coming} />
      <h2>{t('calendar:past')}</h2>
      {past.length === 0 ? <p>{t('calendar:nothingPast')}</p> : <DayList days={past} />}
    </Page>
  );
}

/** Signs differ in shape, never in colour alone. */
function Sign({ kind }: { kind: CalendarMark['kind'] }) {
  const paths: Record<CalendarMark['kind'], preact.JSX.Element> = {
    due: <circle cx="8" cy="8" r="5" />,
    done: <circle cx="8" cy="8" r="5" class="sign-full" />,
    early: (
      <>
        <circle cx="8" cy="8" r="5" />
        <path d="M8 3a5 5 0 0 0 0 10z" class="sign-full" />
      </>
    ),
    late: (
      <>
        <circle cx="8" cy="8" r="5" class="sign-full" />
        <path d="M14 2v4" />
      </>
    ),
    missed: <path d="M4 4l8 8M12 4l-8 8" />,
    visit: <path d="M8 2l6 6-6 6-6-6z" />,
    review: <rect x="3" y="3" width="10" height="10" />,
  };
  return (
    <svg class="sign" viewBox="0 0 16 16" aria-hidden="true">
      {paths[kind]}
    </svg>
  );
}

/** Each kind of mark of a day once, with how many there are. */
function kindsOf({ marks }: CalendarDay): { kind: CalendarMark['kind']; count: number }[] {
  return [...new Set(marks.map((m) => m.kind))].map((kind) => ({ kind, count: marks.filter((m) => m.kind === kind).length }));
}

/** A day as it is read aloud: the date, then its marks if it has any. */
function dayWords(day: CalendarDay): string {
  const said = kindsOf(day).map(({ kind, count }) => {
    const name = t(`calendar:kind.${kind}`);
    return count === 1 ? name : t('common:amount', { amount: formatNumber(count, 0), name });
  });
  return said.length === 0 ? formatDay(day.day) : `${formatDay(day.day)}: ${inARow(said)}`;
}

/** The days from the week on in which something stands; the weeks before the book began say nothing. */
function fromFirstMark(days: readonly CalendarDay[]): readonly CalendarDay[] {
  const first = days.findIndex((d) => d.when === 'today' || d.marks.length > 0);
  const day = days[first];
  return day ? days.slice(Math.max(0, first - WEEKDAYS.indexOf(weekdayOf(day.day)))) : days;
}

/** The weeks of one month, Monday first, with empty places for the days of other months. */
function weeksOf(days: readonly CalendarDay[]): (CalendarDay | undefined)[][] {
  const lead = WEEKDAYS.indexOf(weekdayOf((days[0] as CalendarDay).day));
  const cells: (CalendarDay | undefined)[] = [...Array.from({ length: lead }, () => undefined), ...days];
  while (cells.length % 7 !== 0) cells.push(undefined);
  return Array.from({ length: cells.length / 7 }, (_, i) => cells.slice(i * 7, i * 7 + 7));
}

/** The months as a grid; each day says in words what its signs mean. */
function Months({ days }: { days: readonly CalendarDay[] }) {
  const months = [...new Set(days.map((d) => d.day.slice(0, 7)))];
  return (
    <table class="weeks">
      <caption class="unseen">{t('calendar:title')}</caption>
      <thead>
        <tr>
          {WEEKDAYS.map((d, i) => (
            <th key={d} scope="col" abbr={formatWeekday(i)}>
              {formatWeekdayHead(i)}
            </th>
          ))}
        </tr>
      </thead>
      {months.map((month) => (
        <tbody key={month}>
          <tr>
            <th class="month" scope="rowgroup" colSpan={7}>
              {formatMonth(month)}
            </th>
          </tr>
          {weeksOf(days.filter((d) => d.day.startsWith(month))).map((week) => (
            <tr key={week.find((d) => d)?.day}>
              {week.map((d, i) => (
                <td
                  key={d?.day ?? i}
                  class={d?.when === 'today' ? 'is-today' : d ? '' : 'no-day'}
                  aria-current={d?.when === 'today' ? 'date' : undefined}
                >
                  {d && (
                    <>
                      <span aria-hidden="true">{formatNumber(Number(d.day.slice(8)), 0)}</span>
                      <span class="signs">
                        {kindsOf(d).map(({ kind }) => (
                          <Sign key={kind} kind={kind} />
                        ))}
                      </span>
                      <span class="unseen">{dayWords(d)}</span>
                    </>
                  )}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      ))}
    </table>
  );
}

function DayList({ days }: { days: readonly CalendarDay[] }) {
  return (
    <ul class="rows">
      {days.map((d) => (
        <li key={d.day} class="row day-row">
          <span class="row-time">{formatDay(d.day)}</span>
          <span class="row-words">
            {d.marks.map((mark, i) => (
              <MarkLine key={`${mark.kind}${i}`} mark={mark} />
            ))}
          </span>
        </li>
      ))}
    </ul>
  );
}

function MarkLine({ mark }: { mark: CalendarMark }) {
  const { book } = useBook();
  const wound = 'wound' in mark ? book.plan.wounds.find((w) => w.id === mark.wound) : undefined;
  const name = wound && book.plan.wounds.length > 1 ? ` · ${woundName(wound)}` : '';
  return (
    <span class="mark-line-words">
      <Sign kind={mark.kind} />
      <span>
        {markText(mark)}
        {name}
      </span>
    </span>
  );
}

function markText(mark: CalendarMark): string {
  if (mark.kind === 'early') return t('calendar:earlyWhy', { why: t(`calendar:why.${mark.why}`) });
  if (mark.kind === 'late') return mark.daysLate === 0 ? t('calendar:lateSameDay') : t('calendar:lateBy', { count: mark.daysLate });
  if (mark.kind === 'visit') return t('calendar:visitAt', { time: formatClock(mark.time) });
  if (mark.kind === 'due' && mark.since) return t('calendar:dueSince', { day: formatDay(mark.since) });
  return t(`calendar:kind.${mark.kind}`);
}
