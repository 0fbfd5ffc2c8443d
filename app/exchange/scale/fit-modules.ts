import {
  compose,
  type Homography,
  homographyFrom,
  invertHomography,
  mapPoint,
  type Point,
  type Quad,
  solveLinear,
} from '../../care/healing/homography.ts';
import { polygonArea } from '../../care/healing/outline.ts';
import type { LocatedCode } from '../qr.ts';
import { type Brightness, through } from './brightness.ts';
import { mean, median, softness } from './course.ts';

/**
 * Places a code to a small part of a pixel. The decoder's corners are whole
 * pixels; here every border between a dark and a light module, some 1,600 of
 * them, is found in the picture, and the perspective map is fitted to all at
 * once. Places are counted in modules: x and y from 0 to the code's size.
 */

/** Which modules of a code are dark. */
type Modules = Pick<LocatedCode, 'size' | 'dark'>;

/** A border between two modules: where it should be, and what lies before it. */
interface Border {
  /** Whether it is crossed going right (its x is known) or going down (its y is known). */
  way: 'right' | 'down';
  /** The known coordinate. */
  at: number;
  /** The middle of the module along the border. */
  middle: number;
  /** 1 where light turns to dark, −1 where dark turns to light. */
  turns: 1 | -1;
  /** Whether the two modules on either side are of one colour each. */
  clear: boolean;
}

/** All borders of a code; around it is paper. */
function bordersOf({ size, dark }: Modules): Border[] {
  const borders: Border[] = [];
  const isDark = (x: number, y: number): boolean => x >= 0 && y >= 0 && x < size && y < size && dark(x, y);
  for (let line = 0; line < size; line++) {
    for (let at = 0; at <= size; at++) {
      for (const way of ['right', 'down'] as const) {
        const [a, b, c, d] = [-2, -1, 0, 1].map((step) => (way === 'right' ? isDark(at + step, line) : isDark(line, at + step)));
        if (b !== c) borders.push({ way, at, middle: line + 0.5, turns: c ? 1 : -1, clear: a === b && c === d });
      }
    }
  }
  return borders;
}

/** A place beside a border: so many modules along the way, so many along the border. */
const beside = ({ way, at, middle }: Border, along: number, aside: number): Point =>
  way === 'right' ? [at + along, middle + aside] : [middle + aside, at + along];

/** Lines on which a border is read; their mean takes out nearly half of the noise. */
const ASIDE = [-0.25, 0, 0.25] as const;
const STEPS = 16;

/** How bright the dark and the light modules are, as planes over the code, for light falls off to a side. */
interface Levels {
  dark: (p: Point) => number;
  light: (p: Point) => number;
  /** The share of modules whose middle is on the side it should be. */
  agreement: number;
}

function planeThrough(samples: readonly (readonly [Point, number])[]): ((p: Point) => number) | undefined {
  const a = [0, 1, 2].map(() => [0, 0, 0]);
  const b = [0, 0, 0];
  for (const [[x, y], value] of samples) {
    const row = [1, x, y];
    row.forEach((p, i) => {
      row.forEach((q, k) => {
        (a[i] as number[])[k] = (a[i]?.[k] ?? 0) + p * q;
      });
      b[i] = (b[i] ?? 0) + p * value;
    });
  }
  const [c, dx, dy] = solveLinear(a, b) ?? [];
  return c === undefined || dx === undefined || dy === undefined ? undefined : ([x, y]) => c + dx * x + dy * y;
}

function levelsOf({ size, dark }: Modules, at: Brightness): Levels | undefined {
  const samples: Record<'dark' | 'light', [Point, number][]> = { dark: [], light: [] };
  for (let y = 0; y < size; y++) {
    for (let x = 0; x < size; x++) {
      const p: Point = [x + 0.5, y + 0.5];
      const value = at(p);
      if (!Number.isNaN(value)) samples[dark(x, y) ? 'dark' : 'light'].push([p, value]);
    }
  }
  const planes = { dark: planeThrough(samples.dark), light: planeThrough(samples.light) };
  if (!planes.dark || !planes.light) return undefined;
  const { dark: low, light: high } = planes as Pick<Levels, 'dark' | 'light'>;
  const middle = (p: Point): number => (low(p) + high(p)) / 2;
  const right = samples.dark.filter(([p, v]) => v < middle(p)).length + samples.light.filter(([p, v]) => v > middle(p)).length;
  return { dark: low, light: high, agreement: right / size ** 2 };
}

