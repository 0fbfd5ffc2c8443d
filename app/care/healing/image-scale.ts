import {
  derivativesAt,
  type Homography,
  homographyFrom,
  invertHomography,
  isConvex,
  mapPoint,
  type Point,
  type Quad,
} from './homography.ts';
import { middleOf } from './outline.ts';

/** A bank or identity card, mm: ISO/IEC 7810 ID-1 [EV-HEA-19]. */
export const CARD_MM = { long: 85.6, short: 53.98 };

/** What lies beside the wound: the printed code, whose side its text says, or a card of the ID-1 size. */
export type ScaleMark = { kind: 'code'; sideMm: number } | { kind: 'card' };

/** The size of the photo in which places are given: x from 0 to `widthPx`, y from 0 to `heightPx`, a pixel's middle at one half. */
export interface PhotoSize {
  widthPx: number;
  heightPx: number;
}

/** What was found out about a scale while its corners were placed. */
export interface ScaleFit {
  /** How far a corner may be off, one standard deviation, px of the photo. */
  cornerErrorPx: number;
  /** How far the scale's own pattern strays from a plane, mm; undefined where it has none. */
  bendMm?: number;
  /** How soft its edges are, the standard deviation of the blur, mm; undefined where it cannot be told. */
  blurMm?: number;
}

/** Corners that a person tapped on a zoomed view: within two pixels of the photo (an estimate). */
export const TAPPED: ScaleFit = { cornerErrorPx: 2 };

/** A photo's scale: from pixels to mm on the plane that the scale lies in. */
export interface Scale {
  mark: ScaleMark;
  photo: PhotoSize;
  fit: ScaleFit;
  /** The corners in px, in the order of `cornersMm`. */
  corners: Quad;
  cornersMm: Quad;
  /** Pixels to mm. */
  toMm: Homography;
  /** mm to pixels. */
  toPx: Homography;
  /** How far the camera looked from straight down, degrees. */
  tiltDeg: number;
}

/**
 * Why a scale gives no size; each asks for another photo, or for the corners to
 * be placed again. `tooSmall`: come closer. `tooOblique`: hold the phone level
 * above. `outOfPlane`: lay the scale flat. `cornersOff`: the four corners do
 * not fit a card. `blurred`: hold still. `cutOff`: get the whole scale in.
 */
export const SCALE_FAULTS = ['cutOff', 'cornersOff', 'outOfPlane', 'tooOblique', 'blurred', 'tooSmall'] as const;
export type ScaleFault = (typeof SCALE_FAULTS)[number];

const rectangle = (w: number, h: number): Quad => [
  [0, 0],
  [w, 0],
  [w, h],
  [0, h],
];

/** The true corners that a mark may have, in mm: a card may lie either way. */
const shapesOf = (mark: ScaleMark): readonly Quad[] =>
  mark.kind === 'code'
    ? [rectangle(mark.sideMm, mark.sideMm)]
    : [rectangle(CARD_MM.long, CARD_MM.short), rectangle(CARD_MM.short, CARD_MM.long)];

/** Corners tapped in any order, put in order round the shape, clockwise as the photo shows it. */
export function inOrder(corners: Quad): Quad {
  const [mx, my] = middleOf(corners);
  const angle = ([x, y]: Point): number => Math.atan2(y - my, x - mx);
  return [...corners].sort((p, q) => angle(p) - angle(q)) as unknown as Quad;
}

/** How steeply a map from the plane to the photo looks at it where it lands in the photo's middle, degrees from straight down. */
function tiltOf(toPx: Homography, toMm: Homography, photo: PhotoSize): number {
  const [a, b, c, d] = derivativesAt(toPx, mapPoint(toMm, [photo.widthPx / 2, photo.heightPx / 2]));
  const half = (a * a + b * b + c * c + d * d) / 2;
  const root = Math.sqrt(Math.max(0, half ** 2 - (a * d - b * c) ** 2));
  return (Math.acos(Math.sqrt(Math.max(0, (half - root) / (half + root)))) * 180) / Math.PI;
}

/**
 * The scale that four corners give. A card's corners may come in any order and
 * lie either way: of the two ways the less steep view is taken.
 * @param corners of the mark, px of the photo. A code's are in the order top left, top right, bottom right, bottom left of the code.
 * @returns undefined when they make no four-cornered shape.
 */
export function scaleFrom(corners: Quad, mark: ScaleMark, photo: PhotoSize, fit: ScaleFit = TAPPED): Scale | undefined {
  const ordered = mark.kind === 'card' ? inOrder(corners) : corners;
  if (!isConvex(ordered)) return undefined;
  const scales = shapesOf(mark).flatMap((cornersMm): Scale[] => {
    const toMm = homographyFrom(ordered, cornersMm);
    const toPx = toMm && invertHomography(toMm);
    return toMm && toPx ? [{ mark, photo, fit, corners: ordered, cornersMm, toMm, toPx, tiltDeg: tiltOf(toPx, toMm, photo) }] : [];
  });
  return scales.sort((a, b) => a.tiltDeg - b.tiltDeg)[0];
}

/** A place of the photo in mm on the scale's plane. */
export const toMm = (scale: Scale, p: Point): Point => mapPoint(scale.toMm, p);

/** What speaks against a scale, gravest first; none when it may be used. */
export function scaleFaults(scale: Scale): ScaleFault[] {
  const faults = new Set<ScaleFault>();
  const { photo, corners, tiltDeg } = scale;
  if (corners.some(([x, y]) => x < 1 || y < 1 || x > photo.widthPx - 1 || y > photo.heightPx - 1)) faults.add('cutOff');
  if (tiltDeg > TILT_MOST_DEG) faults.add('tooOblique');
  return SCALE_FAULTS.filter((fault) => faults.has(fault));
}

const TILT_MOST_DEG = 45;
