import { fromBase64Url, toBase64Url } from './bytes.ts';
import { areRounds, isLongEnough, PASSPHRASE_ROUNDS, passphraseKey, SALT_BYTES } from './passphrase.ts';
import { field, fieldsOf, parseJson } from './plan-json.ts';
import { type ClinicKeys, EC, keyIdOf, own, type PublicKey, readPublicKey, sign, thumbprintText, utf8, verify } from './signature.ts';

const IV_BYTES = 12;
const FILE_MOST = 10_000;

const KIND = 'clinicKeys';
const VERSION = 1;

/** The pair from the private key's bytes, from then on without a way to read it out. */
async function keep(pkcs8: Uint8Array<ArrayBuffer>, publicKey: PublicKey): Promise<ClinicKeys> {
  const privateKey = await crypto.subtle.importKey('pkcs8', pkcs8, EC, false, ['sign']);
  return { privateKey, publicKey, keyId: await keyIdOf(publicKey) };
}

/**
 * Makes a clinic's key pair, once per clinic.
 * @param passphrase locks the file; at least `PASSPHRASE_LEAST` letters.
 * @returns the pair to keep on this device, its private half not readable, and
 * the text of a locked file that brings the same pair to a second device. The
 * file cannot be made again later.
 * @throws RangeError for a shorter passphrase.
 */
export async function makeKeys(passphrase: string): Promise<{ keys: ClinicKeys; file: string }> {
  if (!isLongEnough(passphrase)) throw new RangeError('the passphrase is too short');
  const pair = await crypto.subtle.generateKey(EC, true, ['sign', 'verify']);
  const publicKey = readPublicKey(await crypto.subtle.exportKey('jwk', pair.publicKey));
  if (!publicKey) throw new Error('the browser made no P-256 key');
  const pkcs8 = new Uint8Array(await crypto.subtle.exportKey('pkcs8', pair.privateKey));
  const salt = crypto.getRandomValues(new Uint8Array(SALT_BYTES));
  const iv = crypto.getRandomValues(new Uint8Array(IV_BYTES));
  const lock = await passphraseKey(passphrase, salt, PASSPHRASE_ROUNDS);
  // The public key is bound to the private one: a file with another public key does not open.
  const rule = { name: 'AES-GCM', iv, additionalData: utf8(thumbprintText(publicKey)) };
  const locked = new Uint8Array(await crypto.subtle.encrypt(rule, lock, pkcs8));
  const keys = await keep(pkcs8, publicKey);
  pkcs8.fill(0);
  const content = {
    tendbook: KIND,
    version: VERSION,
    keyId: keys.keyId,
    publicKey,
    lock: { name: 'PBKDF2', hash: 'SHA-256', iterations: PASSPHRASE_ROUNDS, salt: toBase64Url(salt) },
    cipher: { name: 'AES-GCM', iv: toBase64Url(iv) },
    locked: toBase64Url(locked),
  };
  return { keys, file: `${JSON.stringify(content, null, 2)}\n` };
}

export type KeysArrival = { ok: true; keys: ClinicKeys } | { ok: false; why: 'notKeys' | 'newerVersion' | 'damaged' | 'wrongPassphrase' };

interface LockedKeys {
  publicKey: PublicKey;
  salt: Uint8Array;
  iv: Uint8Array;
  locked: Uint8Array;
  iterations: number;
}

function readLocked(content: Readonly<Record<string, unknown>>): LockedKeys | undefined {
  const bytes = (value: unknown): Uint8Array | undefined => (typeof value === 'string' ? fromBase64Url(value) : undefined);
  const publicKey = readPublicKey(field(content, 'publicKey'));
  const lock = fieldsOf(field(content, 'lock'));
  const cipher = fieldsOf(field(content, 'cipher'));
  const salt = bytes(field(lock, 'salt'));
  const iv = bytes(field(cipher, 'iv'));
  const locked = bytes(field(content, 'locked'));
  const iterations = field(lock, 'iterations');
  const known = field(lock, 'name') === 'PBKDF2' && field(lock, 'hash') === 'SHA-256' && field(cipher, 'name') === 'AES-GCM';
  if (!known || !publicKey || salt?.length !== SALT_BYTES || iv?.length !== IV_BYTES || !locked) return undefined;
  return areRounds(iterations) ? { publicKey, salt, iv, locked, iterations } : undefined;
}

/**
 * Opens a locked key file on another device. Never throws. A wrong passphrase
 * and a changed file cannot be told apart beyond the file's shape.
 */
export async function openKeys(file: string, passphrase: string): Promise<KeysArrival> {
  const content = file.length > FILE_MOST ? undefined : fieldsOf(parseJson(file));
  if (!content || field(content, 'tendbook') !== KIND) return { ok: false, why: 'notKeys' };
  const version = field(content, 'version');
  if (typeof version === 'number' && version > VERSION) return { ok: false, why: 'newerVersion' };
  const read = version === VERSION ? readLocked(content) : undefined;
  if (!read) return { ok: false, why: 'damaged' };
  const lock = await passphraseKey(passphrase, read.salt, read.iterations);
  const rule = { name: 'AES-GCM', iv: own(read.iv), additionalData: utf8(thumbprintText(read.publicKey)) };
  let pkcs8: Uint8Array<ArrayBuffer>;
  try {
    pkcs8 = new Uint8Array(await crypto.subtle.decrypt(rule, lock, own(read.locked)));
  } catch {
    return { ok: false, why: 'wrongPassphrase' };
  }
  try {
    const keys = await keep(pkcs8, read.publicKey);
    const belongs = await verify('probe', await sign('probe', keys), read.publicKey);
    return belongs ? { ok: true, keys } : { ok: false, why: 'damaged' };
  } catch {
    return { ok: false, why: 'damaged' };
  } finally {
    pkcs8.fill(0);
  }
}
