import type { Point, Quad } from '../../care/healing/homography.ts';
import { CARD_MM, inOrder, type PhotoSize, type ScaleFit, TAPPED } from '../../care/healing/image-scale.ts';
import { polygonArea } from '../../care/healing/outline.ts';
import { type Brightness, brightnessOf, type PixelGrid } from './brightness.ts';

/**
 * Four tapped corners of a card, moved to where its edges cross. The corners
 * themselves are round, so each edge is found on its straight part and made
 * longer.
 */

/** An edge is looked for as far from the line between two taps as a tap is off at most, in standard deviations. */
const REACH = 3;
/** Steps of a look across, px. */
const STEP_PX = 0.5;
/** The part of a side that is looked at; the ends are round (2.88 to 3.48 mm, ISO/IEC 7810, from memory). */
const [PART_FROM, PART_TO] = [0.1, 0.9];
const LOOKS = 48;
/** A side counts when so many of its looks lie on one line. */
const ON_LINE_LEAST = 0.6;
const ON_LINE_PX = 0.75;
/** Steps of brightness smaller than this are grain. */
const STEP_LEAST = 6;

interface Line {
  at: Point;
  /** Along it, of length 1. */
  way: Point;
}

interface Side extends Line {
  /** The blur across it, standard deviation, px; undefined where it cannot be told. */
  blurPx: number | undefined;
}

/** What one look across a side found. */
interface Step {
  /** Along and across the side, px. */
  along: number;
  across: number;
  /** How much lighter it grows going across. */
  rise: number;
}

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;

/** The strongest step of brightness across a side at one place, with its middle between the steps. */
function stepAt(place: (across: number) => Point, along: number, at: Brightness, reachPx: number): Step | undefined {
  const count = Math.round((2 * reachPx) / STEP_PX);
  const rises = Array.from({ length: count + 1 }, (_, i) => {
    const across = i * STEP_PX - reachPx;
    return at(place(across + 1)) - at(place(across - 1));
  });
  const strength = rises.map(Math.abs);
  const best = strength.indexOf(Math.max(...strength));
  if (best < 1 || best > count - 1 || !((strength[best] as number) >= STEP_LEAST)) return undefined;
  // The top of the parabola through three steps.
  const [a, b, c] = [strength[best - 1], strength[best], strength[best + 1]] as [number, number, number];
  const off = (a - c) / (2 * (a - 2 * b + c));
  return { along, across: (best + (Number.isFinite(off) ? off : 0)) * STEP_PX - reachPx, rise: rises[best] as number };
}

/** The line that most steps lie on; undefined when too few do. */
function lineThrough(steps: readonly Step[]): { slope: number; across: number } | undefined {
  // The median of all slopes and heights is not led astray by print on the card or a crease under it (Theil and Sen).
  const slopes = steps.flatMap((p, i) => steps.slice(i + 1).map((q) => (q.across - p.across) / (q.along - p.along)));
  const rough = { slope: median(slopes), across: 0 };
  rough.across = median(steps.map((s) => s.across - rough.slope * s.along));
  const near = steps.filter((s) => Math.abs(s.across - rough.across - rough.slope * s.along) <= ON_LINE_PX);
  if (near.length < ON_LINE_LEAST * LOOKS) return undefined;
  const n = near.length;
  const mx = near.reduce((sum, s) => sum + s.along, 0) / n;
  const my = near.reduce((sum, s) => sum + s.across, 0) / n;
  const slope = near.reduce((sum, s) => sum + (s.along - mx) * (s.across - my), 0) / near.reduce((sum, s) => sum + (s.along - mx) ** 2, 0);
  return { slope, across: my - slope * mx };
}

function sideBetween(from: Point, to: Point, at: Brightness, reachPx: number): Side | undefined {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const placeAt = (along: number, across: number): Point => [from[0] + along * ux - across * uy, from[1] + along * uy + across * ux];
  const steps = Array.from({ length: LOOKS }, (_, i) => length * (PART_FROM + ((PART_TO - PART_FROM) * i) / (LOOKS - 1))).flatMap(
    (along) => {
      const step = stepAt((across) => placeAt(along, across), along, at, reachPx);
      return step ? [step] : [];
    },
  );
  const rising = steps.filter((s) => s.rise > 0);
  const line = lineThrough(rising.length > steps.length / 2 ? rising : steps.filter((s) => s.rise < 0));
  if (!line) return undefined;
  const norm = Math.hypot(1, line.slope);
  const way: Point = [(ux - line.slope * uy) / norm, (uy + line.slope * ux) / norm];
  const blurPx = blurAcross((along, across) => at(placeAt(along, line.across + line.slope * along + across)), length, reachPx);
  return { at: placeAt(0, line.across), way, blurPx };
}

