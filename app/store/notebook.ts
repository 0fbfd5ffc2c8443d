import { type AlertRecord, type LogRecord, type Reading, readRecords } from '../care/log/records.ts';
import { type Entry, mergeLogs, openAlerts, timeline } from '../care/log/timeline.ts';
import type { Wound } from '../care/plan/plan.ts';
import { addDays, isLocalDay, type LocalDay, localDay } from '../care/schedule/day.ts';
import { type Book, bookKey, changedBook, readBooks, readSettings, SETTINGS_KEY, type SetAside, type Settings } from './book.ts';
import type { Device } from './device.ts';
import {
  type ChangeDraft,
  type CheckDraft,
  type DraftKind,
  draftKey,
  dropDraft,
  INCOMING_KEY,
  readDrafts,
  saveDraft,
  type WeighDraft,
} from './drafts.ts';
import { appendRecords, keepMonths, monthOf, monthsOf, monthsToKeep, readMonths, readStock } from './log.ts';
import { SHELF_VERSION, type Shelf, storedVersion } from './shelf.ts';
import { changeIn, readAll } from './values.ts';

/** What a screen needs to know; replaced whole at each change, never edited in place. */
export interface NotebookState {
  settings: Settings;
  books: readonly Book[];
  /** The open book, if any. */
  book: Book | undefined;
  /** The open book's log as far as it is loaded. */
  records: readonly LogRecord[];
  entries: readonly Entry[];
  /** Months that are loaded, and those that are there besides. */
  loadedMonths: readonly string[];
  otherMonths: readonly string[];
  /** Stored values that could not be read: whole, unchanged, never used. */
  setAside: readonly SetAside[];
  checkDraft: CheckDraft | undefined;
  changeDraft: ChangeDraft | undefined;
  weighDraft: WeighDraft | undefined;
  /** Text of a plan that waits for confirmation. */
  incoming: string | undefined;
}

/** The part of a record that every kind has, filled in by the notebook. */
export type Stamp = Pick<LogRecord, 'id' | 'at' | 'day' | 'zone' | 'by' | 'device' | 'plan'>;

/** Tells other tabs of the same app that the stores changed. */
export interface Bell {
  ring(): void;
  onRing(heard: () => void): void;
}

const LOG = 'log';
const oddRecords = (log: Reading): SetAside[] => log.unreadable.map((value) => ({ where: LOG, value }));

const isMonth = (text: string): boolean => isLocalDay(`${text}-01`);

/** The month before one, as `YYYY-MM`. */
const monthBefore = (month: string): string => addDays(`${month}-01` as LocalDay, -1).slice(0, 7);

/**
 * Everything the device keeps, opened. All writing goes through here: it is
 * committed first and shown after.
 */
export class Notebook {
  state: NotebookState = {
    settings: readSettings(undefined),
    books: [],
    book: undefined,
    records: [],
    entries: [],
    loadedMonths: [],
    otherMonths: [],
    setAside: [],
    checkDraft: undefined,
    changeDraft: undefined,
    weighDraft: undefined,
    incoming: undefined,
  };
  private listeners = new Set<() => void>();
  private openId: string | undefined;
  /** Counts the drafts this tab has shown, and those of them not yet stored. */
  private draftsShown = 0;
  private draftsUnstored = 0;
  private missedDrafts = false;

  private constructor(
    readonly shelf: Shelf,
    readonly device: Device,
    private readonly bell: Bell,
  ) {}

  /**
   * Opens the stores, brings them up to date and loads the open book.
   * @throws NewerShelfError when a newer app wrote them.
   */
  static async open(shelf: Shelf, device: Device, bell: Bell): Promise<Notebook> {
    if ((await storedVersion(shelf)) !== SHELF_VERSION) await (await import('./migrate.ts')).migrate(shelf);
    const notebook = new Notebook(shelf, device, bell);
    await notebook.reload();
    // A phone that went off right after an alert was written has not noted it with the book. One that is full opens all the same.
    await notebook.noteOpenAlert().catch(() => undefined);
    bell.onRing(() => void notebook.reload());
    return notebook;
  }

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  private show(part: Partial<NotebookState>): void {
    this.state = { ...this.state, ...part };
    for (const listener of this.listeners) listener();
  }

