/** A place in a plane, in pixels or mm. */
export type Point = readonly [x: number, y: number];

/** Four corners, one after the other round the shape. */
export type Quad = readonly [Point, Point, Point, Point];

/** A perspective map of the plane: nine numbers, row by row, of a 3 × 3 matrix. */
export type Homography = readonly number[];

/** Below this share of the largest pivot a system counts as having no one solution. */
const PIVOT_LEAST = 1e-12;

/**
 * Solves `a · x = b` by Gauss elimination with partial pivoting.
 * @param a square, row by row. Neither argument is changed.
 * @returns undefined when there is no one solution.
 */
export function solveLinear(a: readonly (readonly number[])[], b: readonly number[]): number[] | undefined {
  const n = b.length;
  const rows = a.map((row, i) => [...row, b[i] as number]);
  const at = (r: number, c: number): number => (rows[r] as number[])[c] as number;
  const largest = Math.max(...a.flat().map(Math.abs));
  for (let c = 0; c < n; c++) {
    let best = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(at(r, c)) > Math.abs(at(best, c))) best = r;
    if (!(Math.abs(at(best, c)) > largest * PIVOT_LEAST)) return undefined;
    [rows[c], rows[best]] = [rows[best] as number[], rows[c] as number[]];
    for (let r = c + 1; r < n; r++) {
      const factor = at(r, c) / at(c, c);
      for (let k = c; k <= n; k++) (rows[r] as number[])[k] = at(r, k) - factor * at(c, k);
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let r = n - 1; r >= 0; r--) {
    let rest = at(r, n);
    for (let k = r + 1; k < n; k++) rest -= at(r, k) * (x[k] as number);
    x[r] = rest / at(r, r);
  }
  return x.every(Number.isFinite) ? x : undefined;
}

/** Moves points to a mean of 0 and a mean distance of √2, so that elimination loses no digits (Hartley 1997, "In defense of the eight-point algorithm"; from memory). */
function normaliser(points: readonly Point[]): Homography | undefined {
  const n = points.length;
  const mx = points.reduce((sum, [x]) => sum + x, 0) / n;
  const my = points.reduce((sum, [, y]) => sum + y, 0) / n;
  const spread = points.reduce((sum, [x, y]) => sum + Math.hypot(x - mx, y - my), 0) / n;
  const s = Math.SQRT2 / spread;
  return Number.isFinite(s) ? [s, 0, -s * mx, 0, s, -s * my, 0, 0, 1] : undefined;
}

/** The map that does `first`, then `second`. */
export function compose(second: Homography, first: Homography): Homography {
  const out: number[] = [];
  for (let r = 0; r < 3; r++) {
    for (let c = 0; c < 3; c++) {
      let sum = 0;
      for (let k = 0; k < 3; k++) sum += (second[3 * r + k] as number) * (first[3 * k + c] as number);
      out.push(sum);
    }
  }
  return out;
}

/** The map back; undefined for one that squeezes the plane into a line. */
export function invertHomography(h: Homography): Homography | undefined {
  const [a, b, c, d, e, f, g, i, j] = h as [number, number, number, number, number, number, number, number, number];
  const minors = [
    e * j - f * i,
    c * i - b * j,
    b * f - c * e,
    f * g - d * j,
    a * j - c * g,
    c * d - a * f,
    d * i - e * g,
    b * g - a * i,
    a * e - b * d,
  ];
  const det = a * (minors[0] as number) + b * (minors[3] as number) + c * (minors[6] as number);
  const out = minors.map((m) => m / det);
  return out.every(Number.isFinite) ? out : undefined;
}

/** Where a place goes. Places beyond the horizon give numbers without meaning; `depthAt` tells them. */
export function mapPoint(h: Homography, [x, y]: Point): Point {
  const w = depthAt(h, [x, y]);
  return [
    ((h[0] as number) * x + (h[1] as number) * y + (h[2] as number)) / w,
    ((h[3] as number) * x + (h[4] as number) * y + (h[5] as number)) / w,
  ];
}

/** The third coordinate of a mapped place: it has one sign on this side of the horizon and the other beyond it. */
export const depthAt = (h: Homography, [x, y]: Point): number => (h[6] as number) * x + (h[7] as number) * y + (h[8] as number);

/** The derivatives of a map at a place: `[∂x′/∂x, ∂x′/∂y, ∂y′/∂x, ∂y′/∂y]`. */
export function derivativesAt(h: Homography, p: Point): readonly [number, number, number, number] {
  const w = depthAt(h, p);
  const [x, y] = mapPoint(h, p);
  const [g, i] = [h[6] as number, h[7] as number];
  return [((h[0] as number) - g * x) / w, ((h[1] as number) - i * x) / w, ((h[3] as number) - g * y) / w, ((h[4] as number) - i * y) / w];
}

/**
 * The perspective map that takes four points to four others: two equations for
 * each, eight unknowns, the ninth number 1 in normalised coordinates.
 * @returns undefined when three of the points lie on one line or any two coincide.
 */
export function homographyFrom(from: Quad, to: Quad): Homography | undefined {
  const [tidyFrom, tidyTo] = [normaliser(from), normaliser(to)];
  if (!tidyFrom || !tidyTo || !isSpread(from) || !isSpread(to)) return undefined;
  const a: number[][] = [];
  const b: number[] = [];
  from.forEach((p, k) => {
    const [x, y] = mapPoint(tidyFrom, p);
    const [u, v] = mapPoint(tidyTo, to[k] as Point);
    a.push([x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]);
    b.push(u, v);
  });
  const h = solveLinear(a, b);
  const back = invertHomography(tidyTo);
  return h && back && compose(back, compose([...h, 1], tidyFrom));
}

/** Twice the area of a triangle, positive for one turn and negative for the other. */
export const turn = ([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point): number => (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);

/** Below this share of the squared extent three points count as lying on one line. */
const LINE_SHARE = 1e-9;

/** Whether no three of four points lie on one line. */
function isSpread([a, b, c, d]: Quad): boolean {
  const xs = [a[0], b[0], c[0], d[0]];
  const ys = [a[1], b[1], c[1], d[1]];
  const extent = Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys));
  return [turn(a, b, c), turn(b, c, d), turn(c, d, a), turn(d, a, b)].every((t) => Math.abs(t) > LINE_SHARE * extent ** 2);
}

/** Whether four corners, in this order, make a shape without a dent or a fold. */
export function isConvex([a, b, c, d]: Quad): boolean {
  const turns = [turn(a, b, c), turn(b, c, d), turn(c, d, a), turn(d, a, b)];
  return turns.every((t) => t > 0) || turns.every((t) => t < 0);
}
