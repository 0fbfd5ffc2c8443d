import { get, set, setMany, type UseStore } from 'idb-keyval';
import { beforeEach, describe, expect, test } from 'vitest';
import { readRecords } from '../../app/care/log/records.ts';
import { migrate } from '../../app/store/migrate.ts';
import { NewerShelfError, SHELF_VERSION, type Shelf, VERSION_KEY } from '../../app/store/shelf.ts';
import fixture from './fixtures/version-0.json' with { type: 'json' };
import { contentOf, fakeDevice, newShelf, openTab } from './phone.ts';

let shelf: Shelf;
beforeEach(() => {
  shelf = newShelf();
});

const fill = async (part: { book?: object; log?: object } = {}): Promise<void> => {
  await setMany(Object.entries(part.book ?? fixture.book), shelf.book);
  await setMany(Object.entries(part.log ?? fixture.log), shelf.log);
};

/** A store that fails from its n-th write transaction on. */
function failing(store: UseStore, from: number): UseStore {
  let writes = 0;
  return (mode, callback) => {
    if (mode === 'readwrite' && ++writes >= from) return Promise.reject(new Error('the battery is dead'));
    return store(mode, callback);
  };
}

const pageOf = (month: string): Promise<unknown[] | undefined> => get(`orrin/${month}`, shelf.log);
const idsOf = (page: unknown[] | undefined): unknown[] => (page ?? []).map((r) => (r as { id?: unknown }).id);

describe('a phone that version 0 wrote', () => {
  test('gets a page for each month and a book for its person', async () => {
    await fill();
    await migrate(shelf);
    expect(idsOf(await pageOf('2030-11'))).toEqual(['n1', 'd1', 'odd']);
    expect(idsOf(await pageOf('2030-12'))).toEqual(['m1']);
    expect(idsOf(await pageOf('2031-03'))).toEqual(['a1']);
    expect(idsOf(await pageOf('2031-04'))).toEqual(['o1']);
    expect(idsOf(await pageOf('2031-05'))).toEqual(['n2']);
    expect(await get('book:orrin', shelf.book)).toMatchObject({
      id: 'orrin',
      plan: fixture.book.plan,
      acceptedAt: fixture.book.acceptedAt,
    });
    expect(await get(VERSION_KEY, shelf.book)).toBe(SHELF_VERSION);
  });

  test('keeps every record: each reads, with the clinic’s zone for its day, and says nothing new', async () => {
    await fill();
    await migrate(shelf);
    const { log } = await contentOf(shelf);
    const pages = Object.entries(log).filter(([key]) => key.startsWith('orrin/'));
    const { records, unreadable } = readRecords(pages.flatMap(([, page]) => page as unknown[]));
    expect(records).toHaveLength(fixture.log.all.length - 1);
    for (const record of records) {
      expect(record.zone).toBe('America/Los_Angeles');
      expect(record.device).toBe('before-version-1');
      expect(record).toMatchObject(fixture.log.all.find((old) => old.id === record.id) ?? {});
    }
    expect(unreadable).toEqual([fixture.log.all[2]]);
  });

  test('loses nothing of what was there before: the old list and plan stay', async () => {
    await fill();
    await migrate(shelf);
    const after = await contentOf(shelf);
    expect(after.log.all).toEqual(fixture.log.all);
    expect(after.book.plan).toEqual(fixture.book.plan);
  });

  test('is not changed by a second run, nor by a third that has forgotten the version', async () => {
    await fill();
    await migrate(shelf);
    const once = await contentOf(shelf);
    await migrate(shelf);
    expect(await contentOf(shelf)).toEqual(once);
    await set(VERSION_KEY, 0, shelf.book);
    await migrate(shelf);
    expect(await contentOf(shelf)).toEqual(once);
  });

  test.each([1, 2, 3, 4, 5])('killed at write %i of the log, it comes out the same when it runs again', async (from) => {
    await fill();
    await migrate(shelf);
    const whole = await contentOf(shelf);
    shelf = newShelf();
    await fill();
    await expect(migrate({ ...shelf, log: failing(shelf.log, from) })).rejects.toThrow('the battery is dead');
    expect(await get(VERSION_KEY, shelf.book)).toBeUndefined();
    await migrate(shelf);
    expect(await contentOf(shelf)).toEqual(whole);
  });

  test.each([1, 2])('killed at write %i of the book, it comes out the same when it runs again', async (from) => {
    await fill();
    await expect(migrate({ ...shelf, book: failing(shelf.book, from) })).rejects.toThrow('the battery is dead');
    await migrate(shelf);
    const after = await contentOf(shelf);
    shelf = newShelf();
    await fill();
    await migrate(shelf);
    expect(after).toEqual(await contentOf(shelf));
  });

  test('opens with its newest months, its first measurement, and no alert open that was answered a month later', async () => {
    await fill();
    const tab = await openTab(shelf, fakeDevice('2031-09-01T12:00:00Z'));
    expect(tab.state.book?.plan.person.callMe).toBe('Orrin');
    expect(tab.state.records.map((r) => r.id)).toEqual(expect.arrayContaining(['m1', 'a1', 'o1', 'n2']));
    expect(tab.openAlerts()).toEqual([]);
  });

  test('an alert that nobody answered is still open, however old', async () => {
    await fill({ log: { all: fixture.log.all.filter((r) => r.id !== 'o1') } });
    const tab = await openTab(shelf, fakeDevice('2032-01-01T12:00:00Z'));
    expect(tab.openAlerts().map((a) => a.id)).toEqual(['a1']);
  });

  test('odd values in the list break nothing: they are set aside whole, and shown', async () => {
    const odd = [null, 'torn page', 7, ['a', 'list'], { day: '2031-02-30', id: 'x' }, { day: 20310404 }];
    await fill({ log: { all: [...odd, ...fixture.log.all] } });
    const tab = await openTab(shelf, fakeDevice('2031-09-01T12:00:00Z'));
    expect(tab.state.setAside.map((s) => s.value)).toEqual(expect.arrayContaining(odd));
    // The log screen names each month it has not loaded: what has no month must not be among them.
    for (const month of tab.state.otherMonths) expect(month).toMatch(/^\d{4}-(0[1-9]|1[0-2])$/);
    const once = await contentOf(shelf);
    await set(VERSION_KEY, 0, shelf.book);
    await migrate(shelf);
    expect(await contentOf(shelf)).toEqual(once);
  });

  test('a list that is no list is kept whole', async () => {
    await fill({ log: { all: { torn: true } } });
    const tab = await openTab(shelf, fakeDevice('2031-09-01T12:00:00Z'));
    expect(tab.state.setAside).toEqual([{ where: 'log', value: { torn: true } }]);
  });

  test('a plan that cannot be read is set aside with its whole log, and shown; nothing is lost', async () => {
    const plan = { ...fixture.book.plan, clinic: 'torn' };
    await fill({ book: { ...fixture.book, plan } });
    const tab = await openTab(shelf);
    expect(tab.state.book).toBeUndefined();
    expect(tab.state.setAside).toHaveLength(1);
    expect(tab.state.setAside[0]?.value).toMatchObject({ plan, log: fixture.log.all });
  });
});

