import { deflateSync, Inflate } from 'fflate';

/** The most a packed plan may unfold to; a bomb is stopped while it unfolds, not after. */
export const UNPACKED_MOST = 1_000_000;
/** How much is unfolded at a time: one slice of deflate can grow a thousandfold. */
const SLICE = 256;

/** How many bytes become letters at a time: more would be too many arguments for one call. */
const LETTERS_AT_ONCE = 0x8000;

/** Bytes as base64 with padding (RFC 4648, section 4). */
export function toBase64(bytes: Uint8Array): string {
  let binary = '';
  for (let at = 0; at < bytes.length; at += LETTERS_AT_ONCE) {
    binary += String.fromCharCode(...bytes.subarray(at, at + LETTERS_AT_ONCE));
  }
  return btoa(binary);
}

/** Bytes of base64 with padding; undefined for any other text. */
export function fromBase64(text: string): Uint8Array<ArrayBuffer> | undefined {
  if (text.length % 4 !== 0 || !/^[A-Za-z0-9+/]*={0,2}$/.test(text)) return undefined;
  const binary = atob(text);
  const bytes = new Uint8Array(binary.length);
  for (let i = 0; i < binary.length; i++) bytes[i] = binary.charCodeAt(i);
  return bytes;
}

/** Bytes as base64url without padding (RFC 4648, section 5). */
export const toBase64Url = (bytes: Uint8Array): string => toBase64(bytes).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');

/** Bytes of base64url in its only proper spelling, spare bits nought; undefined for any other text. */
export function fromBase64Url(text: string): Uint8Array | undefined {
  if (!/^[A-Za-z0-9_-]*$/.test(text) || text.length % 4 === 1) return undefined;
  const binary = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
  const bytes = Uint8Array.from(binary, (c) => c.charCodeAt(0));
  // The last letter can carry bits that say nothing; a changed one is damage all the same.
  return toBase64Url(bytes) === text ? bytes : undefined;
}

/** Bytes one after the other. */
export function joinBytes(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, p) => sum + p.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

/** Raw deflate (RFC 1951) of a text in UTF-8, with a preset dictionary if one is given. */
export const pack = (text: string, dictionary?: Uint8Array): Uint8Array =>
  deflateSync(new TextEncoder().encode(text), { level: 9, ...(dictionary ? { dictionary } : {}) });

/**
 * Undoes `pack`.
 * @returns the text, or undefined when the bytes are damaged, not UTF-8, or
 * unfold to more than `most` bytes.
 * @param dictionary the preset dictionary it was packed with, if any.
 */
export function unpack(bytes: Uint8Array, most: number = UNPACKED_MOST, dictionary?: Uint8Array): string | undefined {
  if (bytes.length === 0) return undefined;
  const parts: Uint8Array[] = [];
  let size = 0;
  let finished = false;
  const inflate = new Inflate(dictionary ? { dictionary } : {}, (part, final) => {
    size += part.length;
    if (size <= most) parts.push(part);
    finished = final;
  });
  try {
    for (let at = 0; at < bytes.length; at += SLICE) {
      inflate.push(bytes.subarray(at, at + SLICE), at + SLICE >= bytes.length);
      if (size > most) return undefined;
    }
    if (!finished) return undefined;
    return new TextDecoder('utf-8', { fatal: true }).decode(joinBytes(parts));
  } catch {
    return undefined;
  }
}

const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let bit = 0; bit < 8; bit++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c;
});

/**
 * The CRC-32 of some bytes, as gzip has it (RFC 1952, section 8).
 * @param before that of the bytes that came before these.
 */
export function crc32(bytes: Uint8Array, before = 0): number {
  let crc = before ^ 0xffffffff;
  for (const byte of bytes) crc = (CRC_TABLE[(crc ^ byte) & 0xff] as number) ^ (crc >>> 8);
  return (crc ^ 0xffffffff) >>> 0;
}

const CHECK_BYTES = 4;
const checkOf = (text: string): number => crc32(new TextEncoder().encode(text));

/**
 * Packs a text with a check number behind it, because deflate notices most
 * damage but not all: without one, 3 in 100 changes of a single letter of a
 * code gave another readable plan, some of them with another phone number.
 */
export function seal(text: string): Uint8Array {
  const packed = pack(text);
  const sealed = new Uint8Array(packed.length + CHECK_BYTES);
  sealed.set(packed);
  new DataView(sealed.buffer).setUint32(packed.length, checkOf(text));
  return sealed;
}

/**
 * Undoes `seal`.
 * @returns the text, or undefined when the bytes are damaged in any way.
 */
export function unseal(bytes: Uint8Array): string | undefined {
  if (bytes.length <= CHECK_BYTES) return undefined;
  const end = bytes.length - CHECK_BYTES;
  const text = unpack(bytes.subarray(0, end));
  const check = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getUint32(end);
  return text !== undefined && checkOf(text) === check ? text : undefined;
}
