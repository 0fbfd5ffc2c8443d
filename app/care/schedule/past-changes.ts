import type { Band } from '../check/questions.ts';
import type { Entry } from '../log/timeline.ts';
import { intervalInUse } from '../plan/limits-of.ts';
import type { Interval, Plan } from '../plan/plan.ts';
import { DAY_MS, daysBetween, HOUR_MS, type LocalDay, localDay } from './day.ts';
import { type Due, isDayWise, longestGapHours, meanGapHours, nextDue, nthDue } from './due.ts';
import { isAhead, type Look, looksOf } from './looks.ts';

/** Answers on the old dressing that are a reason to change before it is due [TH-13 of the evidence, after the Bates-Jensen tool]. */
export const EARLY_REASONS = ['markedThrough', 'leaking', 'loose', 'wetFromOutside'] as const;
export type EarlyReason = (typeof EARLY_REASONS)[number] | 'other';

/**
 * How a change stood to the schedule.
 *
 * - `first`: nothing was recorded before it, so nothing was due.
 * - `unscheduled`: no plan at hand gives this wound an interval.
 * - `ahead`: dated after now by a wrong clock; it says nothing about when.
 */
export type Timing = 'onTime' | 'early' | 'late' | 'first' | 'unscheduled' | 'ahead';

export interface PastChange {
  /** The id by which other records know the change. */
  id: string;
  wound: string;
  at: number;
  /** The person's day where they were. */
  day: LocalDay;
  timing: Timing;
  /** When it had been due, and by which interval. */
  due?: Due;
  interval?: Interval;
  /** Only with `early`. */
  why?: EarlyReason;
  /** Only with `late`: calendar days; 0 where it was hours late on the same day. */
  daysLate?: number;
  /** Done before it was due because another wound was due in that sitting. */
  joined?: true;
}

/** A due time that passed without a change before the next due time had come. */
export interface MissedChange extends Due {
  wound: string;
}

export interface Past {
  /** In time order. */
  changes: PastChange[];
  /** In time order. */
  missed: MissedChange[];
}

export interface PastOptions {
  /** Plans in force before, so that old changes are held against the interval of their own day. */
  older?: readonly Plan[];
  /** Leave out what happened before this instant (ms). */
  since?: number;
}

/** Changes within this many hours of each other are one sitting (our judgement). */
const SITTING_HOURS = 3;
/** A change counts as early or late by the hour when it is off by more than this share of its interval (our judgement). */
export const TOLERANCE = 1 / 4;

/**
 * Holds every change against the schedule.
 *
 * - The interval is that of the plan the change was made under, for the amount
 *   found last before it; it runs from the last change actually done, so an
 *   early change resets the clock.
 * - Intervals of a day and more are counted in calendar days where the person
 *   was; shorter ones in hours with a quarter of the interval to spare. A
 *   change on its due day is early too when the dressing gave a reason and more
 *   than a quarter of the interval was left.
 * - Changes broken off before the wound was dressed again do not count.
 * @param now ms. @param zone the person's IANA time zone now, for what is still open.
 */
export function pastChanges(plan: Plan, entries: readonly Entry[], now: number, zone: string, options: PastOptions = {}): Past {
  const looks = looksOf(entries);
  const ids = new Set([...plan.wounds.map((w) => w.id), ...looks.map((l) => l.wound)]);
  const parts = [...ids].map((id) =>
    pastOfWound(
      plan,
      id,
      looks.filter((l) => l.wound === id),
      now,
      zone,
      options,
    ),
  );
  const since = options.since ?? Number.NEGATIVE_INFINITY;
  const inOrder = (a: { at: number }, b: { at: number }): number => a.at - b.at;
  const changes = parts.flatMap((p) => p.changes).sort(inOrder);
  return {
    changes: joinSittings(changes, (plan.joinWithinHours ?? 0) * HOUR_MS).filter((c) => c.at >= since),
    missed: parts
      .flatMap((p) => p.missed)
      .filter((m) => m.at >= since)
      .sort(inOrder),
  };
}

function planOf(look: Look, plan: Plan, older: readonly Plan[]): Plan {
  return [plan, ...older].find((p) => p.id === look.plan?.id && p.revision === look.plan.revision) ?? plan;
}

function intervalFor(plan: Plan, woundId: string, found: Band | undefined): Interval | undefined {
  const wound = plan.wounds.find((w) => w.id === woundId);
  return wound && intervalInUse(wound, found);
}

