import { own, utf8 } from './signature.ts';

/** Rounds of PBKDF2-SHA-256 [OWASP password storage advice: 600,000]. */
export const PASSPHRASE_ROUNDS = 600_000;
/** More would hang the device, fewer were never written. */
const ROUNDS_MOST = 5_000_000;
/** A shorter passphrase is guessed by whoever finds the file. */
export const PASSPHRASE_LEAST = 10;
export const SALT_BYTES = 16;

/** The same letters typed on another keyboard are the same passphrase. */
const normal = (passphrase: string): string => passphrase.normalize('NFKC');

export const isLongEnough = (passphrase: string): boolean => normal(passphrase).length >= PASSPHRASE_LEAST;

/** Whether a file may ask for so many rounds. */
export const areRounds = (value: unknown): value is number =>
  Number.isInteger(value) && (value as number) >= PASSPHRASE_ROUNDS && (value as number) <= ROUNDS_MOST;

/** The AES-GCM key of a passphrase. It cannot be read out. */
export async function passphraseKey(passphrase: string, salt: Uint8Array, iterations: number): Promise<CryptoKey> {
  const base = await crypto.subtle.importKey('raw', utf8(normal(passphrase)), 'PBKDF2', false, ['deriveKey']);
  const rule = { name: 'PBKDF2', hash: 'SHA-256', salt: own(salt), iterations };
  return crypto.subtle.deriveKey(rule, base, { name: 'AES-GCM', length: 256 }, false, ['encrypt', 'decrypt']);
}
