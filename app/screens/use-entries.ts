import { useEffect, useState } from 'preact/hooks';
import { type Entry, timeline } from '../care/log/timeline.ts';
import { useBook } from './context.ts';

export interface Entries {
  entries: readonly Entry[];
  /** Older months are being read, or could not be. What is there is shown meanwhile. */
  older: 'here' | 'reading' | 'failed';
}

/** The log as loaded or, if it is wanted, of all months. */
export function useEntries(whole: boolean): Entries {
  const { notebook, state, book } = useBook();
  const wanted = whole && state.otherMonths.length > 0;
  const [read, setRead] = useState<{ of: unknown; entries?: readonly Entry[] } | undefined>();
  // A record written meanwhile makes what was read before out of date.
  const of = state.records;
  useEffect(() => {
    if (!wanted) return;
    let current = true;
    notebook.wholeLog(book.id).then(
      (log) => current && setRead({ of, entries: timeline(log.records) }),
      () => current && setRead({ of }),
    );
    return () => {
      current = false;
    };
  }, [wanted, of, book.id]);
  if (!wanted) return { entries: state.entries, older: 'here' };
  if (read?.of !== of) return { entries: read?.entries ?? state.entries, older: 'reading' };
  return read.entries ? { entries: read.entries, older: 'here' } : { entries: state.entries, older: 'failed' };
}
