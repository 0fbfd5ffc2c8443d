import { polygonArea } from '../../care/healing/outline.ts';
import { fromShares } from './outline.ts';
import type { PictureSize } from './view.ts';

/** A square part of a photo, px. */
export interface Crop {
  x: number;
  y: number;
  side: number;
}

interface Traced {
  areaMm2?: number | undefined;
  lengthMm?: number | undefined;
  outline?: readonly (readonly [number, number])[] | undefined;
}

/** How much of what is around the wound is shown, as a share of the longer wound. */
const ROOM = 1.7;

/** How many px of the photo a mm is around the wound, and the middle of the wound. */
function placeOf(size: PictureSize, { areaMm2, outline }: Traced) {
  const spots = fromShares(outline ?? [], size);
  const areaPx = polygonArea(spots.map(({ x, y }) => [x, y] as const));
  if (!areaMm2 || !(areaPx > 0)) return undefined;
  const middle = (values: readonly number[]): number => (Math.min(...values) + Math.max(...values)) / 2;
  return { pxPerMm: Math.sqrt(areaPx / areaMm2), x: middle(spots.map((s) => s.x)), y: middle(spots.map((s) => s.y)) };
}

/**
 * The parts of two photos that show as many mm of skin around the wound, so
 * that the two can be compared by eye. Taken straight from above they agree;
 * from the side as well as the area does.
 * @returns undefined unless the wound was traced on both.
 */
export function sameScale(
  a: PictureSize,
  tracedA: Traced | undefined,
  b: PictureSize,
  tracedB: Traced | undefined,
): readonly [Crop, Crop] | undefined {
  const [placeA, placeB] = [tracedA && placeOf(a, tracedA), tracedB && placeOf(b, tracedB)];
  if (!placeA || !placeB) return undefined;
  const mm = Math.max(tracedA?.lengthMm ?? 0, tracedB?.lengthMm ?? 0) * ROOM;
  if (!(mm > 0)) return undefined;
  const crop = ({ pxPerMm, x, y }: typeof placeA): Crop => ({ x: x - (mm * pxPerMm) / 2, y: y - (mm * pxPerMm) / 2, side: mm * pxPerMm });
  return [crop(placeA), crop(placeB)];
}