/** A bell-shaped blur passes from 16 to 84 per cent within two standard deviations. */
const [LOW, HIGH] = [0.1587, 0.8413];

/** The blur by the mean course of brightness across a side. */
function blurAcross(at: (along: number, across: number) => number, length: number, reachPx: number): number | undefined {
  const count = Math.round((2 * reachPx) / STEP_PX);
  const course = Array.from({ length: count + 1 }, (_, i) => {
    const looks = Array.from({ length: LOOKS }, (_, k) =>
      at(length * (PART_FROM + ((PART_TO - PART_FROM) * k) / (LOOKS - 1)), i * STEP_PX - reachPx),
    );
    return looks.reduce((sum, v) => sum + v, 0) / LOOKS;
  });
  const [from, to] = [course[0] as number, course.at(-1) as number];
  const passes = (share: number): number => {
    const i = course.findIndex((v) => (v - from) / (to - from) >= share);
    const [a, b] = [course[i - 1], course[i]].map((v) => ((v ?? Number.NaN) - from) / (to - from)) as [number, number];
    return (i - 1 + (share - a) / (b - a)) * STEP_PX;
  };
  const blur = (passes(HIGH) - passes(LOW)) / 2;
  return blur > 0 ? blur : undefined;
}

/** Where two lines cross. */
function crossing(a: Line, b: Line): Point {
  const det = a.way[0] * b.way[1] - a.way[1] * b.way[0];
  const t = ((b.at[0] - a.at[0]) * b.way[1] - (b.at[1] - a.at[1]) * b.way[0]) / det;
  return [a.at[0] + t * a.way[0], a.at[1] + t * a.way[1]];
}

/** What a corner of crossed edges may be off, px; the light on a card's rim and the lens leave that much (an estimate). */
const SNAPPED_PX = 0.5;

/**
 * The corners of a card from taps near them.
 * @param taps px of the photo, in any order. @param pixels the photo in as many pixels as there are. @param photo the size that taps are in.
 * @returns corners with what is known about them; the taps themselves where the edges cannot be seen.
 */
export function snapCard(taps: Quad, pixels: PixelGrid, photo: PhotoSize): { corners: Quad; fit: ScaleFit; snapped: boolean } {
  const [sx, sy] = [pixels.width / photo.widthPx, pixels.height / photo.heightPx];
  const near = inOrder(taps).map(([x, y]): Point => [x * sx, y * sy]) as unknown as Quad;
  const at = brightnessOf(pixels);
  const reachPx = REACH * TAPPED.cornerErrorPx * Math.max(sx, sy);
  const sides = near.map((from, i) => sideBetween(from, near[(i + 1) % 4] as Point, at, reachPx));
  const [a, b, c, d] = sides;
  if (!a || !b || !c || !d) return { corners: inOrder(taps), fit: TAPPED, snapped: false };
  const found: Quad = [crossing(d, a), crossing(a, b), crossing(b, c), crossing(c, d)];
  if (!found.every(([x, y], i) => Math.hypot(x - (near[i] as Point)[0], y - (near[i] as Point)[1]) <= Math.SQRT2 * reachPx)) {
    return { corners: inOrder(taps), fit: TAPPED, snapped: false };
  }
  // One side of a pair may lie in its own shadow; the other then tells.
  const blurs = [lesser(a.blurPx, c.blurPx), lesser(b.blurPx, d.blurPx)].filter((v) => v !== undefined);
  const pxPerMm = Math.sqrt(polygonArea(found) / (CARD_MM.long * CARD_MM.short));
  return {
    corners: found.map(([x, y]): Point => [x / sx, y / sy]) as unknown as Quad,
    fit: { cornerErrorPx: SNAPPED_PX / Math.min(sx, sy), ...(blurs.length > 0 ? { blurMm: Math.max(...blurs) / pxPerMm } : {}) },
    snapped: true,
  };
}

const lesser = (a: number | undefined, b: number | undefined): number | undefined =>
  a === undefined || b === undefined ? (a ?? b) : Math.min(a, b);
