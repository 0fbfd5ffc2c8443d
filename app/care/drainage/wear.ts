import { type FamilyId, familyOf } from '../dressings/families.ts';
import type { Spread } from '../healing/spread.ts';
import type { Interval } from '../plan/plan.ts';
import { shortestGapHours } from '../schedule/due.ts';

/**
 * How long a dressing may take to fill up, as an estimate.
 *
 * It never goes beyond the plan: both ends stop at the plan's interval (on chosen
 * weekdays the shortest of them), so that no number can be read as leave to wear
 * a dressing longer.
 */
export type WearEstimate =
  | {
      kind: 'estimate';
      /** Hours, shortest and longest. */
      low: number;
      high: number;
      /** The plan's shortest time between two changes, hours. */
      planHours: number;
      /** Against the plan: it lasts at either end, at the longer end only, or at neither. */
      lasts: 'yes' | 'perhaps' | 'no';
    }
  | { kind: 'none'; why: 'noFigureForFamily' | 'noWeight' | 'noRate' | 'noInterval' };

/**
 * "Up to about ten times its weight" [EV-PRA-04, common practice] is the most a
 * dressing takes. How little it may take under a foot that is walked on no
 * source says; half of the most is our judgement.
 */
export const LEAST_SHARE = 0.5;

/**
 * @param family of the dressing on the wound; only alginates have a figure.
 * @param dryG weight of that one dressing dry, without the layers over it: all
 *   layers together would make it seem to last longer.
 * @param gPerDay measured drainage; undefined where the scale saw none. All of it
 *   is taken to go into this dressing, none into the layers over it.
 * @param interval of the plan; without one there is no estimate, for nothing would bound it.
 */
export function wearEstimate(family: FamilyId, dryG: number, gPerDay: Spread | undefined, interval: Interval | undefined): WearEstimate {
  const times = familyOf(family).timesOwnWeight;
  if (times === undefined) return { kind: 'none', why: 'noFigureForFamily' };
  if (!interval) return { kind: 'none', why: 'noInterval' };
  if (!(dryG > 0)) return { kind: 'none', why: 'noWeight' };
  if (!gPerDay || !(gPerDay.low > 0)) return { kind: 'none', why: 'noRate' };
  const planHours = shortestGapHours(interval);
  const hoursTo = (takesG: number, rate: number): number => Math.min(planHours, (takesG / rate) * 24);
  const low = hoursTo(LEAST_SHARE * times * dryG, gPerDay.high);
  const high = hoursTo(times * dryG, gPerDay.low);
  return { kind: 'estimate', low, high, planHours, lasts: low >= planHours ? 'yes' : high >= planHours ? 'perhaps' : 'no' };
}
