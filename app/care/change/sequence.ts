import { BANDS, type Band, bandRank } from '../check/questions.ts';
import { type FamilyId, familyOf } from '../dressings/families.ts';
import { likelyRecipe } from '../plan/likely-recipe.ts';
import { type Dressing, type Plan, type Recipe, recipeFor, type Wound } from '../plan/plan.ts';
import { STEPS_BEFORE_RECIPE, type StepId } from './steps.ts';

/** A step as it is shown: what to do, with the clinic's own note if there is one. */
export interface SequenceStep {
  step: StepId;
  note?: string | undefined;
}

/** Which way a change goes on after the look. */
export type ChangePath = 'recipe' | 'keepDry' | 'coverAndCall';

/** Cover with a clean dry dressing, tidy up, wash, then call. */
export const SHORT_PATH: readonly SequenceStep[] = [
  { step: 'dryDressing' },
  { step: 'fix' },
  { step: 'throwAway' },
  { step: 'washHandsAgain' },
];

/** The steps up to the look. A wound that must stay dry is never rinsed [EV-PRA-01, EV-DRS-07]. */
export function stepsToLook(wound: Wound): SequenceStep[] {
  return STEPS_BEFORE_RECIPE.filter((step) => !(wound.keepDry && step === 'rinse')).map((step) => ({ step }));
}

/**
 * How the change goes on once the amount is known: the plan's recipe for that
 * band, or the short path where the plan says "call us" or the person was not
 * sure what they saw.
 */
export function stepsAfterLook(wound: Wound, amount: Band | 'unsure' | undefined): { path: ChangePath; steps: readonly SequenceStep[] } {
  const recipe = amount === undefined || amount === 'unsure' ? undefined : recipeFor(wound, amount);
  if (!recipe) return { path: 'coverAndCall', steps: shortPath(wound) };
  return { path: wound.keepDry ? 'keepDry' : 'recipe', steps: recipe.steps };
}

/** The short path of a wound: where its recipes put a shoe or boot back on, so does this one, before the person walks to the bin. */
function shortPath(wound: Wound): readonly SequenceStep[] {
  const device = recipesOf(wound)
    .flatMap((r) => r.steps)
    .find(({ step }) => step === 'device');
  return device ? SHORT_PATH.flatMap((s) => (s.step === 'throwAway' ? [device, s] : [s])) : SHORT_PATH;
}

const recipesOf = (wound: Wound): Recipe[] => BANDS.flatMap((band) => recipeFor(wound, band) ?? []);

/** How the wound stands at a step: still under the old dressing, open, or under the new one. */
export type WoundStands = 'under' | 'open' | 'dressed';

const LAYING: readonly StepId[] = ['dryDressing', 'primary', 'secondary', 'fix'];

/**
 * How the wound stands when a step of a change is about to be done. It counts as
 * open from the step that takes the old dressing off until the last layer is
 * held, for nobody knows how far a step was when it was left.
 */
export function woundStandsAt(steps: readonly SequenceStep[], position: number): WoundStands {
  if (position < steps.findIndex(({ step }) => step === 'remove')) return 'under';
  return position > steps.findLastIndex(({ step }) => LAYING.includes(step)) ? 'dressed' : 'open';
}

/** Sheets, ropes and gauzes that are laid on the wound alone, so that most have to be cut to its size (common practice). */
const CUT_TO_SIZE: readonly FamilyId[] = [
  'collagenSheet',
  'alginateSheet',
  'alginateRope',
  'gellingFibreSheet',
  'gellingFibreRope',
  'hydrogelGauze',
  'contactLayer',
  'impregnatedGauze',
];

/** Whether scissors may be needed for a layer, or for the tape or bandage that holds it. */
export const needsScissors = (wound: Wound): boolean =>
  recipesOf(wound).some(
    (r) =>
      [r.primary, r.secondary].some((d) => d && CUT_TO_SIZE.includes(d.family)) || r.fixation === 'tape' || r.fixation === 'tubularBandage',
  );

/** The dressing a step lays on, if it lays one on. A recipe may have its only dressing in either layer. */
export function dressingOf(step: StepId, recipe: Recipe): Dressing | undefined {
  if (step === 'primary') return recipe.primary;
  return step === 'secondary' || step === 'dryDressing' ? (recipe.secondary ?? recipe.primary) : undefined;
}

/** One line of the list of things to lay out. */
export interface GatherLine {
  item: string;
  name: string;
  amount: number;
}

/**
 * What to lay out before a change. Which recipe will be needed shows only at
 * the look, so this is enough for any of the expected bands.
 */
export function gatherList(plan: Plan, wound: Wound, found: Band | undefined): GatherLine[] {
  const [low, high] = wound.expectedDrainage;
  const bands = BANDS.filter((b) => b === found || (bandRank(b) >= bandRank(low) && bandRank(b) <= bandRank(high)));
  return linesFor(plan, wound, bands);
}

/**
 * What to keep near as well: things that only the recipes of the other bands
 * need, for a wound that turns out wetter or drier than expected.
 */
export function nearList(plan: Plan, wound: Wound, found: Band | undefined): GatherLine[] {
  const laidOut = new Set(gatherList(plan, wound, found).map((line) => line.item));
  return linesFor(plan, wound, BANDS).filter((line) => !laidOut.has(line.item));
}

/** What the recipes of some bands use: each thing once, with its largest amount, in the order of the plan. */
function linesFor(plan: Plan, wound: Wound, bands: readonly Band[]): GatherLine[] {
  const amounts = new Map<string, number>();
  for (const band of bands) {
    for (const { item, amount } of recipeFor(wound, band)?.uses ?? []) amounts.set(item, Math.max(amount, amounts.get(item) ?? 0));
  }
  return plan.supplies.flatMap((s) => {
    const amount = amounts.get(s.id);
    return amount === undefined ? [] : [{ item: s.id, name: s.name, amount }];
  });
}

/** What the old dressing may look like although nothing is wrong, as keys for words. */
export type NormalLook = 'gel' | 'silver' | 'dryStays';

/**
 * What to tell before the look, from the dressing that is coming off: gel is
 * easily taken for pus, silver stains grey [EV-EXU-10, EV-PRA-03, EV-PRA-04].
 * Gel is to be rinsed off, so a wound that must stay dry never hears of it.
 */
export function normalLooks(wound: Wound, found: Band | undefined): NormalLook[] {
  const recipe = likelyRecipe(wound, found)?.recipe;
  const dressings = [recipe?.primary, recipe?.secondary].filter((d): d is Dressing => d !== undefined);
  return [
    ...(wound.keepDry ? (['dryStays'] as const) : []),
    ...(!wound.keepDry && dressings.some((d) => familyOf(d.family).turnsToGel) ? (['gel'] as const) : []),
    ...(dressings.some((d) => d.silver) ? (['silver'] as const) : []),
  ];
}
