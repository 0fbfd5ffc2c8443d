import type { Entry } from '../log/timeline.ts';
import { intervalInUse } from '../plan/limits-of.ts';
import type { Interval, Plan } from '../plan/plan.ts';
import { daysBetween, HOUR_MS, instantOf, type LocalDay, localDay, minutesOf, wallClock } from './day.ts';
import { type Due, isDayWise, longestGapHours, nthDue } from './due.ts';
import { isAhead, lastFoundOf, looksOf } from './looks.ts';
import { TOLERANCE } from './past-changes.ts';
import { type SittingState, type Start, walk, wallClockOf } from './walk.ts';

export interface SittingWound {
  wound: string;
  /** When its own interval makes it due; for `first` now. */
  due: Due;
  state: SittingState;
}

/** Changes of one or more wounds done together. */
export interface Sitting {
  /** When it is taken to be done, ms. */
  at: number;
  /** The person's day and the minutes past midnight on their clock. */
  day: LocalDay;
  minutes: number;
  /** Due at any time of the day: the plan names weekdays, not hours. `at` is then the start of the day. */
  anyTime: boolean;
  wounds: SittingWound[];
}

export interface Visit {
  at: number;
  /** The person's day, in their own zone. */
  day: LocalDay;
  /** Day, time and zone as the clinic gave them. */
  clinicDay: LocalDay;
  time: string;
  zone: string;
}

export interface Coming {
  /** In time order. */
  sittings: Sitting[];
  visits: Visit[];
  /** The day by which the clinic wants to look at the plan again. */
  review: LocalDay | undefined;
}

export interface ComingOptions {
  /** How many calendar days, today included. Default 28. */
  days?: number;
}

export const COMING_DAYS = 28;

/**
 * The sittings of the coming days, if each is done when due; the visit and the
 * review day with them.
 *
 * - What should have been done by yesterday (or hours ago, where the interval
 *   is shorter than a day) is due now.
 * - Changes of several wounds whose due times lie within the plan's
 *   `joinWithinHours` become one sitting at the earliest of them, never later.
 *   A wound due on a weekday is due all that day, so it joins any sitting of it.
 * - Records dated ahead by a wrong clock do not put a change off.
 * @param now ms. @param zone the person's IANA time zone now.
 */
export function comingChanges(plan: Plan, entries: readonly Entry[], now: number, zone: string, options: ComingOptions = {}): Coming {
  const days = options.days ?? COMING_DAYS;
  const today = localDay(now, zone);
  const within = (day: LocalDay): boolean => daysBetween(today, day) >= 0 && daysBetween(today, day) < days;
  const sittings: Sitting[] = [];
  for (const { at, anyTime, wounds } of walk(startsOf(plan, entries, now, zone), now, joinMsOf(plan), wallClockOf(zone))) {
    const clock = wallClock(at, zone);
    if (!within(clock.day)) break;
    sittings.push({
      at,
      ...clock,
      anyTime,
      wounds: wounds.map(({ wound, due, state }) => ({ wound, due: { at: due, day: localDay(due, zone) }, state })),
    });
  }
  const visit = visitOf(plan, zone);
  return {
    sittings,
    visits: visit && within(visit.day) ? [visit] : [],
    review: plan.reviewBy !== undefined && within(plan.reviewBy) ? plan.reviewBy : undefined,
  };
}

/** The plan's next visit as an instant and as a day of the person's. */
export function visitOf(plan: Plan, zone: string): Visit | undefined {
  const visit = plan.nextVisit;
  if (!visit) return undefined;
  const at = instantOf(visit.day, minutesOf(visit.time), plan.clinic.zone);
  return { at, day: localDay(at, zone), clinicDay: visit.day, time: visit.time, zone: plan.clinic.zone };
}

/**
 * When a wound's dressing is due next.
 * @returns undefined where the plan gives it no interval.
 */
export function dueNow(plan: Plan, entries: readonly Entry[], wound: string, now: number, zone: string): SittingWound | undefined {
  const start = startsOf(plan, entries, now, zone).find((s) => s.wound === wound);
  return start && { wound, due: { at: start.next.due, day: localDay(start.next.due, zone) }, state: start.next.state };
}

/** The time (ms) within which changes are joined. */
export const joinMsOf = (plan: Plan): number => (plan.joinWithinHours ?? 0) * HOUR_MS;

/** Where each wound with an interval stands now. */
export function startsOf(plan: Plan, entries: readonly Entry[], now: number, zone: string): Start[] {
  const looks = looksOf(entries);
  return plan.wounds.flatMap((wound) => {
    const own = looks.filter((l) => l.wound === wound.id);
    const interval = intervalInUse(wound, lastFoundOf(own, now));
    if (!interval) return [];
    const last = own.findLast((l) => l.dressed && !isAhead(l, now))?.at;
    return [startOf(wound.id, interval, last, now, zone)];
  });
}

function startOf(wound: string, interval: Interval, last: number | undefined, now: number, zone: string): Start {
  if (last === undefined) return { wound, interval, from: now, next: { at: now, anyTime: false, due: now, state: 'first' } };
  const due = nthDue(interval, last, zone, 1);
  const tolerated = isDayWise(interval)
    ? daysBetween(due.day, localDay(now, zone)) <= 0
    : now - due.at <= TOLERANCE * longestGapHours(interval) * HOUR_MS;
  // A due time earlier on the same day stays as it is, so that the days after keep their time.
  const isNow = !tolerated || (!isDayWise(interval) && due.at < now);
  const next = { at: isNow ? now : due.at, anyTime: !isNow && interval.kind === 'weekdays', due: due.at };
  return { wound, interval, from: last, next: { ...next, state: tolerated ? 'due' : 'overdue' } };
}
