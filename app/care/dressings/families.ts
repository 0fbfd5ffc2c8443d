/**
 * Dressing families. A family is what a product is made of and does with
 * fluid; the clinic names the product itself in the plan.
 *
 * - `fluid`: what it does with wound fluid. It never "heals faster" [EV-DRS-02,
 *   EV-DRS-04, IWGDF].
 * - `layer`: which layer it may be.
 * - `needsSecondary`: whether it needs a second dressing to hold it.
 * - `occlusive`: whether it seals the wound for days.
 * - `turnsToGel`: whether it looks like gel when it has done its work, which is
 *   easily taken for pus [EV-PRA-03, EV-PRA-04, common practice].
 */
export interface Family {
  readonly id: string;
  readonly fluid: 'adds' | 'absorbs' | 'neutral';
  readonly layer: 'primary' | 'secondary' | 'both';
  readonly needsSecondary: boolean;
  readonly occlusive: boolean;
  readonly turnsToGel: boolean;
}

const family = <Id extends string>(
  id: Id,
  fluid: Family['fluid'],
  layer: Family['layer'],
  flags: Partial<Pick<Family, 'needsSecondary' | 'occlusive' | 'turnsToGel'>> = {},
) => ({ id, fluid, layer, needsSecondary: false, occlusive: false, turnsToGel: false, ...flags }) as const;

export const FAMILIES = [
  // Plain dry pad: the dressing of a dry gangrene [EV-PRA-01, common practice].
  family('dryGauze', 'neutral', 'both'),
  // Adds moisture to a dry wound [EV-PRA-02, EV-DRS-06].
  family('hydrogel', 'adds', 'primary', { needsSecondary: true, turnsToGel: true }),
  family('hydrogelGauze', 'adds', 'primary', { needsSecondary: true, turnsToGel: true }),
  // Takes up light drainage and turns to gel [EV-PRA-03].
  family('collagenSheet', 'absorbs', 'primary', { needsSecondary: true, turnsToGel: true }),
  family('collagenPowder', 'absorbs', 'primary', { needsSecondary: true, turnsToGel: true }),
  // Takes up about ten times its weight [EV-PRA-04].
  family('alginateSheet', 'absorbs', 'primary', { needsSecondary: true, turnsToGel: true }),
  family('alginateRope', 'absorbs', 'primary', { needsSecondary: true, turnsToGel: true }),
  family('gellingFibreSheet', 'absorbs', 'primary', { needsSecondary: true, turnsToGel: true }),
  family('gellingFibreRope', 'absorbs', 'primary', { needsSecondary: true, turnsToGel: true }),
  // On the wound itself or as second layer [EV-PRA-05].
  family('foam', 'absorbs', 'both'),
  family('foamBordered', 'absorbs', 'both'),
  family('contactLayer', 'neutral', 'primary', { needsSecondary: true }),
  family('impregnatedGauze', 'neutral', 'primary', { needsSecondary: true }),
  family('hydrocolloid', 'absorbs', 'both', { occlusive: true, turnsToGel: true }),
  family('film', 'neutral', 'both', { occlusive: true }),
  family('absorbentPad', 'absorbs', 'both'),
  family('composite', 'absorbs', 'both'),
] as const satisfies readonly Family[];

export type FamilyId = (typeof FAMILIES)[number]['id'];
export const FAMILY_IDS = FAMILIES.map((f) => f.id) as [FamilyId, ...FamilyId[]];

const byId = new Map<string, Family>(FAMILIES.map((f) => [f.id, f]));

/** The family with this id. @throws RangeError for an unknown id. */
export function familyOf(id: string): Family {
  const found = byId.get(id);
  if (!found) throw new RangeError(`no such dressing family: ${id}`);
  return found;
}
