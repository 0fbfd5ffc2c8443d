import { readRecords } from '../care/log/records.ts';
import type { LocalDay } from '../care/schedule/day.ts';
import { type Book, bookKey, readBook, SENDERS_PREFIX, SETTINGS_KEY } from './book.ts';
import { asPage, monthsOf, pageKey } from './log.ts';
import { photoBytes, photoIds } from './photos.ts';
import type { Shelf } from './shelf.ts';
import { readAll, readValue } from './values.ts';

/** All that a phone keeps, one part after the other, as it is stored, readable or not. */
export type KeptPart =
  | { kind: 'settings'; value: unknown }
  | { kind: 'book' | 'senders'; book: string; value: unknown }
  | { kind: 'month'; book: string; month: string; value: unknown }
  | { kind: 'draft'; key: string; value: unknown }
  | { kind: 'photo'; photo: string; bytes: Blob };

/** What there is, to be told before it is copied or brought back. */
export interface Inventory {
  books: {
    book: string;
    /** Absent where the plan cannot be read. */
    callMe?: string;
    clinic?: string;
    revision?: number;
    records: number;
    /** Days of the first and the last record. */
    first?: LocalDay;
    last?: LocalDay;
  }[];
  photos: number;
  photoBytes: number;
}

/** Settings that make sense on another phone. Who uses it, and what it may remind of, each phone is told anew. */
const PORTABLE = [
  'language',
  'temperatureUnit',
  'glucoseUnit',
  'lengthUnit',
  'scheme',
  'textSize',
  'leadDays',
  'remindAt',
  'quietFrom',
  'quietTo',
  'calendarFiles',
  'region',
  'currentBook',
  'copyEvery',
] as const;

/** The settings that another phone may take over. */
export function portable(value: unknown): Record<string, unknown> {
  const all = (typeof value === 'object' && value !== null ? value : {}) as Record<string, unknown>;
  return Object.fromEntries(PORTABLE.flatMap((key) => (all[key] === undefined ? [] : [[key, all[key]]])));
}

const BOOK_PREFIX = bookKey('');
const DRAFT_PREFIXES = ['draft:', 'trace:'] as const;

/** The ids of all books, the readable ones first, the oldest of them first. */
function bookIds(all: ReadonlyMap<string, unknown>): string[] {
  const ids = [...all.keys()].filter((key) => key.startsWith(BOOK_PREFIX)).map((key) => key.slice(BOOK_PREFIX.length));
  const accepted = (id: string): string => readBook(all.get(bookKey(id)))?.acceptedAt ?? '~';
  return ids.sort((a, b) => (accepted(a) < accepted(b) ? -1 : accepted(a) > accepted(b) ? 1 : 0));
}

const pageOf = (shelf: Shelf, book: string, month: string): Promise<unknown> => readValue(shelf, 'log', pageKey(book, month));

/** Counts everything. @param photos whether photos are to be counted too. */
export async function inventory(shelf: Shelf, photos: boolean): Promise<Inventory> {
  const all = await readAll(shelf, 'book');
  const books: Inventory['books'] = [];
  for (const id of bookIds(all)) books.push(await inventoryOf(shelf, id, readBook(all.get(bookKey(id)))));
  const found: Inventory = { books, photos: 0, photoBytes: 0 };
  for (const id of photos ? await photoIds(shelf) : []) {
    const size = (await photoBytes(shelf, id))?.size;
    if (size === undefined) continue;
    found.photos++;
    found.photoBytes += size;
  }
  return found;
}

async function inventoryOf(shelf: Shelf, id: string, book: Book | undefined): Promise<Inventory['books'][number]> {
  let records = 0;
  const days: LocalDay[] = [];
  for (const month of await monthsOf(shelf, id)) {
    const page = asPage(await pageOf(shelf, id, month));
    records += page.length;
    days.push(...readRecords(page).records.map((r) => r.day));
  }
  days.sort();
  const [first, last] = [days[0], days.at(-1)];
  return {
    book: id,
    ...(book ? { callMe: book.plan.person.callMe, clinic: book.plan.clinic.name, revision: book.plan.revision } : {}),
    records,
    ...(first && last ? { first, last } : {}),
  };
}

/**
 * Everything, one part after the other, each read when it is asked for. Of a
 * book its head comes first, then what cannot be read, then its months, the
 * newest first: a reader that stops early has the most useful part.
 */
export async function* everything(shelf: Shelf, photos: boolean): AsyncGenerator<KeptPart> {
  const all = await readAll(shelf, 'book');
  yield { kind: 'settings', value: portable(all.get(SETTINGS_KEY)) };
  for (const book of bookIds(all)) {
    yield { kind: 'book', book, value: all.get(bookKey(book)) };
    const senders = all.get(SENDERS_PREFIX + book);
    if (senders !== undefined) yield { kind: 'senders', book, value: senders };
    for (const month of newestFirst(await monthsOf(shelf, book))) {
      const value = await pageOf(shelf, book, month);
      if (value !== undefined) yield { kind: 'month', book, month, value };
    }
  }
  for (const [key, value] of all) if (DRAFT_PREFIXES.some((p) => key.startsWith(p))) yield { kind: 'draft', key, value };
  for (const photo of photos ? await photoIds(shelf) : []) {
    const bytes = await photoBytes(shelf, photo);
    if (bytes) yield { kind: 'photo', photo, bytes };
  }
}

/** Months newest first, but the page of what has no day before them all. */
function newestFirst(months: readonly string[]): string[] {
  const dated = months.filter((m) => !m.startsWith('0000')).reverse();
  return [...months.filter((m) => m.startsWith('0000')), ...dated];
}

/** How many parts `everything` will give, for the progress. */
export async function countOfParts(shelf: Shelf, photos: boolean): Promise<number> {
  const all = await readAll(shelf, 'book');
  let count = 1;
  for (const book of bookIds(all)) count += 2 + (await monthsOf(shelf, book)).length;
  return count + (photos ? (await photoIds(shelf)).length : 0);
}
