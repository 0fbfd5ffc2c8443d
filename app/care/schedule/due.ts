import type { Interval } from '../plan/plan.ts';
import { addDays, HOUR_MS, instantOf, type LocalDay, localDay, WEEKDAYS, wallClock, weekdayOf } from './day.ts';

/** When a change is due. */
export interface Due {
  /** The instant (ms) from which it is due. */
  at: number;
  /** The person's calendar day of that instant. */
  day: LocalDay;
}

/** Every time from one change to the next, in hours. */
function gapsHours(interval: Interval): number[] {
  if (interval.kind === 'hours') return [interval.hours];
  if (interval.kind === 'timesADay') return [24 / interval.times];
  const marked = interval.days.map((d) => WEEKDAYS.indexOf(d)).sort((a, b) => a - b);
  return marked.map((d, i) => ((marked[i + 1] ?? (marked[0] as number) + 7) - d) * 24);
}

/** The longest time between two changes, in hours. */
export const longestGapHours = (interval: Interval): number => Math.max(...gapsHours(interval));

/** The shortest time between two changes, in hours. */
export const shortestGapHours = (interval: Interval): number => Math.min(...gapsHours(interval));

/**
 * When the next change is due after the last one done.
 *
 * Whole days keep the wall-clock time of day: a change at 09:00 every 48 hours
 * is due at 09:00 two days on, whatever the clocks do in between. Chosen
 * weekdays are due from the start of the day.
 * @param last the last change, ms.
 * @param zone the person's IANA time zone.
 */
export function nextDue(interval: Interval, last: number, zone: string): Due {
  const then = wallClock(last, zone);
  if (interval.kind === 'weekdays') {
    let day = addDays(then.day, 1);
    while (!interval.days.includes(weekdayOf(day))) day = addDays(day, 1);
    return { at: instantOf(day, 0, zone), day };
  }
  const hours = longestGapHours(interval);
  const at = hours % 24 === 0 ? instantOf(addDays(then.day, hours / 24), then.minutes, zone) : last + hours * HOUR_MS;
  return { at, day: localDay(at, zone) };
}

/** Whether an interval is counted in calendar days: a change at any hour of the due day is then on time. */
export const isDayWise = (interval: Interval): boolean => longestGapHours(interval) >= 24;

/** The mean time between two changes, in hours. */
export function meanGapHours(interval: Interval): number {
  return interval.kind === 'weekdays' ? (7 * 24) / interval.days.length : longestGapHours(interval);
}

/**
 * The `nth` due time after the last change (1 is the next one), if every change
 * between is done when due.
 *
 * Counted from the last change rather than one from the other, so that a time
 * of day which one clock change skips (02:30) is back the day after.
 * @param last the last change, ms.
 * @param nth 1 or more.
 */
export function nthDue(interval: Interval, last: number, zone: string, nth: number): Due {
  const then = wallClock(last, zone);
  if (interval.kind === 'weekdays') {
    const whole = Math.floor((nth - 1) / interval.days.length);
    let left = nth - whole * interval.days.length;
    let day = addDays(then.day, whole * 7);
    while (left > 0) {
      day = addDays(day, 1);
      if (interval.days.includes(weekdayOf(day))) left -= 1;
    }
    return { at: instantOf(day, 0, zone), day };
  }
  const hours = nth * longestGapHours(interval);
  const whole = longestGapHours(interval) % 24 === 0;
  const at = whole ? instantOf(addDays(then.day, hours / 24), then.minutes, zone) : last + hours * HOUR_MS;
  return { at, day: localDay(at, zone) };
}
