import type { BandCall } from '../care/plan/band-calls.ts';
import { t } from './i18n.ts';

/** What an amount of fluid that means a call asks for: to dress or to cover the wound, and when to call. Words of the area `plan`. */
export function callText(hasRecipe: boolean, call: BandCall): string {
  if (hasRecipe) return t(call === 'now' ? 'plan:aboveExpectedNow' : 'plan:aboveExpected');
  return t(call === 'now' ? 'plan:callUsNow' : 'plan:callUs');
}
