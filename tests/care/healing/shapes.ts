import fc from 'fast-check';
import type { Point, Quad } from '../../../app/care/healing/homography.ts';

/** An ellipse as an outline of many points: area π·a·b. */
export const ellipse = (a: number, b: number, [cx, cy]: Point = [0, 0], points = 360, turn = 0): Point[] =>
  Array.from({ length: points }, (_, i): Point => {
    const angle = (2 * Math.PI * i) / points;
    const [x, y] = [a * Math.cos(angle), b * Math.sin(angle)];
    return [cx + x * Math.cos(turn) - y * Math.sin(turn), cy + x * Math.sin(turn) + y * Math.cos(turn)];
  });

/** An L of two bars: area w·h − (w − t)·(h − t). */
export const bent = (w: number, h: number, t: number, [x, y]: Point = [0, 0]): Point[] => [
  [x, y],
  [x + t, y],
  [x + t, y + h - t],
  [x + w, y + h - t],
  [x + w, y + h],
  [x, y + h],
];
export const bentArea = (w: number, h: number, t: number): number => w * h - (w - t) * (h - t);

/** A star with so many points: area n·R·r·sin(π/n). */
export const star = (n: number, outer: number, inner: number, [cx, cy]: Point = [0, 0]): Point[] =>
  Array.from({ length: 2 * n }, (_, i): Point => {
    const [r, angle] = [i % 2 === 0 ? outer : inner, (Math.PI * i) / n];
    return [cx + r * Math.cos(angle), cy + r * Math.sin(angle)];
  });
export const starArea = (n: number, outer: number, inner: number): number => n * outer * inner * Math.sin(Math.PI / n);

/** The same outline with places in between, so that no stretch is longer than `most`. */
export const dense = (points: readonly Point[], most: number): Point[] =>
  points.flatMap((p, i) => {
    const q = points[(i + 1) % points.length] as Point;
    const parts = Math.max(1, Math.ceil(Math.hypot(q[0] - p[0], q[1] - p[1]) / most));
    return Array.from({ length: parts }, (_, k): Point => [p[0] + ((q[0] - p[0]) * k) / parts, p[1] + ((q[1] - p[1]) * k) / parts]);
  });

export const moved = (points: readonly Point[], turn: number, dx: number, dy: number): Point[] =>
  points.map(([x, y]): Point => [x * Math.cos(turn) - y * Math.sin(turn) + dx, x * Math.sin(turn) + y * Math.cos(turn) + dy]);

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });

/** Four corners without a dent: a square whose corners went up to a third of its side astray, anywhere, at any size and turn. */
export const quads: fc.Arbitrary<Quad> = fc
  .tuple(
    fc.array(number(-0.33, 0.33), { minLength: 8, maxLength: 8 }),
    number(0, 2 * Math.PI),
    number(10, 3000),
    number(-2000, 2000),
    number(-2000, 2000),
  )
  .map(([off, turn, side, dx, dy]) => {
    const square: Point[] = [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ];
    const astray = square.map(([x, y], i): Point => [(x + (off[2 * i] as number)) * side, (y + (off[2 * i + 1] as number)) * side]);
    return moved(astray, turn, dx, dy) as unknown as Quad;
  });

/** A wound's edge seen from its middle: it never crosses itself. */
export const starShaped: fc.Arbitrary<Point[]> = fc
  .array(number(2, 40), { minLength: 3, maxLength: 60 })
  .map((radii) =>
    radii.map((r, i): Point => [r * Math.cos((2 * Math.PI * i) / radii.length), r * Math.sin((2 * Math.PI * i) / radii.length)]),
  );
