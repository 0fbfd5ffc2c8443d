import { clear } from 'idb-keyval';
import { openShelf, type Shelf } from './shelf.ts';

/** The stores of the desk's preview, emptied. They are emptied when a preview or the desk starts, too, in case a page was killed before it could. */
export async function emptyPreviewShelf(): Promise<Shelf> {
  const shelf = openShelf('tendbook-preview');
  await Promise.all([clear(shelf.log), clear(shelf.photos), clear(shelf.book)]);
  return shelf;
}
