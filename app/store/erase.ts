import { clear, createStore } from 'idb-keyval';
import { tabBell } from './notebook.ts';
import { openShelf } from './shelf.ts';

/**
 * Erases everything that this site keeps on the device: books, logs, photos,
 * drafts, settings, the desk's keys, caches and the worker. Cannot be undone.
 * The stores are emptied first and other tabs told, for a database that one of
 * them holds open is only gone once that is closed.
 */
export async function eraseEverything(): Promise<void> {
  for (const prefix of ['tendbook', 'tendbook-preview']) {
    const shelf = openShelf(prefix);
    await Promise.all([clear(shelf.log), clear(shelf.photos), clear(shelf.book)]);
  }
  // The desk's own store (app/clinic/kept.ts), in case this device is the clinic's too.
  await clear(createStore('tendbook-desk', 'desk'));
  tabBell().ring();
  for (const { name } of (await indexedDB.databases?.()) ?? []) if (name) indexedDB.deleteDatabase(name);
  if ('caches' in globalThis) for (const name of await caches.keys()) await caches.delete(name);
  localStorage.clear();
  sessionStorage.clear();
  const workers = (await navigator.serviceWorker?.getRegistrations?.()) ?? [];
  for (const worker of workers) await worker.unregister();
}
