import { acceptPlan } from '../../app/store/accept-plan.ts';
import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import fc from 'fast-check';
import { get, set } from 'idb-keyval';
import { beforeEach, describe, expect, test } from 'vitest';
import type { LogRecord } from '../../app/care/log/records.ts';
import { mergeLogs } from '../../app/care/log/timeline.ts';
import type { Plan } from '../../app/care/plan/plan.ts';
import type { Notebook } from '../../app/store/notebook.ts';
import { ASIDE } from '../../app/store/pages-in.ts';
import { keepPhoto, photoIds } from '../../app/store/photos.ts';
import { NewerShelfError, openShelf, SHELF_VERSION, type Shelf, VERSION_KEY } from '../../app/store/shelf.ts';
import { type BookIn, takeBook, wasCutShort } from '../../app/store/take-in.ts';
import { historiesArb } from '../care/log/histories.ts';
import { alert, check, measurement, note, outcome, withdrawal } from '../care/log/make.ts';
import { demoPlan, mustRead } from '../care/plan/plans.ts';
import { picture } from '../exchange/logs.ts';
import { contentOf, fakeDevice, openTab } from './phone.ts';

const plan = demoPlan();
const ID = plan.person.id;
const BOOK = `book:${ID}`;
const revised = (revision: number, more: Partial<Plan> = {}): Plan => mustRead({ ...plan, revision, ...more });
const there = (more: Partial<BookIn> = {}): BookIn => ({ plan, earlierPlans: [], acceptedAt: '2031-03-01T09:00:00.000Z', ...more });
const on = <R extends LogRecord>(record: R, day: string): R => ({ ...record, day, at: `${day}T12:00:00.000Z` }) as R;
const ids = (list: readonly { id: string }[]): string[] => list.map((r) => r.id).sort();

let count = 0;
/** A phone of its own with the plan in force. */
async function phone(own: Plan | undefined = plan): Promise<Notebook> {
  const tab = await openTab(openShelf(`phone-${++count}`), fakeDevice('2031-03-04T15:00:00Z', 'America/Chicago', `id${count}`));
  if (own) await acceptPlan(tab, own);
  return tab;
}
const whole = async (tab: Notebook): Promise<LogRecord[]> => (await tab.wholeLog(ID)).records;
async function take(
  tab: Notebook,
  book: BookIn,
  records: readonly LogRecord[],
  more: { odd?: unknown[]; photos?: { id: string; bytes: Blob }[]; signal?: AbortSignal; onProgress?: (share: number) => void } = {},
) {
  const { odd = [], photos = [], ...following } = more;
  const took = await takeBook(tab.shelf, book, { records, odd, photos }, following);
  await tab.refresh();
  return took;
}

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

describe('taking in the log of another phone', () => {
  test('is the union: new records are added to the pages of their months, known ones left alone', async () => {
    const tab = await phone();
    await tab.append([note('mine'), note('both')]);
    const took = await take(tab, there(), [note('both'), note('theirs'), on(note('old'), '2030-11-02')]);
    expect(took).toMatchObject({ book: ID, plan: 'same', added: 2, known: 1, aside: 0, photos: 0 });
    expect(ids(await whole(tab)).filter((id) => !id.startsWith('id'))).toEqual(['both', 'mine', 'old', 'theirs']);
    expect((await get<{ id: string }[]>(`${ID}/2030-11`, tab.shelf.log))?.map((r) => r.id)).toEqual(['old']);
    expect(tab.state.records.some((r) => r.id === 'theirs')).toBe(true);
  });

  test('a second time changes nothing', async () => {
    const tab = await phone();
    const log = [note('a'), on(check('b'), '2030-11-02'), alert('c')];
    const photos = [{ id: 'p', bytes: picture(1) }];
    await take(tab, there({ plan: revised(2) }), log, { odd: [{ odd: 1 }], photos });
    const before = await contentOf(tab.shelf);
    expect(await take(tab, there({ plan: revised(2) }), log, { odd: [{ odd: 1 }], photos })).toMatchObject({
      plan: 'same',
      added: 0,
      known: 3,
      aside: 0,
      photos: 0,
    });
    expect(await contentOf(tab.shelf)).toEqual(before);
  });

  test('opens a book for a person who had none, and leaves the other books alone', async () => {
    const tab = await phone();
    await tab.append([note('nela')]);
    const ivo = mustRead({ ...plan, id: 'birch-1', person: { ...plan.person, id: 'ivo', callMe: 'Ivo' } });
    expect(await take(tab, there({ plan: ivo }), [note('ivo-1'), alert('ivo-2')])).toMatchObject({ book: 'ivo', plan: 'new', added: 2 });
    expect(tab.state.book?.id).toBe(ID);
    expect(ids(tab.state.records)).not.toContain('ivo-1');
    // The alert that nobody answered shows from here too.
    expect(tab.state.books.find((b) => b.id === 'ivo')?.openAlert).toBe('callToday');
    await tab.openBook('ivo');
    expect(ids(tab.state.records)).toEqual(['ivo-1', 'ivo-2']);
  });

  test('what could not be read is kept aside first, whole, and shown', async () => {
    const tab = await phone();
    const odd = [{ kind: 'wish', deep: [1, { a: null }] }, 'torn', null];
    await take(tab, there(), [note('a')], { odd });
    expect(await get(`${ID}/${ASIDE}`, tab.shelf.log)).toEqual(odd);
    expect(tab.state.setAside.map((s) => s.value)).toEqual(odd);
  });

  test('what is here and cannot be read stays where it is', async () => {
    const tab = await phone();
    const key = `${ID}/2031-03`;
    await set(key, [...((await get<unknown[]>(key, tab.shelf.log)) ?? []), { odd: 'mine' }], tab.shelf.log);
    await take(tab, there(), [note('a')], { odd: [{ odd: 'mine' }, { odd: 'theirs' }] });
    expect(await get<unknown[]>(key, tab.shelf.log)).toEqual(
      expect.arrayContaining([{ odd: 'mine' }, expect.objectContaining({ id: 'a' })]),
    );
    // The same value is not kept twice.
    expect(await get(`${ID}/${ASIDE}`, tab.shelf.log)).toEqual([{ odd: 'theirs' }]);
  });
});

