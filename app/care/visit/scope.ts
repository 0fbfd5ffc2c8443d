import type { LogRecord } from '../log/records.ts';
import { type Entry, standing } from '../log/timeline.ts';
import { limitsOf } from '../plan/limits-of.ts';
import type { Plan, Side, Wound } from '../plan/plan.ts';
import { AHEAD_MS, type LocalDay } from '../schedule/day.ts';
import type { Period } from './period.ts';

/** What every part of a summary is worked out from. */
export interface Scope {
  plan: Plan;
  /** Plans in force before, in any order. */
  earlierPlans: readonly Plan[];
  /** The log without what is dated after the end of the period. */
  entries: readonly Entry[];
  /** The whole log as given: what was done about an alert may have been written later. */
  all: readonly Entry[];
  period: Period;
  /** The clock, or the end of the period where that has passed (ms). */
  end: number;
  zone: string;
}

/** Dated after now by more than the clocks of two phones differ: made under a wrong clock. */
export const isAheadOf = (entry: Entry, now: number): boolean => Date.parse(entry.first.at) > now + AHEAD_MS;

/** Whether a day lies in the period. Days are written so that their letters sort as their dates do. */
export const isIn = (period: Pick<Period, 'from' | 'to'>, day: LocalDay): boolean => day >= period.from && day <= period.to;

/** Standing entries of one kind whose first version was made in the period. */
export const inPeriod = <K extends LogRecord['kind']>(scope: Scope, kind: K) =>
  standing(scope.entries, kind).filter((e) => isIn(scope.period, e.first.day));

/** The plan a record was made under as far as it is at hand; else the plan in force now. */
export function planOf(scope: Pick<Scope, 'plan' | 'earlierPlans'>, record: Pick<LogRecord, 'plan'>): Plan {
  const same = (p: Plan) => p.id === record.plan?.id && p.revision === record.plan.revision;
  return [scope.plan, ...scope.earlierPlans].find(same) ?? scope.plan;
}

/** A wound as the plan in force has it, else as the newest earlier plan that had it. */
export const woundOf = ({ plan, earlierPlans }: Pick<Scope, 'plan' | 'earlierPlans'>, id: string): Wound | undefined =>
  [plan, ...byRevision(earlierPlans)].flatMap((p) => p.wounds).find((w) => w.id === id);

/** Newest first. */
export const byRevision = (plans: readonly Plan[]): Plan[] =>
  [...plans].sort((a, b) => (a.issued < b.issued ? 1 : a.issued > b.issued ? -1 : b.revision - a.revision));

/** The limits that a plan sets for a foot; those of its first wound where it has none there. */
export function limitsFor(plan: Plan, side?: Side) {
  const wound = plan.wounds.find((w) => w.side === side) ?? (plan.wounds[0] as Wound);
  return limitsOf(plan, wound, undefined);
}

/** Days in order, each once. */
export const daysOnce = (days: readonly LocalDay[]): LocalDay[] => [...new Set(days)].sort();
