import { depthAt, mapPoint, type Point } from './homography.ts';
import { areaThrough, pxPerMm, SCALE_ERROR_MOST, type Scale } from './image-scale.ts';
import { crossesItself, isInside, lengthAndWidth, middleOf, perimeterOf } from './outline.ts';

/** The most that a traced wound may measure, mm; the log takes no more. */
const LENGTH_MOST_MM = 400;
const PERIMETER_MOST_MM = 4000;
const POINTS_LEAST = 3;

/** Farther from the scale than this a foot curves away from the scale's plane (an estimate; the error is that of height, 1 per cent of area for each 1/200 of the camera's distance). */
const FAR_MOST_MM = 100;

/** How far a careful hand is off all round in the same sense: half a pixel (an estimate) and a quarter of the blur's deviation (an estimate). */
const EDGE_OFF_PX = 0.5;
const EDGE_OFF_BLUR = 0.25;
/** More than this from the edge alone is too little wound in the photo, unless it is next to nothing in mm². */
const EDGE_ERROR_MOST = 0.05;
const EDGE_ERROR_MM2 = 1;

/** The paper around a code, as a share of its side: four modules of 41. */
const QUIET_SHARE = 4 / 41;

/**
 * Why an outline gives no size, gravest first. `tooFewPoints`, `crosses`,
 * `noArea`: trace it again. `cutOff`: the wound is not whole in the photo.
 * `onScale`: the outline runs into the scale, which must not touch the wound.
 * `tooLarge`: more than 400 mm, so the scale is wrong. `tooFar`: lay the scale
 * nearer. `tooSmall`: too few pixels of wound, come closer.
 */
export const OUTLINE_FAULTS = ['tooFewPoints', 'crosses', 'noArea', 'cutOff', 'onScale', 'tooLarge', 'tooFar', 'tooSmall'] as const;
export type OutlineFault = (typeof OUTLINE_FAULTS)[number];

/** The size of a wound on the scale's plane. */
export interface Traced {
  areaMm2: number;
  lengthMm: number;
  widthMm: number;
  perimeterMm: number;
  /**
   * How far the area may be off by the placing of scale and edge, one standard
   * deviation, as a share. What one photo cannot show is not in it: a scale that
   * lies level but h above the wound's plane, seen from d, reads 2h/d too small.
   */
  errorShare: number;
}

/**
 * The size of a wound whose edge was traced on a photo.
 * @param outline px of the scale's photo, closed by itself; from `tidyOutline` for a stroke by hand.
 */
export function measureOutline(
  outline: readonly Point[],
  scale: Scale,
): { ok: true; traced: Traced } | { ok: false; faults: OutlineFault[] } {
  if (outline.length < POINTS_LEAST) return { ok: false, faults: ['tooFewPoints'] };
  const mm = outline.map((p) => mapPoint(scale.toMm, p));
  const { length, width } = lengthAndWidth(mm);
  const perimeterMm = perimeterOf(mm);
  const { areaMm2, errorShare } = areaThrough(scale, outline);
  const edgeShare = (perimeterMm * edgeOffMm(scale, outline)) / areaMm2;
  const hasArea = areaMm2 > 0 && width > 0;
  const isFound: Record<OutlineFault, boolean> = {
    tooFewPoints: false,
    crosses: crossesItself(outline),
    noArea: !hasArea,
    cutOff: outline.some(([x, y]) => x < 1 || y < 1 || x > scale.photo.widthPx - 1 || y > scale.photo.heightPx - 1),
    onScale: isOnScale(mm, scale),
    tooLarge: !(length <= LENGTH_MOST_MM && perimeterMm <= PERIMETER_MOST_MM),
    tooFar: isTooFar(outline, mm, scale) || (hasArea && !(errorShare <= SCALE_ERROR_MOST)),
    tooSmall: hasArea && edgeShare > EDGE_ERROR_MOST && edgeShare * areaMm2 > EDGE_ERROR_MM2,
  };
  const faults = OUTLINE_FAULTS.filter((fault) => isFound[fault]);
  if (faults.length > 0) return { ok: false, faults };
  return { ok: true, traced: { areaMm2, lengthMm: length, widthMm: width, perimeterMm, errorShare: Math.hypot(errorShare, edgeShare) } };
}

const edgeOffMm = (scale: Scale, outline: readonly Point[]): number =>
  Math.hypot(EDGE_OFF_PX / pxPerMm(scale, middleOf(outline)), EDGE_OFF_BLUR * (scale.fit.blurMm ?? 0));

/** Whether an outline and the mark, with the paper around a code, have a place in common. */
function isOnScale(mm: readonly Point[], { mark, cornersMm }: Scale): boolean {
  const [width, height] = cornersMm[2];
  const paper = mark.kind === 'code' ? QUIET_SHARE * mark.sideMm : 0;
  const corners: Point[] = [
    [-paper, -paper],
    [width + paper, -paper],
    [width + paper, height + paper],
    [-paper, height + paper],
  ];
  return mm.some((p) => isInside(corners, p)) || corners.some((p) => isInside(mm, p));
}

function isTooFar(outline: readonly Point[], mm: readonly Point[], { toMm, corners, cornersMm }: Scale): boolean {
  // Beyond the horizon of the scale's plane there are no mm.
  if (outline.some((p) => depthAt(toMm, p) * depthAt(toMm, corners[0]) <= 0)) return true;
  const [width, height] = cornersMm[2];
  const [x, y] = middleOf(mm);
  return Math.hypot(Math.max(-x, 0, x - width), Math.max(-y, 0, y - height)) > FAR_MOST_MM;
}
