import { type Entry, standing } from '../care/log/timeline.ts';
import type { LocalDay } from '../care/schedule/day.ts';

/** The days that an export is about, both included; open where an end is missing. */
export interface Period {
  from?: LocalDay | undefined;
  to?: LocalDay | undefined;
}

/** Whether a day lies in a period. */
export const isWithin = (day: LocalDay, { from, to }: Period): boolean =>
  (from === undefined || day >= from) && (to === undefined || day <= to);

/**
 * The entries of a period, by the day they are about. An older alert comes
 * with an outcome of the period, for without it the outcome says nothing.
 */
export function entriesWithin(entries: readonly Entry[], period: Period): Entry[] {
  const answered = new Set(standing(entries, 'outcome').flatMap((e) => (isWithin(e.first.day, period) ? e.now.alerts : [])));
  return entries.filter((e) => isWithin(e.first.day, period) || (e.first.kind === 'alert' && answered.has(e.first.id)));
}
