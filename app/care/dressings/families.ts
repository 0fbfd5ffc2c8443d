import type { Band } from '../check/questions.ts';

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
 * - `most`: the most drainage it is meant for, where that is said anywhere; a
 *   figure behind which stands only memory is marked so below.
 * - `mostCovered`: the same under a second layer that takes up fluid.
 * - `timesOwnWeight`: how many times its own weight it takes up at most. Absent
 *   where no figure can be relied on.
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
  readonly most?: Band | undefined;
  readonly mostCovered?: Band | undefined;
  readonly timesOwnWeight?: number | undefined;
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
const ABSORPTIVE_PAD = { most: 'heavy', usualMost: read(1, 1, 'EV-LCD-03'), usualMostBordered: read(1, 2, 'EV-LCD-03') } as const;
/** For moderate to heavy drainage [EV-PRA-04, EV-DRS-06]. */
const FIBRE = { most: 'heavy', needsSecondary: true, turnsToGel: true, usualMost: read(1, 1, 'EV-LCD-01') } as const;
/** Takes up about ten times its weight at most [EV-PRA-04, common practice]; other figures disagree [EV-EXU-13]. */
const ALGINATE = { ...FIBRE, timesOwnWeight: 10 } as const;
/** For moderate to heavy drainage [EV-PRA-04, EV-PRA-05, EV-DRS-06]. */
const FOAM = { most: 'heavy', usualMost: fromMemory(3, 7, 'EV-LCD-08') } as const;
/** For a dry wound, minimal drainage at most [EV-PRA-02, EV-DRS-06; EV-LCD-04, from memory]. */
const HYDRATING = { most: 'light', needsSecondary: true, turnsToGel: true } as const;
/** Takes up light drainage and turns to gel [EV-PRA-03]; up to moderate is usual [EV-LCD-07], which the desk lets pass under an absorbing cover only. */
const COLLAGEN = { most: 'light', mostCovered: 'moderate', needsSecondary: true, turnsToGel: true } as const;

export const FAMILIES = [
  // Plain dry pad: the dressing of a dry gangrene [EV-PRA-01, common practice].
  family('dryGauze', 'neutral', 'both', { keepsDry: true, ...GAUZE }),
  // Adds moisture to a dry wound [EV-PRA-02, EV-DRS-06].
  // The gel has no figure for changes: as needed for the surface [EV-LCD-04].
  family('hydrogel', 'adds', 'primary', HYDRATING),
  family('hydrogelGauze', 'adds', 'primary', { ...HYDRATING, usualMost: fromMemory(1, 1, 'EV-LCD-15') }),
  // It may stay up to seven days, by product, which is no rate [EV-LCD-07].
  family('collagenSheet', 'absorbs', 'primary', COLLAGEN),
  family('collagenPowder', 'absorbs', 'primary', COLLAGEN),
  family('alginateSheet', 'absorbs', 'primary', ALGINATE),
  family('alginateRope', 'absorbs', 'primary', ALGINATE),
  family('gellingFibreSheet', 'absorbs', 'primary', FIBRE),
  family('gellingFibreRope', 'absorbs', 'primary', FIBRE),
  // On the wound itself or as second layer [EV-PRA-05].
  family('foam', 'absorbs', 'both', FOAM),
  family('foamBordered', 'absorbs', 'both', FOAM),
  family('contactLayer', 'neutral', 'primary', { needsSecondary: true, usualMost: fromMemory(1, 7, 'EV-LCD-13') }),
  family('impregnatedGauze', 'neutral', 'primary', { needsSecondary: true, usualMost: fromMemory(1, 1, 'EV-LCD-15') }),
  // Light to moderate drainage [EV-LCD-11, from memory].
  family('hydrocolloid', 'absorbs', 'both', {
    most: 'moderate',
    occlusive: true,
    turnsToGel: true,
    usualMost: fromMemory(3, 7, 'EV-LCD-11'),
  }),
  // Minimal drainage [EV-LCD-14, from memory].
  family('film', 'neutral', 'both', { most: 'light', occlusive: true, usualMost: fromMemory(3, 7, 'EV-LCD-14') }),
  family('absorbentPad', 'absorbs', 'both', { keepsDry: true, ...ABSORPTIVE_PAD }),
  // Moderate to heavy drainage [EV-LCD-12, from memory].
  family('composite', 'absorbs', 'both', { most: 'heavy', usualMost: fromMemory(3, 7, 'EV-LCD-12') }),
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
