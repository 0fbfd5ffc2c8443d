import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ellipsePerimeterMm, equivalentRadiusMm } from '../../../app/care/healing/area.ts';
import { compareSizes } from '../../../app/care/healing/compare.ts';
import { ellipseOn, traced } from './make-sizes.ts';

// Large enough that a tenth of it, as by taking cm for mm, is still a size that can be seen.
const mm = fc.double({ min: 2, max: 200, noNaN: true });
const days = fc.integer({ min: 1, max: 200 });
const area = (a: number, perimeterMm?: number) => {
  const [size] = traced([[0, a]], perimeterMm === undefined ? {} : { perimeterMm });
  if (!size) throw new Error('no size');
  return size;
};

describe('two sizes held against each other', () => {
  it('say by how much, how fast, and that they were measured in one way', () => {
    const c = compareSizes(ellipseOn(0, 20, 20), ellipseOn(14, 16, 16));
    expect(c).toMatchObject({ days: 14, mixed: false });
    expect(c.reductionPct).toBeCloseTo(36, 10);
    expect(c.advanceMm).toBeCloseTo(2, 10);
    expect(c.advanceMmPerWeek).toBeCloseTo(1, 10);
    expect(c.radiusLossMmPerWeek).toBeCloseTo(1, 10);
    expect(c.ratePerWeek).toBeCloseTo(Math.log(400 / 256) / 2, 10);
  });

  it('a larger wound has a negative reduction, rate and advance', () => {
    const c = compareSizes(ellipseOn(0, 16, 12), ellipseOn(7, 20, 15));
    expect([c.reductionPct, c.ratePerWeek, c.advanceMm, c.radiusLossMm].every((x) => (x as number) < 0)).toBe(true);
  });

  it('carry both methods where they differ, so that no screen can forget to say so', () => {
    const c = compareSizes(ellipseOn(0, 20, 20), ellipseOn(7, 16, 16, { method: 'trace', areaMm2: 150 }));
    expect(c).toMatchObject({ mixed: true, from: { method: 'ruler' }, to: { method: 'trace' } });
  });

  it('give no rate for one day, nor for days in the wrong order', () => {
    for (const to of [0, -7]) {
      const c = compareSizes(ellipseOn(0, 20, 20), { ...ellipseOn(0, 16, 16), day: ellipseOn(to, 9, 9).day });
      expect(c.reductionPct).toBeCloseTo(36, 10);
      expect([c.ratePerWeek, c.advanceMmPerWeek, c.radiusLossMmPerWeek]).toEqual([undefined, undefined, undefined]);
    }
  });

  it('a wound that is gone: all of it, its edge moved by the radius, and no rate, for ln 0 is none', () => {
    const gone = { ...area(0), day: ellipseOn(7, 1, 1).day };
    const c = compareSizes(ellipseOn(0, 10, 10), gone);
    expect(c.reductionPct).toBe(100);
    expect(c.advanceMm).toBeCloseTo(5, 10);
    expect(c.ratePerWeek).toBeUndefined();
  });

  it('from nothing there is no reduction to speak of', () => {
    const c = compareSizes(area(0), { ...area(50), day: ellipseOn(7, 1, 1).day });
    expect([c.reductionPct, c.ratePerWeek]).toEqual([undefined, undefined]);
    expect(compareSizes(area(0), area(0)).advanceMm).toBeUndefined();
  });

  it('without a perimeter there is no edge advance', () => {
    const c = compareSizes(area(100), { ...area(50), day: ellipseOn(7, 1, 1).day });
    expect([c.advanceMm, c.advanceMmPerWeek]).toEqual([undefined, undefined]);
    expect(c.radiusLossMm).toBeGreaterThan(0);
  });

  it('a traced edge is used as it is', () => {
    expect(compareSizes(area(100, 60), area(40, 40)).advanceMm).toBeCloseTo(60 / 50, 12);
  });
});

