import type { Answers } from '../check/answers.ts';
import { BANDS, type Band, bandRank } from '../check/questions.ts';
import { drainageOf } from '../drainage/drainage.ts';
import type { FitFinding } from '../drainage/fit.ts';
import { lastFound } from '../log/history.ts';
import { type DrainagePoint, drainageSeries } from '../log/series.ts';
import { limitsOf } from '../plan/limits-of.ts';
import { dueNow } from '../schedule/coming-changes.ts';
import { DAY_MS, instantOf, type LocalDay } from '../schedule/day.ts';
import { type EarlyReason, pastChanges } from '../schedule/past-changes.ts';
import { inPeriod, isIn, planOf, type Scope } from './scope.ts';

/** How the changes of one wound stood to the schedule: done = on time + early + late + first + unscheduled. */
export interface ChangesPart {
  done: number;
  /** Days of those done that only covered the wound until the clinic was asked; their number is in `done` too. */
  coveredOnly: LocalDay[];
  onTime: number;
  early: { day: LocalDay; why: EarlyReason }[];
  /** `daysLate` is 0 where it was hours late on the same day. */
  late: { day: LocalDay; daysLate: number }[];
  /** Nothing was written before it, so nothing was due. */
  first: number;
  /** No plan at hand gives this wound an interval. */
  unscheduled: number;
  /** Days on which a change was due and none was done before the next one was. */
  missed: LocalDay[];
  /** Days of changes broken off before the wound was dressed again. They count as looks only. */
  stopped: LocalDay[];
  /** The day on which the change that is late now was due. */
  overdueSince: LocalDay | undefined;
}

/** What came out of a wound at one look, against what the plan of that day expected. */
export interface DrainageRow {
  /** The id of the change. */
  change: string;
  day: LocalDay;
  at: string;
  zone: string;
  /** Undefined: covered again before the look, or the question was left out. */
  amount: Band | 'unsure' | undefined;
  colour: Answers['drainageColour'];
  expected: readonly [Band, Band] | undefined;
  /** `unknown` where the amount or the plan's range is. */
  place: 'below' | 'within' | 'above' | 'unknown';
  /** Dressed again afterwards. */
  dressed: boolean;
}

export type DrainageCounts = Record<Band | 'unsure' | 'notSeen', number>;

export interface DrainagePart {
  /** In time order; one for each change, broken off or not. */
  rows: DrainageRow[];
  counts: DrainageCounts;
  above: number;
  below: number;
  /** The range of the plan in force; undefined for a wound it does not have. */
  expectedNow: readonly [Band, Band] | undefined;
  /** The newest changes of the period say in a row that the dressing was too wet, or too dry. */
  fit: FitFinding | undefined;
  /** The amounts of the period, for a chart. */
  points: DrainagePoint[];
  /** How often the plan in force has the dressing changed, hours; undefined for a wound it does not have. */
  changeEveryHours: number | undefined;
}

/** What the schedule says of the changes of every wound in the period, worked out once. */
export function scheduleOf(scope: Scope) {
  const { plan, entries, end, zone, earlierPlans, period } = scope;
  // Two days more, because a day begins up to 26 hours earlier in another zone.
  const since = instantOf(period.from, 0, zone) - 2 * DAY_MS;
  const { changes, missed } = pastChanges(plan, entries, end, zone, { older: earlierPlans, since });
  const inTime = inPeriod(scope, 'change');
  return {
    changes: changes.filter((c) => isIn(period, c.day)),
    missed: missed.filter((m) => isIn(period, m.day)),
    stopped: inTime.filter((e) => e.now.stopped === true),
    coveredOnly: inTime.filter((e) => e.now.stopped !== true && e.now.path === 'coverAndCall'),
  };
}
export type Schedule = ReturnType<typeof scheduleOf>;

export function changesPart(scope: Scope, schedule: Schedule, wound: string): ChangesPart {
  const own = schedule.changes.filter((c) => c.wound === wound);
  const count = (timing: (typeof own)[number]['timing']): number => own.filter((c) => c.timing === timing).length;
  const due = scope.period.endsToday ? dueNow(scope.plan, scope.entries, wound, scope.end, scope.zone) : undefined;
  return {
    done: own.length,
    coveredOnly: schedule.coveredOnly.filter((e) => e.now.wound === wound).map((e) => e.first.day),
    onTime: count('onTime'),
    early: own.flatMap((c) => (c.timing === 'early' ? [{ day: c.day, why: c.why ?? 'other' }] : [])),
    late: own.flatMap((c) => (c.timing === 'late' ? [{ day: c.day, daysLate: c.daysLate ?? 0 }] : [])),
    first: count('first'),
    unscheduled: count('unscheduled'),
    missed: schedule.missed.filter((m) => m.wound === wound).map((m) => m.day),
    stopped: schedule.stopped.filter((e) => e.now.wound === wound).map((e) => e.first.day),
    overdueSince: due?.state === 'overdue' ? due.due.day : undefined,
  };
}

const isBand = (amount: string | undefined): amount is Band => amount !== undefined && amount !== 'unsure';

function placeOf(amount: Band, [low, high]: readonly [Band, Band]): 'below' | 'within' | 'above' {
  if (bandRank(amount) < bandRank(low)) return 'below';
  return bandRank(amount) > bandRank(high) ? 'above' : 'within';
}

/** Drainage of one wound by change, each held against the range of the plan it was made under. */
export function drainagePart(scope: Scope, wound: string): DrainagePart {
  const rows = inPeriod(scope, 'change')
    .filter((e) => e.now.wound === wound)
    .map(({ first, now }): DrainageRow => {
      const expected = planOf(scope, first).wounds.find((w) => w.id === wound)?.expectedDrainage;
      const amount = now.answers?.drainageAmount;
      return {
        change: first.id,
        day: first.day,
        at: first.at,
        zone: first.zone,
        amount,
        colour: now.answers?.drainageColour,
        expected,
        place: isBand(amount) && expected ? placeOf(amount, expected) : 'unknown',
        dressed: now.stopped !== true,
      };
    });
  const counts = Object.fromEntries([...BANDS, 'unsure', 'notSeen'].map((key) => [key, 0])) as DrainageCounts;
  for (const row of rows) counts[row.amount ?? 'notSeen'] += 1;
  const inPlan = scope.plan.wounds.find((w) => w.id === wound);
  return {
    rows,
    counts,
    above: rows.filter((r) => r.place === 'above').length,
    below: rows.filter((r) => r.place === 'below').length,
    fit: drainageOf(scope.plan, scope.entries, wound, scope.end, scope.zone, {
      older: scope.earlierPlans,
      since: instantOf(scope.period.from, 0, scope.zone),
    }).finding,
    points: drainageSeries(scope.entries, wound, [...scope.earlierPlans, scope.plan]).filter((p) => isIn(scope.period, p.day)),
    expectedNow: inPlan?.expectedDrainage,
    changeEveryHours: inPlan && limitsOf(scope.plan, inPlan, lastFound(scope.entries, wound)).changeEveryHours,
  };
}
