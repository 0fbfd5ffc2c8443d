import { get, getMany, type UseStore } from 'idb-keyval';
import { openStore } from './open-store.ts';

/**
 * The three stores of the device. One database each, because one of ours holds
 * one store only.
 *
 * - `log`: key `<book>/<YYYY-MM>`, value: that month's records.
 * - `photos`: key id, value Blob.
 * - `book`: books, settings, drafts and the schema version.
 */
export interface Shelf {
  log: UseStore;
  photos: UseStore;
  book: UseStore;
  /** Opens and closes the values of a phone with a passcode, once that was given. */
  seal?: Seal | undefined;
}

/** A value that only the passcode opens. */
export interface Sealed {
  sealed: 1;
  iv: Uint8Array<ArrayBuffer>;
  bytes: ArrayBuffer;
}

export const isSealed = (value: unknown): value is Sealed =>
  typeof value === 'object' && value !== null && (value as { sealed?: unknown }).sealed === 1 && 'iv' in value && 'bytes' in value;

/** @param place of the value, so that one cannot be put in the place of another. */
export interface Seal {
  /** Of the lock it belongs to. */
  id: string;
  close(place: string, value: unknown): Promise<Sealed>;
  open(place: string, value: Sealed): Promise<unknown>;
}

/** @param prefix of the databases' names: the desk's preview has databases of its own. */
export const openShelf = (prefix = 'tendbook'): Shelf => ({
  log: openStore(`${prefix}-log`, 'log'),
  photos: openStore(`${prefix}-photos`, 'photos'),
  book: openStore(`${prefix}-book`, 'book'),
});

/** Version of the layout of the stores. Raise it together with a step in `migrate.ts`. */
export const SHELF_VERSION = 1;
export const VERSION_KEY = 'schema';

/** What the lock is, in the clear; there is none on a phone without a passcode. */
export const LOCK_KEY = 'lock';

/** The phone has a passcode that was not given yet, or no longer has the one that was. The page must start anew. */
export class LockedError extends Error {
  override name = 'LockedError';
}

/** The stores were written by a newer app: this one must not write. */
export class NewerShelfError extends Error {
  override name = 'NewerShelfError';
}

/** The version the stores are at; undefined on a new phone. */
export const storedVersion = (shelf: Shelf): Promise<unknown> => get<unknown>(VERSION_KEY, shelf.book);

const idIn = (lock: unknown): unknown => (typeof lock === 'object' && lock !== null && 'id' in lock ? lock.id : undefined);

/** The lock on the stores; undefined on a phone without a passcode. */
export const storedLock = (shelf: Shelf): Promise<unknown> => get<unknown>(LOCK_KEY, shelf.book);

/** Refuses to go on when a newer app has taken over the stores, or a passcode was set or taken away, perhaps in another tab. */
export async function assertWritable(shelf: Shelf): Promise<void> {
  const [version, lock] = await getMany<unknown>([VERSION_KEY, LOCK_KEY], shelf.book);
  if (typeof version === 'number' && version > SHELF_VERSION) throw new NewerShelfError();
  if (idIn(lock) !== shelf.seal?.id) throw new LockedError();
}
