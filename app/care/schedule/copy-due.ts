import { daysBetween, type LocalDay } from './day.ts';

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

/** Whether a copy of the log should be made today: never in the first week of records, nor before the day it was put off to. */
export function isCopyDue({ every, first, last, later }: Copies, today: LocalDay): boolean {
  if (every === 0 || first === undefined || daysBetween(first, today) < FIRST_QUIET_DAYS) return false;
  if (later !== undefined && daysBetween(today, later) > 0) return false;
  return last === undefined || daysBetween(last, today) >= every;
}
