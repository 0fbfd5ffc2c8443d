import type { GlucoseUnit, TemperatureUnit } from '../care/check/answers.ts';
import { byTime, type Entry, standing, timeline } from '../care/log/timeline.ts';
import { addDays, type LocalDay, localDay } from '../care/schedule/day.ts';
import { periodOf } from '../care/visit/period.ts';
import type { VisitInput } from '../care/visit/summary.ts';
import type { SentBook } from '../exchange/book-content.ts';

/** Which days of a log are shown: since the last visit, all that came, the last two weeks, or two days of one's own. */
export const LOG_SPANS = ['visit', 'all', 'twoWeeks', 'days'] as const;
export type LogSpan = (typeof LOG_SPANS)[number];

export interface ChosenDays {
  span: LogSpan;
  /** Only with `days`. */
  from?: LocalDay | undefined;
  to?: LocalDay | undefined;
}
export interface LogChoice extends ChosenDays {
  /** The unit in which sizes are shown. */
  length: 'cm' | 'in';
}
export const FIRST_CHOICE: LogChoice = { span: 'visit', length: 'cm' };

/** No summary speaks of more days than these; a forged log could else ask for a million. */
export const DAYS_MOST = 1100;

/** The zone the person was in when the last entry was written; the clinic's where nothing is written. */
const zoneOf = ({ records, plan }: SentBook): string => [...records].sort(byTime).at(-1)?.zone ?? plan.clinic.zone;

/**
 * A log as the summary wants it. The clock is that of the phone when it put the
 * log together, so that the desk says what the phone said, however late it is read.
 */
export function inputOf(book: SentBook, choice: ChosenDays): VisitInput {
  const zone = zoneOf(book);
  const now = Date.parse(book.made);
  const { plan, earlierPlans } = book;
  const entries = timeline(book.records);
  const base = { plan, earlierPlans, entries, now, zone, unreadable: book.odd.length };
  const today = localDay(now, zone);
  const { from, to } = daysOf(choice, today, entries);
  const wanted = periodOf({ ...base, from, to });
  const earliest = [book.from, addDays(wanted.to, 1 - DAYS_MOST)]
    .filter((d) => d !== undefined)
    .sort()
    .at(-1) as LocalDay;
  // Before the days that were handed over only what they rest on is known.
  return { ...base, from: wanted.from < earliest ? earliest : from, to };
}

function daysOf({ span, from, to }: ChosenDays, today: LocalDay, entries: readonly Entry[]): Omit<ChosenDays, 'span'> {
  if (span === 'twoWeeks') return { from: addDays(today, -13) };
  if (span === 'all')
    return {
      from: entries
        .filter((e) => !e.voided)
        .map((e) => e.first.day)
        .sort()[0],
    };
  return span === 'days' ? { from, to } : {};
}

/** The units of temperature and blood sugar that the person used last; °C and mg/dL where none was. */
export function unitsIn(entries: readonly Entry[]): { temperature: TemperatureUnit; glucose: GlucoseUnit } {
  const people = standing(entries, 'check').map((e) => e.now.person);
  const read = people.findLast((p) => p.temperature !== undefined && 'unit' in p.temperature)?.temperature;
  return {
    temperature: read && 'unit' in read ? read.unit : 'Cel',
    glucose: people.findLast((p) => p.glucose !== undefined)?.glucose?.unit ?? 'mg/dL',
  };
}
