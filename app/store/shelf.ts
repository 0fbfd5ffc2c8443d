import { createStore, entries, get, keys, type UseStore, update } from 'idb-keyval';

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
}

/** @param prefix of the databases' names: the desk's preview has databases of its own. */
export const openShelf = (prefix = 'tendbook'): Shelf => ({
  log: createStore(`${prefix}-log`, 'log'),
  photos: createStore(`${prefix}-photos`, 'photos'),
  book: createStore(`${prefix}-book`, 'book'),
});

/** Version of the layout of the stores. Raise it together with a step in `migrate.ts`. */
export const SHELF_VERSION = 1;
export const VERSION_KEY = 'schema';

/** The stores were written by a newer app: this one must not write. */
export class NewerShelfError extends Error {
  override name = 'NewerShelfError';
}

/** The version the stores are at; undefined on a new phone. */
export const storedVersion = (shelf: Shelf): Promise<unknown> => get<unknown>(VERSION_KEY, shelf.book);

/** Refuses to go on when a newer app has taken over the stores, perhaps in another tab. */
export async function assertWritable(shelf: Shelf): Promise<void> {
  const version = await storedVersion(shelf);
  if (typeof version === 'number' && version > SHELF_VERSION) throw new NewerShelfError();
}

/** All entries of the book store: a handful of books, settings and drafts. */
export const bookEntries = async (shelf: Shelf): Promise<Map<string, unknown>> =>
  new Map((await entries<string, unknown>(shelf.book)).map(([key, value]) => [String(key), value]));

export const logKeys = async (shelf: Shelf): Promise<string[]> => (await keys(shelf.log)).map(String);

/** Changes one value of the book store in one transaction. The value must be plain data. */
export async function changeValue<T>(shelf: Shelf, key: string, change: (old: unknown) => T): Promise<void> {
  await assertWritable(shelf);
  // Cloned first, because a value that cannot be cloned would abort in the middle.
  await update<unknown>(key, (old) => structuredClone(change(old)), shelf.book);
}
