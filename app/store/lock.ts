import { del, getMany, keys, set, type UseStore, update } from 'idb-keyval';
import * as z from 'zod/mini';
import { readBooks, readSettings, SETTINGS_KEY } from './book.ts';
import { FRONT_KEY, keepFront } from './front.ts';
import { sealOf } from './seal.ts';
import { assertWritable, isSealed, LOCK_KEY, type Seal, type Shelf, storedLock, VERSION_KEY } from './shelf.ts';
import { isSame, placeOf, readAll, type StoreName } from './values.ts';

/**
 * A passcode on the phone's stores. A random key closes every value; it is kept
 * wrapped with a key derived from the passcode, and held in memory only so that
 * it cannot be read out. Honest limit: a short code falls to whoever copies the
 * stores and can try many a second, so it guards against a borrowed phone.
 */
const lockSchema = z.object({
  version: z.literal(1),
  id: z.string(),
  salt: z.custom<Uint8Array<ArrayBuffer>>((v) => v instanceof Uint8Array),
  rounds: z.int().check(z.minimum(1)),
  iv: z.custom<Uint8Array<ArrayBuffer>>((v) => v instanceof Uint8Array),
  wrapped: z.custom<ArrayBuffer>((v) => Object.prototype.toString.call(v) === '[object ArrayBuffer]'),
  /** `closing`: not all values are closed yet; `opening`: the passcode is being taken away. */
  state: z.enum(['closing', 'on', 'opening']),
  /** Minutes without use after which the app locks itself. */
  after: z.catch(z.int().check(z.minimum(1), z.maximum(24 * 60)), 5),
  wrong: z.catch(z.int().check(z.nonnegative()), 0),
  /** When the last wrong passcode was given, ms. */
  wrongAt: z.catch(z.number(), 0),
  /** Wrong passcodes in a row after which everything is erased; never unless the person asked for it. */
  eraseAfter: z.catch(z.optional(z.int().check(z.minimum(5), z.maximum(100))), undefined),
});
export type Lock = z.infer<typeof lockSchema>;

/** Rounds of PBKDF2-SHA-256 [OWASP password storage advice: 600,000]. */
const ROUNDS = 600_000;
/** So few are typed in a minute. */
export const PASSCODE_LEAST = 6;
/** Wrong passcodes before there is a pause, and the pause, longer with each. */
const FREE_TRIES = 5;
const PAUSE_MS = 30_000;
const PAUSE_MOST_MS = 15 * 60_000;
/** What erases itself does so after so many. */
export const ERASE_AFTER = 10;

export const readLock = (value: unknown): Lock | undefined => {
  const parsed = lockSchema.safeParse(value);
  return parsed.success ? parsed.data : undefined;
};

const utf8 = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text) as Uint8Array<ArrayBuffer>;
const random = (count: number): Uint8Array<ArrayBuffer> => crypto.getRandomValues(new Uint8Array(count));
const GCM = { name: 'AES-GCM', length: 256 } as const;

/** The key that wraps the key. The same letters typed on another keyboard are the same passcode. */
async function wrapper(passcode: string, { salt, rounds }: Pick<Lock, 'salt' | 'rounds'>): Promise<CryptoKey> {
  const base = await crypto.subtle.importKey('raw', utf8(passcode.normalize('NFKC')), 'PBKDF2', false, ['deriveKey']);
  return crypto.subtle.deriveKey({ name: 'PBKDF2', hash: 'SHA-256', salt, iterations: rounds }, base, GCM, false, ['wrapKey', 'unwrapKey']);
}

/** The key that closes the values; undefined when the passcode is wrong. */
async function unwrapped(lock: Lock, passcode: string, extractable: boolean): Promise<CryptoKey | undefined> {
  const rule = { name: 'AES-GCM', iv: lock.iv };
  return crypto.subtle
    .unwrapKey('raw', lock.wrapped, await wrapper(passcode, lock), rule, GCM, extractable, ['encrypt', 'decrypt'])
    .catch(() => undefined);
}

async function wrapped(key: CryptoKey, passcode: string, rounds: number): Promise<Pick<Lock, 'salt' | 'rounds' | 'iv' | 'wrapped'>> {
  const [salt, iv] = [random(16), random(12)];
  const bytes = await crypto.subtle.wrapKey('raw', key, await wrapper(passcode, { salt, rounds }), { name: 'AES-GCM', iv });
  return { salt, rounds, iv, wrapped: bytes };
}

/** What stays in the clear: the version, the lock itself, and what the locked screen shows. */
const OPEN_KEYS: readonly string[] = [VERSION_KEY, LOCK_KEY, FRONT_KEY];
const STORES: readonly StoreName[] = ['book', 'log', 'photos'];

/** Turns every value over, one by one; can be broken off and run again. */
async function turnAll(shelf: Shelf, turn: (place: string, value: unknown) => Promise<unknown>, isDone: (value: unknown) => boolean) {
  for (const store of STORES) {
    const own: UseStore = shelf[store];
    for (const key of (await keys(own)).map(String)) {
      if (store === 'book' && OPEN_KEYS.includes(key)) continue;
      for (;;) {
        const [old] = await getMany<unknown>([key], own);
        if (old === undefined || isDone(old)) break;
        const next = await turn(placeOf(store, key), old);
        await update<unknown>(key, (now) => (isSame(now, old) ? next : now), own);
      }
    }
  }
}

