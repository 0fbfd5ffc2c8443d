import { correction, generate, mode } from 'lean-qr';
import { PART_HEAD, partsOf, type SetKind } from './code-sequence.ts';
import { fold, signedDigits } from './envelope.ts';
import { planLink } from './plan-file.ts';

/** The largest code that is shown: 113 modules a side, which phones still read in one go. */
export const VERSION_MOST = 24;
/** Clear modules around a code (ISO/IEC 18004, from memory). */
export const QUIET_MODULES = 4;
/** On paper a module is at least this wide; 121 of them with the quiet zone make 60.5 mm. */
export const MODULE_MM_LEAST = 0.5;

/** Data codewords of version 24 at level M, in bits (ISO/IEC 18004, table 7, from memory; the tests hold it against the writer). */
const BITS_24_M = 914 * 8;
/** Mode and length of a byte segment and of a numeric segment in versions 10 to 26. */
const SEGMENT_BITS = 4 + 16 + 4 + 12;

/** How many digits fit after a beginning of so many letters. */
const digitsAfter = (letters: number): number => Math.floor((BITS_24_M - SEGMENT_BITS - 8 * letters) / 10) * 3;

/** A QR code: `dark(x, y)` for 0 ≤ x, y < `size`, without the quiet zone. */
export interface Code {
  /** The text it holds. */
  text: string;
  version: number;
  size: number;
  dark: (x: number, y: number) => boolean;
}

const PRINTABLE = /^[\x20-\x7e]+$/;

/**
 * Draws a QR code at error correction M; the digits of a plan go into a
 * segment of their own, at ten bits for three.
 * @throws RangeError for a text with letters beyond ASCII, which decoders read in different ways; a link has none.
 * @throws when the text does not fit version 40.
 */
export function drawCode(text: string): Code {
  if (!PRINTABLE.test(text)) throw new RangeError('only printable ASCII goes into a code');
  const bitmap = generate(text, {
    minCorrectionLevel: correction.M,
    maxCorrectionLevel: correction.M,
    modes: [mode.numeric, mode.ascii],
  });
  return { text, version: (bitmap.size - 17) / 4, size: bitmap.size, dark: (x, y) => bitmap.get(x, y) };
}

/** The dark modules as one path for an SVG whose view box is `0 0 size size`, row by row. */
export function pathOf({ size, dark }: Code): string {
  let path = '';
  for (let y = 0; y < size; y++) {
    for (let x = 0; x < size; ) {
      let run = 0;
      while (x + run < size && dark(x + run, y)) run++;
      if (run > 0) path += `M${x} ${y}h${run}v1h${-run}z`;
      x += run + 1;
    }
  }
  return path;
}

/**
 * The QR codes of a signed plan: one where it fits into version 24 at level M,
 * else a numbered set, each a link that opens the app.
 * @param jws from `signPlan`.
 * @param address of the app.
 * @returns undefined when it would be too many codes; hand over the file instead.
 * @throws RangeError for a JWS that is not of `signPlan`.
 */
export function codesFor(jws: string, address: string): Code[] | undefined {
  const bytes = fold(jws);
  const single = signedDigits(jws);
  if (!bytes || !single) throw new RangeError('not a plan signed here');
  const letters = planLink('', address).length;
  if (single.length - 1 <= digitsAfter(letters + 1)) return [drawCode(planLink(single, address))];
  return setOfCodes(bytes, (part) => planLink(part, address));
}

/**
 * A numbered set of QR codes for some bytes, none larger than version 24 at level M.
 * @param link the text of a code for a part; the same letters before every one, the part at its end.
 * @returns undefined when it would be too many codes.
 */
export function setOfCodes(bytes: Uint8Array, link: (part: string) => string, kind?: SetKind): Code[] | undefined {
  // The numbers before a part's digits are digits too; its own first letter is the one before them.
  const parts = partsOf(bytes, digitsAfter(link('').length + 1) - (PART_HEAD - 1), kind);
  return parts?.map((part) => drawCode(link(part)));
}
