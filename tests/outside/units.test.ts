import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MGDL_PER_MMOL, toCelsius, toCelsiusDifference, toMgdl } from '../../app/care/check/answers.ts';

/** Unit conversions against published or recomputed pairs. */

describe('body temperature [EV-FEV-05, arithmetic: °F = °C × 9/5 + 32]', () => {
  it.each([
    [36, 96.8],
    [37.2, 98.96],
    [37.5, 99.5],
    [37.8, 100.04],
    [38, 100.4],
    [38.3, 100.94],
  ])('%d °C is %d °F', (celsius, fahrenheit) => {
    expect(toCelsius(fahrenheit, '[degF]')).toBe(celsius);
    expect(toCelsius(celsius, 'Cel')).toBe(celsius);
    expect((celsius * 9) / 5 + 32).toBeCloseTo(fahrenheit, 10);
  });

  it('prints as in the guidelines: 100.4 °F is 38 °C and 96.8 °F is 36 °C [EV-INF-05, IDSA 2012]', () => {
    expect([toCelsius(100.4, '[degF]'), toCelsius(96.8, '[degF]')]).toEqual([38, 36]);
  });

  it('holds the fixed points 32 °F = 0 °C, 212 °F = 100 °C and −40 = −40 (definition)', () => {
    expect([toCelsius(32, '[degF]'), toCelsius(212, '[degF]'), toCelsius(-40, '[degF]')]).toEqual([0, 100, -40]);
  });

  it('loses less than 0.01 °F on the way there and back, and keeps the order', () => {
    fc.assert(
      fc.property(fc.integer({ min: 860, max: 1130 }), (tenths) => {
        const f = tenths / 10;
        const c = toCelsius(f, '[degF]');
        expect(Math.abs((c * 9) / 5 + 32 - f)).toBeLessThan(0.01);
        expect(toCelsius((tenths + 1) / 10, '[degF]')).toBeGreaterThan(c);
      }),
    );
  });
});

describe('differences of temperature [EV-TMP-14, arithmetic: × 1.8 without the 32]', () => {
  it('2.2 °C is 3.96 °F, and 4 °F is 2.22 °C', () => {
    expect(toCelsiusDifference(3.96, '[degF]')).toBe(2.2);
    expect(toCelsiusDifference(4, '[degF]')).toBe(2.22);
    expect(toCelsiusDifference(2.2, 'Cel')).toBe(2.2);
  });

  it('no difference is none in either unit, and the sign is kept', () => {
    expect([toCelsiusDifference(0, '[degF]'), toCelsiusDifference(0, 'Cel')]).toEqual([0, 0]);
    expect(toCelsiusDifference(-9, '[degF]')).toBe(-5);
  });

  it('is what the two readings differ by, to the rounding', () => {
    fc.assert(
      fc.property(fc.integer({ min: 500, max: 1130 }), fc.integer({ min: 500, max: 1130 }), (a, b) => {
        const apart = toCelsius(a / 10, '[degF]') - toCelsius(b / 10, '[degF]');
        expect(Math.abs(toCelsiusDifference((a - b) / 10, '[degF]') - apart)).toBeLessThanOrEqual(0.0151);
      }),
    );
  });
});

describe('glucose [EV-INF-24, atomic masses: 180.156 g/mol]', () => {
  it.each([
    [54, 3.0],
    [70, 3.89],
    [180, 9.99],
    [240, 13.32],
    [250, 13.88],
    [300, 16.65],
  ])('%d mg/dL is %d mmol/L', (mgdl, mmol) => {
    expect(mgdl / MGDL_PER_MMOL).toBeCloseTo(mmol, 2);
    expect(toMgdl(mmol, 'mmol/L')).toBe(mgdl);
    expect(toMgdl(mgdl, 'mg/dL')).toBe(mgdl);
  });

  it('the factor is that of the molar mass; the other factor in use, 18.0182, differs by less than 0.02 %', () => {
    expect(MGDL_PER_MMOL).toBeCloseTo((6 * 12.011 + 12 * 1.008 + 6 * 15.999) / 10, 3);
    expect(Math.abs(18.0182 / MGDL_PER_MMOL - 1)).toBeLessThan(0.0002);
  });

  it('the published pairs of cut-offs agree [EV-INF-19, ADA Standards: 70 (3.9), 54 (3.0)]: both sides of each fall the same way', () => {
    expect([toMgdl(2.9, 'mmol/L') < 54, toMgdl(3.0, 'mmol/L') < 54]).toEqual([true, false]);
    expect([toMgdl(3.8, 'mmol/L') < 70, toMgdl(3.9, 'mmol/L') < 70]).toEqual([true, false]);
    expect([toMgdl(13.2, 'mmol/L') >= 240, toMgdl(13.3, 'mmol/L') >= 240]).toEqual([false, true]);
    expect([toMgdl(16.6, 'mmol/L') > 300, toMgdl(16.7, 'mmol/L') > 300]).toEqual([false, true]);
  });

  it('whole mg/dL come back from mmol/L with two decimals', () => {
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 800 }), (mgdl) => {
        expect(toMgdl(Number((mgdl / MGDL_PER_MMOL).toFixed(2)), 'mmol/L')).toBe(mgdl);
      }),
    );
  });
});
