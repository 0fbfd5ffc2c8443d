import { daysBetween, type LocalDay } from './day.ts';

/** For how many days the reminder is put off. */
export const COPY_LATER_DAYS = 7;

/** In the first week there is little to lose and much to learn. */
const FIRST_QUIET_DAYS = 7;

interface Copies {
  /** Days between two copies; 0 for no reminder. */
  every: number;
  /** The day of the first record; undefined when there is none. */
  first: LocalDay | undefined;
  /** The day of the last copy. */
  last: LocalDay | undefined;
  /** The day until which the reminder was put off. */
  later: LocalDay | undefined;
}

/**
 * Whether a copy of the log should be made today: never in the first week of
 * records, nor before the day it was put off to. Days that only a wrong clock
 * can have written put nothing off.
 */
export function isCopyDue({ every, first, last, later }: Copies, today: LocalDay): boolean {
  if (every === 0 || first === undefined || daysBetween(first, today) < FIRST_QUIET_DAYS) return false;
  const wait = later === undefined ? 0 : daysBetween(today, later);
  if (wait > 0 && wait <= COPY_LATER_DAYS) return false;
  const since = last === undefined ? every : daysBetween(last, today);
  // A day ahead may be another zone.
  return since >= every || since < -1;
}
