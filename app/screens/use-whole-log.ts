import { useEffect, useState } from 'preact/hooks';
import { type Entry, timeline } from '../care/log/timeline.ts';
import { useBook } from './context.ts';

/** Every entry of the open book, whatever month; the loaded ones until the others are read. */
export function useWholeLog(): { entries: readonly Entry[]; whole: boolean } {
  const { notebook, state, book } = useBook();
  const [read, setRead] = useState<{ records: typeof state.records; entries: readonly Entry[] }>();
  const isComplete = state.otherMonths.length === 0;
  useEffect(() => {
    if (isComplete) return;
    let current = true;
    void notebook.wholeLog(book.id).then((log) => current && setRead({ records: state.records, entries: timeline(log.records) }));
    return () => {
      current = false;
    };
  }, [notebook, book.id, isComplete, state.records]);
  if (isComplete) return { entries: state.entries, whole: true };
  return read?.records === state.records
    ? { entries: read.entries, whole: true }
    : { entries: read?.entries ?? state.entries, whole: false };
}
