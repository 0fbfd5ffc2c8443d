import {
  compose,
  derivativesAt,
  type Homography,
  homographyFrom,
  invertHomography,
  isConvex,
  mapPoint,
  type Point,
  type Quad,
} from './homography.ts';
import { middleOf, polygonArea } from './outline.ts';

/** A bank or identity card, mm: ISO/IEC 7810 ID-1 [EV-HEA-19, from memory]. */
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

/**
 * How far four corners are from those of a flat right-angled shape of these
 * sides seen by any ordinary camera, as a share: 0.05 stands for a side 5 per
 * cent too long, or for corners 3° from square. Four corners always have a map;
 * but a camera with square pixels that looks through the photo's middle cannot
 * make every map (Zhang 2000, "A flexible new technique for camera
 * calibration", constraints 3 and 4; from memory). The focal length is not known
 * and may be whatever suits best.
 */
export function shapeMisfit({ toPx, photo }: Pick<Scale, 'toPx' | 'photo'>): number {
  const centred = compose([1, 0, -photo.widthPx / 2, 0, 1, -photo.heightPx / 2, 0, 0, 1], toPx);
  const [a, b, , d, e, , g, h] = centred as [number, number, number, number, number, number, number, number];
  const longer = Math.max(photo.widthPx, photo.heightPx);
  const misfits = Array.from({ length: FOCAL_STEPS + 1 }, (_, i) => {
    const w = 1 / (longer * FOCAL_LEAST * (FOCAL_MOST / FOCAL_LEAST) ** (i / FOCAL_STEPS)) ** 2;
    const [across, along] = [(a * a + d * d) * w + g * g, (b * b + e * e) * w + h * h];
    return Math.hypot((a * b + d * e) * w + g * h, (across - along) / 2) / ((across + along) / 2);
  });
  return Math.min(...misfits);
}

/** Focal lengths of phones as shares of the photo's longer side: from an ultra-wide lens to a fourfold one (13 and 150 mm on 35 mm film; from memory). */
const [FOCAL_LEAST, FOCAL_MOST] = [0.36, 4.2];
const FOCAL_STEPS = 80;

/** An area measured through a scale, and how far the placing of the corners lets it be off, one standard deviation, as a share. */
export function areaThrough(scale: Scale, outline: readonly Point[]): { areaMm2: number; errorShare: number } {
  const areaBy = (map: Homography): number => polygonArea(outline.map((p) => mapPoint(map, p)));
  const areaMm2 = areaBy(scale.toMm);
  let variance = 0;
  for (let corner = 0; corner < 4; corner++) {
    for (const axis of [0, 1]) {
      const moved = scale.corners.map((p, i): Point => (i === corner ? [p[0] + (1 - axis) * NUDGE_PX, p[1] + axis * NUDGE_PX] : p));
      const map = homographyFrom(moved as unknown as Quad, scale.cornersMm);
      const change = map ? (areaBy(map) - areaMm2) / areaMm2 / NUDGE_PX : Number.POSITIVE_INFINITY;
      variance += (change * scale.fit.cornerErrorPx) ** 2;
    }
  }
  return { areaMm2, errorShare: Math.sqrt(variance) };
}

const NUDGE_PX = 0.25;

/** Pixels to a millimetre at a place of the photo, the mean of both directions. */
export function pxPerMm(scale: Scale, p: Point): number {
  const [a, b, c, d] = derivativesAt(scale.toMm, p);
  return 1 / Math.sqrt(Math.abs(a * d - b * c));
}

/** The most that placing the scale may add to the error of an area, one standard deviation. */
export const SCALE_ERROR_MOST = 0.03;

/** A round wound beside the mark, to see what the scale is good for before one is traced, mm. */
const TRIAL = { acrossMm: 20, besideMm: 15, points: 24 };

/** Trial wounds on each side of the mark, px. */
function trialWounds({ cornersMm, toPx }: Scale): Point[][] {
  const [w, h] = cornersMm[2];
  const off = TRIAL.besideMm + TRIAL.acrossMm / 2;
  const middles: Point[] = [
    [-off, h / 2],
    [w + off, h / 2],
    [w / 2, -off],
    [w / 2, h + off],
  ];
  return middles.map(([x, y]) =>
    Array.from({ length: TRIAL.points }, (_, i) => {
      const angle = (2 * Math.PI * i) / TRIAL.points;
      return mapPoint(toPx, [x + (TRIAL.acrossMm / 2) * Math.cos(angle), y + (TRIAL.acrossMm / 2) * Math.sin(angle)]);
    }),
  );
}

/**
 * The limits below were set on rendered photos of known size
 * (tests/exchange/scene.ts): some 180 with a code, 20 with a card, and 600
 * sets of taps for each of several shapes.
 *
 * Up to 65° the code alone was read without a larger error, but a wound is not
 * flat: at 45° a rim or a hollow of 1 mm moves an edge by 1 mm.
 */
const TILT_MOST_DEG = 45;
/** Half a pixel all round is then 1/8 mm, or 2.5 per cent of a round wound 20 mm across. The decoder's own limit is near 2.5 px a module. */
const PX_PER_MM_LEAST = 4;
/** Flat codes strayed 0.002 to 0.03 mm where all else was well; sheets arched by 0.3 to 2 mm strayed more than this in every case with an error above 2 per cent. */
const BEND_MOST_MM = 0.1;
/** From 10 to 90 per cent of brightness that is 0.9 mm. Sharp photos had 0.12 to 0.3; above 0.45 the decoder finds no code at all. */
const BLUR_MOST_MM = 0.35;
/** Cards tapped within 2 px stayed below 0.042 in 99 of 100; a business card of 88.9 × 50.8 mm has 0.08, one of 90 × 50 has 0.11, a square 0.42. */
const MISFIT_MOST = 0.05;

/** What speaks against a scale, gravest first; none when it may be used. */
export function scaleFaults(scale: Scale): ScaleFault[] {
  const { photo, corners, tiltDeg, fit, mark } = scale;
  // What is no number is within no limit.
  const isFound: Record<ScaleFault, boolean> = {
    cutOff: corners.some(([x, y]) => x < 1 || y < 1 || x > photo.widthPx - 1 || y > photo.heightPx - 1),
    cornersOff: mark.kind === 'card' && !(shapeMisfit(scale) <= MISFIT_MOST),
    outOfPlane: !((fit.bendMm ?? 0) <= BEND_MOST_MM),
    tooOblique: !(tiltDeg <= TILT_MOST_DEG),
    blurred: !((fit.blurMm ?? 0) <= BLUR_MOST_MM),
    tooSmall:
      !(pxPerMm(scale, middleOf(corners)) >= PX_PER_MM_LEAST) ||
      !(Math.min(...trialWounds(scale).map((wound) => areaThrough(scale, wound).errorShare)) <= SCALE_ERROR_MOST),
  };
  return SCALE_FAULTS.filter((fault) => isFound[fault]);
}
