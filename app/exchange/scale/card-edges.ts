import type { Point, Quad } from '../../care/healing/homography.ts';
import { CARD_MM, inOrder, type PhotoSize, type ScaleFit, TAPPED } from '../../care/healing/image-scale.ts';
import { polygonArea } from '../../care/healing/outline.ts';
import { type Brightness, brightnessOf, type PixelGrid } from './brightness.ts';
import { mean, median, softness } from './course.ts';

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
/** What lies on either side of a place is compared over so many px, so that grain does not count. */
const ARMS_PX = [0.5, 1, 1.5, 2] as const;
/** Steps of brightness smaller than this are grain. */
const STEP_LEAST = 6;

interface Line {
  at: Point;
  /** Along it, of length 1. */
  way: Point;
}

/** What one look across a side found. */
interface Step {
  /** Along and across the side, px. */
  along: number;
  across: number;
  /** How much lighter it grows going across. */
  rise: number;
}

/** The strongest step of brightness across a side at one place, with its middle between the steps. */
function stepAt(place: (across: number) => Point, along: number, at: Brightness, reachPx: number): Step | undefined {
  const count = Math.round((2 * reachPx) / STEP_PX);
  const rises = Array.from({ length: count + 1 }, (_, i) => {
    const across = i * STEP_PX - reachPx;
    return ARMS_PX.reduce<number>((sum, arm) => sum + at(place(across + arm)) - at(place(across - arm)), 0) / ARMS_PX.length;
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

/** The stretch between two taps, as places so far along and so far across it. */
interface Stretch {
  length: number;
  placeAt: (along: number, across: number) => Point;
  way: Point;
}

function stretchBetween(from: Point, to: Point): Stretch {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  return { length, way: [ux, uy], placeAt: (along, across) => [from[0] + along * ux - across * uy, from[1] + along * uy + across * ux] };
}

/** Where along a stretch it is looked at. */
const looksAlong = ({ length }: Stretch): number[] =>
  Array.from({ length: LOOKS }, (_, i) => length * (PART_FROM + ((PART_TO - PART_FROM) * i) / (LOOKS - 1)));

function sideAlong(stretch: Stretch, at: Brightness, reachPx: number): Line | undefined {
  const { placeAt, way } = stretch;
  const steps = looksAlong(stretch).flatMap((along) => {
    const step = stepAt((across) => placeAt(along, across), along, at, reachPx);
    return step ? [step] : [];
  });
  const rising = steps.filter((s) => s.rise > 0);
  const line = lineThrough(rising.length > steps.length / 2 ? rising : steps.filter((s) => s.rise < 0));
  if (!line) return undefined;
  const norm = Math.hypot(1, line.slope);
  return { at: placeAt(0, line.across), way: [(way[0] - line.slope * way[1]) / norm, (way[1] + line.slope * way[0]) / norm] };
}

/** Neighbouring looks whose mean takes out the grain, and the least contrast that still shows how soft an edge is. */
const GROUP = 6;
const CONTRAST_LEAST = 12;

/** How soft the edge near a stretch is: standard deviation of the blur, px; undefined where there is too little contrast to tell. */
function blurAlong(stretch: Stretch, at: Brightness, reachPx: number): number | undefined {
  const looks = looksAlong(stretch);
  const count = Math.round((4 * reachPx) / STEP_PX);
  const blurs = Array.from({ length: LOOKS / GROUP }, (_, g) => {
    const group = looks.slice(g * GROUP, (g + 1) * GROUP);
    const course = Array.from({ length: count + 1 }, (_, i) =>
      mean(group.map((along) => at(stretch.placeAt(along, i * STEP_PX - 2 * reachPx)))),
    );
    return Math.max(...course) - Math.min(...course) >= CONTRAST_LEAST ? softness(course) : undefined;
  }).filter((v) => v !== undefined);
  return blurs.length * 2 >= LOOKS / GROUP ? median(blurs) * STEP_PX : undefined;
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
  const stretches = near.map((from, i) => stretchBetween(from, near[(i + 1) % 4] as Point));
  const [p, q, r, s] = stretches.map((stretch) => blurAlong(stretch, at, reachPx));
  // One side of a pair may lie in its own shadow; the other then tells.
  const blurs = [lesser(p, r), lesser(q, s)].filter((v) => v !== undefined);
  const pxPerMm = Math.sqrt(polygonArea(near) / (CARD_MM.long * CARD_MM.short));
  const blur = blurs.length > 0 ? { blurMm: Math.max(...blurs) / pxPerMm } : {};
  const found = cornersOf(stretches.map((stretch) => sideAlong(stretch, at, reachPx)));
  const isNear = found?.every(([x, y], i) => Math.hypot(x - (near[i] as Point)[0], y - (near[i] as Point)[1]) <= Math.SQRT2 * reachPx);
  if (!found || !isNear) return { corners: inOrder(taps), fit: { ...TAPPED, ...blur }, snapped: false };
  return {
    corners: found.map(([x, y]): Point => [x / sx, y / sy]) as unknown as Quad,
    fit: { cornerErrorPx: SNAPPED_PX / Math.min(sx, sy), ...blur },
    snapped: true,
  };
}

/** Where four sides cross, the first corner between the last side and the first. */
function cornersOf([a, b, c, d]: readonly (Line | undefined)[]): Quad | undefined {
  return a && b && c && d ? [crossing(d, a), crossing(a, b), crossing(b, c), crossing(c, d)] : undefined;
}

const lesser = (a: number | undefined, b: number | undefined): number | undefined =>
  a === undefined || b === undefined ? (a ?? b) : Math.min(a, b);
