import { type Answers, mildestAnswers } from '../care/check/answers.ts';
import { BANDS, type Band, bandRank, QUESTIONS } from '../care/check/questions.ts';
import { assess } from '../care/escalation/assess.ts';
import { isAtLeast, type Level } from '../care/escalation/levels.ts';
import { EMPTY_HISTORY, type Moment } from '../care/escalation/past.ts';
import { limitsOf } from '../care/plan/limits-of.ts';
import { type Plan, type Recipe, recipeGroups, type Wound } from '../care/plan/plan.ts';

const CALLS = ['emergency', 'callNow', 'callToday'] as const;
export type CallLevel = (typeof CALLS)[number];
export const CALL_LEVELS: readonly CallLevel[] = CALLS;

/**
 * Which single answers of the check ask for a call, by level, worked out with
 * the app's own rules on the plan itself, so that paper and phone agree. How
 * much the wound drains stands with the recipes and is left out.
 * @returns findings as `question:code`, in the order of the questions.
 */
export function callList(plan: Plan, now: Moment): Record<CallLevel, string[]> {
  const lists: Record<CallLevel, string[]> = { emergency: [], callNow: [], callToday: [] };
  for (const q of QUESTIONS) {
    if (!['oneOf', 'manyOf', 'warmth'].includes(q.kind) || q.id === 'drainageAmount') continue;
    if (q.when === 'plan' && !plan.asks.includes(q.id as never)) continue;
    for (const code of q.codes.slice(1)) {
      const level = levelOf(plan, { [q.id]: q.kind === 'manyOf' ? [code] : code } as Partial<Answers>, now);
      if (level) lists[level].push(`${q.id}:${code}`);
    }
  }
  return lists;
}

/** The gravest level of an answer over all wounds of the plan; undefined where it asks for no call. */
function levelOf(plan: Plan, part: Partial<Answers>, now: Moment): CallLevel | undefined {
  const levels = plan.wounds.map((wound) => {
    const limits = { ...limitsOf(plan, wound, undefined), reviewBy: undefined };
    const answers: Answers = { ...mildestAnswers(), drainageAmount: wound.expectedDrainage[0], ...part };
    // A band the plan calls for anyway says nothing about the answer itself.
    return assess({ ...limits, callBands: [] }, EMPTY_HISTORY, answers, now).level;
  });
  return CALLS.find((level) => levels.some((l) => isCallAtLeast(l, level)));
}

const isCallAtLeast = (found: Level | 'unfinished', level: CallLevel): boolean => found !== 'unfinished' && isAtLeast(found, level);

/**
 * The call that an amount of drainage asks for, all else being as mild as can
 * be; undefined where it asks for none.
 */
export function amountLevel(plan: Plan, wound: Wound, band: Band, now: Moment): CallLevel | undefined {
  const limits = { ...limitsOf(plan, wound, undefined), reviewBy: undefined };
  const { level } = assess(limits, EMPTY_HISTORY, { ...mildestAnswers(), drainageAmount: band }, now);
  return CALLS.find((call) => isCallAtLeast(level, call));
}

/** Amounts of drainage that are dressed alike and ask for the same call. */
export interface AmountGroup {
  bands: Band[];
  /** Undefined where the plan says "call us". */
  recipe: Recipe | undefined;
  level: CallLevel | undefined;
  /** More than the plan expects. */
  above: boolean;
}

/** A wound's amounts, driest first: those of one recipe together, but apart where one is a call and the other is not. */
export function amountGroups(plan: Plan, wound: Wound, now: Moment): AmountGroup[] {
  const most = bandRank(wound.expectedDrainage[1]);
  const groups: AmountGroup[] = [];
  for (const { bands, recipe } of recipeGroups(wound)) {
    for (const band of bands) {
      // Without a recipe it is a call, whatever the rules make of it.
      const level = amountLevel(plan, wound, band, now) ?? (recipe ? undefined : 'callToday');
      const above = bandRank(band) > most;
      const like = groups.find((g) => g.recipe === recipe && g.level === level && g.above === above);
      if (like) like.bands.push(band);
      else groups.push({ bands: [band], recipe, level, above });
    }
  }
  return groups.sort((a, b) => BANDS.indexOf(a.bands[0] as Band) - BANDS.indexOf(b.bands[0] as Band));
}
