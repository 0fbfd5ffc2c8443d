import type { UseStore } from 'idb-keyval';

/**
 * The browser gives no place to store anything: a private window of some
 * browsers, site data that is blocked, a damaged or missing database.
 */
export class NoStorageError extends Error {
  override name = 'NoStorageError';
}

/** A phone that is full says so by this name, and is not one without storage. */
export const isFull = (error: unknown): boolean =>
  typeof error === 'object' && error !== null && (error as { name?: unknown }).name === 'QuotaExceededError';

const refused = (cause: unknown): unknown => (isFull(cause) ? cause : new NoStorageError('no storage', { cause }));

function opened(name: string, store: string, onGone: () => void): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    try {
      const request = indexedDB.open(name);
      request.onupgradeneeded = () => request.result.createObjectStore(store);
      request.onerror = () => reject(refused(request.error));
      request.onsuccess = () => {
        const database = request.result;
        // Closed by the platform, or in the way of another tab that erases everything.
        database.onclose = onGone;
        database.onversionchange = () => {
          onGone();
          database.close();
        };
        resolve(database);
      };
    } catch (error) {
      reject(refused(error));
    }
  });
}

/**
 * A database of one store, opened at first use and anew once it was closed.
 * What is written is on the disk when the write is said to be done, or a phone
 * whose battery dies would lose what it has shown as saved (IndexedDB 3.0,
 * durability "strict"; browsers take less care by themselves).
 * @returns what rejects with NoStorageError where there is no storage to be had.
 */
export function openStore(name: string, store: string): UseStore {
  let database: Promise<IDBDatabase> | undefined;
  const forget = () => {
    database = undefined;
  };
  const connected = async (): Promise<IDBDatabase> => {
    database ??= opened(name, store, forget);
    try {
      return await database;
    } catch (error) {
      forget();
      throw error;
    }
  };
  const begun = (own: IDBDatabase, mode: IDBTransactionMode): IDBObjectStore =>
    own.transaction(store, mode, { durability: 'strict' }).objectStore(store);
  return async (mode, callback) => {
    const own = await connected();
    try {
      return callback(begun(own, mode));
    } catch (error) {
      // Some platforms close a database without a word; a connection that is gone is made anew, once.
      if ((error as { name?: unknown }).name !== 'InvalidStateError') throw error;
      forget();
      return callback(begun(await connected(), mode));
    }
  };
}
