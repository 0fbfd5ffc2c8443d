import { promisifyRequest, type UseStore } from 'idb-keyval';
import { type LogRecord, readRecords } from '../care/log/records.ts';
import { oneOfTwo } from '../care/log/timeline.ts';
import { asPage, idOf, monthOf, monthsOf, pageKey } from './log.ts';
import { assertWritable, type Shelf } from './shelf.ts';

/** The page of what cannot be read; it is always loaded, and shown as set aside. */
export const ASIDE = '0000-00';

/** What became of records that came from elsewhere. */
export interface Taken {
  /** New here. */
  added: number;
  /** Here already, the same. */
  known: number;
  /** Put aside whole: unreadable, or the loser of two contents under one id. */
  aside: number;
}

interface Known {
  page: string;
  record: LogRecord;
  json: string;
}

/**
 * Changes some pages of the log in one transaction: all of them or none.
 * @param change gets the pages as they are now, by key, and changes the lists in place.
 */
async function changePages(log: UseStore, keys: readonly string[], change: (pages: Map<string, unknown[]>) => void): Promise<void> {
  await log('readwrite', async (store) => {
    const done = promisifyRequest(store.transaction);
    const pages = new Map<string, unknown[]>();
    // All asked for at once: a transaction with nothing to do closes by itself.
    const stored = await Promise.all(keys.map((key) => promisifyRequest<unknown>(store.get(key))));
    for (const [i, key] of keys.entries()) pages.set(key, [...asPage(stored[i])]);
    try {
      change(pages);
      for (const [key, page] of pages) store.put(page, key);
    } catch (error) {
      store.transaction.abort();
      await done.catch(() => undefined);
      throw error;
    }
    await done;
  });
}

/**
 * Takes records from elsewhere into a book's pages as a union by id. Each month
 * is one transaction, so that stopping leaves whole months; doing it again does
 * nothing more.
 */
export class PagesIn {
  private constructor(
    private readonly shelf: Shelf,
    private readonly book: string,
    private readonly known: Map<string, Known>,
    private readonly odd: Set<string>,
  ) {}

  /** Looks through the whole log of a book first. */
  static async open(shelf: Shelf, book: string): Promise<PagesIn> {
    const pages = new PagesIn(shelf, book, new Map(), new Set());
    for (const month of await monthsOf(shelf, book)) {
      const stored = await shelf.log('readonly', (store) => promisifyRequest<unknown>(store.get(pageKey(book, month))));
      const { records, unreadable } = readRecords(asPage(stored));
      for (const record of records) pages.note(month, record);
      for (const value of unreadable) pages.odd.add(JSON.stringify(value));
    }
    return pages;
  }

  private note(page: string, record: LogRecord): void {
    this.known.set(record.id, { page, record, json: JSON.stringify(record) });
  }

  has(id: string): boolean {
    return this.known.has(id);
  }

  /** The months of measurements that are here. */
  measuredMonths(): string[] {
    return [...new Set([...this.known.values()].flatMap(({ record }) => (record.kind === 'measurement' ? [monthOf(record)] : [])))];
  }

  /** Keeps values that cannot be used, each once. */
  async takeAside(values: readonly unknown[]): Promise<Taken> {
    const fresh = new Map(values.map((value) => [JSON.stringify(value) ?? 'null', value] as const).filter(([json]) => !this.odd.has(json)));
    if (fresh.size > 0) {
      await assertWritable(this.shelf);
      const key = pageKey(this.book, ASIDE);
      await changePages(this.shelf.log, [key], (pages) => void pages.get(key)?.push(...structuredClone([...fresh.values()])));
      for (const json of fresh.keys()) this.odd.add(json);
    }
    return { added: 0, known: 0, aside: fresh.size };
  }

  /** Takes in the records of one month. */
  async takeMonth(month: string, records: readonly LogRecord[]): Promise<Taken> {
    const fresh: LogRecord[] = [];
    const beaten: { winner: LogRecord; loser: Known }[] = [];
    const losers: LogRecord[] = [];
    let same = 0;
    for (const record of structuredClone(records) as LogRecord[]) {
      const here = this.known.get(record.id);
      if (!here) fresh.push(record);
      else if (here.json === JSON.stringify(record)) same++;
      else if (oneOfTwo(record, here.record) === record) beaten.push({ winner: record, loser: here });
      else losers.push(record);
    }
    const doubled = [...losers, ...beaten.map((b) => b.loser.record)].map((record) => ({ doubled: record }));
    const aside = doubled.filter((value) => !this.odd.has(JSON.stringify(value)));
    if (fresh.length + beaten.length + aside.length === 0) return { added: 0, known: same, aside: 0 };
    await assertWritable(this.shelf);
    const own = pageKey(this.book, month);
    const asideKey = pageKey(this.book, ASIDE);
    const keys = new Set([own, ...beaten.map((b) => pageKey(this.book, b.loser.page)), ...(aside.length > 0 ? [asideKey] : [])]);
    await changePages(this.shelf.log, [...keys], (pages) => {
      for (const { loser } of beaten) {
        const key = pageKey(this.book, loser.page);
        pages.set(
          key,
          (pages.get(key) ?? []).filter((value) => idOf(value) !== loser.record.id),
        );
      }
      // Another tab may have written meanwhile; an id that is there now is left alone.
      const there = new Set(pages.get(own)?.map(idOf));
      pages.get(own)?.push(...[...fresh, ...beaten.map((b) => b.winner)].filter((r) => !there.has(r.id)));
      if (aside.length > 0) pages.get(asideKey)?.push(...aside);
    });
    for (const record of [...fresh, ...beaten.map((b) => b.winner)]) this.note(month, record);
    for (const value of aside) this.odd.add(JSON.stringify(value));
    return { added: fresh.length, known: same, aside: aside.length };
  }
}
