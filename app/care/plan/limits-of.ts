import { BANDS, type Band } from '../check/questions.ts';
import { DEFAULT_LIMITS, DEFAULT_THRESHOLDS, type Limits } from '../escalation/limits.ts';
import { longestGapHours } from '../schedule/due.ts';
import { likelyRecipe } from './likely-recipe.ts';
import { type Interval, type Plan, recipeFor, type Wound } from './plan.ts';

/** The change interval in force: that of the recipe most likely needed next. */
export function intervalInUse(wound: Wound, lastFound: Band | undefined): Interval | undefined {
  return likelyRecipe(wound, lastFound)?.recipe.change;
}

/** What the escalation rules need to know of one wound's plan. */
export function limitsOf(plan: Plan, wound: Wound, lastFound: Band | undefined): Limits {
  const interval = intervalInUse(wound, lastFound);
  const own = plan.escalation;
  return {
    expectedDrainage: wound.expectedDrainage,
    changeEveryHours: interval ? longestGapHours(interval) : DEFAULT_LIMITS.changeEveryHours,
    callBands: BANDS.filter((band) => recipeFor(wound, band) === undefined),
    keepDry: wound.keepDry,
    known: wound.known,
    alsoSigns: own.alsoSigns ?? [],
    asks: plan.asks,
    raise: (own.raise ?? {}) as Limits['raise'],
    reviewBy: plan.reviewBy,
    thresholds: {
      ...DEFAULT_THRESHOLDS,
      // A key that is there but undefined must not blank the table's value: no temperature would be a fever.
      ...Object.fromEntries(Object.entries(own.thresholds ?? {}).filter(([, value]) => value !== undefined)),
    },
  };
}
