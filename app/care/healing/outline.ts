import type { Point } from './homography.ts';

/** How many points of an outline are kept at most; the log takes no more. */
export const OUTLINE_POINTS_MOST = 600;

const next = (points: readonly Point[], i: number): Point => points[(i + 1) % points.length] as Point;

/** Area of a closed outline, in its own unit squared, by the shoelace formula. Meant for outlines that do not cross themselves. */
export function polygonArea(points: readonly Point[]): number {
  const [ox, oy] = points[0] ?? [0, 0];
  let twice = 0;
  // From the first point, so that far-away coordinates do not eat the digits.
  points.forEach(([x, y], i) => {
    const [nx, ny] = next(points, i);
    twice += (x - ox) * (ny - oy) - (nx - ox) * (y - oy);
  });
  return Math.abs(twice) / 2;
}

/** Length of a closed outline. */
export const perimeterOf = (points: readonly Point[]): number =>
  points.reduce((sum, [x, y], i) => sum + Math.hypot(next(points, i)[0] - x, next(points, i)[1] - y), 0);

/** The middle of an outline's points, where it lies roughly. */
export function middleOf(points: readonly Point[]): Point {
  const n = points.length;
  return [points.reduce((sum, [x]) => sum + x, 0) / n, points.reduce((sum, [, y]) => sum + y, 0) / n];
}

/** The two points of an outline that lie farthest apart. */
function farthestPair(points: readonly Point[]): readonly [Point, Point] {
  let best = -1;
  let pair: readonly [Point, Point] = [points[0] as Point, points[0] as Point];
  points.forEach((p, i) => {
    for (let k = i + 1; k < points.length; k++) {
      const q = points[k] as Point;
      const d = (q[0] - p[0]) ** 2 + (q[1] - p[1]) ** 2;
      if (d > best) [best, pair] = [d, [p, q]];
    }
  });
  return pair;
}

/**
 * Length and width as a ruler takes them: the longest straight line between two
 * points of the edge, and the widest distance from edge to edge square to it
 * (across a dent the outer edges count).
 */
export function lengthAndWidth(points: readonly Point[]): { length: number; width: number } {
  const [from, to] = farthestPair(points);
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (!(length > 0)) return { length: 0, width: 0 };
  const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const turned = points.map(([x, y]): Point => [(x - from[0]) * ux + (y - from[1]) * uy, (y - from[1]) * ux - (x - from[0]) * uy]);
  // Between two corners the width changes evenly, so it is widest at one of them.
  return { length, width: Math.max(...turned.map(([along]) => spreadAt(turned, along))) };
}

/** From the lowest to the highest place of an outline at one place along. */
function spreadAt(points: readonly Point[], along: number): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  const take = (value: number): void => {
    low = Math.min(low, value);
    high = Math.max(high, value);
  };
  points.forEach(([ax, ay], i) => {
    const [bx, by] = next(points, i);
    if (along < Math.min(ax, bx) || along > Math.max(ax, bx)) return;
    if (ax === bx) {
      take(ay);
      take(by);
    } else take(ay + ((along - ax) / (bx - ax)) * (by - ay));
  });
  return high - low;
}

const turn = ([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point): number => (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);

/** Whether two stretches cross; touching ends do not count. */
const cross = (a: Point, b: Point, c: Point, d: Point): boolean => turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;

/** Whether a closed outline crosses itself. */
export function crossesItself(points: readonly Point[]): boolean {
  return points.some((a, i) => {
    const b = next(points, i);
    for (let k = i + 2; k < points.length; k++) {
      if (i === 0 && k === points.length - 1) continue;
      if (cross(a, b, points[k] as Point, next(points, k))) return true;
    }
    return false;
  });
}
