import { type PublicKey, readPublicKey, sameKey } from '../../exchange/signature.ts';
import { SENDERS_MOST, SENDERS_PREFIX } from '../../store/book.ts';
import type { Shelf } from '../../store/shelf.ts';
import { changeIn, readAll } from '../../store/values.ts';

const keysIn = (value: unknown): PublicKey[] =>
  (Array.isArray(value) ? value : []).map(readPublicKey).filter((key): key is PublicKey => key !== undefined);

/** The keys of all books on this phone, by the book's id. */
export async function knownSenders(shelf: Shelf): Promise<Map<string, PublicKey[]>> {
  const all = await readAll(shelf, 'book');
  return new Map(
    [...all].flatMap(([key, value]): [string, PublicKey[]][] =>
      key.startsWith(SENDERS_PREFIX) ? [[key.slice(SENDERS_PREFIX.length), keysIn(value)]] : [],
    ),
  );
}

/** Takes a key as the clinic's from now on, the newest last. */
export const trustSender = (shelf: Shelf, book: string, key: PublicKey): Promise<void> =>
  changeIn(shelf, 'book', `${SENDERS_PREFIX}${book}`, (old) => [...keysIn(old).filter((k) => !sameKey(k, key)), key].slice(-SENDERS_MOST));

/**
 * How a plan's sender stands to the book it is for:
 * - `known`: a key this book, or where it has none another book of this phone, has trusted before.
 * - `first`: signed, and nobody is known yet for this book.
 * - `other`: signed with another key than those of this book.
 * - `unsigned`: without a sender. `unsignedNow`: the same, although the book's plans had one.
 */
export type Standing = 'known' | 'first' | 'other' | 'unsigned' | 'unsignedNow';

export function standingOf(senders: ReadonlyMap<string, readonly PublicKey[]>, book: string, key: PublicKey | undefined): Standing {
  const own = senders.get(book) ?? [];
  if (!key) return own.length > 0 ? 'unsignedNow' : 'unsigned';
  if (own.some((k) => sameKey(k, key))) return 'known';
  if (own.length > 0) return 'other';
  return [...senders.values()].flat().some((k) => sameKey(k, key)) ? 'known' : 'first';
}
