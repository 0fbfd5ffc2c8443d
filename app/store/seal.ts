import type { Seal, Sealed } from './shelf.ts';

/**
 * Values closed with AES-GCM, each with a random number of its own and bound to
 * its place, so that none can be read, altered or put in another's place
 * without it being noticed. Plain data goes as JSON, a photo as its type and bytes.
 */
const IV_BYTES = 12;
const KIND = { nothing: 0, data: 1, blob: 2 } as const;

const utf8 = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text) as Uint8Array<ArrayBuffer>;

function joined(...parts: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const all = new Uint8Array(parts.reduce((sum, p) => sum + p.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

async function packed(value: unknown): Promise<Uint8Array<ArrayBuffer>> {
  if (value === undefined) return Uint8Array.of(KIND.nothing);
  if (!(value instanceof Blob)) return joined(Uint8Array.of(KIND.data), utf8(JSON.stringify(value)));
  const type = utf8(value.type).subarray(0, 255);
  return joined(Uint8Array.of(KIND.blob, type.length), type, new Uint8Array(await value.arrayBuffer()));
}

function unpacked(bytes: Uint8Array<ArrayBuffer>): unknown {
  if (bytes[0] === KIND.nothing) return undefined;
  const text = (part: Uint8Array): string => new TextDecoder('utf-8', { fatal: true }).decode(part);
  if (bytes[0] === KIND.data) return JSON.parse(text(bytes.subarray(1)));
  const end = 2 + (bytes[1] ?? 0);
  return new Blob([bytes.subarray(end)], { type: text(bytes.subarray(2, end)) });
}

/**
 * @param id of the lock. @param key for AES-GCM; it need not be extractable.
 * `open` rejects for a value of another key or place, and for one that was altered.
 */
export function sealOf(id: string, key: CryptoKey): Seal {
  const rule = (place: string, iv: Uint8Array<ArrayBuffer>) => ({ name: 'AES-GCM', iv, additionalData: utf8(`${id} ${place}`) });
  return {
    id,
    async close(place, value): Promise<Sealed> {
      const iv = crypto.getRandomValues(new Uint8Array(IV_BYTES));
      return { sealed: 1, iv, bytes: await crypto.subtle.encrypt(rule(place, iv), key, await packed(value)) };
    },
    async open(place, { iv, bytes }) {
      return unpacked(new Uint8Array(await crypto.subtle.decrypt(rule(place, iv), key, bytes)));
    },
  };
}
