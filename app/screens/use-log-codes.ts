import { useEffect, useState } from 'preact/hooks';
import type { LocalDay } from '../care/schedule/day.ts';
import { bookCodes } from '../exchange/book-codes.ts';
import type { Code } from '../exchange/qr-write.ts';
import { useBook } from './context.ts';
import { bookToSend } from './send-book.ts';

/** `tooMany`: nobody would scan so many. `failed`: the log cannot be read. Undefined while they are made. */
export type LogCodesState = readonly Code[] | 'tooMany' | 'failed' | undefined;

/** The codes of the open book from a day on, or of all of it. */
export function useLogCodes(from: LocalDay | undefined): LogCodesState {
  const { notebook, state } = useBook();
  const [made, setMade] = useState<{ from: LocalDay | undefined; codes: LogCodesState } | undefined>();
  useEffect(() => {
    let current = true;
    const tell = (codes: LogCodesState) => current && setMade({ from, codes });
    bookToSend(notebook, from).then(
      (book) => tell(bookCodes(book, new URL('./', location.href).href) ?? 'tooMany'),
      () => tell('failed'),
    );
    return () => {
      current = false;
    };
  }, [notebook, from, state.records]);
  return made?.from === from ? made?.codes : undefined;
}
