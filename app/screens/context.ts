import { createContext } from 'preact';
import { useContext, useEffect, useState } from 'preact/hooks';
import type { Book } from '../store/book.ts';
import type { Notebook, NotebookState } from '../store/notebook.ts';

export const NotebookContext = createContext<Notebook | undefined>(undefined);

/** The notebook and its present state; the screen renders anew when it changes. */
export function useNotebook(): { notebook: Notebook; state: NotebookState } {
  const notebook = useContext(NotebookContext);
  if (!notebook) throw new Error('no notebook around this screen');
  const [state, setState] = useState(notebook.state);
  useEffect(() => {
    setState(notebook.state);
    return notebook.subscribe(() => setState(notebook.state));
  }, [notebook]);
  return { notebook, state };
}

/** For screens that only show with an open book. */
export function useBook(): { notebook: Notebook; state: NotebookState; book: Book } {
  const { notebook, state } = useNotebook();
  if (!state.book) throw new Error('no book is open');
  return { notebook, state, book: state.book };
}

/** The clock, looked at again every half minute and when the app comes back into view. */
export function useNow(notebook: Notebook): number {
  const [now, setNow] = useState(() => notebook.device.now());
  useEffect(() => {
    const look = () => setNow(notebook.device.now());
    const timer = setInterval(look, 30_000);
    document.addEventListener('visibilitychange', look);
    return () => {
      clearInterval(timer);
      document.removeEventListener('visibilitychange', look);
    };
  }, [notebook]);
  return now;
}
