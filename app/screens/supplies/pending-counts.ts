import { useState } from 'preact/hooks';
import type { RecordOf } from '../../care/log/records.ts';

/** Counts by item that nobody has saved yet. Each is stamped with the moment of counting, so that what comes after it stays after it. */
export type PendingCounts = Readonly<Record<string, RecordOf<'stock'>>>;

/** Per book, for as long as the app is open: looking at an item or another page must not lose a count. */
const pending = new Map<string, PendingCounts>();

/** The counts of a book that are not saved yet, and a way to set them anew. */
export function usePendingCounts(book: string): [PendingCounts, (counts: PendingCounts) => void] {
  const [counts, setCounts] = useState(pending.get(book) ?? {});
  const keep = (next: PendingCounts) => {
    pending.set(book, next);
    setCounts(next);
  };
  return [counts, keep];
}
