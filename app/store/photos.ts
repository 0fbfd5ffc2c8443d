import type { RecordOf } from '../care/log/records.ts';
import { type Entry, timeline } from '../care/log/timeline.ts';
import { monthsOf, readMonths } from './log.ts';
import type { Shelf } from './shelf.ts';
import { changeIn, deleteIn, keysIn, readValue } from './values.ts';

/** The bytes of a photo, JPEG without metadata; undefined when they are not on this phone. What is stored but no picture counts as not here. */
export async function photoBytes(shelf: Shelf, id: string): Promise<Blob | undefined> {
  const value = await readValue(shelf, 'photos', id);
  return value instanceof Blob ? value : undefined;
}

/** Stores the bytes of a photo. Resolves after they are committed. */
export const keepPhoto = (shelf: Shelf, id: string, bytes: Blob): Promise<void> => changeIn(shelf, 'photos', id, () => bytes);

/** Deletes the bytes of a photo for good. */
export const deletePhoto = (shelf: Shelf, id: string): Promise<void> => deleteIn(shelf, 'photos', [id]);

/** The ids of all photos on this phone, of whatever book. */
export const photoIds = (shelf: Shelf): Promise<string[]> => keysIn(shelf, 'photos');

/** Ids of photos that a book's log says were deleted: every record of them is withdrawn. */
export async function deletedPhotos(shelf: Shelf, book: string): Promise<Set<string>> {
  const { records } = await readMonths(shelf, book, await monthsOf(shelf, book));
  const entries = timeline(records).filter((e) => e.first.kind === 'photo') as Entry<RecordOf<'photo'>>[];
  const standing = new Set(entries.filter((e) => !e.voided).map((e) => e.now.photo));
  return new Set(entries.map((e) => e.now.photo).filter((id) => !standing.has(id)));
}
