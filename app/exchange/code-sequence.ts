import { crc32 } from './bytes.ts';
import { DIGITS_MOST, fromDigits, toDigits } from './digits.ts';

/**
 * What is too large for one QR code is shown as several, numbered. Each holds
 * a letter for what it is, two digits for its number, two for how many there
 * are, ten for the CRC-32 of the whole, and the digits of its share of the
 * bytes. The check number tells sets apart and, at the end, that the whole
 * came together right.
 */
const PART = /^([a-z])(\d{2})(\d{2})(\d{10})([1-9]\d*)$/;

/** A kind of set. */
export interface SetKind {
  letter: string;
  /** How many codes a set of it has. */
  least: number;
  most: number;
}

/** More codes than this nobody holds a phone to; such a plan travels as a file. */
export const PARTS_MOST = 12;
/** A plan that fits one code is no set. */
const PLAN: SetKind = { letter: 'p', least: 2, most: PARTS_MOST };
/**
 * A log is scanned from a screen that turns the codes by itself, so it may be
 * longer: 24 codes hold about three months with a check a day, and pass by in
 * under a minute. A short one is a set of one.
 */
export const LOG: SetKind = { letter: 'l', least: 1, most: 24 };
/** The letter and the numbers before the digits of a part. */
export const PART_HEAD = 15;

const two = (n: number): string => String(n).padStart(2, '0');

/** Most bytes whose digits, with the leading one, surely fit into so many. */
const bytesIn = (digits: number): number => Math.floor((digits - 1) / Math.log10(256));

/**
 * Cuts bytes into parts of about the same length.
 * @param digitsMost how many digits a part may have after its head.
 * @returns undefined when it would be more than a set of this kind may have.
 */
export function partsOf(bytes: Uint8Array, digitsMost: number, kind: SetKind = PLAN): string[] | undefined {
  const count = Math.max(kind.least, Math.ceil(bytes.length / bytesIn(digitsMost)));
  if (count > kind.most) return undefined;
  const share = Math.ceil(bytes.length / count);
  const check = String(crc32(bytes)).padStart(10, '0');
  return Array.from({ length: count }, (_, i) => {
    const own = bytes.subarray(i * share, (i + 1) * share);
    return `${kind.letter}${two(i + 1)}${two(count)}${check}${toDigits(own)}`;
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
export function readPart(text: string, kind: SetKind = PLAN): Part | undefined {
  const [, letter, number, count, set, digits] = PART.exec(text) ?? [];
  if (letter !== kind.letter || !number || !count || !set || !digits || digits.length > DIGITS_MOST) return undefined;
  const part = { number: Number(number), count: Number(count), set, digits };
  return part.number >= 1 && part.number <= part.count && part.count >= kind.least && part.count <= kind.most ? part : undefined;
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
 * - `notAPart`: it is no part of such a set; nothing changed.
 * - `added`: one more of the set. `repeat`: that one was there already.
 * - `foreign`: of another set; nothing changed. To go over to that set, collect it into `undefined`.
 * - `complete`: the last one; `bytes` is the whole.
 * - `damaged`: all are there, but they do not make the whole, or a number came twice with other content; the set starts again.
 */
export type CollectingBytes =
  | { event: 'notAPart' | 'foreign' | 'added' | 'repeat'; state: Collected | undefined }
  | { event: 'damaged'; state: undefined }
  | { event: 'complete'; state: Collected; bytes: Uint8Array };

/** The same for a plan, whose whole is a text, to be opened as any code. */
export type Collecting = Exclude<CollectingBytes, { event: 'complete' }> | { event: 'complete'; state: Collected; text: string };

/** The numbers of the parts that are still missing, lowest first. */
export const missingParts = ({ count, parts }: Collected): number[] =>
  Array.from({ length: count }, (_, i) => i + 1).filter((n) => !Object.hasOwn(parts, n));

/** Takes in one more code, in any order. Pure: `state` is what the last call gave, `undefined` at first. */
export function collectBytes(state: Collected | undefined, text: string, kind: SetKind): CollectingBytes {
  const part = readPart(text, kind);
  if (!part) return { event: 'notAPart', state };
  if (state && (state.set !== part.set || state.count !== part.count)) return { event: 'foreign', state };
  const before = state?.parts ?? {};
  if (Object.hasOwn(before, part.number)) {
    return before[part.number] === part.digits ? { event: 'repeat', state } : { event: 'damaged', state: undefined };
  }
  const next: Collected = { set: part.set, count: part.count, parts: { ...before, [part.number]: part.digits } };
  if (missingParts(next).length > 0) return { event: 'added', state: next };
  const bytes = wholeOf(next);
  return bytes === undefined ? { event: 'damaged', state: undefined } : { event: 'complete', state: next, bytes };
}

/** Takes in one more code of a plan; see `collectBytes`. */
export function collect(state: Collected | undefined, text: string): Collecting {
  const step = collectBytes(state, text, PLAN);
  return step.event === 'complete' ? { event: step.event, state: step.state, text: `s${toDigits(step.bytes)}` } : step;
}

function wholeOf({ set, count, parts }: Collected): Uint8Array | undefined {
  const bytes: number[] = [];
  for (let n = 1; n <= count; n++) {
    const own = fromDigits(parts[n] ?? '');
    if (!own) return undefined;
    bytes.push(...own);
  }
  const whole = Uint8Array.from(bytes);
  return crc32(whole) === Number(set) ? whole : undefined;
}