/** How light it is at a place beside a border, 0 dark and 1 light, over the lines on which it is read. */
function lightBeside(border: Border, along: number, at: Brightness, levels: Levels): number {
  const p = beside(border, along, 0);
  const [low, high] = [levels.dark(p), levels.light(p)];
  return (ASIDE.reduce<number>((sum, aside) => sum + at(beside(border, along, aside)), 0) / ASIDE.length - low) / (high - low);
}

/** Where the picture crosses half brightness nearest to a border, within half a module: modules along the way. */
function crossingAt(border: Border, at: Brightness, levels: Levels): number | undefined {
  let best: number | undefined;
  let before = Number.NaN;
  for (let step = -STEPS / 2; step <= STEPS / 2; step++) {
    // Falling for every border, so that one comparison serves both kinds.
    const value = (lightBeside(border, step / STEPS, at, levels) - 0.5) * border.turns;
    if (before >= 0 && value < 0) {
      const crossing = (step - 1 + before / (before - value)) / STEPS;
      if (best === undefined || Math.abs(crossing) < Math.abs(best)) best = crossing;
    }
    before = value;
  }
  return best;
}

/** A border as it was found. */
interface Seen {
  border: Border;
  /** Its place in the picture, px. */
  px: Point;
  /** By how many modules it missed the last fit. */
  miss: number;
  weight: number;
}

/** Weights fall to nothing at so many standard deviations (Tukey's biweight; the usual 4.685 is for 95 % efficiency, from memory). */
const OUTLIER = 4.685;

/**
 * The map from px to modules that suits all borders best, together with how
 * much the dark modules have swollen (ink, or light that spills over): eight
 * numbers of the map and one for the swelling, by weighted least squares.
 * @param tidy px to numbers near 1. @param last the map so far, for the weights.
 */
function solveMap(seen: readonly Seen[], tidy: Homography, last: Homography): { toModules: Homography; swollen: number } | undefined {
  const a = Array.from({ length: 9 }, () => new Array<number>(9).fill(0));
  const b = new Array<number>(9).fill(0);
  for (const { border, px, weight } of seen) {
    const [x, y] = mapPoint(tidy, px);
    const w = (last[6] as number) * x + (last[7] as number) * y + (last[8] as number);
    const first = border.way === 'right' ? [x, y, 1, 0, 0, 0] : [0, 0, 0, x, y, 1];
    const row = [...first.map((v) => v / w), (-border.at * x) / w, (-border.at * y) / w, border.turns];
    for (let i = 0; i < 9; i++) {
      const scaled = (row[i] as number) * weight;
      for (let k = 0; k < 9; k++) (a[i] as number[])[k] = (a[i]?.[k] ?? 0) + scaled * (row[k] as number);
      b[i] = (b[i] ?? 0) + (scaled * border.at) / w;
    }
  }
  const x = solveLinear(a, b);
  return x && { toModules: [...x.slice(0, 8), 1], swollen: x[8] as number };
}

export interface FittedCode {
  /** The corners of the dark square, px: the code's top left, top right, bottom right, bottom left. */
  corners: Quad;
  /** How far single borders are off, one standard deviation, modules. */
  noise: number;
  /** The largest distance by which one part of the code is off as a whole, modules. */
  bend: number;
  /** The blur, standard deviation in modules, in the direction where it is worse. */
  blur: number;
  /** The mean side of a module, px. */
  modulePx: number;
}

const ROUNDS = 12;
const SETTLED_PX = 0.003;
/** With fewer modules on their side than this the place is wrong, or the picture is of a mirror. */
const AGREEMENT_LEAST = 0.85;
/** The share of borders that must be found. */
const BORDERS_LEAST = 0.5;

const square = (size: number): Quad => [
  [0, 0],
  [size, 0],
  [size, size],
  [0, size],
];

const cornersBy = (toPx: Homography, size: number): Quad => square(size).map((p) => mapPoint(toPx, p)) as unknown as Quad;

/** Moves the middle of the code to 0 and its corners to about 1. */
function tidyFor(corners: Quad): Homography {
  const [mx, my] = [0, 1].map((k) => corners.reduce((sum, c) => sum + (c[k] as number), 0) / 4) as [number, number];
  const s = 1 / Math.max(...corners.map(([x, y]) => Math.hypot(x - mx, y - my)));
  return [s, 0, -s * mx, 0, s, -s * my, 0, 0, 1];
}

/** One look at the picture with a map: where the borders are, and how far off. */
interface Look {
  seen: Seen[];
  levels: Levels;
}

