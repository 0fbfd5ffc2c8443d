import { useEffect, useMemo, useState } from 'preact/hooks';
import { type Entry, timeline } from '../../care/log/timeline.ts';
import type { LocalDay } from '../../care/schedule/day.ts';
import { type VisitSummary, visitSummary } from '../../care/visit/summary.ts';
import { VISIT_AREAS } from '../../parts/visit/speak.tsx';
import type { Notebook } from '../../store/notebook.ts';
import { loadAreas, words } from '../../words/i18n.ts';
import { useBook } from '../context.ts';

interface Log {
  book: string;
  entries: readonly Entry[];
  unreadable: number;
  monthsNotLoaded: readonly string[];
}

/**
 * The whole log of the open book: the first size, the stock and the last visit
 * may be in any month. Where it cannot be read, what is loaded must do, and the
 * page says which months it lacks.
 */
async function readLog({ notebook, book }: { notebook: Notebook; book: string }): Promise<Log> {
  const { entries, otherMonths, setAside } = notebook.state;
  try {
    const { records, unreadable } = await notebook.wholeLog(book);
    return { book, entries: timeline(records), unreadable: unreadable.length, monthsNotLoaded: [] };
  } catch {
    return { book, entries, unreadable: setAside.length, monthsNotLoaded: otherMonths };
  }
}

/** The summary of the open book for some days, worked out once for each state of its log. Undefined until the log is read. */
export function useSummary(from: LocalDay | undefined, to: LocalDay | undefined): VisitSummary | undefined {
  const { notebook, state, book } = useBook();
  const [log, setLog] = useState<Log | undefined>();
  useEffect(() => {
    let current = true;
    void readLog({ notebook, book: book.id }).then((read) => current && setLog(read));
    return () => {
      current = false;
    };
  }, [notebook, state.records, book.id]);
  return useMemo(() => {
    if (!log || log.book !== book.id) return undefined;
    const { entries, unreadable, monthsNotLoaded } = log;
    const { plan, earlierPlans } = book;
    const { device } = notebook;
    return visitSummary({ plan, earlierPlans, entries, from, to, now: device.now(), zone: device.zone(), unreadable, monthsNotLoaded });
  }, [log, book, from, to, notebook.today()]);
}

/** The second language once its words are there. */
export function useSecond(second: string | undefined): string | undefined {
  const [ready, setReady] = useState<string | undefined>();
  useEffect(() => {
    let current = true;
    if (second) void loadAreas(VISIT_AREAS, second).then(() => current && setReady(second));
    return () => {
      current = false;
    };
  }, [second]);
  // The app may have been turned to that language meanwhile.
  return ready === second && second !== words.language ? second : undefined;
}
