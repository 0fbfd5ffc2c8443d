import { BANDS, type Band, bandRank } from '../check/questions.ts';
import { type Recipe, recipeFor, type Wound } from './plan.ts';

/** The recipe most likely needed next: that of the amount found last, else of the driest expected band that has one. */
export function likelyRecipe(wound: Wound, found: Band | undefined): { band: Band; recipe: Recipe } | undefined {
  const [low, high] = wound.expectedDrainage;
  const expected = BANDS.filter((b) => bandRank(b) >= bandRank(low) && bandRank(b) <= bandRank(high));
  for (const band of [...(found ? [found] : []), ...expected, ...BANDS]) {
    const recipe = recipeFor(wound, band);
    if (recipe) return { band, recipe };
  }
  return undefined;
}
