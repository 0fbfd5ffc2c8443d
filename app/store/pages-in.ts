import { type LogRecord, readRecords } from '../care/log/records.ts';
import { oneOfTwo } from '../care/log/timeline.ts';
import { asPage, monthOf, monthsOf, pageKey } from './log.ts';
import type { Shelf } from './shelf.ts';
import { changeIn, readValue } from './values.ts';

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

/** The id of a stored value that is a record. What cannot be read has none, and so is neither replaced nor in the way. */
const readableId = (value: unknown): string | undefined => readRecords([value]).records[0]?.id;

/**
 * Takes records from elsewhere into a book's pages as a union by id. Each page
 * is written in one transaction, so that stopping leaves whole months; doing it
 * again does nothing more.
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
      const { records, unreadable } = readRecords(asPage(await readValue(shelf, 'log', pageKey(book, month))));
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

  private change(page: string, change: (values: unknown[]) => unknown[]): Promise<void> {
    return changeIn(this.shelf, 'log', pageKey(this.book, page), (old) => change(asPage(old)));
  }

  /** Keeps values that cannot be used, each once. */
  async takeAside(values: readonly unknown[]): Promise<Taken> {
    const fresh = new Map(values.map((value) => [JSON.stringify(value) ?? 'null', value] as const).filter(([json]) => !this.odd.has(json)));
    if (fresh.size > 0) await this.change(ASIDE, (page) => [...page, ...fresh.values()]);
    for (const json of fresh.keys()) this.odd.add(json);
    return { added: 0, known: 0, aside: fresh.size };
  }

  /** Takes in the records of one month. */
  async takeMonth(month: string, records: readonly LogRecord[]): Promise<Taken> {
    const fresh: LogRecord[] = [];
    const winners: LogRecord[] = [];
    const losers: LogRecord[] = [];
    let same = 0;
    for (const record of records) {
      const here = this.known.get(record.id);
      if (!here) fresh.push(record);
      else if (here.json === JSON.stringify(record)) same++;
      else if (oneOfTwo(record, here.record) === record) winners.push(record);
      else losers.push(record);
    }
    // Whatever must give way is kept aside before it does, so that a phone switched off in between loses nothing.
    const beaten = winners.map((record) => this.known.get(record.id) as Known);
    const aside = await this.takeAside([...losers, ...beaten.map((b) => b.record)].map((record) => ({ doubled: record })));
    const gone = new Set(winners.map((r) => r.id));
    for (const page of new Set(beaten.map((b) => b.page).filter((page) => page !== month))) {
      await this.change(page, (values) => values.filter((value) => !gone.has(readableId(value) ?? '')));
    }
    if (fresh.length + winners.length > 0) {
      await this.change(month, (values) => {
        const left = values.filter((value) => !gone.has(readableId(value) ?? ''));
        // Another tab may have written meanwhile; an id that is there now is left alone.
        const there = new Set(left.map(readableId));
        return [...left, ...[...fresh, ...winners].filter((r) => !there.has(r.id))];
      });
    }
    for (const record of [...fresh, ...winners]) this.note(month, record);
    return { added: fresh.length, known: same, aside: aside.aside };
  }
}
