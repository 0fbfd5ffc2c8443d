import type { Interval } from '../plan/plan.ts';
import { DAY_MS, dayNumber, HOUR_MS, localDay, WEEKDAYS } from './day.ts';
import { longestGapHours, nthDue } from './due.ts';

/** `first`: never changed in this log, so due now. `early`: a change before it is due, only in forecasts. */
export type SittingState = 'due' | 'overdue' | 'first' | 'early';

/** How a walk through the coming days tells time. */
export interface Clock {
  /** The `nth` due time (ms) after a change at `last`. */
  due(interval: Interval, last: number, nth: number): number;
  /** The number of the calendar day of an instant. */
  day(at: number): number;
}

/** The clock on the wall in an IANA time zone. */
export const wallClockOf = (zone: string): Clock => ({
  due: (interval, last, nth) => nthDue(interval, last, zone, nth).at,
  day: (at) => dayNumber(localDay(at, zone)),
});

/**
 * A clock that never changes: every day has 24 hours, `ahead` ms ahead of UTC.
 * Hundreds of times faster, for forecasts that walk the same weeks hundreds of
 * times and where an hour does not matter.
 */
export function evenClock(ahead: number): Clock {
  const day = (at: number): number => Math.floor((at + ahead) / DAY_MS);
  return {
    day,
    due: (interval, last, nth) => {
      if (interval.kind !== 'weekdays') return last + nth * longestGapHours(interval) * HOUR_MS;
      let found = day(last);
      for (let left = nth; left > 0; ) {
        found += 1;
        // Day 0, 1970-01-01, was a Thursday.
        if (interval.days.includes(WEEKDAYS[(((found + 3) % 7) + 7) % 7] ?? 'mon')) left -= 1;
      }
      return found * DAY_MS - ahead;
    },
  };
}

/** Where one wound stands before the walk. */
export interface Start {
  wound: string;
  interval: Interval;
  /** The change its due times count from; now if there was none. */
  from: number;
  next: NextChange;
}

interface NextChange {
  /** When it is taken to be done. */
  at: number;
  /** At any time of that day; `at` is then its start. */
  anyTime: boolean;
  due: number;
  state: SittingState;
}

/** A sitting as the walk finds it; instants in ms. */
export interface Step {
  at: number;
  anyTime: boolean;
  wounds: { wound: string; due: number; state: SittingState }[];
}

/** When a dressing that was put on at `at` will fail and be changed early (ms). */
export type FailsAfter = (wound: string, at: number) => number;

interface Turn extends Start {
  nth: number;
  fails: number;
}

/**
 * The sittings to come, without end, if each is done when due.
 * @param joinMs changes due within this time are done in one sitting.
 * @param failsAfter for forecasts: when each dressing fails before it is due. Without it none does.
 */
export function* walk(starts: readonly Start[], now: number, joinMs: number, clock: Clock, failsAfter?: FailsAfter): Generator<Step> {
  const fails: FailsAfter = failsAfter ?? (() => Number.POSITIVE_INFINITY);
  const turns = starts.map((s): Turn => ({ ...s, nth: 1, fails: fails(s.wound, now) }));
  while (turns.length > 0) {
    const { at, together, anyTime, early } = nextTogether(turns, joinMs, clock);
    yield {
      at,
      anyTime,
      wounds: together.map(({ wound, next }) => ({ wound, due: next.due, state: early ? ('early' as const) : next.state })),
    };
    for (const turn of together) goOn(turn, at, clock, fails);
  }
}

/** Sets the wound's next change after one done at `at`. */
function goOn(turn: Turn, at: number, clock: Clock, fails: FailsAfter): void {
  const whenDue = turn.next.state === 'due' && turn.next.due === at;
  turn.from = whenDue ? turn.from : at;
  turn.nth = whenDue ? turn.nth + 1 : 1;
  turn.fails = fails(turn.wound, at);
  const due = clock.due(turn.interval, turn.from, turn.nth);
  turn.next = { at: due, anyTime: turn.interval.kind === 'weekdays', due, state: 'due' };
}

interface Together {
  at: number;
  together: readonly Turn[];
  anyTime: boolean;
  early: boolean;
}

function nextTogether(turns: readonly Turn[], joinMs: number, clock: Clock): Together {
  const first = turns.reduce((a, b) => (b.next.at < a.next.at ? b : a));
  const at = first.next.anyTime ? hourOf(first, turns, clock) : first.next.at;
  const failed = turns.reduce((a, b) => (b.fails < a.fails ? b : a));
  if (failed.fails < at) return { at: failed.fails, together: [failed], anyTime: false, early: true };
  const together = turns.filter((t) => t.next.at - at <= joinMs);
  return { at, together, anyTime: together.every((t) => t.next.anyTime), early: false };
}

/** A wound due all day waits for the hour at which another one is due that day. */
function hourOf(first: Turn, turns: readonly Turn[], clock: Clock): number {
  const day = clock.day(first.next.at);
  const timed = turns.filter((t) => !t.next.anyTime && clock.day(t.next.at) === day).map((t) => t.next.at);
  return timed.length > 0 ? Math.min(...timed) : first.next.at;
}
