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
 * - `keepsDry`: whether it may lie on a wound that must stay dry [EV-PRA-01].
 * - `usualMost`: how often it is usually changed at most, by the US payer rule
 *   CMS LCD L33831 Surgical Dressings. A ceiling for payment, not a
 *   prescription. Absent where the rule has no such figure.
 * - `usualMostBordered`: the same for a product with an adhesive border, where
 *   the rule tells them apart.
 */
export interface Family {
  readonly id: string;
  readonly fluid: 'adds' | 'absorbs' | 'neutral';
  readonly layer: 'primary' | 'secondary' | 'both';
  readonly needsSecondary: boolean;
  readonly occlusive: boolean;
  readonly turnsToGel: boolean;
  readonly keepsDry: boolean;
  readonly usualMost?: ChangeRate | undefined;
  readonly usualMostBordered?: ChangeRate | undefined;
}

/** So many changes in so many days. */
export interface ChangeRate {
  readonly times: number;
  readonly days: number;
  /** Row of the evidence table. */
  readonly source: string;
  /** Whether the figure was read in a copy of the rule; otherwise it is from memory and needs a check by hand. */
  readonly seen: boolean;
}

const read = (times: number, days: number, source: string): ChangeRate => ({ times, days, source, seen: true });
const fromMemory = (times: number, days: number, source: string): ChangeRate => ({ times, days, source, seen: false });

const family = <Id extends string>(
  id: Id,
  fluid: Family['fluid'],
  layer: Family['layer'],
  more: Partial<Omit<Family, 'id' | 'fluid' | 'layer'>> = {},
) => ({ id, fluid, layer, needsSecondary: false, occlusive: false, turnsToGel: false, keepsDry: false, ...more }) as const;

const GAUZE = { usualMost: read(3, 1, 'EV-LCD-02'), usualMostBordered: read(1, 1, 'EV-LCD-02') };
const ABSORPTIVE_PAD = { usualMost: read(1, 1, 'EV-LCD-03'), usualMostBordered: read(1, 2, 'EV-LCD-03') };
const FIBRE = { needsSecondary: true, turnsToGel: true, usualMost: read(1, 1, 'EV-LCD-01') };
const FOAM = { usualMost: fromMemory(3, 7, 'EV-LCD-08') };

export const FAMILIES = [
  // Plain dry pad: the dressing of a dry gangrene [EV-PRA-01, common practice].
  family('dryGauze', 'neutral', 'both', { keepsDry: true, ...GAUZE }),
  // Adds moisture to a dry wound [EV-PRA-02, EV-DRS-06].
  // The gel has no figure: as needed for the surface [EV-LCD-04].
  family('hydrogel', 'adds', 'primary', { needsSecondary: true, turnsToGel: true }),
  family('hydrogelGauze', 'adds', 'primary', { needsSecondary: true, turnsToGel: true, usualMost: fromMemory(1, 1, 'EV-LCD-15') }),
  // Takes up light drainage and turns to gel [EV-PRA-03]. It may stay up to seven days, by product, which is no rate [EV-LCD-07].
  family('collagenSheet', 'absorbs', 'primary', { needsSecondary: true, turnsToGel: true }),
  family('collagenPowder', 'absorbs', 'primary', { needsSecondary: true, turnsToGel: true }),
  // Takes up about ten times its weight [EV-PRA-04].
  family('alginateSheet', 'absorbs', 'primary', FIBRE),
  family('alginateRope', 'absorbs', 'primary', FIBRE),
  family('gellingFibreSheet', 'absorbs', 'primary', FIBRE),
  family('gellingFibreRope', 'absorbs', 'primary', FIBRE),
  // On the wound itself or as second layer [EV-PRA-05].
  family('foam', 'absorbs', 'both', FOAM),
  family('foamBordered', 'absorbs', 'both', FOAM),
  family('contactLayer', 'neutral', 'primary', { needsSecondary: true, usualMost: fromMemory(1, 7, 'EV-LCD-13') }),
  family('impregnatedGauze', 'neutral', 'primary', { needsSecondary: true, usualMost: fromMemory(1, 1, 'EV-LCD-15') }),
  family('hydrocolloid', 'absorbs', 'both', { occlusive: true, turnsToGel: true, usualMost: fromMemory(3, 7, 'EV-LCD-11') }),
  family('film', 'neutral', 'both', { occlusive: true, usualMost: fromMemory(3, 7, 'EV-LCD-14') }),
  family('absorbentPad', 'absorbs', 'both', { keepsDry: true, ...ABSORPTIVE_PAD }),
  family('composite', 'absorbs', 'both', { usualMost: fromMemory(3, 7, 'EV-LCD-12') }),
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

/** The usual most changes of a family, with or without an adhesive border; undefined where the payer rule has no figure. */
export function usualMostOf(id: string, bordered: boolean): ChangeRate | undefined {
  const found = familyOf(id);
  return (bordered ? found.usualMostBordered : undefined) ?? found.usualMost;
}