  /** Reads books, settings, drafts and the recent log anew. */
  async reload(): Promise<void> {
    const draftsShown = this.draftsShown;
    const unstored = this.draftsUnstored > 0;
    const all = await readAll(this.shelf, 'book');
    const settings = readSettings(all.get(SETTINGS_KEY));
    const { books, setAside } = readBooks(all);
    // Each tab keeps to its own book: choosing another person elsewhere must not change whose answers are taken here.
    const book = books.find((b) => b.id === (this.openId ?? settings.currentBook)) ?? books[0];
    this.openId = book?.id;
    const log = book ? await this.readLog(book, this.state.book?.id === book.id ? this.state.loadedMonths : []) : undefined;
    const incoming = all.get(INCOMING_KEY);
    // A phone that is full opens all the same.
    if (this.shelf.seal && books.length > 0)
      await (await import('./front.ts')).keepFront(this.shelf, settings, books).catch(() => undefined);
    let { checkDraft, changeDraft, weighDraft, setAside: oddDrafts } = readDrafts(all, book?.id ?? '');
    // What was read is older than what the person has answered meanwhile: that stays on screen.
    if ((unstored || draftsShown !== this.draftsShown) && book?.id === this.state.book?.id) {
      ({ checkDraft, changeDraft, weighDraft } = this.state);
      this.missedDrafts = true;
    }
    const left = <D extends { id: string }>(draft: D | undefined, shown: D | undefined): D | undefined =>
      draft && draft.id !== shown?.id && log?.records.some((r) => r.id === draft.id) ? undefined : draft;
    this.show({
      settings,
      books,
      book,
      records: log?.records ?? [],
      entries: log?.entries ?? [],
      loadedMonths: log?.months ?? [],
      otherMonths: log?.other ?? [],
      setAside: [...setAside, ...oddDrafts, ...(log ? oddRecords(log) : [])],
      // A draft whose record is written was only not cleared away, by a phone that went off in between.
      checkDraft: left(checkDraft, this.state.checkDraft),
      changeDraft: left(changeDraft, this.state.changeDraft),
      weighDraft: left(weighDraft, this.state.weighDraft),
      incoming: typeof incoming === 'string' ? incoming : undefined,
    });
  }

  private async readLog(book: Book, alsoMonths: readonly string[]) {
    const present = await monthsOf(this.shelf, book.id);
    const thisMonth = this.today().slice(0, 7);
    // Anything later than this month too: a phone whose clock was wrong must not hide what it wrote.
    // The newest two as well: after a long pause the last change must still be known, or it could not be overdue.
    const recent = [...present.filter((m) => m >= monthBefore(thisMonth)), ...present.filter(isMonth).slice(-2)];
    const wanted = new Set([...recent, ...present.filter((m) => !isMonth(m)), ...book.keepMonths, ...alsoMonths]);
    const months = present.filter((m) => wanted.has(m));
    const reading = await readMonths(this.shelf, book.id, months);
    return { ...reading, entries: timeline(reading.records), months, other: present.filter((m) => !wanted.has(m)) };
  }

  /** Loads the newest month that is not loaded yet. */
  async loadEarlier(): Promise<void> {
    const { book, otherMonths, loadedMonths } = this.state;
    const next = otherMonths.at(-1);
    if (!book || !next) return;
    const log = await this.readLog(book, [...loadedMonths, next]);
    const setAside = [...this.state.setAside.filter((s) => s.where !== LOG), ...oddRecords(log)];
    this.show({ records: log.records, entries: log.entries, loadedMonths: log.months, otherMonths: log.other, setAside });
  }

  today(): LocalDay {
    return localDay(this.device.now(), this.device.zone());
  }

  /** When, where, by whom and under which plan a record is made. */
  stamp(id: string = this.device.newId()): Stamp {
    const { settings, book } = this.state;
    const now = this.device.now();
    const zone = this.device.zone();
    return {
      id,
      at: new Date(now).toISOString(),
      day: localDay(now, zone),
      zone,
      by: { who: settings.who, ...(settings.name ? { name: settings.name } : {}) },
      device: settings.device ?? 'unnamed',
      plan: book ? { id: book.plan.id, revision: book.plan.revision } : null,
    };
  }

  /**
   * Writes records to the open book's log. Resolves after they are committed.
   * Those of one month are written in one transaction, the months in the order
   * of the records: the one that ends a draft must stand last.
   * @throws when the store refuses; nothing is shown as saved then.
   */
  async append(records: readonly LogRecord[]): Promise<void> {
    const { book } = this.state;
    if (!book) throw new Error('no book is open');
    const checked = readRecords(records);
    if (checked.unreadable.length > 0) throw new Error('a record does not fit its own schema');
    const measured = this.state.records.filter((r) => r.kind === 'measurement').map(monthOf);
    await keepMonths(this.shelf, book, monthsToKeep(checked.records, [book.plan.issued.slice(0, 7), ...measured]));
    await appendRecords(this.shelf, book.id, checked.records);
    await this.refresh();
  }

