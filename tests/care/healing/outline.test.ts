import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Point } from '../../../app/care/healing/homography.ts';
import {
  crossesItself,
  isInside,
  lengthAndWidth,
  OUTLINE_POINTS_MOST,
  perimeterOf,
  polygonArea,
  simplifyOutline,
  tidyOutline,
} from '../../../app/care/healing/outline.ts';
import { bent, bentArea, dense, ellipse, moved, star, starArea, starShaped } from './shapes.ts';

const turns = fc.double({ min: 0, max: 2 * Math.PI, noNaN: true });
const shifts = fc.double({ min: -1000, max: 1000, noNaN: true });

describe('the area of an outline', () => {
  test('is the sum of the triangles it is cut into', () => {
    fc.assert(
      fc.property(starShaped, (points) => {
        // Cut from the middle, by Heron's formula: nothing in common with the shoelace.
        const sum = points.reduce((total, [ax, ay], i) => {
          const [bx, by] = points[(i + 1) % points.length] as Point;
          const [p, q, r] = [Math.hypot(ax, ay), Math.hypot(bx, by), Math.hypot(bx - ax, by - ay)];
          const half = (p + q + r) / 2;
          return total + Math.sqrt(Math.max(0, half * (half - p) * (half - q) * (half - r)));
        }, 0);
        expect(polygonArea(points) / sum).toBeCloseTo(1, 6);
      }),
    );
  });

  test('does not change when it is turned, moved or drawn the other way round', () => {
    fc.assert(
      fc.property(starShaped, turns, shifts, shifts, (points, turn, dx, dy) => {
        const area = polygonArea(points);
        expect(polygonArea(moved(points, turn, dx, dy)) / area).toBeCloseTo(1, 8);
        expect(polygonArea([...points].reverse()) / area).toBeCloseTo(1, 10);
      }),
    );
  });

  test('of an ellipse tends to π·a·b', () => {
    for (const [a, b] of [
      [10, 10],
      [25, 8],
      [3, 1],
    ] as const)
      expect(polygonArea(ellipse(a, b, [300, -200])) / (Math.PI * a * b)).toBeCloseTo(1, 3);
    expect(polygonArea(ellipse(25, 8, [0, 0], 20_000)) / (Math.PI * 25 * 8)).toBeCloseTo(1, 7);
  });

  test('of an L and of a star is that of their formulas', () => {
    expect(polygonArea(bent(30, 22, 8, [-7, 5]))).toBeCloseTo(bentArea(30, 22, 8), 9);
    expect(polygonArea(star(5, 20, 9))).toBeCloseTo(starArea(5, 20, 9), 9);
  });

  test('of fewer than three points is none', () => {
    expect([
      polygonArea([]),
      polygonArea([[1, 1]]),
      polygonArea([
        [1, 1],
        [5, 9],
      ]),
    ]).toEqual([0, 0, 0]);
  });
});

describe('length, width and perimeter', () => {
  test('of an ellipse are its two diameters, whichever way it lies', () => {
    for (const turn of [0, 0.4, 1.9]) {
      const { length, width } = lengthAndWidth(ellipse(15, 6, [40, 30], 720, turn));
      expect(length).toBeCloseTo(30, 3);
      expect(width).toBeCloseTo(12, 2);
    }
  });

  test('of a circle: the perimeter is 2·π·r', () => {
    expect(perimeterOf(ellipse(10, 10)) / (20 * Math.PI)).toBeCloseTo(1, 4);
  });

  test('of a rectangle: the length is its diagonal, the width the widest across that', () => {
    const { length, width } = lengthAndWidth([
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 3],
    ]);
    expect(length).toBeCloseTo(5, 12);
    // The line square to the diagonal through the corner (4, 0) leaves the rectangle at (1.75, 3).
    expect(width).toBeCloseTo(Math.hypot(4 - 1.75, 3), 12);
    expect(
      perimeterOf([
        [0, 0],
        [4, 0],
        [4, 3],
        [0, 3],
      ]),
    ).toBe(14);
  });

  test('never give a length shorter than the width, and both stay when the shape is turned', () => {
    fc.assert(
      fc.property(starShaped, turns, shifts, (points, turn, shift) => {
        const { length, width } = lengthAndWidth(points);
        expect(length).toBeGreaterThanOrEqual(width - 1e-9);
        const other = lengthAndWidth(moved(points, turn, shift, -shift));
        expect(other.length).toBeCloseTo(length, 6);
      }),
    );
  });

  test('of a line or a dot are nothing across', () => {
    expect(
      lengthAndWidth([
        [0, 0],
        [5, 0],
        [9, 0],
      ]),
    ).toEqual({ length: 9, width: 0 });
    expect(
      lengthAndWidth([
        [3, 3],
        [3, 3],
        [3, 3],
      ]),
    ).toEqual({ length: 0, width: 0 });
  });
});

