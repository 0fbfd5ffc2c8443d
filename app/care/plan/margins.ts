import type { WoundSize } from './clinic-view.ts';

/** Width and height of a dressing, mm. */
export interface PadSize {
  widthMm: number;
  heightMm: number;
}

/** A pad reaches an inch beyond the wound on each side [EV-LCD-05, CGS and Noridian: about two inches greater than the wound]. */
export const MARGIN_MM = 25.4;

/** Usual sizes of pads and sheets, smallest first (common practice; packets differ). */
export const USUAL_SIZES_MM: readonly PadSize[] = [
  [50, 50],
  [75, 75],
  [100, 100],
  [125, 125],
  [100, 200],
  [150, 150],
  [150, 200],
  [200, 200],
  [200, 300],
].map(([widthMm, heightMm]) => ({ widthMm, heightMm }) as PadSize);

const short = (size: PadSize): number => Math.min(size.widthMm, size.heightMm);
const long = (size: PadSize): number => Math.max(size.widthMm, size.heightMm);

/** Whether a dressing is at least as large as `least`; it may be turned. */
export const reaches = (own: PadSize, least: PadSize): boolean => short(own) >= short(least) && long(own) >= long(least);

/**
 * The least pad for a wound: length and width with the margin on each side, to
 * 0.1 mm, the shorter side as the width.
 */
export function leastPad(wound: WoundSize): PadSize {
  const side = (mm: number): number => Math.round((mm + 2 * MARGIN_MM) * 10) / 10;
  return { widthMm: side(Math.min(wound.lengthMm, wound.widthMm)), heightMm: side(Math.max(wound.lengthMm, wound.widthMm)) };
}

/** The smallest usual size that is at least as large; undefined where none is. */
export const usualSizeFor = (least: PadSize): PadSize | undefined => USUAL_SIZES_MM.find((own) => reaches(own, least));

/** The smallest usual pad that covers a wound with its margin. */
export const usualPadFor = (wound: WoundSize): PadSize | undefined => usualSizeFor(leastPad(wound));

/** The smallest usual sheet that covers the wound itself. */
export const usualSheetFor = (wound: WoundSize): PadSize | undefined => usualSizeFor({ widthMm: wound.widthMm, heightMm: wound.lengthMm });
