import { useEffect, useState } from 'preact/hooks';
import type { RecordOf } from '../../care/log/records.ts';
import { type Entry, standing, timeline } from '../../care/log/timeline.ts';
import { photoIds } from '../../store/photos.ts';
import { useBook } from '../context.ts';

export type PhotoEntry = Entry<RecordOf<'photo'>>;

/** The log in full, whatever months are on screen elsewhere. */
export interface WholeLog {
  entries: readonly Entry[];
  /** How many stored values could not be read. */
  unreadable: number;
  /** Photos that stand in the log and whose bytes are on this phone, newest first. */
  photos: readonly PhotoEntry[];
}

/** Reads the open book's log from the store; `failed` when the store refuses. */
export function useWholeLog(): { log: WholeLog | undefined; failed: boolean } {
  const { notebook, book } = useBook();
  const [log, setLog] = useState<WholeLog | undefined>();
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    Promise.all([notebook.wholeLog(book.id), photoIds(notebook.shelf)]).then(
      ([{ records, unreadable }, here]) => {
        const entries = timeline(records);
        const withBytes = standing(entries, 'photo').filter((e) => here.includes(e.now.photo));
        setLog({ entries, unreadable: unreadable.length, photos: withBytes.reverse() });
      },
      () => setFailed(true),
    );
  }, [notebook, book.id]);
  return { log, failed };
}
