import { describe, expect, test } from 'vitest';
import { FAMILIES, FAMILY_IDS, familyOf, usualMostOf } from '../../app/care/dressings/families.ts';
import { leastPad, MARGIN_MM } from '../../app/care/plan/margins.ts';

/**
 * Figures of the US payer rule CMS LCD L33831, Surgical Dressings: how often a
 * dressing is usually changed at most. "Read" figures were seen in a
 * supplier's copy of the rule; the others are from memory and need one check
 * by hand against the rule itself.
 */
const ROWS: readonly [family: string, bordered: boolean, times: number, days: number, row: string, how: 'read' | 'from memory'][] = [
  ['alginateSheet', false, 1, 1, 'EV-LCD-01', 'read'],
  ['alginateRope', false, 1, 1, 'EV-LCD-01', 'read'],
  ['gellingFibreSheet', false, 1, 1, 'EV-LCD-01', 'read'],
  ['gellingFibreRope', false, 1, 1, 'EV-LCD-01', 'read'],
  ['dryGauze', false, 3, 1, 'EV-LCD-02', 'read'],
  ['dryGauze', true, 1, 1, 'EV-LCD-02', 'read'],
  ['absorbentPad', false, 1, 1, 'EV-LCD-03', 'read'],
  ['absorbentPad', true, 1, 2, 'EV-LCD-03', 'read'],
  ['foam', false, 3, 7, 'EV-LCD-08', 'from memory'],
  ['foamBordered', true, 3, 7, 'EV-LCD-08', 'from memory'],
  ['hydrocolloid', false, 3, 7, 'EV-LCD-11', 'from memory'],
  ['composite', false, 3, 7, 'EV-LCD-12', 'from memory'],
  ['contactLayer', false, 1, 7, 'EV-LCD-13', 'from memory'],
  ['film', false, 3, 7, 'EV-LCD-14', 'from memory'],
  ['impregnatedGauze', false, 1, 1, 'EV-LCD-15', 'from memory'],
  ['hydrogelGauze', false, 1, 1, 'EV-LCD-15', 'from memory'],
];
/** No rate in the rule: gel as needed for the surface [EV-LCD-04]; collagen by product, up to seven days [EV-LCD-07]. */
const WITHOUT = ['hydrogel', 'collagenSheet', 'collagenPowder'];

describe('usual most changes [CMS LCD L33831]', () => {
  test.each(ROWS)('%s (border: %s): %i in %i days [%s]', (family, bordered, times, days, source, how) => {
    expect(usualMostOf(family, bordered)).toEqual({ times, days, source, seen: how === 'read' });
  });

  test('every family has its row or none by the rule', () => {
    expect([...new Set(ROWS.map(([family]) => family)), ...WITHOUT].sort()).toEqual([...FAMILY_IDS].sort());
    for (const id of WITHOUT) expect(usualMostOf(id, false)).toBeUndefined();
  });

  test('30 days of it give the units of the same rule [EV-SUP-01: 30, 90, 15, 13, 5]', () => {
    const units = (family: string, bordered: boolean): number => {
      const most = usualMostOf(family, bordered);
      return most ? Math.ceil((30 * most.times) / most.days) : 0;
    };
    expect([
      units('alginateSheet', false),
      units('dryGauze', false),
      units('absorbentPad', true),
      units('foam', false),
      units('contactLayer', false),
    ]).toEqual([30, 90, 15, 13, 5]);
  });

  test('the rule for no border holds where none is given for a border', () => {
    expect(usualMostOf('foam', true)).toEqual(usualMostOf('foam', false));
    expect(() => usualMostOf('honey', false)).toThrow(RangeError);
  });
});

describe('what a family does with fluid', () => {
  const where = (test: (f: (typeof FAMILIES)[number]) => boolean): string[] => FAMILIES.filter(test).map((f) => f.id);

  test('hydrogel adds moisture, nothing else does [EV-PRA-02, common practice]', () => {
    expect(where((f) => f.fluid === 'adds')).toEqual(['hydrogel', 'hydrogelGauze']);
  });

  test('only plain pads may lie on a wound that must stay dry [EV-PRA-01, common practice]', () => {
    expect(where((f) => f.keepsDry)).toEqual(['dryGauze', 'absorbentPad']);
  });

  test('collagen, alginate and gelling fibre turn to gel and need a second layer [EV-PRA-03, EV-PRA-04, common practice]', () => {
    for (const id of FAMILY_IDS.filter((f) => /^(collagen|alginate|gellingFibre)/.test(f))) {
      expect(familyOf(id)).toMatchObject({ fluid: 'absorbs', turnsToGel: true, needsSecondary: true, layer: 'primary' });
    }
  });

  test('foam serves on the wound or as second layer and needs none [EV-PRA-05, common practice]', () => {
    for (const id of ['foam', 'foamBordered'])
      expect(familyOf(id)).toMatchObject({ layer: 'both', needsSecondary: false, occlusive: false });
  });
});

describe('size of a pad', () => {
  // [EV-LCD-05] CGS and Noridian: "about 2 inches greater than the dimensions of the wound"; [EV-SUP-05] own arithmetic to 0.1 cm.
  test('is about two inches more than the wound', () => {
    expect(2 * MARGIN_MM).toBeCloseTo(2 * 25.4, 10);
    const { widthMm, heightMm } = leastPad({ lengthMm: 20, widthMm: 15 });
    expect([Math.round(heightMm) / 10, Math.round(widthMm) / 10]).toEqual([7.1, 6.6]);
  });
});