describe('an outline that crosses itself', () => {
  test('is told from one that does not', () => {
    expect(
      crossesItself([
        [0, 0],
        [10, 10],
        [10, 0],
        [0, 10],
      ]),
    ).toBe(true);
    expect(crossesItself(bent(30, 22, 8))).toBe(false);
    expect(crossesItself(star(7, 20, 9))).toBe(false);
    fc.assert(fc.property(starShaped, (points) => !crossesItself(points)));
  });

  test('crosses where two of its points change places', () => {
    const points = ellipse(10, 10, [0, 0], 40);
    const swapped = points.map((p, i) => (i === 5 ? points[20] : i === 20 ? points[5] : p) as Point);
    expect(crossesItself(swapped)).toBe(true);
  });

  test('a place is inside or outside', () => {
    const points = bent(30, 22, 8);
    expect([isInside(points, [4, 4]), isInside(points, [20, 18]), isInside(points, [20, 4]), isInside(points, [-1, 4])]).toEqual([
      true,
      true,
      false,
      false,
    ]);
  });
});

describe('a stroke by hand', () => {
  test('of thousands of points keeps its area in six hundred', () => {
    for (const shape of [ellipse(300, 120, [500, 400], 5000), dense(star(6, 300, 140, [500, 500]), 0.7), dense(bent(400, 300, 90), 0.5)]) {
      const tidy = tidyOutline(shape);
      expect(tidy.length).toBeLessThanOrEqual(OUTLINE_POINTS_MOST);
      expect(Math.abs(polygonArea(tidy) / polygonArea(shape) - 1)).toBeLessThan(2e-4);
      expect(crossesItself(tidy)).toBe(false);
    }
  });

  test('keeps its corners when points are taken out of its straight parts', () => {
    const tidy = simplifyOutline(dense(bent(40, 30, 9), 0.5), 6);
    expect([...tidy].sort()).toEqual([...bent(40, 30, 9)].sort());
  });

  describe('that runs past its beginning', () => {
    const END = 2 * Math.PI + 0.5;
    const stroke = (radius: (angle: number) => number): Point[] =>
      Array.from({ length: 400 }, (_, i): Point => {
        const angle = (END * i) / 399;
        return [radius(angle) * Math.cos(angle), radius(angle) * Math.sin(angle)];
      });
    test.each<[string, (angle: number) => number]>([
      ['and crosses it', (angle) => 100 + 3 * Math.cos(angle / 2)],
      ['beside it, inside', (angle) => 103 - angle],
      ['beside it, outside', (angle) => 97 + angle],
    ])('%s loses what is too much and closes where it began', (_name, radius) => {
      const points = stroke(radius);
      const tidy = tidyOutline(points);
      expect(crossesItself(points)).toBe(true);
      expect(crossesItself(tidy)).toBe(false);
      // One turn of the curve, ∫ r² dφ / 2.
      const steps = 10_000;
      const once =
        Array.from({ length: steps }, (_, i) => radius((2 * Math.PI * i) / steps) ** 2 / 2).reduce((a, b) => a + b, 0) *
        ((2 * Math.PI) / steps);
      expect(Math.abs(polygonArea(tidy) / once - 1)).toBeLessThan(0.01);
    });
  });

  test('that stops short is closed with a straight line and loses nothing', () => {
    const points = ellipse(100, 80, [0, 0], 360).slice(0, 340);
    expect(tidyOutline(points)).toEqual(points);
  });

  test('with a knot in its middle still crosses itself afterwards', () => {
    const points = ellipse(50, 50, [0, 0], 100);
    const knotted = points.map((p, i) => (i === 48 ? points[52] : i === 52 ? points[48] : p) as Point);
    expect(crossesItself(tidyOutline(knotted))).toBe(true);
  });

  test('with points twice, a closing point and numbers that are none is cleaned', () => {
    expect(
      tidyOutline([
        [0, 0],
        [0, 0],
        [10, 0],
        [Number.NaN, 3],
        [10, 10],
        [0, 0],
      ]),
    ).toEqual([
      [0, 0],
      [10, 0],
      [10, 10],
    ]);
    expect(tidyOutline([])).toEqual([]);
    expect(tidyOutline([[1, 2]])).toEqual([[1, 2]]);
  });
});
