import { collectLog, readBookCodes } from '../exchange/book-codes.ts';
import type { BookArrival } from '../exchange/book-content.ts';
import { fromBase64, toBase64 } from '../exchange/bytes.ts';
import type { Collected, CollectingBytes } from '../exchange/code-sequence.ts';
import type { Shelf } from '../store/shelf.ts';
import { changeIn, readValue } from '../store/values.ts';
import { forget, keptOf, type PartsKept, takeInto } from './incoming-parts.ts';

/** A log that arrived and waits for the person's yes: from a file in memory, from codes in the store, so that a closed app need not scan again. */
const LOG: PartsKept<CollectingBytes> = { key: 'incomingLogParts', collect: collectLog };
const WAITING_KEY = 'incomingLog';

let fromFile: BookArrival | undefined;

/** Puts a log that was read from a file before the person. */
export function offerLog(arrival: BookArrival): void {
  fromFile = arrival;
}

/** The log that waits; undefined when there is none. */
export async function waitingLog(shelf: Shelf): Promise<BookArrival | undefined> {
  if (fromFile) return fromFile;
  const stored = await readValue(shelf, 'book', WAITING_KEY);
  const bytes = typeof stored === 'string' ? fromBase64(stored) : undefined;
  return bytes?.length ? readBookCodes(bytes) : undefined;
}

/** Lets the waiting log go, taken in or not. */
export async function dropLog(shelf: Shelf): Promise<void> {
  fromFile = undefined;
  await changeIn(shelf, 'book', WAITING_KEY, () => '');
}

/** What has been collected of a log in several codes so far. */
export const keptLogParts = (shelf: Shelf): Promise<Collected | undefined> => keptOf(shelf, LOG);

/** Takes in one more code of a log. The last one puts the whole before the person. */
export async function takeLogPart(shelf: Shelf, text: string): Promise<CollectingBytes> {
  const outcome = await takeInto(shelf, LOG, text);
  if (outcome.event === 'complete') {
    fromFile = undefined;
    await changeIn(shelf, 'book', WAITING_KEY, () => toBase64(outcome.bytes));
  }
  return outcome;
}

export const forgetLogParts = (shelf: Shelf): Promise<void> => forget(shelf, LOG);
