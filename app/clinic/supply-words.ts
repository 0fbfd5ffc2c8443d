import type { SupplyNeed } from '../care/plan/propose-recipes.ts';
import { withoutMarks } from '../words/bidi.ts';
import { formatLength } from '../words/format.ts';
import { t } from '../words/i18n.ts';

/** The name of a supply in a language whose words are loaded. */
export function supplyName(need: SupplyNeed, lng: string): string {
  if (need.kind !== 'dressing') return t(`clinic:supply.${need.kind}`, { lng });
  const family = t(`common:family.${need.family}`, { lng });
  if (need.widthMm === undefined || need.heightMm === undefined) return family;
  const size = t('common:size', { lng, width: formatLength(need.widthMm, 'cm', lng), height: formatLength(need.heightMm, 'cm', lng) });
  // The name becomes part of the plan.
  return withoutMarks(t('clinic:supply.sized', { lng, family, size }));
}