describe('one id with two contents', () => {
  const mine = note('x', '2031-03-04T09:00', 'mine');
  const older = note('x', '2031-03-02T09:00', 'older');
  const newer = note('x', '2031-04-02T09:00', 'newer');

  test('the newer record here is never overwritten; the older that came is kept aside', async () => {
    const tab = await phone();
    await tab.append([mine]);
    expect(await take(tab, there(), [older])).toMatchObject({ added: 0, aside: 1 });
    expect(await whole(tab)).toEqual(expect.arrayContaining([mine]));
    expect(tab.state.setAside).toEqual([{ where: 'log', value: { doubled: older } }]);
    expect(await take(tab, there(), [older])).toMatchObject({ added: 0, aside: 0 });
  });

  test('a newer one that came stands, in the page of its month; the older is kept aside', async () => {
    const tab = await phone();
    await tab.append([mine]);
    await take(tab, there(), [newer]);
    expect((await whole(tab)).filter((r) => r.id === 'x')).toEqual([newer]);
    expect((await get<{ id: string }[]>(`${ID}/2031-03`, tab.shelf.log))?.map((r) => r.id)).not.toContain('x');
    expect(tab.state.setAside).toEqual([{ where: 'log', value: { doubled: mine } }]);
  });
});

test('a value here that cannot be read neither keeps out a record of its id nor is replaced by it', async () => {
  const tab = await phone();
  const key = `${ID}/2031-03`;
  await set(key, [{ id: 'x', kind: 'wish' }, ...((await get<unknown[]>(key, tab.shelf.log)) ?? [])], tab.shelf.log);
  await take(tab, there(), [note('x', '2031-03-04T09:00', 'first')]);
  await take(tab, there(), [note('x', '2031-03-05T09:00', 'second')]);
  expect(await get<unknown[]>(key, tab.shelf.log)).toEqual(expect.arrayContaining([{ id: 'x', kind: 'wish' }]));
  expect((await whole(tab)).filter((r) => r.id === 'x')).toMatchObject([{ text: 'second' }]);
});

