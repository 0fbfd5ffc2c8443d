import { mildestAnswers } from '../check/answers.ts';
import { BANDS, type Band, bandRank } from '../check/questions.ts';
import { assess } from '../escalation/assess.ts';
import { isAtLeast } from '../escalation/levels.ts';
import { EMPTY_HISTORY } from '../escalation/past.ts';
import type { RuleId } from '../escalation/rule-levels.ts';
import { limitsOf } from './limits-of.ts';
import { type Plan, type Recipe, recipeFor, type Wound } from './plan.ts';

/** The rules that an amount of fluid alone can set off, without any earlier change. */
const AMOUNT_RULES: readonly RuleId[] = ['drainage-above-plan', 'plan-says-call', 'keep-dry-breached', 'graver-than-raised'];

/** How soon to call, gravest first. */
export const CALL_LEVELS = ['emergency', 'callNow', 'callToday'] as const;
export type CallLevel = (typeof CALL_LEVELS)[number];

/**
 * Whether an amount of fluid alone means a call: the rule table itself is
 * asked, with the plan's raised rules and known findings, so that what is read
 * on paper is what the look would say. A band without a recipe is always a call.
 */
export function callOfBand(plan: Plan, wound: Wound, band: Band): CallLevel | undefined {
  const answers = { ...mildestAnswers(), drainageAmount: band };
  const { fired } = assess(limitsOf(plan, wound, undefined), EMPTY_HISTORY, answers, { at: 0, day: plan.issued });
  const levels = fired.filter((r) => AMOUNT_RULES.includes(r.rule)).map((r) => r.level);
  const call = CALL_LEVELS.find((own) => levels.some((level) => isAtLeast(level, own)));
  return call ?? (recipeFor(wound, band) ? undefined : 'callToday');
}

/** Bands that are dressed alike and mean the same call. */
export interface BandGroup {
  bands: Band[];
  /** None where the plan says "call us". */
  recipe: Recipe | undefined;
  call: CallLevel | undefined;
  /** More than the plan expects. */
  above: boolean;
}

/** The wound's bands for reading, driest first: those of one recipe together, unless some of them mean a call or are more than expected. */
export function bandGroups(plan: Plan, wound: Wound): BandGroup[] {
  const most = bandRank(wound.expectedDrainage[1]);
  const groups: BandGroup[] = [];
  for (const band of BANDS) {
    const recipe = recipeFor(wound, band);
    const call = callOfBand(plan, wound, band);
    const above = bandRank(band) > most;
    const same = groups.find((g) => g.call === call && g.above === above && JSON.stringify(g.recipe) === JSON.stringify(recipe));
    if (same) same.bands.push(band);
    else groups.push({ bands: [band], recipe, call, above });
  }
  return groups;
}
