import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  compose,
  derivativesAt,
  homographyFrom,
  invertHomography,
  isConvex,
  mapPoint,
  type Point,
  type Quad,
  solveLinear,
} from '../../../app/care/healing/homography.ts';
import { quads } from './shapes.ts';

const SQUARE: Quad = [
  [0, 0],
  [40, 0],
  [40, 40],
  [0, 40],
];
const apart = (p: Point, q: Point): number => Math.hypot(p[0] - q[0], p[1] - q[1]);

describe('a perspective map from four points', () => {
  test('takes each corner to its own place, and the map back takes it home', () => {
    fc.assert(
      fc.property(quads, (px) => {
        const map = homographyFrom(SQUARE, px);
        const back = map && invertHomography(map);
        if (!map || !back) throw new Error('no map');
        SQUARE.forEach((mm, i) => {
          expect(apart(mapPoint(map, mm), px[i] as Point)).toBeLessThan(1e-6);
          expect(apart(mapPoint(back, px[i] as Point), mm)).toBeLessThan(1e-6);
        });
      }),
    );
  });

  test('any place goes there and back', () => {
    const place = fc.double({ min: 0, max: 40, noNaN: true });
    fc.assert(
      fc.property(quads, place, place, (px, x, y) => {
        const map = homographyFrom(SQUARE, px);
        const back = homographyFrom(px, SQUARE);
        if (!map || !back) throw new Error('no map');
        expect(apart(mapPoint(back, mapPoint(map, [x, y])), [x, y])).toBeLessThan(1e-6);
        expect(apart(mapPoint(compose(back, map), [x, y]), [x, y])).toBeLessThan(1e-6);
      }),
    );
  });

  test('straight lines stay straight, and the crossing of the diagonals stays theirs', () => {
    fc.assert(
      fc.property(quads, (px) => {
        const map = homographyFrom(SQUARE, px);
        if (!map) throw new Error('no map');
        const [a, b, c, d] = px;
        const middle = mapPoint(map, [20, 20]);
        const off = (p: Point, q: Point): number =>
          Math.abs((q[0] - p[0]) * (middle[1] - p[1]) - (q[1] - p[1]) * (middle[0] - p[0])) / apart(p, q);
        expect(off(a, c)).toBeLessThan(1e-6);
        expect(off(b, d)).toBeLessThan(1e-6);
      }),
    );
  });

  test('its derivatives are those of small steps', () => {
    fc.assert(
      fc.property(quads, (px) => {
        const map = homographyFrom(SQUARE, px);
        if (!map) throw new Error('no map');
        const step = 1e-4;
        const [left, right] = [mapPoint(map, [17 - step, 23]), mapPoint(map, [17 + step, 23])];
        const [up, down] = [mapPoint(map, [17, 23 - step]), mapPoint(map, [17, 23 + step])];
        const [a, b, c, d] = derivativesAt(map, [17, 23]);
        const scale = Math.max(...[a, b, c, d].map(Math.abs));
        expect(Math.abs((right[0] - left[0]) / (2 * step) - a) / scale).toBeLessThan(1e-5);
        expect(Math.abs((down[0] - up[0]) / (2 * step) - b) / scale).toBeLessThan(1e-5);
        expect(Math.abs((right[1] - left[1]) / (2 * step) - c) / scale).toBeLessThan(1e-5);
        expect(Math.abs((down[1] - up[1]) / (2 * step) - d) / scale).toBeLessThan(1e-5);
      }),
    );
  });

  test.each<[string, Quad]>([
    [
      'two corners in one place',
      [
        [0, 0],
        [0, 0],
        [40, 40],
        [0, 40],
      ],
    ],
    [
      'three corners on one line',
      [
        [0, 0],
        [20, 0],
        [40, 0],
        [0, 40],
      ],
    ],
    [
      'all corners on one line',
      [
        [0, 0],
        [10, 10],
        [20, 20],
        [30, 30],
      ],
    ],
    [
      'all corners in one place',
      [
        [5, 5],
        [5, 5],
        [5, 5],
        [5, 5],
      ],
    ],
    [
      'a corner that is no number',
      [
        [0, 0],
        [Number.NaN, 0],
        [40, 40],
        [0, 40],
      ],
    ],
  ])('%s make no map', (_name, corners) => {
    expect(homographyFrom(corners, SQUARE)).toBeUndefined();
    expect(homographyFrom(SQUARE, corners)).toBeUndefined();
  });

  test('a dent or a fold is told from a shape without one', () => {
    expect(isConvex(SQUARE)).toBe(true);
    expect(isConvex([...SQUARE].reverse() as unknown as Quad)).toBe(true);
    expect(
      isConvex([
        [0, 0],
        [40, 0],
        [10, 10],
        [0, 40],
      ]),
    ).toBe(false);
    expect(
      isConvex([
        [0, 0],
        [40, 40],
        [40, 0],
        [0, 40],
      ]),
    ).toBe(false);
  });
});

describe('elimination', () => {
  test('solves what needs rows to be swapped, and changes neither argument', () => {
    const a = [
      [0, 2, 1],
      [1, 0, 0],
      [3, 0, 1],
    ];
    const b = [8, 5, 19];
    const x = solveLinear(a, b) ?? [];
    [5, 2, 4].forEach((value, i) => void expect(x[i]).toBeCloseTo(value, 12));
    expect(a[0]).toEqual([0, 2, 1]);
    expect(b).toEqual([8, 5, 19]);
  });

  test('gives nothing where there is no one solution', () => {
    expect(
      solveLinear(
        [
          [1, 2],
          [2, 4],
        ],
        [1, 2],
      ),
    ).toBeUndefined();
    expect(
      solveLinear(
        [
          [0, 0],
          [0, 0],
        ],
        [0, 0],
      ),
    ).toBeUndefined();
  });
});