describe('the plan', () => {
  test('a newer one takes effect and the one here becomes an earlier one', async () => {
    const tab = await phone(revised(2));
    expect(
      await take(tab, there({ plan: revised(3), earlierPlans: [revised(1), revised(2)], acceptedAt: '2031-03-03T09:00:00.000Z' }), []),
    ).toMatchObject({ plan: 'taken' });
    expect(tab.state.book?.plan.revision).toBe(3);
    expect(tab.state.book?.earlierPlans.map((p) => p.revision)).toEqual([1, 2]);
    expect(tab.state.book?.acceptedAt).toBe('2031-03-03T09:00:00.000Z');
  });

  test('an older one becomes an earlier one', async () => {
    const tab = await phone(revised(3));
    expect(await take(tab, there({ plan: revised(1) }), [])).toMatchObject({ plan: 'kept' });
    expect(tab.state.book?.plan.revision).toBe(3);
    expect(tab.state.book?.earlierPlans.map((p) => p.revision)).toEqual([1]);
  });

  test('one version number with two contents: the one here stays, the other is kept', async () => {
    const tab = await phone(revised(2));
    const forged = revised(2, { clinic: { ...plan.clinic, phone: '+1 312 555 0199' } });
    expect(await take(tab, there({ plan: forged }), [])).toMatchObject({ plan: 'conflict' });
    expect(tab.state.book?.plan.clinic.phone).toBe(plan.clinic.phone);
    expect(tab.state.book?.earlierPlans).toEqual([forged]);
  });

  test('earlier plans that cannot be read are kept whole', async () => {
    const tab = await phone();
    await take(tab, there({ earlierPlans: [{ version: 1, id: 'torn' }] }), []);
    expect(await get(BOOK, tab.shelf.book)).toMatchObject({ earlierPlans: [{ version: 1, id: 'torn' }] });
    expect(tab.state.setAside).toEqual([{ where: BOOK, value: { version: 1, id: 'torn' } }]);
  });

  test('settings of this phone are left alone', async () => {
    const tab = await phone();
    await tab.saveSettings({ who: 'caregiver', name: 'Ana', textSize: 'large' });
    const before = tab.state.settings;
    await take(tab, there({ plan: revised(2) }), [note('a')]);
    expect(tab.state.settings).toEqual(before);
  });
});

describe('what must stay loaded', () => {
  /** The newest two months are always loaded; these are they. */
  const recent = (): LogRecord[] => [on(note('recent'), '2031-02-10')];

  test('an old alert that came is seen at once, however old, with what came of it', async () => {
    const tab = await phone();
    await tab.append(recent());
    await take(tab, there(), [
      on(alert('a1'), '2029-05-05'),
      on(alert('a2'), '2029-05-05'),
      on(outcome('o', ['a1']), '2029-06-01'),
      on(note('n'), '2029-08-01'),
    ]);
    expect(tab.openAlerts().map((a) => a.id)).toEqual(['a2']);
    expect(tab.state.book?.openAlert).toBe('callToday');
    expect(tab.state.loadedMonths).toEqual(expect.arrayContaining(['2029-05', '2029-06']));
    expect(tab.state.loadedMonths).not.toContain('2029-08');
  });

  test('the first measurements that came are loaded, later ones are not', async () => {
    const tab = await phone();
    await tab.append(recent());
    const sizes = [
      ['m1', '2029-01-05'],
      ['m2', '2029-03-05'],
      ['m3', '2029-09-05'],
    ] as const;
    await take(
      tab,
      there(),
      sizes.map(([id, day]) => on(measurement(id, '2031-03-04T09:00', 20, 10), day)),
    );
    expect(ids(tab.state.records.filter((r) => r.kind === 'measurement'))).toEqual(['m1', 'm2']);
  });

  test('months that the other phone kept loaded are kept here', async () => {
    const tab = await phone();
    await take(tab, there({ keepMonths: ['2028-01'] }), []);
    expect(tab.state.book?.keepMonths).toContain('2028-01');
  });
});

describe('photos', () => {
  test('that are missing are added; those here are not touched', async () => {
    const tab = await phone();
    await keepPhoto(tab.shelf, 'p1', picture(1));
    const took = await take(tab, there(), [], {
      photos: [
        { id: 'p1', bytes: picture(9) },
        { id: 'p2', bytes: picture(2) },
      ],
    });
    expect(took.photos).toBe(1);
    expect((await photoIds(tab.shelf)).sort()).toEqual(['p1', 'p2']);
    const kept = (await get<Blob>('p1', tab.shelf.photos)) as Blob;
    expect(await kept.arrayBuffer()).toEqual(await picture(1).arrayBuffer());
  });

  test('that were deleted here, or there, do not come back', async () => {
    const tab = await phone();
    const shot = (id: string): LogRecord => {
      const { text: _text, ...base } = note(id);
      return { ...base, kind: 'photo', wound: 'w1', photo: `bytes-${id}`, widthPx: 10, heightPx: 10 };
    };
    await tab.append([shot('a'), withdrawal('v', 'a')]);
    const took = await take(tab, there(), [shot('a'), shot('b'), shot('c'), withdrawal('w', 'b')], {
      photos: ['a', 'b', 'c'].map((id) => ({ id: `bytes-${id}`, bytes: picture(1) })),
    });
    expect(took.photos).toBe(1);
    expect(await photoIds(tab.shelf)).toEqual(['bytes-c']);
  });
});

