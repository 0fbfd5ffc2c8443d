import { DAY_MS } from '../care/schedule/day.ts';
import { type Book, bookKey, readBook, readSettings, SENDERS_MOST, SENDERS_PREFIX, SETTINGS_KEY } from './book.ts';
import type { Device } from './device.ts';
import { PagesIn, type Taken } from './pages-in.ts';
import { deletedPhotos, photoIds } from './photos.ts';
import type { Shelf } from './shelf.ts';
import {
  beginTaking,
  endTaking,
  type FollowingIn,
  noteOpenAlertOf,
  type TookIn,
  takeHead,
  takeOddHead,
  takePhoto,
  takeValues,
} from './take-in.ts';
import { changeIn, keysIn, readValue } from './values.ts';
import { type KeptPart, portable } from './whole.ts';

/** What bringing back a copy did. */
export interface Restored {
  /** By book, in the order they came. */
  books: readonly TookIn[];
  photos: number;
  drafts: number;
  /** Whether the settings of the copy were taken over: only on a phone without a book of its own. */
  settings: boolean;
}

/** A check or a change that was begun longer ago than this must not be finished as if it were today's. */
const DRAFT_AGE_MOST_MS = DAY_MS;
const DATED_DRAFTS = /^draft:(.+):(?:check|change)$/;

/** A draft's id on this phone: its record must not be that of the phone it was begun on, which may finish it too. */
const idHere = (id: string, device: string): string => `${id.slice(0, 27)}-${device.slice(0, 36)}`;

interface BookSoFar {
  book: Pick<Book, 'id' | 'keepMonths'> & { plan?: Book['plan'] };
  pages: PagesIn;
  took: TookIn;
}

/** Brings back what a copy holds, part by part, as a union with what is here. */
class Restore {
  private readonly books = new Map<string, BookSoFar>();
  private drafts = 0;
  private photos = 0;
  private settings = false;
  private herePhotos: Set<string> | undefined;
  private readonly deleted = new Set<string>();

  constructor(
    private readonly shelf: Shelf,
    private readonly device: Pick<Device, 'now'>,
    private readonly deviceId: string,
    private readonly isEmpty: boolean,
  ) {}

  async take(part: KeptPart): Promise<void> {
    if (part.kind === 'settings') return this.takeSettings(part.value);
    if (part.kind === 'photo') return this.takePhoto(part.photo, part.bytes);
    if (part.kind === 'draft') return this.takeDraft(part.key, part.value);
    if (part.kind === 'month') return this.takeMonth(part.book, part.value);
    return part.kind === 'book' ? this.takeBook(part.book, part.value) : this.takeSenders(part.book, part.value);
  }

  get result(): Restored {
    return { books: [...this.books.values()].map((b) => b.took), photos: this.photos, drafts: this.drafts, settings: this.settings };
  }

  private async takeSettings(value: unknown): Promise<void> {
    if (!this.isEmpty) return;
    this.settings = true;
    await changeIn(this.shelf, 'book', SETTINGS_KEY, (old) => readSettings({ ...readSettings(old), ...portable(value) }));
  }

  private async takeBook(id: string, value: unknown): Promise<void> {
    const pages = await PagesIn.open(this.shelf, id);
    const there = readBook(value);
    const took: TookIn = { book: id, plan: 'same', added: 0, known: 0, aside: 0 };
    if (there) took.plan = await takeHead(this.shelf, id, { ...there, earlierPlans: earlierIn(value) });
    else await takeOddHead(this.shelf, id, value, pages);
    const here = readBook(await readValue(this.shelf, 'book', bookKey(id)));
    this.books.set(id, { book: here ?? { id, keepMonths: [] }, pages, took });
  }

  private async takeSenders(book: string, value: unknown): Promise<void> {
    const list = (stored: unknown): unknown[] => (Array.isArray(stored) ? stored : []);
    await changeIn(this.shelf, 'book', SENDERS_PREFIX + book, (old) => {
      const known = new Set(list(old).map((key) => JSON.stringify(key)));
      return [...list(value).filter((key) => !known.has(JSON.stringify(key))), ...list(old)].slice(-SENDERS_MOST);
    });
  }

