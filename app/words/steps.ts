import type { StepId } from '../care/change/steps.ts';
import type { Recipe } from '../care/plan/plan.ts';
import { t } from './i18n.ts';

/** What a step is done with in this recipe: the fluid, the care of the skin, the fixation; undefined where that says nothing. */
export function stepMeans(step: StepId, recipe: Recipe): string | undefined {
  if (step === 'clean' && recipe.cleanser !== 'none') return t(`change:cleanser.${recipe.cleanser}`);
  if (step === 'rinse' && recipe.cleanser !== 'none') return t(`change:rinseWith.${recipe.cleanser}`);
  if (step === 'protectSkin' && recipe.skinProtection !== 'none') return t(`change:protect.${recipe.skinProtection}`);
  return step === 'fix' ? t(`change:fixation.${recipe.fixation}`) : undefined;
}
