import type { LogRecord } from '../care/log/records.ts';
import type { LocalDay } from '../care/schedule/day.ts';
import { recordsForVisit } from '../care/visit/records-for-visit.ts';
import type { BookToSend } from '../exchange/book-content.ts';
import { FILE_PHOTOS_MOST } from '../exchange/book-file.ts';
import { bookKey, plansIn } from '../store/book.ts';
import type { Notebook } from '../store/notebook.ts';
import { deletedPhotos, photoBytes } from '../store/photos.ts';
import { readValue } from '../store/values.ts';

/**
 * The open book, to be written as a file or as codes.
 * @param from the first day that matters; all days without it.
 */
export async function bookToSend(notebook: Notebook, from?: LocalDay): Promise<BookToSend> {
  await notebook.nameDevice();
  const { book, settings } = notebook.state;
  if (!book) throw new Error('no book is open');
  const log = await notebook.wholeLog(book.id);
  const stored = await readValue(notebook.shelf, 'book', bookKey(book.id));
  return {
    plan: book.plan,
    earlierPlans: plansIn(stored).slice(0, -1),
    acceptedAt: book.acceptedAt,
    // What cannot be read may be of any day, and whoever reads the log must know that it is there.
    records: [...(from === undefined ? log.records : recordsForVisit(log.records, from)), ...log.unreadable],
    made: new Date(notebook.device.now()).toISOString(),
    device: settings.device ?? 'unnamed',
    from,
  };
}

/** The ids of photos that records speak of, the newest record first. */
export const photosOf = (records: readonly LogRecord[]): string[] => [
  ...new Set([...records].reverse().flatMap((r) => ((r.kind === 'photo' || r.kind === 'measurement') && r.photo ? [r.photo] : []))),
];

/**
 * The photos of the open book that go into one file, the newest first.
 * @returns also how many are left over because the file would grow too large.
 */
export async function photosToSend(notebook: Notebook): Promise<{ photos: Map<string, Blob>; bytes: number; left: number }> {
  const { book } = notebook.state;
  if (!book) throw new Error('no book is open');
  const { records } = await notebook.wholeLog(book.id);
  const deleted = await deletedPhotos(notebook.shelf, book.id);
  const photos = new Map<string, Blob>();
  let [bytes, left] = [0, 0];
  for (const id of photosOf(records)) {
    const blob = deleted.has(id) ? undefined : await photoBytes(notebook.shelf, id);
    if (!blob) continue;
    if (left > 0 || bytes + blob.size > FILE_PHOTOS_MOST) {
      left++;
      continue;
    }
    photos.set(id, blob);
    bytes += blob.size;
  }
  return { photos, bytes, left };
}