describe('stopping and failing', () => {
  const months = Array.from({ length: 10 }, (_, i) => `2030-${String(i + 1).padStart(2, '0')}`);
  const log = months.flatMap((m) => [on(note(`${m}-a`), `${m}-05`), on(note(`${m}-b`), `${m}-06`)]);

  test('stopping leaves whole months, says so, and doing it again brings the rest', async () => {
    const tab = await phone();
    const stop = new AbortController();
    const told: number[] = [];
    await expect(
      take(tab, there(), log, {
        signal: stop.signal,
        onProgress: (share) => {
          told.push(share);
          if (told.length === 4) stop.abort();
        },
      }),
    ).rejects.toMatchObject({ name: 'AbortError' });
    await tab.refresh();
    const half = (await whole(tab)).filter((r) => r.kind === 'note');
    // The newest first.
    expect(ids(half)).toEqual(ids(log.slice(-8)));
    expect(await wasCutShort(tab.shelf)).toBe(true);
    expect(await take(tab, there(), log)).toMatchObject({ added: 12, known: 8 });
    expect(await wasCutShort(tab.shelf)).toBe(false);
    expect(ids((await whole(tab)).filter((r) => r.kind === 'note'))).toEqual(ids(log));
  });

  test('stopped before it began nothing is written', async () => {
    const tab = await phone();
    const before = await contentOf(tab.shelf);
    await expect(take(tab, there(), log, { signal: AbortSignal.abort() })).rejects.toMatchObject({ name: 'AbortError' });
    expect(await contentOf(tab.shelf)).toEqual(before);
  });

  test('progress goes from nothing to all', async () => {
    const tab = await phone();
    const told: number[] = [];
    await take(tab, there(), log, {
      photos: [
        { id: 'p', bytes: picture(1) },
        { id: 'q', bytes: picture(2) },
      ],
      onProgress: (share) => told.push(share),
    });
    expect(told).toEqual([...told].sort((a, b) => a - b));
    expect(told.at(-1)).toBe(1);
    expect(told.length).toBe(12);
  });

  test('a month that cannot be stored fails as a whole: the page stays as it was', async () => {
    const tab = await phone();
    await tab.append([on(note('here'), '2030-05-01')]);
    const bad = { ...on(note('bad'), '2030-05-02'), text: (() => 1) as unknown as string };
    await expect(take(tab, there(), [on(note('good'), '2030-05-03'), bad])).rejects.toThrow();
    expect((await get<{ id: string }[]>(`${ID}/2030-05`, tab.shelf.log))?.map((r) => r.id)).toEqual(['here']);
  });

  test('once a newer app has taken over the stores, nothing is written', async () => {
    const tab = await phone();
    await set(VERSION_KEY, SHELF_VERSION + 1, tab.shelf.book);
    const before = await contentOf(tab.shelf);
    await expect(takeBook(tab.shelf, there(), { records: log, odd: [1], photos: [{ id: 'p', bytes: picture(1) }] })).rejects.toThrow(
      NewerShelfError,
    );
    expect(await contentOf(tab.shelf)).toEqual(before);
  });
});

describe('phones that take in each other’s logs', () => {
  test('hold the same records in the end, whatever the order and however often', async () => {
    await fc.assert(
      fc.asyncProperty(historiesArb, fc.array(fc.tuple(fc.nat(2), fc.nat(2)), { maxLength: 6 }), async (logs, meetings) => {
        const shelves: Shelf[] = logs.map(() => openShelf(`met-${++count}`));
        const read = async (i: number): Promise<LogRecord[]> => {
          const pages = Object.values((await contentOf(shelves[i] as Shelf)).log).flat() as LogRecord[];
          return mergeLogs(
            pages.filter((r) => 'id' in r),
            [],
          );
        };
        for (const [i, log] of logs.entries()) await takeBook(shelves[i] as Shelf, there(), { records: log, odd: [], photos: [] });
        const meet = async (to: number, from: number) => {
          await takeBook(shelves[to] as Shelf, there(), { records: await read(from), odd: [], photos: [] });
        };
        for (const [to, from] of meetings) await meet(to, from);
        for (const [to, from] of [
          [0, 1],
          [0, 2],
          [1, 0],
          [2, 0],
        ] as const)
          await meet(to, from);
        const expected = logs.reduce(mergeLogs);
        for (const i of [0, 1, 2]) expect(await read(i)).toEqual(expected);
      }),
      { numRuns: 25 },
    );
  });
});
