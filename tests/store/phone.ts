import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { entries } from 'idb-keyval';
import type { Device } from '../../app/store/device.ts';
import { type Bell, Notebook } from '../../app/store/notebook.ts';
import { openShelf, type Shelf } from '../../app/store/shelf.ts';

/** A new phone with empty stores; the databases of the test before are out of reach. */
export function newShelf(): Shelf {
  globalThis.indexedDB = new IDBFactory();
  return openShelf();
}

/** A device whose clock the test sets and whose ids count up. */
export interface FakeDevice extends Device {
  /** Sets the clock, as `2031-03-04T09:00:00Z`. */
  setClock(time: string): void;
}

export function fakeDevice(time = '2031-03-04T15:00:00Z', zone = 'America/Chicago', name = 'id'): FakeDevice {
  let now = Date.parse(time);
  let count = 0;
  return {
    now: () => now,
    zone: () => zone,
    newId: () => `${name}-${++count}`,
    setClock: (next) => {
      now = Date.parse(next);
    },
  };
}

/** The bell of one tab in a house of tabs: every other tab hears it, at once. */
export class FakeBell implements Bell {
  private heard: (() => void) | undefined;
  rung = 0;
  constructor(private readonly house: FakeBell[]) {
    house.push(this);
  }
  ring(): void {
    this.rung++;
    for (const bell of this.house) if (bell !== this) bell.heard?.();
  }
  onRing(heard: () => void): void {
    this.heard = heard;
  }
}

export const openTab = (shelf: Shelf, device: Device = fakeDevice(), bell: Bell = new FakeBell([])): Promise<Notebook> =>
  Notebook.open(shelf, device, bell);

/** All that a phone holds, as plain data. */
export async function contentOf(shelf: Shelf): Promise<Record<'log' | 'photos' | 'book', Record<string, unknown>>> {
  const [log, photos, book] = await Promise.all([shelf.log, shelf.photos, shelf.book].map((store) => entries<string, unknown>(store)));
  return { log: Object.fromEntries(log ?? []), photos: Object.fromEntries(photos ?? []), book: Object.fromEntries(book ?? []) };
}

/** Waits until a condition holds; other tabs answer a bell a little later. */
export async function until(holds: () => boolean): Promise<void> {
  for (let i = 0; i < 200; i++) {
    if (holds()) return;
    await new Promise((done) => setTimeout(done, 5));
  }
  throw new Error('it never came about');
}
