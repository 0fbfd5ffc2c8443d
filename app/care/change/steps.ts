/**
 * The steps of a dressing change, in the usual order: hands first, clean
 * gloves, old dressing off, rinse, look, then dress, and hands again
 * [EV-PRO-03, MedlinePlus home dressing text]. `look` is where the questions
 * about the open wound are asked, after the rinse, because gel and residue
 * fool the eye and the nose [EV-EXU-09].
 */
export const STEPS = [
  'washHands',
  'gather',
  'gloves',
  'remove',
  'rinse',
  'look',
  'freshGloves',
  'clean',
  'dryAround',
  'protectSkin',
  'dryDressing',
  'primary',
  'secondary',
  'fix',
  'device',
  'throwAway',
  'washHandsAgain',
] as const;
export type StepId = (typeof STEPS)[number];

/** Up to and including the look: the same whatever the wound turns out to be. */
export const STEPS_BEFORE_RECIPE = ['washHands', 'gather', 'gloves', 'remove', 'rinse', 'look'] as const satisfies readonly StepId[];

/** What a recipe may order after the look. */
export const RECIPE_STEPS = [
  'freshGloves',
  'clean',
  'dryAround',
  'protectSkin',
  'dryDressing',
  'primary',
  'secondary',
  'fix',
  'device',
  'throwAway',
  'washHandsAgain',
] as const satisfies readonly StepId[];
export type RecipeStepId = (typeof RECIPE_STEPS)[number];

/** Seconds to rub hands with soap [EV-PRO-01, CDC]. */
export const HAND_WASH_SECONDS = 20;
