import type { Entry } from '../log/timeline.ts';
import { intervalInUse } from '../plan/limits-of.ts';
import type { Interval, Plan, Wound } from '../plan/plan.ts';
import { daysBetween, HOUR_MS, instantOf, type LocalDay, localDay, wallClock } from './day.ts';
import { type Due, isDayWise, longestGapHours, nthDue } from './due.ts';
import { isAhead, type Look, lastFoundOf, looksOf } from './looks.ts';
import { TOLERANCE } from './past-changes.ts';

/** `first`: never changed in this log, so due now. `early`: a change before it is due, only in forecasts. */
export type SittingState = 'due' | 'overdue' | 'first' | 'early';

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
  /** Early changes to be assumed for each wound (ms, in order), for forecasts. */
  early?: ReadonlyMap<string, readonly number[]>;
}

export const COMING_DAYS = 28;

/** One wound's place in the walk through the coming days. */
interface Turn {
  wound: string;
  interval: Interval;
  /** The change from which it counts, and how many due times after it the next one is. */
  from: number;
  nth: number;
  /** The next change: when it is taken to be done, and when it is due. */
  next: { at: number; anyTime: boolean; due: Due; state: SittingState };
  early: readonly number[];
}

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
  const looks = looksOf(entries);
  const turns = plan.wounds.flatMap((wound) => {
    const turn = firstTurn(
      wound,
      looks.filter((l) => l.wound === wound.id),
      now,
      zone,
    );
    return turn ? [{ ...turn, early: options.early?.get(wound.id) ?? [] }] : [];
  });
  const joinMs = (plan.joinWithinHours ?? 0) * HOUR_MS;
  const sittings: Sitting[] = [];
  while (turns.length > 0) {
    const sitting = nextSitting(turns, joinMs, zone);
    if (!within(sitting.day)) break;
    sittings.push(sitting);
    for (const turn of turns) {
      if (sitting.wounds.some((w) => w.wound === turn.wound)) goOn(turn, sitting.at, zone);
    }
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
  const [hour, minute] = visit.time.split(':').map(Number) as [number, number];
  const at = instantOf(visit.day, hour * 60 + minute, plan.clinic.zone);
  return { at, day: localDay(at, zone), clinicDay: visit.day, time: visit.time, zone: plan.clinic.zone };
}

/**
 * When a wound's dressing is due next.
 * @returns undefined where the plan gives it no interval.
 */
export function dueNow(plan: Plan, entries: readonly Entry[], wound: string, now: number, zone: string): SittingWound | undefined {
  const own = plan.wounds.find((w) => w.id === wound);
  const turn =
    own &&
    firstTurn(
      own,
      looksOf(entries).filter((l) => l.wound === wound),
      now,
      zone,
    );
  return turn && { wound, due: turn.next.due, state: turn.next.state };
}

function firstTurn(wound: Wound, looks: readonly Look[], now: number, zone: string): Omit<Turn, 'early'> | undefined {
  const interval = intervalInUse(wound, lastFoundOf(looks, now));
  if (!interval) return undefined;
  const last = looks.findLast((l) => l.dressed && !isAhead(l, now))?.at;
  const today = localDay(now, zone);
  if (last === undefined) {
    const next = { at: now, anyTime: false, due: { at: now, day: today }, state: 'first' as const };
    return { wound: wound.id, interval, from: now, nth: 0, next };
  }
  const due = nthDue(interval, last, zone, 1);
  const tolerated = isDayWise(interval)
    ? daysBetween(due.day, today) <= 0
    : now - due.at <= TOLERANCE * longestGapHours(interval) * HOUR_MS;
  const state = tolerated ? 'due' : 'overdue';
  // A due time earlier on the same day stays as it is, so that the days after keep their time.
  const isNow = state === 'overdue' || (!isDayWise(interval) && due.at < now);
  const next = { at: isNow ? now : due.at, anyTime: !isNow && interval.kind === 'weekdays', due, state } as const;
  return { wound: wound.id, interval, from: last, nth: 1, next };
}

/** Sets the wound's next change after one done at `at`. */
function goOn(turn: Turn, at: number, zone: string): void {
  const whenDue = turn.next.state === 'due' && turn.next.at === at && turn.next.due.at === at;
  turn.from = whenDue ? turn.from : at;
  turn.nth = whenDue ? turn.nth + 1 : 1;
  turn.early = turn.early.filter((e) => e > at);
  const due = nthDue(turn.interval, turn.from, zone, turn.nth);
  turn.next = { at: due.at, anyTime: turn.interval.kind === 'weekdays', due, state: 'due' };
}

function nextSitting(turns: readonly Turn[], joinMs: number, zone: string): Sitting {
  const first = turns.reduce((a, b) => (b.next.at < a.next.at ? b : a));
  const dayOf = (turn: Turn): LocalDay => localDay(turn.next.at, zone);
  const sameDay = first.next.anyTime ? turns.filter((t) => dayOf(t) === dayOf(first)) : [first];
  // A wound due all day waits for the hour at which another one is due that day.
  const timed = sameDay.filter((t) => !t.next.anyTime).map((t) => t.next.at);
  const at = timed.length > 0 ? Math.min(...timed) : first.next.at;
  const early = earliestEarly(turns);
  if (early && early.at < at) {
    return { ...clockOf(early.at, zone), anyTime: false, wounds: [{ wound: early.turn.wound, due: early.turn.next.due, state: 'early' }] };
  }
  const together = turns.filter((t) => t.next.at - at <= joinMs);
  return {
    ...clockOf(at, zone),
    anyTime: together.every((t) => t.next.anyTime),
    wounds: together.map((t) => ({ wound: t.wound, due: t.next.due, state: t.next.state })),
  };
}

function earliestEarly(turns: readonly Turn[]): { at: number; turn: Turn } | undefined {
  const all = turns.flatMap((turn) => (turn.early[0] === undefined ? [] : [{ at: turn.early[0], turn }]));
  return all.length === 0 ? undefined : all.reduce((a, b) => (b.at < a.at ? b : a));
}

const clockOf = (at: number, zone: string): Pick<Sitting, 'at' | 'day' | 'minutes'> => ({ at, ...wallClock(at, zone) });