const closeAll = (shelf: Shelf, seal: Seal): Promise<void> => turnAll(shelf, (place, value) => seal.close(place, value), isSealed);
const openAll = (shelf: Shelf, seal: Seal): Promise<void> =>
  turnAll(
    shelf,
    (place, value) => (isSealed(value) ? seal.open(place, value) : Promise.resolve(value)),
    (value) => !isSealed(value),
  );

const keepLock = (shelf: Shelf, lock: Lock): Promise<void> => set(LOCK_KEY, lock, shelf.book);

/**
 * Puts a passcode on the phone and closes everything it keeps.
 * @param id of the new lock, random.
 * @throws RangeError for a passcode that is too short.
 */
export async function setPasscode(shelf: Shelf, passcode: string, id: string, rounds = ROUNDS): Promise<void> {
  if (passcode.length < PASSCODE_LEAST) throw new RangeError('too short');
  await assertWritable(shelf);
  const key = await crypto.subtle.generateKey(GCM, true, ['encrypt', 'decrypt']);
  const own = await wrapped(key, passcode, rounds);
  const lock: Lock = { version: 1, id, ...own, state: 'closing', after: 5, wrong: 0, wrongAt: 0, eraseAfter: undefined };
  const held = await unwrapped(lock, passcode, false);
  if (!held) throw new Error('the key could not be wrapped');
  // Before the lock: a phone that goes off in between must still show whom to call.
  const kept = await readAll(shelf, 'book');
  await keepFront(shelf, readSettings(kept.get(SETTINGS_KEY)), readBooks(kept).books);
  await keepLock(shelf, lock);
  shelf.seal = sealOf(id, held);
  await closeAll(shelf, shelf.seal);
  // What another tab wrote just before it noticed the lock.
  await closeAll(shelf, shelf.seal);
  await keepLock(shelf, { ...lock, state: 'on' });
}

export type Unlocking =
  | { opened: true }
  | { opened: false; why: 'wrong'; wrong: number }
  /** Too many tries: the passcode was not even looked at. */
  | { opened: false; why: 'wait'; waitMs: number }
  | { opened: false; why: 'erase' };

/** How long to wait before the next try, ms; 0 when it may be made now. */
export function waitOf(lock: Pick<Lock, 'wrong' | 'wrongAt'>, now: number): number {
  if (lock.wrong < FREE_TRIES) return 0;
  const pause = Math.min(PAUSE_MOST_MS, PAUSE_MS * 2 ** (lock.wrong - FREE_TRIES));
  const since = now - lock.wrongAt;
  // A clock that was set back must not lock anybody out for longer than the pause.
  return since < 0 || since >= pause ? 0 : pause - since;
}

/**
 * Opens a locked phone, and finishes what was broken off when the passcode was
 * set or taken away.
 * @param now the clock, ms.
 */
export async function unlock(shelf: Shelf, passcode: string, now: number): Promise<Unlocking> {
  const lock = readLock(await storedLock(shelf));
  if (!lock) throw new Error('there is no lock that can be read');
  const waitMs = waitOf(lock, now);
  if (waitMs > 0) return { opened: false, why: 'wait', waitMs };
  const key = await unwrapped(lock, passcode, false);
  if (!key) {
    const wrong = lock.wrong + 1;
    await keepLock(shelf, { ...lock, wrong, wrongAt: now });
    return lock.eraseAfter !== undefined && wrong >= lock.eraseAfter
      ? { opened: false, why: 'erase' }
      : { opened: false, why: 'wrong', wrong };
  }
  shelf.seal = sealOf(lock.id, key);
  const { state } = lock;
  if (state === 'closing') await closeAll(shelf, shelf.seal);
  if (state === 'opening') await takeOff(shelf, shelf.seal);
  else if (state === 'closing' || lock.wrong > 0) await keepLock(shelf, { ...lock, state: 'on', wrong: 0 });
  return { opened: true };
}

async function takeOff(shelf: Shelf, seal: Seal): Promise<void> {
  await openAll(shelf, seal);
  await del(FRONT_KEY, shelf.book);
  await del(LOCK_KEY, shelf.book);
  shelf.seal = undefined;
}

/** Takes the passcode away and opens everything. @returns false, and nothing is changed, when it is wrong. */
export async function removePasscode(shelf: Shelf, passcode: string): Promise<boolean> {
  const lock = readLock(await storedLock(shelf));
  const key = lock && (await unwrapped(lock, passcode, false));
  if (!lock || !key) return false;
  await keepLock(shelf, { ...lock, state: 'opening' });
  await takeOff(shelf, sealOf(lock.id, key));
  return true;
}

/** Changes the passcode; what is closed stays as it is. @returns false, and nothing is changed, when the old one is wrong. @throws RangeError for a new one that is too short. */
export async function changePasscode(shelf: Shelf, old: string, next: string): Promise<boolean> {
  if (next.length < PASSCODE_LEAST) throw new RangeError('too short');
  const lock = readLock(await storedLock(shelf));
  const key = lock && (await unwrapped(lock, old, true));
  if (!lock || !key) return false;
  await keepLock(shelf, { ...lock, ...(await wrapped(key, next, lock.rounds)) });
  return true;
}

/** Sets after how many minutes the app locks itself, and whether many wrong passcodes erase everything. */
export async function setLockOptions(shelf: Shelf, options: Partial<Pick<Lock, 'after' | 'eraseAfter'>>): Promise<void> {
  await assertWritable(shelf);
  const lock = readLock(await storedLock(shelf));
  if (lock) await keepLock(shelf, { ...lock, ...options });
}
