import type { Page } from '@playwright/test';

/** Everything in one of the app's databases, as plain data; of photos only the sizes. */
export const storeOf = (page: Page, name: 'log' | 'book' | 'photos'): Promise<Record<string, unknown>> =>
  page.evaluate(
    (store) =>
      new Promise<Record<string, unknown>>((resolve, reject) => {
        const open = indexedDB.open(`tendbook-${store}`);
        open.onerror = () => reject(open.error);
        // The app makes a database when it first needs it.
        open.onupgradeneeded = () => open.result.createObjectStore(store);
        open.onsuccess = () => {
          const all: Record<string, unknown> = {};
          const cursor = open.result.transaction(store).objectStore(store).openCursor();
          cursor.onsuccess = () => {
            const at = cursor.result;
            if (!at) {
              open.result.close();
              return resolve(all);
            }
            all[String(at.key)] = at.value instanceof Blob ? at.value.size : at.value;
            at.continue();
          };
        };
      }),
    name,
  );

interface Stored {
  id: string;
  device: string;
}

/** The records of the demo's log, by id, whatever page they are on. */
export async function logOf(page: Page): Promise<Stored[]> {
  const pages = Object.values(await storeOf(page, 'log')).flat() as Stored[];
  return pages.sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** Puts photos of any bytes into the store, as many and as large as wanted. */
export const putPhotos = (page: Page, count: number, size: number): Promise<void> =>
  page.evaluate(
    async ([many, bytes]) => {
      const opened = (name: string): Promise<IDBDatabase> =>
        new Promise((resolve) => {
          const request = indexedDB.open(`tendbook-${name}`);
          request.onupgradeneeded = () => request.result.createObjectStore(name);
          request.onsuccess = () => resolve(request.result);
        });
      const photos = await opened('photos');
      for (let n = 0; n < many; n++) {
        const data = new Uint8Array(bytes);
        for (let at = 0; at < bytes; at += 65_536) crypto.getRandomValues(data.subarray(at, Math.min(bytes, at + 65_536)));
        data.set([0xff, 0xd8, 0xff, 0xe0]);
        await new Promise((resolve) => {
          const put = photos
            .transaction('photos', 'readwrite')
            .objectStore('photos')
            .put(new Blob([data], { type: 'image/jpeg' }), `photo-${n}`);
          put.onsuccess = resolve;
        });
      }
      photos.close();
    },
    [count, size] as const,
  );

/** Puts a value into one of the app's databases, which must be there. */
export const putValue = (page: Page, store: 'log' | 'book', key: string, value: unknown): Promise<void> =>
  page.evaluate(
    ([name, at, json]) =>
      new Promise<void>((resolve, reject) => {
        const open = indexedDB.open(`tendbook-${name}`);
        open.onerror = () => reject(open.error);
        open.onsuccess = () => {
          const transaction = open.result.transaction(name, 'readwrite');
          transaction.objectStore(name).put(JSON.parse(json), at);
          transaction.oncomplete = () => {
            open.result.close();
            resolve();
          };
        };
      }),
    [store, key, JSON.stringify(value)] as const,
  );