  private async takeMonth(id: string, value: unknown): Promise<void> {
    const own = this.books.get(id) ?? (await this.withoutHead(id));
    const values = Array.isArray(value) ? value : [value];
    this.add(id, await takeValues(this.shelf, own.book, own.pages, values));
  }

  /** A log whose book did not come along stays to be found once the book is there. */
  private async withoutHead(id: string): Promise<BookSoFar> {
    const here = readBook(await readValue(this.shelf, 'book', bookKey(id)));
    const own: BookSoFar = {
      book: here ?? { id, keepMonths: [] },
      pages: await PagesIn.open(this.shelf, id),
      took: { book: id, plan: 'same', added: 0, known: 0, aside: 0 },
    };
    this.books.set(id, own);
    return own;
  }

  private add(id: string, more: Taken): void {
    const own = this.books.get(id);
    if (!own) return;
    own.took.added += more.added;
    own.took.known += more.known;
    own.took.aside += more.aside;
  }

  private async takeDraft(key: string, value: unknown): Promise<void> {
    if ((await keysIn(this.shelf, 'book')).includes(key)) return;
    const pages = this.books.get(DATED_DRAFTS.exec(key)?.[1] ?? '')?.pages;
    const { id, startedAt } = Object(value) as { id?: unknown; startedAt?: unknown };
    if (!pages || typeof id !== 'string') return this.putDraft(key, value);
    const own = idHere(id, this.deviceId);
    // Finished meanwhile, here or there.
    if (pages.has(id) || pages.has(own)) return;
    const age = this.device.now() - Date.parse(String(startedAt));
    if (age <= DRAFT_AGE_MOST_MS) return this.putDraft(key, { ...(value as object), id: own });
    await pages.takeAside([{ draft: value }]);
  }

  private async putDraft(key: string, value: unknown): Promise<void> {
    await changeIn(this.shelf, 'book', key, (old) => old ?? value);
    this.drafts++;
  }

  private async takePhoto(photo: string, bytes: Blob): Promise<void> {
    if (!this.herePhotos) {
      this.herePhotos = new Set(await photoIds(this.shelf));
      for (const id of this.books.keys()) for (const gone of await deletedPhotos(this.shelf, id)) this.deleted.add(gone);
    }
    if (await takePhoto(this.shelf, photo, bytes, this.herePhotos, this.deleted)) this.photos++;
  }
}

/** Earlier plans as they are stored, readable or not. */
function earlierIn(value: unknown): unknown[] {
  const plans = (value as { earlierPlans?: unknown }).earlierPlans;
  return Array.isArray(plans) ? plans : [];
}

/**
 * Brings back a copy: the union of what it holds with what is here, so nothing
 * of the present is lost and no newer record overwritten. May be stopped
 * between two parts and done again.
 * @param parts in the order of `everything`; what it throws ends the work, and what came before stays.
 * @param deviceId this phone's own id.
 * @param told of the outcome so far after each part.
 */
export async function restore(
  shelf: Shelf,
  device: Pick<Device, 'now'>,
  deviceId: string,
  parts: AsyncIterable<KeptPart>,
  { signal, told }: Pick<FollowingIn, 'signal'> & { told?: (so: Restored) => void } = {},
): Promise<Restored> {
  const isEmpty = !(await keysIn(shelf, 'book')).some((key) => key.startsWith(bookKey('')));
  const work = new Restore(shelf, device, deviceId, isEmpty);
  await beginTaking(shelf);
  try {
    for await (const part of parts) {
      signal?.throwIfAborted();
      await work.take(part);
      told?.(work.result);
    }
  } finally {
    for (const { book } of work.result.books) await noteOpenAlertOf(shelf, book);
  }
  await endTaking(shelf);
  return work.result;
}
