import type { CallLevel } from '../care/plan/band-calls.ts';
import { t } from './i18n.ts';

/** What an amount of fluid that means a call asks for: to dress or to cover the wound, and when to call. Words of the area `plan`. */
export function callText(hasRecipe: boolean, call: CallLevel): string {
  const isToday = call === 'callToday';
  if (hasRecipe) return t(isToday ? 'plan:aboveExpected' : 'plan:aboveExpectedNow');
  return t(isToday ? 'plan:callUs' : 'plan:callUsNow');
}
