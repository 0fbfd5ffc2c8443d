import { type LogRecord, type Reading, readRecords } from '../care/log/records.ts';
import { addDays, type LocalDay } from '../care/schedule/day.ts';
import { type Book, bookKey, changedBook, keepMonthsIn } from './book.ts';
import type { Shelf } from './shelf.ts';
import { changeIn, keysIn, readValues } from './values.ts';

export const pageKey = (book: string, month: string): string => `${book}/${month}`;
export const monthOf = (record: Pick<LogRecord, 'day'>): string => record.day.slice(0, 7);

/** The id of a stored value, if it has one. */
export const idOf = (value: unknown): unknown => (typeof value === 'object' && value !== null && 'id' in value ? value.id : undefined);

/** A page as a list. A page that is no list is kept whole, as one entry of it. */
export const asPage = (value: unknown): unknown[] => (value === undefined ? [] : Array.isArray(value) ? value : [value]);

/**
 * Records that must be loaded however old they are: alerts, and what came of
 * them. An alert without its outcome would look unanswered, and an outcome
 * without its withdrawal answered.
 */
export const mustStayLoaded = (record: LogRecord): boolean =>
  record.kind === 'alert' ||
  record.kind === 'outcome' ||
  record.kind === 'void' ||
  (record.kind === 'measurement' && record.amends !== undefined);

/** How long after the first measurement others are still held against it. */
const FIRST_SIZES_DAYS = 95;

/**
 * The months of some records that must stay loaded: of alerts and what came of
 * them, and of the measurements of the first three months, which later ones
 * are held against.
 * @param begun the months in which it may have begun: that of the plan, and those of measurements known before.
 */
export function monthsToKeep(records: readonly LogRecord[], begun: readonly string[]): string[] {
  const measured = records.filter((r) => r.kind === 'measurement').map(monthOf);
  const first = [...begun, ...measured].sort()[0];
  const until = first === undefined ? '' : addDays(`${first}-01` as LocalDay, FIRST_SIZES_DAYS).slice(0, 7);
  const kept = records.filter((r) => mustStayLoaded(r) || (r.kind === 'measurement' && monthOf(r) <= until));
  return [...new Set(kept.map(monthOf))].sort();
}

/** Writes down with a book which months it keeps loaded; to be done before they are written to. */
export async function keepMonths(shelf: Shelf, book: Pick<Book, 'id' | 'keepMonths'>, months: readonly string[]): Promise<void> {
  if (months.every((month) => book.keepMonths.includes(month))) return;
  // Laid over what is stored now: another tab may have added months of its own.
  await changeIn(shelf, 'book', bookKey(book.id), (old) =>
    changedBook(old, { keepMonths: [...new Set([...keepMonthsIn(old), ...months])].sort() }),
  );
}

/**
 * Adds records to their month's page, each month in one transaction. A record
 * whose id is there already is left alone, so that writing twice does nothing.
 */
export async function appendRecords(shelf: Shelf, book: string, records: readonly LogRecord[]): Promise<void> {
  const plain = structuredClone(records) as LogRecord[];
  for (const month of [...new Set(plain.map(monthOf))]) {
    const own = plain.filter((r) => monthOf(r) === month);
    await changeIn(shelf, 'log', pageKey(book, month), (old) => {
      const page = asPage(old);
      const known = new Set(page.map(idOf));
      return [...page, ...own.filter((r) => !known.has(r.id))];
    });
  }
}

/** Reads some months of a book. */
export async function readMonths(shelf: Shelf, book: string, months: readonly string[]): Promise<Reading> {
  const pages = await readValues(
    shelf,
    'log',
    months.map((m) => pageKey(book, m)),
  );
  return readRecords(pages.flatMap(asPage));
}

const kindOf = (value: unknown): unknown => (typeof value === 'object' && value !== null && 'kind' in value ? value.kind : undefined);
const STOCK_KINDS: readonly unknown[] = ['stock', 'ownItem', 'void'];

/** The stock records of a book of whatever month, with withdrawals. What cannot be read is shown where its month is. */
export async function readStock(shelf: Shelf, book: string): Promise<LogRecord[]> {
  const pages = await readValues(
    shelf,
    'log',
    (await monthsOf(shelf, book)).map((m) => pageKey(book, m)),
  );
  return readRecords(pages.flatMap(asPage).filter((value) => STOCK_KINDS.includes(kindOf(value)))).records;
}

/** The months that have a page, oldest first. */
export async function monthsOf(shelf: Shelf, book: string): Promise<string[]> {
  const prefix = `${book}/`;
  const months = (await keysIn(shelf, 'log')).filter((k) => k.startsWith(prefix)).map((k) => k.slice(prefix.length));
  return months.sort();
}