  /** Shows what was just written to the stores, here and in other tabs. */
  async refresh(): Promise<void> {
    await this.reload();
    await this.noteOpenAlert();
    this.bell.ring();
  }

  /** Keeps the gravest open alert with the book, so that it is seen from the other books too. */
  private async noteOpenAlert(): Promise<void> {
    const { book } = this.state;
    const openAlert = this.openAlerts()[0]?.told;
    if (!book || book.openAlert === openAlert) return;
    await changeIn(this.shelf, 'book', bookKey(book.id), (old) => changedBook(old, { openAlert }));
    await this.reload();
  }

  /** Leaves the open book for whichever stands first. */
  async closeBook(): Promise<void> {
    this.openId = undefined;
    await this.reload();
    this.bell.ring();
  }

  async saveSettings(part: Partial<Settings>): Promise<void> {
    await changeIn(this.shelf, 'book', SETTINGS_KEY, (old) => ({ ...readSettings(old), ...part }));
    await this.reload();
    this.bell.ring();
  }

  /** Gives the phone its id at first use. */
  async nameDevice(): Promise<void> {
    if (this.state.settings.device === undefined) await this.saveSettings({ device: this.device.newId() });
  }

  async openBook(id: string): Promise<void> {
    this.openId = id;
    await this.saveSettings({ currentBook: id });
  }

  async keepIncoming(text: string): Promise<void> {
    await changeIn(this.shelf, 'book', INCOMING_KEY, () => text);
    await this.reload();
  }

  async dropIncoming(): Promise<void> {
    await dropDraft(this.shelf, INCOMING_KEY);
    await this.reload();
  }

  /** A draft shows at once and is stored at once; only records wait for the commit. */
  async saveCheckDraft(draft: CheckDraft): Promise<void> {
    this.show({ checkDraft: draft });
    await this.saveDraftOf('check', draft);
  }

  async saveChangeDraft(draft: ChangeDraft): Promise<void> {
    this.show({ changeDraft: draft });
    await this.saveDraftOf('change', draft);
  }

  async saveWeighDraft(draft: WeighDraft): Promise<void> {
    this.show({ weighDraft: draft });
    await this.saveDraftOf('weigh', draft);
  }

  private async saveDraftOf(kind: DraftKind, draft: CheckDraft | ChangeDraft | WeighDraft): Promise<void> {
    const { book } = this.state;
    if (!book) return;
    this.draftsShown++;
    this.draftsUnstored++;
    try {
      await saveDraft(this.shelf, draftKey(book.id, kind), draft);
    } finally {
      this.draftsUnstored--;
    }
    if (this.draftsUnstored > 0 || !this.missedDrafts) return;
    this.missedDrafts = false;
    await this.reload();
  }

  async dropDraftOf(kind: DraftKind): Promise<void> {
    const { book } = this.state;
    if (book) await dropDraft(this.shelf, draftKey(book.id, kind));
    await this.reload();
    this.bell.ring();
  }

  /** The wound of the open book with this id. */
  wound(id: string): Wound | undefined {
    return this.state.book?.plan.wounds.find((w) => w.id === id);
  }

  /** Alerts nobody has answered, gravest first. */
  openAlerts(): AlertRecord[] {
    return openAlerts(this.state.entries).map((s) => s.alert);
  }

  /** The log as loaded, and the stock movements of all months, which a stock cannot do without. */
  async stockEntries(): Promise<Entry[]> {
    const { book, records } = this.state;
    if (!book) return [];
    return timeline(mergeLogs(records, await readStock(this.shelf, book.id)));
  }

  /** Every record of a book, whatever month; used for exports. */
  async wholeLog(book: string): Promise<Reading> {
    return readMonths(this.shelf, book, await monthsOf(this.shelf, book));
  }
}

/** Rings for nobody. */
export const SILENT: Bell = { ring: () => {}, onRing: () => {} };

/** A bell between tabs where the platform has one; silent where it has not. */
export function tabBell(): Bell {
  if (typeof BroadcastChannel === 'undefined') return SILENT;
  const channel = new BroadcastChannel('tendbook');
  return {
    ring: () => channel.postMessage('changed'),
    onRing: (heard) => channel.addEventListener('message', heard),
  };
}