function lookThrough(
  map: Homography,
  code: Modules,
  borders: readonly Border[],
  brightness: Brightness,
  swollen: number,
): Look | undefined {
  const at = through(brightness, map);
  const levels = levelsOf(code, at);
  if (!levels || levels.agreement < AGREEMENT_LEAST) return undefined;
  const seen = borders.flatMap((border): Seen[] => {
    const along = crossingAt(border, at, levels);
    return along === undefined
      ? []
      : [{ border, px: mapPoint(map, beside(border, along, 0)), miss: along + swollen * border.turns, weight: 1 }];
  });
  if (seen.length < BORDERS_LEAST * borders.length) return undefined;
  const cut = OUTLIER * spreadOf(seen);
  for (const s of seen) s.weight = Math.abs(s.miss) < cut ? (1 - (s.miss / cut) ** 2) ** 2 : 0;
  return { seen, levels };
}

/** Standard deviation of the misses, by their median, so that a few wild ones do not count. */
const spreadOf = (seen: readonly Seen[]): number => 1.4826 * median(seen.map((s) => Math.abs(s.miss)));

/**
 * Fits a code to a picture.
 * @param start the decoder's corners, within about a third of a module.
 * @returns undefined when the code is not at that place.
 */
export function fitModules(code: Modules, start: Quad, brightness: Brightness): FittedCode | undefined {
  const borders = bordersOf(code);
  const tidy = tidyFor(start);
  const untidy = invertHomography(tidy);
  let toPx = homographyFrom(square(code.size), start);
  let corners = start;
  let swollen = 0;
  for (let round = 0; round < ROUNDS && toPx && untidy; round++) {
    const look = lookThrough(toPx, code, borders, brightness, swollen);
    const last = invertHomography(toPx);
    const solved = look && last && solveMap(look.seen, tidy, unitLast(compose(last, untidy)));
    toPx = solved && invertHomography(compose(solved.toModules, tidy));
    if (!solved || !toPx) return undefined;
    swollen = solved.swollen;
    const next = cornersBy(toPx, code.size);
    const moved = Math.max(...next.map(([x, y], i) => Math.hypot(x - (corners[i] as Point)[0], y - (corners[i] as Point)[1])));
    corners = next;
    if (moved < SETTLED_PX) break;
  }
  const look = toPx && lookThrough(toPx, code, borders, brightness, swollen);
  if (!toPx || !look) return undefined;
  return {
    corners,
    noise: spreadOf(look.seen),
    bend: bendOf(look.seen, code.size),
    blur: blurOf(borders, through(brightness, toPx), look.levels),
    modulePx: Math.sqrt(polygonArea(corners)) / code.size,
  };
}

const unitLast = (h: Homography): Homography => h.map((v) => v / (h[8] as number));

/** Blocks a side into which the code is cut to see whether it is flat. */
const BLOCKS = 5;
const BLOCK_BORDERS_LEAST = 12;

/** The largest distance by which the borders of one block, crossed one way, are off together: the median of each, so that noise and wild ones do not count. */
function bendOf(seen: readonly Seen[], size: number): number {
  const blocks = new Map<string, number[]>();
  for (const { border, miss } of seen) {
    const [x, y] = beside(border, 0, 0).map((v) => Math.min(BLOCKS - 1, Math.floor((v / size) * BLOCKS))) as [number, number];
    const key = `${border.way} ${x} ${y}`;
    blocks.set(key, [...(blocks.get(key) ?? []), miss]);
  }
  return Math.max(0, ...[...blocks.values()].filter((b) => b.length >= BLOCK_BORDERS_LEAST).map((b) => Math.abs(median(b))));
}

/** The blur by the mean course of brightness across borders between broad fields, in the worse of the two directions; endless where it cannot be told. */
function blurOf(borders: readonly Border[], at: Brightness, levels: Levels): number {
  const of = (way: Border['way']): number => {
    const clear = borders.filter((b) => b.clear && b.way === way);
    const places = Array.from({ length: 2 * STEPS + 1 }, (_, i) => (i - STEPS) / STEPS);
    // As if every border went from dark to light.
    const course = places.map((along) =>
      mean(clear.map((b) => lightBeside(b, -along * b.turns, at, levels)).filter((v) => !Number.isNaN(v))),
    );
    return (softness(course) ?? Number.POSITIVE_INFINITY) / STEPS;
  };
  return Math.max(of('right'), of('down'));
}