describe('for all sizes', () => {
  it('for circles the edge advance is the difference of the radii, exactly', () => {
    fc.assert(
      fc.property(mm, mm, days, (a, b, n) => {
        const c = compareSizes(ellipseOn(0, a, a), ellipseOn(n, b, b));
        expect(c.advanceMm).toBeCloseTo((a - b) / 2, 9);
        expect(c.radiusLossMm).toBeCloseTo((a - b) / 2, 9);
      }),
    );
  });

  it('the reduction and the rate do not depend on the unit, nor on ellipse or length times width; lengths scale', () => {
    fc.assert(
      fc.property(
        mm,
        mm,
        mm,
        mm,
        days,
        fc.oneof(fc.constant(0.1), fc.double({ min: 0.1, max: 2, noNaN: true })),
        (l0, w0, l1, w1, n, scale) => {
          const c = compareSizes(ellipseOn(0, l0, w0), ellipseOn(n, l1, w1));
          const scaled = compareSizes(ellipseOn(0, l0 * scale, w0 * scale), ellipseOn(n, l1 * scale, w1 * scale));
          const product = compareSizes(ellipseOn(0, l0, w0, { areaMm2: l0 * w0 }), ellipseOn(n, l1, w1, { areaMm2: l1 * w1 }));
          for (const other of [scaled, product]) {
            expect(((other.reductionPct ?? 0) - (c.reductionPct ?? 0)) / Math.max(1, Math.abs(c.reductionPct ?? 0))).toBeCloseTo(0, 9);
            expect(other.ratePerWeek).toBeCloseTo(c.ratePerWeek ?? Number.NaN, 8);
          }
          expect(scaled.advanceMm).toBeCloseTo((c.advanceMm ?? Number.NaN) * scale, 8);
          expect(scaled.radiusLossMm).toBeCloseTo(c.radiusLossMm * scale, 8);
        },
      ),
    );
  });

  it('a smaller second size never gives less reduction, rate or advance', () => {
    fc.assert(
      fc.property(mm, mm, mm, mm, fc.double({ min: 0.3, max: 1, noNaN: true }), days, (l0, w0, l1, w1, less, n) => {
        const c = compareSizes(ellipseOn(0, l0, w0), ellipseOn(n, l1, w1));
        const smaller = compareSizes(ellipseOn(0, l0, w0), ellipseOn(n, l1 * less, w1 * less));
        const grows = (key: 'reductionPct' | 'ratePerWeek' | 'radiusLossMm' | 'advanceMm') =>
          expect(smaller[key] as number).toBeGreaterThanOrEqual((c[key] as number) - 1e-9);
        grows('reductionPct');
        grows('ratePerWeek');
        grows('radiusLossMm');
        // Once larger than at first, a long edge outweighs a small gain, so the advance is compared for shrinking wounds only.
        if ((c.reductionPct as number) >= 0) grows('advanceMm');
      }),
    );
  });

  it('reduction, rate, advance and radius have one sign', () => {
    fc.assert(
      fc.property(mm, mm, mm, mm, days, (l0, w0, l1, w1, n) => {
        const c = compareSizes(ellipseOn(0, l0, w0), ellipseOn(n, l1, w1));
        const signs = [c.reductionPct, c.ratePerWeek, c.advanceMm, c.radiusLossMm].map((x) =>
          Math.sign(Math.abs(x as number) < 1e-9 ? 0 : (x as number)),
        );
        expect(new Set(signs.filter((s) => s !== 0)).size).toBeLessThanOrEqual(1);
      }),
    );
  });

  it('an edge lies between the two lines and the rectangle round an ellipse, and is that of the circle for a circle', () => {
    fc.assert(
      fc.property(mm, mm, (a, b) => {
        const p = ellipsePerimeterMm(a, b);
        expect(p).toBeCloseTo(ellipsePerimeterMm(b, a), 9);
        expect(p).toBeGreaterThanOrEqual(2 * Math.max(a, b) * 0.9995);
        expect(p).toBeLessThanOrEqual(2 * (a + b));
        expect(ellipsePerimeterMm(a, a)).toBeCloseTo(Math.PI * a, 9);
        expect(equivalentRadiusMm(Math.PI * a * a)).toBeCloseTo(a, 9);
      }),
    );
    expect(ellipsePerimeterMm(0, 0)).toBe(0);
  });
});
