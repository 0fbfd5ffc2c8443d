import { fromBase64Url, toBase64Url } from './bytes.ts';

/** The public half of a clinic's key, as JWK has it (RFC 7517; EC keys RFC 7518, section 6.2). */
export interface PublicKey {
  kty: 'EC';
  crv: 'P-256';
  /** 32 bytes each, base64url. */
  x: string;
  y: string;
}

/** A clinic's key pair. The private key cannot be read out, only used. Both halves can be stored in IndexedDB. */
export interface ClinicKeys {
  privateKey: CryptoKey;
  publicKey: PublicKey;
  /** See `keyIdOf`. */
  keyId: string;
}

export const EC = { name: 'ECDSA', namedCurve: 'P-256' } as const;
const ES256 = { name: 'ECDSA', hash: 'SHA-256' } as const;
/** Bytes of an ES256 signature (RFC 7518, section 3.4) and of each half of a key. */
export const SIGNATURE_BYTES = 64;
export const COORDINATE_BYTES = 32;
const KEY_ID_BYTES = 8;

/** Web Crypto wants bytes of its own, not a view that may be shared. */
export const own = (bytes: Uint8Array): Uint8Array<ArrayBuffer> => new Uint8Array(bytes);
export const utf8 = (text: string): Uint8Array<ArrayBuffer> => own(new TextEncoder().encode(text));

/** A public key of any origin; undefined unless it is exactly a P-256 key by shape. Whether the point is on the curve shows at its use. */
export function readPublicKey(content: unknown): PublicKey | undefined {
  if (typeof content !== 'object' || content === null) return undefined;
  const { kty, crv, x, y } = content as Record<string, unknown>;
  if (kty !== 'EC' || crv !== 'P-256' || typeof x !== 'string' || typeof y !== 'string') return undefined;
  const isCoordinate = (text: string): boolean => text.length < 50 && fromBase64Url(text)?.length === COORDINATE_BYTES;
  return isCoordinate(x) && isCoordinate(y) ? { kty, crv, x, y } : undefined;
}

export const sameKey = (a: PublicKey, b: PublicKey): boolean => a.x === b.x && a.y === b.y;

/** What a JWK thumbprint is taken of: the required members in order (RFC 7638, section 3). */
export const thumbprintText = ({ x, y }: PublicKey): string => JSON.stringify({ crv: 'P-256', kty: 'EC', x, y });

/** The name of a key: the first 8 bytes of its SHA-256 thumbprint (RFC 7638), base64url. */
export async function keyIdOf(key: PublicKey): Promise<string> {
  const hash = await crypto.subtle.digest('SHA-256', utf8(thumbprintText(key)));
  return toBase64Url(new Uint8Array(hash, 0, KEY_ID_BYTES));
}

/** The ES256 signature of a text. */
export async function sign(text: string, keys: ClinicKeys): Promise<Uint8Array> {
  return new Uint8Array(await crypto.subtle.sign(ES256, keys.privateKey, utf8(text)));
}

/** Whether a signature was made of this text with the private half of this key. Never throws: a point off the curve verifies nothing. */
export async function verify(text: string, signature: Uint8Array, key: PublicKey): Promise<boolean> {
  if (signature.length !== SIGNATURE_BYTES) return false;
  try {
    const imported = await crypto.subtle.importKey('jwk', { ...key }, EC, false, ['verify']);
    return await crypto.subtle.verify(ES256, imported, own(signature), utf8(text));
  } catch {
    return false;
  }
}
