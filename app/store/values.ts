import { delMany, entries, getMany, keys, type UseStore, update } from 'idb-keyval';
import { assertWritable, isSealed, LockedError, type Sealed, type Shelf } from './shelf.ts';

/** The one door to the stores: whoever reads or writes a value comes through here, so that a locked phone keeps none in the clear. */
export type StoreName = 'log' | 'photos' | 'book';

const storeOf = (shelf: Shelf, store: StoreName): UseStore => shelf[store];
export const placeOf = (store: StoreName, key: string): string => `${store}/${key}`;

async function opened(shelf: Shelf, store: StoreName, key: string, value: unknown): Promise<unknown> {
  if (!isSealed(value)) return value;
  if (!shelf.seal) throw new LockedError();
  return shelf.seal.open(placeOf(store, key), value);
}

/** Some values, in the order of their keys; undefined for what is not there. @throws LockedError on a locked phone. */
export async function readValues(shelf: Shelf, store: StoreName, wanted: readonly string[]): Promise<unknown[]> {
  const values = await getMany<unknown>([...wanted], storeOf(shelf, store));
  return Promise.all(values.map((value, i) => opened(shelf, store, wanted[i] as string, value)));
}

export const readValue = async (shelf: Shelf, store: StoreName, key: string): Promise<unknown> =>
  (await readValues(shelf, store, [key]))[0];

/** Everything in a store. @throws LockedError on a locked phone. */
export async function readAll(shelf: Shelf, store: StoreName): Promise<Map<string, unknown>> {
  const all = await entries<string, unknown>(storeOf(shelf, store));
  return new Map(
    await Promise.all(all.map(async ([key, value]) => [String(key), await opened(shelf, store, String(key), value)] as [string, unknown])),
  );
}

export const keysIn = async (shelf: Shelf, store: StoreName): Promise<string[]> => (await keys(storeOf(shelf, store))).map(String);

/**
 * Changes one value in one transaction. The value must be plain data, or for
 * photos a Blob.
 * @param change of the old value; on a phone with a passcode it may run more than once, when another tab was quicker.
 * @throws NewerShelfError, LockedError; nothing is written then.
 */
export async function changeIn(shelf: Shelf, store: StoreName, key: string, change: (old: unknown) => unknown): Promise<void> {
  await assertWritable(shelf);
  const { seal } = shelf;
  // Cloned first, because a value that cannot be cloned would abort in the middle.
  if (!seal) return update<unknown>(key, (old) => structuredClone(change(old)), storeOf(shelf, store));
  for (;;) {
    const [old] = await getMany<unknown>([key], storeOf(shelf, store));
    const next = change(await opened(shelf, store, key, old));
    const closed = await seal.close(placeOf(store, key), next);
    // Closing takes time, in which no transaction stays open: what came in between is taken in and the change made anew.
    let late = false;
    await update<unknown>(
      key,
      (now) => {
        late = !isSame(now, old);
        return late ? now : closed;
      },
      storeOf(shelf, store),
    );
    if (!late) return;
  }
}

/** Every sealing has a number of its own, so equal numbers mean equal values. */
export const isSame = (a: unknown, b: unknown): boolean =>
  isSealed(a) && isSealed(b) ? sameBytes(a, b) : a === b || (!isSealed(a) && !isSealed(b) && JSON.stringify(a) === JSON.stringify(b));

const sameBytes = (a: Sealed, b: Sealed): boolean => a.iv.length === b.iv.length && a.iv.every((byte, i) => byte === b.iv[i]);

/** Deletes some values of a store. @throws NewerShelfError, LockedError. */
export async function deleteIn(shelf: Shelf, store: StoreName, gone: readonly string[]): Promise<void> {
  await assertWritable(shelf);
  await delMany([...gone], storeOf(shelf, store));
}