describe('other phones', () => {
  test('a new phone gets the version and nothing else', async () => {
    await migrate(shelf);
    expect(await contentOf(shelf)).toEqual({ log: {}, photos: {}, book: { [VERSION_KEY]: SHELF_VERSION } });
  });

  test.each([SHELF_VERSION + 1, 99])('stores of version %i are refused, and nothing is written', async (version) => {
    await fill();
    await set(VERSION_KEY, version, shelf.book);
    await set('a photo', new Uint8Array([1, 2, 3]), shelf.photos);
    const before = await contentOf(shelf);
    await expect(migrate(shelf)).rejects.toThrow(NewerShelfError);
    await expect(openTab(shelf)).rejects.toThrow(NewerShelfError);
    expect(await contentOf(shelf)).toEqual(before);
  });

  test('each shipped version has its fixture, and a step away from it; the present one opens with all that it holds', async () => {
    const shown: number[] = [];
    for (let version = 0; version <= SHELF_VERSION; version++) {
      const module = (await import(`./fixtures/version-${version}.json`)) as { default: { log: object; book: object } };
      shelf = newShelf();
      await fill(module.default);
      await migrate(shelf);
      expect(await get(VERSION_KEY, shelf.book)).toBe(SHELF_VERSION);
      const { state } = await openTab(shelf);
      expect(state.books).toHaveLength(1);
      shown.push(state.records.length);
      // What of version 0 could never be read is no fault of a later one.
      if (version > 0) expect(state.setAside).toEqual([]);
    }
    expect(Math.min(...shown)).toBeGreaterThan(0);
  });
});
