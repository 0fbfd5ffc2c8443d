import { isWholeCheck } from '../check/items.ts';
import type { CheckRecord } from '../log/records.ts';
import type { Plan } from '../plan/plan.ts';
import type { LocalDay } from '../schedule/day.ts';
import { daysOf } from './period.ts';
import { daysOnce, inPeriod, planOf, type Scope } from './scope.ts';

/** A standing check of the period with the plan it was made under. */
export interface CheckOf {
  id: string;
  day: LocalDay;
  now: CheckRecord;
  plan: Plan;
}

/** Checks by day: done + cut short + none make up the days that count. */
export interface ChecksPart {
  /** Days that count: those of the period without months that are not loaded, and without today while it has no check yet. */
  days: number;
  done: number;
  /** Days whose only checks were cut short. */
  cutShort: LocalDay[];
  none: LocalDay[];
  /** The period ends today and today has no check yet. */
  todayOpen: boolean;
}

export const checksOf = (scope: Scope): CheckOf[] =>
  inPeriod(scope, 'check').map(({ first, now }) => ({ id: first.id, day: first.day, now, plan: planOf(scope, first) }));

/** The days that count, in order. */
export function countedDays({ period }: Scope, checks: readonly CheckOf[], monthsNotLoaded: readonly string[]): LocalDay[] {
  const checked = new Set(checks.map((c) => c.day));
  return daysOf(period).filter((day) => {
    if (checked.has(day)) return true;
    return !monthsNotLoaded.includes(day.slice(0, 7)) && !(period.endsToday && day === period.to);
  });
}

export function checksPart({ period }: Scope, days: readonly LocalDay[], checks: readonly CheckOf[]): ChecksPart {
  const whole = new Set(checks.filter((c) => isWholeCheck(c.plan, c.now)).map((c) => c.day));
  const any = new Set(checks.map((c) => c.day));
  return {
    days: days.length,
    done: whole.size,
    cutShort: daysOnce([...any].filter((d) => !whole.has(d))),
    none: days.filter((d) => !any.has(d)),
    todayOpen: period.endsToday && !any.has(period.to),
  };
}
