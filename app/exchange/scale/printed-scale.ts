import { type Code, drawCode, pathOf, QUIET_MODULES } from '../qr-write.ts';
import { SCALE_SIDE_MM, scaleCodeText } from './scale-text.ts';

/** What is printed: the code, and how wide its picture is with the quiet zone so that the dark square has its true side. */
export interface PrintedScale {
  code: Code;
  path: string;
  sideMm: number;
  /** With the quiet zone on both sides. */
  pictureMm: number;
}

export function printedScale(sideMm: number = SCALE_SIDE_MM): PrintedScale {
  const code = drawCode(scaleCodeText(sideMm));
  return { code, path: pathOf(code), sideMm, pictureMm: (sideMm * (code.size + 2 * QUIET_MODULES)) / code.size };
}
