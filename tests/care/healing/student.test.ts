import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tQuantile } from '../../../app/care/healing/student.ts';

const share = fc.double({ min: 0.001, max: 0.999, noNaN: true });
const freedom = fc.integer({ min: 1, max: 400 });

describe('quantiles of Student’s t', () => {
  it('are odd about the middle, and 0 in it', () => {
    fc.assert(
      fc.property(share, freedom, (p, df) => {
        expect(tQuantile(p, df)).toBeCloseTo(-tQuantile(1 - p, df), 6);
      }),
    );
    expect(tQuantile(0.5, 7)).toBeCloseTo(0, 12);
  });

  it('rise with the share, and in the upper half fall with the degrees of freedom', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.51, max: 0.998, noNaN: true }), freedom, (p, df) => {
        expect(tQuantile(p + 0.001, df)).toBeGreaterThan(tQuantile(p, df));
        expect(tQuantile(p, df + 1)).toBeLessThan(tQuantile(p, df));
      }),
    );
  });

  it('with one degree of freedom are those of the Cauchy distribution: tan(π(p − ½)); with two (2p−1)/√(2p(1−p))', () => {
    fc.assert(
      fc.property(share, (p) => {
        expect(tQuantile(p, 1) / Math.tan(Math.PI * (p - 0.5)) || 1).toBeCloseTo(1, 6);
        expect(tQuantile(p, 2)).toBeCloseTo((2 * p - 1) / Math.sqrt(2 * p * (1 - p)), 6);
      }),
    );
  });

  it.each([
    [0, 5],
    [1, 5],
    [Number.NaN, 5],
    [0.9, 0],
    [0.9, 1.5],
    [0.9, Number.NaN],
  ])('refuse p = %d with %d degrees of freedom', (p, df) => {
    expect(() => tQuantile(p, df)).toThrow(RangeError);
  });
});
