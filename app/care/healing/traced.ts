import { mapPoint, type Point } from './homography.ts';
import type { Scale } from './image-scale.ts';
import { crossesItself, lengthAndWidth, perimeterOf, polygonArea } from './outline.ts';

/** The most that a traced wound may measure in any direction, mm; the log takes no more. */
const LENGTH_MOST_MM = 400;
const POINTS_LEAST = 3;

/**
 * Why an outline gives no size. `tooFewPoints`, `crosses`, `noArea`: trace it
 * again. `tooLarge`: more than 400 mm, the scale must be wrong. `cutOff`: the
 * wound is not whole in the photo. `onScale`: the outline runs into the scale,
 * which must not touch the wound. `tooFar`: the scale is too far from the wound.
 * `tooSmall`: too few pixels of wound, come closer.
 */
export const OUTLINE_FAULTS = ['tooFewPoints', 'crosses', 'noArea', 'tooLarge', 'cutOff', 'onScale', 'tooFar', 'tooSmall'] as const;
export type OutlineFault = (typeof OUTLINE_FAULTS)[number];

export interface Traced {
  areaMm2: number;
  lengthMm: number;
  widthMm: number;
  perimeterMm: number;
  /** One standard deviation of the area that the placing of scale and outline implies, as a share of it. */
  errorShare: number;
}

/**
 * The size of a wound whose edge was traced on a photo.
 * @param outline in px of the photo that the scale is of, closed by itself; from `tidyOutline` for a stroke by hand.
 */
export function measureOutline(
  outline: readonly Point[],
  scale: Scale,
): { ok: true; traced: Traced } | { ok: false; faults: OutlineFault[] } {
  const faults = new Set<OutlineFault>();
  if (outline.length < POINTS_LEAST) return { ok: false, faults: ['tooFewPoints'] };
  if (crossesItself(outline)) faults.add('crosses');
  const mm = outline.map((p) => mapPoint(scale.toMm, p));
  const { length, width } = lengthAndWidth(mm);
  const areaMm2 = polygonArea(mm);
  if (!(areaMm2 > 0)) faults.add('noArea');
  if (!(length <= LENGTH_MOST_MM)) faults.add('tooLarge');
  if (faults.size > 0) return { ok: false, faults: OUTLINE_FAULTS.filter((f) => faults.has(f)) };
  return { ok: true, traced: { areaMm2, lengthMm: length, widthMm: width, perimeterMm: perimeterOf(mm), errorShare: 0 } };
}
