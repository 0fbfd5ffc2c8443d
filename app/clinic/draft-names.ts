import type { DraftPlan, DraftWound } from '../care/plan/draft.ts';
import { apart, t } from '../words/i18n.ts';
import { footName, woundName } from '../words/names.ts';

/** What a wound of a draft is called; by its number, with what is chosen of its place, as long as that is open. */
export function draftWoundName({ wounds }: DraftPlan, wound: DraftWound): string {
  const { site, side, label } = wound;
  if (site !== undefined && side !== undefined) return woundName({ site, side, label });
  const number = t('clinic:wound.numbered', { number: wounds.indexOf(wound) + 1 });
  const known = label ? apart(label) : site ? t(`common:site.${site}`) : side && footName(side);
  return known ? t('clinic:wound.numberedAs', { number, name: known }) : number;
}
