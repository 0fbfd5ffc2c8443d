import { useEffect, useRef, useState } from 'preact/hooks';
import { dropDraft, textKey } from '../store/drafts.ts';
import { changeIn, readValue } from '../store/values.ts';
import { useBook } from './context.ts';

/**
 * Words that are being typed, kept from the first letter on, so that a phone
 * call, a dead battery or the app locking itself loses none.
 * @param where names the field; one text for each in a book. @param start what stands there first.
 * @returns the words, a setter, and what to call once they are recorded.
 */
export function useKeptText(where: string, start = ''): [text: string, type: (text: string) => void, done: () => Promise<void>] {
  const { notebook, book } = useBook();
  const key = textKey(book.id, where);
  const [text, setText] = useState(start);
  const typed = useRef(false);
  useEffect(() => {
    void readValue(notebook.shelf, 'book', key).then(
      // What is typed meanwhile is newer than what was kept.
      (kept) => typeof kept === 'string' && !typed.current && setText(kept),
      () => undefined,
    );
  }, [notebook, key]);
  const type = (next: string) => {
    typed.current = true;
    setText(next);
    // Words that cannot be kept are still on screen; saving them says when that fails.
    changeIn(notebook.shelf, 'book', key, () => next).catch(() => undefined);
  };
  const done = () => dropDraft(notebook.shelf, key).catch(() => undefined);
  return [text, type, done];
}
