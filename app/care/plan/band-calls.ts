import { mildestAnswers } from '../check/answers.ts';
import { BANDS, type Band } from '../check/questions.ts';
import { assess } from '../escalation/assess.ts';
import { isAtLeast } from '../escalation/levels.ts';
import { EMPTY_HISTORY } from '../escalation/past.ts';
import type { RuleId } from '../escalation/rule-levels.ts';
import { limitsOf } from './limits-of.ts';
import { type Plan, type Recipe, recipeFor, type Wound } from './plan.ts';

/** The rules that an amount of fluid alone can set off, without any earlier change. */
const AMOUNT_RULES: readonly RuleId[] = ['drainage-above-plan', 'plan-says-call', 'keep-dry-breached', 'graver-than-raised'];

/** How soon to call the clinic. */
export type BandCall = 'today' | 'now';

/**
 * Whether an amount of fluid alone means a call: the rule table itself is
 * asked, with the plan's raised rules and known findings, so that what is read
 * on paper is what the look would say. A band without a recipe is always a call.
 */
export function callOfBand(plan: Plan, wound: Wound, band: Band): BandCall | undefined {
  const answers = { ...mildestAnswers(), drainageAmount: band };
  const { fired } = assess(limitsOf(plan, wound, undefined), EMPTY_HISTORY, answers, { at: 0, day: plan.issued });
  const levels = fired.filter((r) => AMOUNT_RULES.includes(r.rule)).map((r) => r.level);
  if (levels.some((level) => isAtLeast(level, 'callNow'))) return 'now';
  if (levels.some((level) => isAtLeast(level, 'callToday'))) return 'today';
  return recipeFor(wound, band) ? undefined : 'today';
}

/** Bands that are dressed alike and mean the same call. */
export interface BandGroup {
  bands: Band[];
  /** None where the plan says "call us". */
  recipe: Recipe | undefined;
  call: BandCall | undefined;
}

/** The wound's bands for reading: those of one recipe together, unless some of them mean a call. */
export function bandGroups(plan: Plan, wound: Wound): BandGroup[] {
  const groups: BandGroup[] = [];
  for (const band of BANDS) {
    const recipe = recipeFor(wound, band);
    const call = callOfBand(plan, wound, band);
    const same = groups.find((g) => g.call === call && JSON.stringify(g.recipe) === JSON.stringify(recipe));
    if (same) same.bands.push(band);
    else groups.push({ bands: [band], recipe, call });
  }
  return groups;
}
