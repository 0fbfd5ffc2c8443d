import { BANDS, type Band } from '../check/questions.ts';
import { type Family, type FamilyId, familyOf } from '../dressings/families.ts';
import type { ChangeRecord } from '../log/records.ts';
import { type Recipe, recipeFor, recipeGroups, type Wound } from '../plan/plan.ts';

/** What lay on a wound, as far as the record of the change that put it on can say. */
export interface Worn {
  /** The plan's recipe that was followed, and every amount that the plan gives this same recipe for, driest first. */
  recipe: Recipe;
  bands: readonly Band[];
  /** The families in it, the one on the wound first. */
  families: readonly FamilyId[];
  /** The family that meets the fluid: the one on the wound, or the cover over a first layer that lets fluid through. */
  works: FamilyId | undefined;
  /** The most drainage that family is meant for; undefined where nothing says. */
  most: Band | undefined;
}

/** Steps that lay a dressing on. */
const LAYS: readonly string[] = ['primary', 'secondary', 'dryDressing'];

/**
 * What a change put on that was not broken off. Undefined where the record cannot say: the short path
 * with whatever was clean and dry, or a layer that was left out or done in
 * another way.
 * @param wound as in the plan that the change was made under.
 */
export function wornFrom(change: ChangeRecord, wound: Wound): Worn | undefined {
  if (change.path === 'coverAndCall' || change.band === undefined) return undefined;
  const recipe = recipeFor(wound, change.band);
  if (!recipe || change.steps.some((s) => LAYS.includes(s.step) && s.state !== 'done')) return undefined;
  const { band } = change;
  const bands = recipeGroups(wound).find((g) => g.bands.includes(band))?.bands ?? [band];
  const [primary, secondary] = [familyIn(recipe.primary), familyIn(recipe.secondary)];
  const isCovered = secondary?.fluid === 'absorbs';
  const works = primary?.fluid === 'neutral' && isCovered ? secondary : (primary ?? secondary);
  return {
    recipe,
    bands: BANDS.filter((b) => bands.includes(b)),
    families: [primary, secondary].flatMap((f) => (f ? [f.id] : [])),
    works: works?.id,
    most: (works !== secondary && isCovered ? works?.mostCovered : undefined) ?? works?.most,
  };
}

function familyIn(dressing: Recipe['primary']): (Family & { id: FamilyId }) | undefined {
  return dressing && { ...familyOf(dressing.family), id: dressing.family };
}
