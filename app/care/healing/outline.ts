import { type Point, turn } from './homography.ts';

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
  for (const [i, p] of points.entries()) {
    for (let k = i + 1; k < points.length; k++) {
      const q = points[k] as Point;
      const d = (q[0] - p[0]) ** 2 + (q[1] - p[1]) ** 2;
      if (d > best) [best, pair] = [d, [p, q]];
    }
  }
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
  let [ax, ay] = points.at(-1) as Point;
  for (const [bx, by] of points) {
    if ((ax <= along && along <= bx) || (bx <= along && along <= ax)) {
      // On a stretch straight across, both its ends are met by its neighbours.
      const at = ax === bx ? by : ay + ((along - ax) / (bx - ax)) * (by - ay);
      if (at < low) low = at;
      if (at > high) high = at;
    }
    [ax, ay] = [bx, by];
  }
  return high - low;
}

/** Whether two stretches cross; touching ends do not count. */
function cross(a: Point, b: Point, c: Point, d: Point): boolean {
  // Most lie apart, and that is quickly seen.
  if (Math.max(a[0], b[0]) < Math.min(c[0], d[0]) || Math.max(c[0], d[0]) < Math.min(a[0], b[0])) return false;
  if (Math.max(a[1], b[1]) < Math.min(c[1], d[1]) || Math.max(c[1], d[1]) < Math.min(a[1], b[1])) return false;
  return turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
}

/** Whether a place lies inside a closed outline; on the edge it may count either way. */
export function isInside(points: readonly Point[], [x, y]: Point): boolean {
  let inside = false;
  points.forEach(([ax, ay], i) => {
    const [bx, by] = next(points, i);
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) inside = !inside;
  });
  return inside;
}

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

/** Where two stretches cross; undefined when they do not. */
function crossingOf(a: Point, b: Point, c: Point, d: Point): Point | undefined {
  if (!cross(a, b, c, d)) return undefined;
  const share = turn(a, c, d) / (turn(a, c, d) - turn(b, c, d));
  return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
}

/** How much of a stroke, by its points, may overlap at each end. */
const TAIL_SHARE = 0.2;

/**
 * A stroke drawn past its own beginning, without what is too much: cut where
 * its end crosses its beginning, or, where it runs beside it, where it passes
 * the first point. As it is where it was not drawn so far.
 */
function withoutTails(stroke: readonly Point[]): readonly Point[] {
  const n = stroke.length;
  const tail = Math.floor(n * TAIL_SHARE);
  // The farthest crossing from the ends, so that none is left outside it.
  for (let rest = 2 * tail; rest >= 0; rest--) {
    for (let i = Math.min(tail, rest); i >= Math.max(0, rest - tail); i--) {
      const k = n - 2 - (rest - i);
      if (k <= i + 1) continue;
      const at = crossingOf(stroke[i] as Point, stroke[i + 1] as Point, stroke[k] as Point, stroke[k + 1] as Point);
      if (at) return [at, ...stroke.slice(i + 1, k + 1)];
    }
  }
  const [first] = stroke;
  if (!first || tail === 0) return stroke;
  const gaps = stroke.slice(n - tail).map(([x, y]) => Math.hypot(x - first[0], y - first[1]));
  return stroke.slice(0, n - tail + gaps.indexOf(Math.min(...gaps)) + 1);
}

/**
 * An outline with fewer points: again and again the point goes that makes the
 * smallest triangle with its neighbours (Visvalingam and Whyatt 1993, "Line
 * generalisation by repeated elimination of points"; from memory).
 * @param most points to keep, at least 3.
 */
export function simplifyOutline(points: readonly Point[], most: number = OUTLINE_POINTS_MOST): Point[] {
  const kept = [...points];
  const triangle = (i: number): number => {
    const n = kept.length;
    return Math.abs(turn(kept[(i + n - 1) % n] as Point, kept[i] as Point, kept[(i + 1) % n] as Point));
  };
  const sizes = kept.map((_, i) => triangle(i));
  while (kept.length > Math.max(3, most)) {
    const least = sizes.indexOf(Math.min(...sizes));
    kept.splice(least, 1);
    sizes.splice(least, 1);
    for (const i of [least - 1, least]) {
      const at = (i + kept.length) % kept.length;
      sizes[at] = triangle(at);
    }
  }
  return kept;
}

/** Points that a stroke is thinned to before the careful choice, which takes long for many. */
const STROKE_POINTS_MOST = 4 * OUTLINE_POINTS_MOST;

/**
 * A closed outline from a stroke by hand: no point twice in a row, no tails
 * where the stroke ran past its beginning, at most `OUTLINE_POINTS_MOST` points.
 * It may still cross itself; `crossesItself` tells.
 */
export function tidyOutline(stroke: readonly Point[]): Point[] {
  const every = Math.ceil(stroke.length / STROKE_POINTS_MOST);
  const thinned = stroke.filter((p, i) => i % every === 0 && p.every(Number.isFinite));
  const moving = thinned.filter((p, i) => i === 0 || p[0] !== (thinned[i - 1] as Point)[0] || p[1] !== (thinned[i - 1] as Point)[1]);
  const cut = withoutTails(moving);
  const [first, last] = [cut[0], cut.at(-1)];
  const open = cut.length > 1 && first && last && first[0] === last[0] && first[1] === last[1] ? cut.slice(0, -1) : cut;
  return simplifyOutline(open);
}
