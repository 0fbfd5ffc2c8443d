import { crc32 } from './bytes.ts';
import { DIGITS_MOST, fromDigits, toDigits } from './digits.ts';

/**
 * A plan too large for one QR code is shown as several, numbered. Each holds
 * `p`, two digits for its number, two for how many there are, ten for the
 * CRC-32 of the whole, and the digits of its share of the bytes. The check
 * number tells sets apart and, at the end, that the whole came together right.
 */
const PART = /^p(\d{2})(\d{2})(\d{10})([1-9]\d*)$/;
/** More codes than this nobody holds a phone to; such a plan travels as a file. */
export const PARTS_MOST = 12;
/** The letter and the numbers before the digits of a part. */
export const PART_HEAD = 15;

const two = (n: number): string => String(n).padStart(2, '0');

/** Most bytes whose digits, with the leading one, surely fit into so many. */
const bytesIn = (digits: number): number => Math.floor((digits - 1) / Math.log10(256));

/**
 * Cuts bytes into two or more parts of about the same length.
 * @param digitsMost how many digits a part may have after its head.
 * @returns undefined when it would be more than `PARTS_MOST`.
 */
export function partsOf(bytes: Uint8Array, digitsMost: number): string[] | undefined {
  const count = Math.max(2, Math.ceil(bytes.length / bytesIn(digitsMost)));
  if (count > PARTS_MOST) return undefined;
  const share = Math.ceil(bytes.length / count);
  const check = String(crc32(bytes)).padStart(10, '0');
  return Array.from({ length: count }, (_, i) => {
    const own = bytes.subarray(i * share, (i + 1) * share);
    return `p${two(i + 1)}${two(count)}${check}${toDigits(own)}`;
  });
}

export interface Part {
  number: number;
  count: number;
  /** Names the set. */
  set: string;
  digits: string;
}

/** Reads one part; undefined for anything else. */
export function readPart(text: string): Part | undefined {
  const [, number, count, set, digits] = PART.exec(text) ?? [];
  if (!number || !count || !set || !digits || digits.length > DIGITS_MOST) return undefined;
  const part = { number: Number(number), count: Number(count), set, digits };
  return part.number >= 1 && part.number <= part.count && part.count >= 2 && part.count <= PARTS_MOST ? part : undefined;
}

/** What has been collected of a set so far. */
export interface Collected {
  set: string;
  count: number;
  /** Digits by the part's number. */
  parts: Readonly<Record<number, string>>;
}

/**
 * What one more code did:
 * - `notAPart`: it is no part of anything; nothing changed.
 * - `added`: one more of the set. `repeat`: that one was there already.
 * - `foreign`: of another set; nothing changed. To go over to that set, collect it into `undefined`.
 * - `complete`: the last one; `text` is the whole, to be opened as any code.
 * - `damaged`: all are there, but they do not make the whole, or a number came twice with other content; the set starts again.
 */
export type Collecting =
  | { event: 'notAPart' | 'foreign' | 'added' | 'repeat'; state: Collected | undefined }
  | { event: 'damaged'; state: undefined }
  | { event: 'complete'; state: Collected; text: string };

/** The numbers of the parts that are still missing, lowest first. */
export const missingParts = ({ count, parts }: Collected): number[] =>
  Array.from({ length: count }, (_, i) => i + 1).filter((n) => !Object.hasOwn(parts, n));

/** Takes in one more code, in any order. Pure: `state` is what the last call gave, `undefined` at first. */
export function collect(state: Collected | undefined, text: string): Collecting {
  const part = readPart(text);
  if (!part) return { event: 'notAPart', state };
  if (state && (state.set !== part.set || state.count !== part.count)) return { event: 'foreign', state };
  const before = state?.parts ?? {};
  if (Object.hasOwn(before, part.number)) {
    return before[part.number] === part.digits ? { event: 'repeat', state } : { event: 'damaged', state: undefined };
  }
  const next: Collected = { set: part.set, count: part.count, parts: { ...before, [part.number]: part.digits } };
  if (missingParts(next).length > 0) return { event: 'added', state: next };
  const whole = wholeOf(next);
  return whole === undefined ? { event: 'damaged', state: undefined } : { event: 'complete', state: next, text: whole };
}

function wholeOf({ set, count, parts }: Collected): string | undefined {
  const bytes: number[] = [];
  for (let n = 1; n <= count; n++) {
    const own = fromDigits(parts[n] ?? '');
    if (!own) return undefined;
    bytes.push(...own);
  }
  const whole = Uint8Array.from(bytes);
  return crc32(whole) === Number(set) ? `s${toDigits(whole)}` : undefined;
}
