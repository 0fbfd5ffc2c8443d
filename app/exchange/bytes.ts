import { deflateSync, Inflate } from 'fflate';

/** The most a packed plan may unfold to; a bomb is stopped while it unfolds, not after. */
export const UNPACKED_MOST = 1_000_000;
/** How much is unfolded at a time: one slice of deflate can grow a thousandfold. */
const SLICE = 256;

/** Bytes as base64url without padding (RFC 4648, section 5). */
export function toBase64Url(bytes: Uint8Array): string {
  let binary = '';
  for (const byte of bytes) binary += String.fromCharCode(byte);
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

/** @returns undefined when the text is not base64url. */
export function fromBase64Url(text: string): Uint8Array | undefined {
  if (!/^[A-Za-z0-9_-]*$/.test(text) || text.length % 4 === 1) return undefined;
  const binary = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
  return Uint8Array.from(binary, (c) => c.charCodeAt(0));
}

/** Raw deflate (RFC 1951) of a text in UTF-8. */
export const pack = (text: string): Uint8Array => deflateSync(new TextEncoder().encode(text), { level: 9 });

/**
 * Undoes `pack`.
 * @returns the text, or undefined when the bytes are damaged, not UTF-8, or
 * unfold to more than `most` bytes.
 */
export function unpack(bytes: Uint8Array, most: number = UNPACKED_MOST): string | undefined {
  const parts: Uint8Array[] = [];
  let size = 0;
  let finished = false;
  const inflate = new Inflate((part, final) => {
    size += part.length;
    if (size <= most) parts.push(part);
    finished = final;
  });
  try {
    for (let at = 0; at < bytes.length || at === 0; at += SLICE) {
      inflate.push(bytes.subarray(at, at + SLICE), at + SLICE >= bytes.length);
      if (size > most) return undefined;
    }
    if (!finished) return undefined;
    const whole = new Uint8Array(size);
    let offset = 0;
    for (const part of parts) {
      whole.set(part, offset);
      offset += part.length;
    }
    return new TextDecoder('utf-8', { fatal: true }).decode(whole);
  } catch {
    return undefined;
  }
}
