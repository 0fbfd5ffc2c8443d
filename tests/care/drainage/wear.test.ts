import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wearEstimate } from '../../../app/care/drainage/wear.ts';
import { FAMILY_IDS } from '../../../app/care/dressings/families.ts';
import type { Interval } from '../../../app/care/plan/plan.ts';
import { shortestGapHours } from '../../../app/care/schedule/due.ts';
import { every, onDays } from '../supplies/scenario.ts';

const DAILY = every(24);
const rate = (value: number) => ({ value, low: value * 0.8, high: value * 1.2 });

describe('how long a dressing may take to fill up', () => {
  it('is a range from the family’s figure, the dry weight and the measured rate', () => {
    // Half a gram takes 2.5 to 5 g; at 8 to 12 g a day that is 5 to 15 hours.
    expect(wearEstimate('alginateSheet', 0.5, rate(10), DAILY)).toEqual({ kind: 'estimate', low: 5, high: 15, planHours: 24, lasts: 'no' });
  });

  it('never goes beyond the plan, however long it would last', () => {
    expect(wearEstimate('alginateRope', 2, rate(1), DAILY)).toEqual({ kind: 'estimate', low: 24, high: 24, planHours: 24, lasts: 'yes' });
    expect(wearEstimate('alginateSheet', 1, rate(7), DAILY)).toMatchObject({ high: 24, lasts: 'perhaps' });
    expect(wearEstimate('alginateSheet', 50, rate(1), onDays('mon', 'wed', 'fri'))).toMatchObject({ low: 48, high: 48, planHours: 48 });
  });

  it.each([
    ['noFigureForFamily', 'foam', 1, rate(5), DAILY],
    ['noFigureForFamily', 'gellingFibreSheet', 1, rate(5), DAILY],
    ['noRate', 'alginateSheet', 1, undefined, DAILY],
    ['noWeight', 'alginateSheet', 0, rate(5), DAILY],
    ['noInterval', 'alginateSheet', 1, rate(5), undefined],
  ] as const)('%s: none is given for %s', (why, family, dryG, gPerDay, interval) => {
    expect(wearEstimate(family, dryG, gPerDay, interval)).toEqual({ kind: 'none', why });
  });

  it('for all inputs: within the plan, in order, and shorter with more fluid', () => {
    const positive = (max: number) => fc.double({ min: 0.001, max, noNaN: true });
    const interval: fc.Arbitrary<Interval> = fc.integer({ min: 4, max: 336 }).map(every);
    fc.assert(
      fc.property(fc.constantFrom(...FAMILY_IDS), positive(50), positive(200), interval, (family, dryG, value, plan) => {
        const one = wearEstimate(family, dryG, rate(value), plan);
        const two = wearEstimate(family, dryG, rate(value * 2), plan);
        expect(one.kind === 'estimate').toBe(family.startsWith('alginate'));
        if (one.kind === 'none' || two.kind === 'none') return;
        expect(0 < one.low && one.low <= one.high && one.high <= shortestGapHours(plan)).toBe(true);
        expect(two.low <= one.low && two.high <= one.high).toBe(true);
        expect(one.lasts).toBe(one.low === one.planHours ? 'yes' : one.high === one.planHours ? 'perhaps' : 'no');
      }),
    );
  });
});
