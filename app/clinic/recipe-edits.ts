import { RECIPE_STEPS, type RecipeStepId } from '../care/change/steps.ts';
import type { Band } from '../care/check/questions.ts';
import type { ClinicView, WoundSize } from '../care/plan/clinic-view.ts';
import type { DraftCleanser, DraftRecipe } from '../care/plan/draft.ts';
import { usualPadFor, usualSheetFor } from '../care/plan/margins.ts';
import type { Dressing } from '../care/plan/plan.ts';
import { proposeRecipe } from '../care/plan/propose-recipes.ts';
import { needOf } from './supplies.ts';

export type RecipeEdit = (recipe: DraftRecipe) => DraftRecipe;
export type Layer = 'primary' | 'secondary';

/** A recipe to begin with for an amount that had none: the proposed one, else a bare frame. */
export const beginRecipe = (view: ClinicView, band: Band, size: WoundSize | undefined): DraftRecipe =>
  proposeRecipe(view, band, size) ?? {
    fixation: 'rollBandage',
    change: { kind: 'hours', hours: 24 },
    cleanser: view.dryGangrene ? 'none' : 'saline',
    skinProtection: 'none',
    steps: (view.dryGangrene
      ? ['freshGloves', 'dryDressing', 'fix', 'throwAway', 'washHandsAgain']
      : ['freshGloves', 'clean', 'dryAround', 'fix', 'throwAway', 'washHandsAgain']
    ).map((step) => ({ step: step as RecipeStepId })),
    uses: [],
  };

/** Puts a step in at its usual place, or takes it out. */
export function withStep(recipe: DraftRecipe, step: RecipeStepId, on: boolean): DraftRecipe {
  const there = recipe.steps.some((s) => s.step === step);
  if (there === on) return recipe;
  if (!on) return { ...recipe, steps: recipe.steps.filter((s) => s.step !== step) };
  const rank = RECIPE_STEPS.indexOf(step);
  const at = recipe.steps.findIndex((s) => RECIPE_STEPS.indexOf(s.step) > rank);
  const place = at < 0 ? recipe.steps.length : at;
  return { ...recipe, steps: [...recipe.steps.slice(0, place), { step }, ...recipe.steps.slice(place)] };
}

/** How much of an item one change uses; undefined or nought takes it out. */
export function withUse(recipe: DraftRecipe, item: string, amount: number | undefined): DraftRecipe {
  const others = recipe.uses.filter((u) => u.item !== item);
  if (amount === undefined || amount <= 0) return { ...recipe, uses: others };
  const known = recipe.uses.some((u) => u.item === item);
  return { ...recipe, uses: known ? recipe.uses.map((u) => (u.item === item ? { item, amount } : u)) : [...others, { item, amount }] };
}

/** The supply that stands for a dressing in a recipe: by the desk's own id, else by its family. */
function useOf(
  recipe: DraftRecipe,
  dressing: Dressing | undefined,
  familyOfItem: (item: string) => string | undefined,
): string | undefined {
  if (!dressing) return undefined;
  const id = needOf(dressing).id;
  return recipe.uses.find((u) => u.item === id)?.item ?? recipe.uses.find((u) => familyOfItem(u.item) === dressing.family)?.item;
}

/**
 * Puts a dressing into a layer, or takes it out. What is used, the fixation and
 * the steps follow, so that a recipe never names one dressing and counts another.
 */
export function withDressing(
  recipe: DraftRecipe,
  layer: Layer,
  dressing: Dressing | undefined,
  familyOfItem: (item: string) => string | undefined,
): DraftRecipe {
  const old = recipe[layer];
  const item = useOf(recipe, old, familyOfItem);
  const amount = recipe.uses.find((u) => u.item === item)?.amount ?? 1;
  let next: DraftRecipe = item === undefined ? recipe : withUse(recipe, item, undefined);
  const { [layer]: _old, ...rest } = next;
  next = dressing ? { ...rest, [layer]: dressing } : rest;
  if (dressing) next = withUse(next, needOf(dressing).id, amount);
  const dry = recipe.steps.some((s) => s.step === 'dryDressing');
  if (!(layer === 'secondary' && dry)) next = withStep(next, layer, dressing !== undefined);
  return withFixationFor(next);
}

/** A cover with a border holds itself; any other needs something to hold it. */
function withFixationFor(recipe: DraftRecipe): DraftRecipe {
  const cover = recipe.secondary ?? recipe.primary;
  const bordered = cover?.family === 'foamBordered';
  if (bordered && recipe.fixation !== 'adhesiveBorder') return withFixation(recipe, 'adhesiveBorder');
  if (!bordered && recipe.fixation === 'adhesiveBorder') return withFixation(recipe, 'rollBandage');
  return recipe;
}

export function withFixation(recipe: DraftRecipe, fixation: DraftRecipe['fixation']): DraftRecipe {
  const rolls = fixation === 'rollBandage';
  const known = recipe.uses.find((u) => u.item === 'rollBandage')?.amount;
  return withUse(withStep({ ...recipe, fixation }, 'fix', fixation !== 'none'), 'rollBandage', rolls ? (known ?? 1) : undefined);
}

export function withSkinProtection(recipe: DraftRecipe, skinProtection: DraftRecipe['skinProtection']): DraftRecipe {
  const film = skinProtection === 'barrierFilm';
  const known = recipe.uses.find((u) => u.item === 'barrierFilm')?.amount;
  const next = withStep({ ...recipe, skinProtection }, 'protectSkin', skinProtection !== 'none');
  return withUse(next, 'barrierFilm', film ? (known ?? 1) : undefined);
}

export function withCleanser(recipe: DraftRecipe, cleanser: DraftCleanser): DraftRecipe {
  const { iodinePrescribed: _mark, ...rest } = recipe;
  const next = withStep({ ...rest, cleanser }, 'clean', cleanser !== 'none');
  const known = recipe.uses.find((u) => u.item === 'saline')?.amount;
  return withUse(next, 'saline', cleanser === 'saline' ? (known ?? 1) : undefined);
}

/** A dressing of a family in the smallest usual size that fits the wound. */
export function sizedFor(family: Dressing['family'], layer: Layer, size: WoundSize | undefined): Dressing {
  const shapeless = ['hydrogel', 'collagenPowder', 'alginateRope', 'gellingFibreRope'].includes(family);
  const own = size && !shapeless ? (layer === 'secondary' ? usualPadFor(size) : usualSheetFor(size)) : undefined;
  return { family, ...(own ?? {}) };
}

/** Moves a step up (-1) or down (1). */
export function moved(recipe: DraftRecipe, index: number, by: -1 | 1): DraftRecipe {
  const to = index + by;
  const steps = [...recipe.steps];
  const [step] = steps.splice(index, 1);
  if (!step || to < 0 || to > steps.length) return recipe;
  steps.splice(to, 0, step);
  return { ...recipe, steps };
}

export function withNote(recipe: DraftRecipe, index: number, note: string): DraftRecipe {
  return { ...recipe, steps: recipe.steps.map((s, i) => (i === index ? { step: s.step, ...(note === '' ? {} : { note }) } : s)) };
}
