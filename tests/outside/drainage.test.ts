import { describe, expect, it } from 'vitest';
import { LEAST_SHARE, wearEstimate } from '../../app/care/drainage/wear.ts';
import { weigh } from '../../app/care/drainage/weighing.ts';
import { FAMILIES, familyOf } from '../../app/care/dressings/families.ts';
import type { AreaSize } from '../../app/care/healing/sizes.ts';
import { traced } from '../care/healing/make-sizes.ts';
import { every } from '../care/supplies/scenario.ts';

/** Drainage against published figures. */

const FOUR_CM2 = traced([[0, 400]])[0] as AreaSize;
/** What a scale with this step shows. */
const shown = (grams: number, stepG: number): number => Math.round(grams / stepG) * stepG;

describe('weighed drainage', () => {
  // Dealey 2006, J Wound Care 15:149: two patients, 0.10 and 0.21 g/cm² in 24 hours.
  it.each([0.1, 0.21])('[EV-EXU-06] %d g/cm² a day from 4 cm² comes out again with a scale that shows hundredths of a gram', (perCm2) => {
    const result = weigh({ dryG: shown(8.13, 0.01), usedG: shown(8.13 + perCm2 * 4, 0.01), stepG: 0.01, hours: 24 }, FOUR_CM2);
    if (result.kind !== 'rate') throw new Error(result.kind);
    expect(result.gPerDay.value).toBeCloseTo(perCm2 * 4, 6);
    expect(result.gPerCm2Day?.value).toBeCloseTo(perCm2, 6);
    expect((result.gPerCm2Day?.low ?? 1) < perCm2 && perCm2 < (result.gPerCm2Day?.high ?? 0)).toBe(true);
  });

  it('[EV-EXU-08] the same 0.4 and 0.84 g of a day are below what a 1 g kitchen scale sees, wherever its steps fall', () => {
    for (const grams of [0.4, 0.84]) {
      for (let dry = 8; dry < 9; dry += 0.05) {
        const result = weigh({ dryG: shown(dry, 1), usedG: shown(dry + grams, 1), stepG: 1, hours: 24 }, FOUR_CM2);
        expect(result.kind).toBe('belowWhatTheScaleSees');
      }
    }
  });

  it('[EV-EXU-06] the 1.3 g/cm² a day under negative pressure are seen by it', () => {
    const result = weigh({ dryG: 8, usedG: shown(8 + 1.3 * 4, 1), stepG: 1, hours: 24 }, FOUR_CM2);
    if (result.kind !== 'rate') throw new Error(result.kind);
    expect((result.gPerCm2Day?.low ?? 9) < 1.3 && 1.3 < (result.gPerCm2Day?.high ?? 0)).toBe(true);
  });
});

describe('what a family takes up', () => {
  it('[EV-PRA-04, common practice] an alginate about ten times its weight at most: 0.5 g takes 5 g, a day at 5 g a day', () => {
    const sure = { value: 5, low: 5, high: 5 };
    expect(wearEstimate('alginateSheet', 0.5, sure, every(48))).toMatchObject({ high: 24, low: 24 * LEAST_SHARE });
  });

  it('[EV-EXU-13, uncertain; EV-EXU-12, per dressing of unknown size] no other family has a figure that can be relied on', () => {
    const withFigure = FAMILIES.filter((f) => familyOf(f.id).timesOwnWeight !== undefined).map((f) => f.id);
    expect(withFigure).toEqual(['alginateSheet', 'alginateRope']);
  });
});

describe('what a family is for [EV-DRS-06: indications of CMS LCD L33831, alginate seen in a copy, others from memory]', () => {
  it.each([
    ['[EV-PRA-02, common practice; EV-LCD-04] a dry wound', 'hydrogel', 'adds', 'light'],
    ['[EV-PRA-03, common practice; EV-LCD-07, CGS 2025] light drainage', 'collagenSheet', 'absorbs', 'light'],
    ['[EV-PRA-04, common practice; EV-LCD-01] moderate to heavy drainage', 'alginateSheet', 'absorbs', 'heavy'],
    ['[EV-PRA-04, -05, common practice] moderate to heavy drainage', 'foam', 'absorbs', 'heavy'],
  ])('%s: %s', (_source, id, fluid, most) => {
    expect(familyOf(id)).toMatchObject({ fluid, most });
  });
});