function pastOfWound(plan: Plan, id: string, looks: readonly Look[], now: number, zone: string, options: PastOptions): Past {
  const past: Past = { changes: [], missed: [] };
  const since = options.since ?? Number.NEGATIVE_INFINITY;
  let last: number | undefined;
  let found: Band | undefined;
  for (const look of looks) {
    if (isAhead(look, now)) {
      if (look.dressed) past.changes.push({ ...stampOf(look), timing: 'ahead' });
      continue;
    }
    // What lies well before the part that is asked for only sets the clock.
    if (look.dressed && look.at < since - DAY_MS) last = look.at;
    else if (look.dressed) {
      const interval = intervalFor(planOf(look, plan, options.older ?? []), id, found);
      past.changes.push({ ...stampOf(look), ...timingOf(look, last, interval) });
      if (last !== undefined && interval) past.missed.push(...missedBetween(id, interval, last, look.zone, look, since));
      last = look.at;
    }
    found = look.found ?? found;
  }
  const interval = intervalFor(plan, id, found);
  if (last !== undefined && interval) {
    past.missed.push(...missedBetween(id, interval, last, zone, { at: now, day: localDay(now, zone) }, since));
  }
  return past;
}

const stampOf = ({ id, wound, at, day }: Look): Pick<PastChange, 'id' | 'wound' | 'at' | 'day'> => ({ id, wound, at, day });

const reasonOf = (look: Look): EarlyReason => EARLY_REASONS.find((r) => r === look.dressing) ?? 'other';

function timingOf(
  look: Look,
  last: number | undefined,
  interval: Interval | undefined,
): Pick<PastChange, 'timing' | 'due' | 'interval' | 'why' | 'daysLate'> {
  if (!interval) return { timing: 'unscheduled' };
  if (last === undefined) return { timing: 'first' };
  const due = nextDue(interval, last, look.zone);
  const held = { due, interval };
  const days = daysBetween(due.day, look.day);
  const isBefore = isBeforeDue(look, due, interval);
  const why = reasonOf(look);
  if (isDayWise(interval)) {
    if (isBefore && (days < 0 || (days === 0 && why !== 'other'))) return { timing: 'early', ...held, why };
    return days > 0 ? { timing: 'late', ...held, daysLate: days } : { timing: 'onTime', ...held };
  }
  if (isBefore) return { timing: 'early', ...held, why };
  return look.at - due.at > spareMs(interval) ? { timing: 'late', ...held, daysLate: Math.max(0, days) } : { timing: 'onTime', ...held };
}

const spareMs = (interval: Interval): number => TOLERANCE * longestGapHours(interval) * HOUR_MS;

/** Whether a dressing that gave a reason to change it did so before its time: on an earlier day, or with more than a quarter of the interval left. */
export function isBeforeDue(when: { at: number; day: LocalDay }, due: Due, interval: Interval): boolean {
  return due.at - when.at > spareMs(interval) || (isDayWise(interval) && daysBetween(due.day, when.day) < 0);
}

/** The due times after `last` whose successor had come, too, by the end. */
function missedBetween(
  wound: string,
  interval: Interval,
  last: number,
  zone: string,
  end: { at: number; day: LocalDay },
  since: number,
): MissedChange[] {
  const missed: MissedChange[] = [];
  // After a year away only the part that is asked for is walked.
  let nth = Math.max(1, Math.floor((since - last) / (meanGapHours(interval) * HOUR_MS)) - 8);
  const hasCome = (due: Due): boolean => (isDayWise(interval) ? daysBetween(due.day, end.day) >= 0 : due.at <= end.at);
  let due = nthDue(interval, last, zone, nth);
  for (;;) {
    nth += 1;
    const next = nthDue(interval, last, zone, nth);
    if (!hasCome(next)) return missed;
    missed.push({ wound, ...due });
    due = next;
  }
}

/** A change brought forward into the sitting of another wound that was due is on time, unless its own dressing gave a reason. */
function joinSittings(changes: readonly PastChange[], joinMs: number): PastChange[] {
  if (joinMs === 0) return [...changes];
  const wasDue = changes.filter((c) => c.timing === 'onTime' || c.timing === 'late');
  return changes.map((c) => {
    if (c.timing !== 'early' || c.why !== 'other' || !c.due || c.due.at - c.at > joinMs) return c;
    const together = wasDue.some((o) => o.wound !== c.wound && Math.abs(o.at - c.at) <= SITTING_HOURS * HOUR_MS);
    if (!together) return c;
    const { why: _, ...rest } = c;
    return { ...rest, timing: 'onTime', joined: true };
  });
}
