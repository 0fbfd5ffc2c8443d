import type { PictureSize, Spot } from './view.ts';

/**
 * The edge of a wound as it is drawn: one closed line through these places,
 * with what was there before each act, so that every act can be undone.
 */
export interface Outline {
  spots: readonly Spot[];
  before: readonly (readonly Spot[])[];
}

export const NO_OUTLINE: Outline = { spots: [], before: [] };

/** Undo reaches so far back. */
const KEEP = 50;

const distance = (a: Spot, b: Spot): number => Math.hypot(a.x - b.x, a.y - b.y);

/** Begins an act: what follows changes the line as a whole until the next one begins. */
export const begun = (outline: Outline): Outline => ({ ...outline, before: [...outline.before, outline.spots].slice(-KEEP) });

/** Adds a place at the end of the line, unless it is nearer than `leastPx` to the last one. */
export function extended(outline: Outline, spot: Spot, leastPx: number): Outline {
  const last = outline.spots.at(-1);
  return last && distance(last, spot) < leastPx ? outline : { ...outline, spots: [...outline.spots, spot] };
}

/** Takes the last act back. */
export function undone(outline: Outline): Outline {
  const last = outline.before.at(-1);
  return last ? { spots: last, before: outline.before.slice(0, -1) } : outline;
}

/** Wipes the line; it can be undone. */
export const wiped = (outline: Outline): Outline => ({ ...begun(outline), spots: [] });

/**
 * Pulls the line by `by` around a place: what is at the place goes all the way,
 * what is further off less, and beyond `reachPx` nothing moves.
 */
export function pulled(outline: Outline, at: Spot, by: Spot, reachPx: number): Outline {
  const spots = outline.spots.map((spot) => {
    const off = distance(spot, at);
    if (off >= reachPx) return spot;
    const share = (1 + Math.cos((Math.PI * off) / reachPx)) / 2;
    return { x: spot.x + by.x * share, y: spot.y + by.y * share };
  });
  return { ...outline, spots };
}

/** The line with places closer together than `everyPx` between them, so that a pull bends it and does not kink it. */
export function refined(spots: readonly Spot[], everyPx: number): Spot[] {
  return spots.flatMap((spot, i) => {
    const next = spots[(i + 1) % spots.length] as Spot;
    const pieces = Math.max(1, Math.ceil(distance(spot, next) / everyPx));
    return Array.from({ length: pieces }, (_, n) => ({
      x: spot.x + ((next.x - spot.x) * n) / pieces,
      y: spot.y + ((next.y - spot.y) * n) / pieces,
    }));
  });
}

/** As shares of the picture's width and height, as it is recorded. Places off the picture are put on its edge. */
export const toShares = (spots: readonly Spot[], { widthPx, heightPx }: PictureSize): [number, number][] =>
  spots.map((s) => [share(s.x / widthPx), share(s.y / heightPx)]);

/** A ten-thousandth of a picture is less than a pixel of any we keep. */
const share = (value: number): number => Math.round(Math.min(1, Math.max(0, value)) * 10_000) / 10_000;

export const fromShares = (shares: readonly (readonly [number, number])[], { widthPx, heightPx }: PictureSize): Spot[] =>
  shares.map(([x, y]) => ({ x: x * widthPx, y: y * heightPx }));

/** The line as the `d` of an SVG path. */
export const pathOf = (spots: readonly Spot[], closed: boolean): string =>
  spots.length === 0 ? '' : `M${spots.map((s) => `${s.x.toFixed(1)} ${s.y.toFixed(1)}`).join('L')}${closed ? 'Z' : ''}`;
