import { get, getMany, set, type UseStore } from 'idb-keyval';
import { beforeEach, describe, expect, test } from 'vitest';
import { historyOf } from '../../app/care/log/history.ts';
import type { LogRecord } from '../../app/care/log/records.ts';
import type { Plan } from '../../app/care/plan/plan.ts';
import { acceptPlan } from '../../app/store/accept-plan.ts';
import { readSettings } from '../../app/store/book.ts';
import type { Notebook } from '../../app/store/notebook.ts';
import { NewerShelfError, SHELF_VERSION, type Shelf, VERSION_KEY } from '../../app/store/shelf.ts';
import { alert, change, check, measurement, note, outcome, withdrawal } from '../care/log/make.ts';
import { demoPlan, mustRead } from '../care/plan/plans.ts';
import { contentOf, type FakeDevice, fakeDevice, newShelf, openTab } from './phone.ts';

let shelf: Shelf;
let device: FakeDevice;
let tab: Notebook;
beforeEach(async () => {
  shelf = newShelf();
  device = fakeDevice();
  tab = await openTab(shelf, device);
});

const plan = demoPlan();
const BOOK = `book:${plan.person.id}`;
const PAGE = `${plan.person.id}/2031-03`;
const revised = (revision: number, phone = '+1 312 555 0100'): Plan => mustRead({ ...plan, revision, clinic: { ...plan.clinic, phone } });
const otherPerson = (): Plan =>
  mustRead({ ...plan, id: 'birch-0001', person: { ...plan.person, id: `${plan.person.id}-2`, callMe: 'Tomas' } });
const ids = (list: readonly { id: string }[]): string[] => list.map((r) => r.id);
const page = async (key = PAGE): Promise<unknown[]> => ((await get(key, shelf.log)) ?? []) as unknown[];
/** The same record with another day, as a device in another month would have made it. */
const on = <R extends LogRecord>(record: R, day: string): R => ({ ...record, day, at: `${day}T12:00:00.000Z` }) as R;

/** A store that writes down the keys it is asked for, one by one. */
function watched(store: UseStore, asked: string[]): UseStore {
  return (mode, callback) =>
    store(mode, (inner) => {
      const getOne = inner.get.bind(inner);
      inner.get = (key) => {
        asked.push(String(key));
        return getOne(key);
      };
      return callback(inner);
    });
}

describe('a new phone', () => {
  test('has no book, no records, and nothing set aside', () => {
    expect(tab.state).toMatchObject({
      books: [],
      book: undefined,
      records: [],
      entries: [],
      setAside: [],
      loadedMonths: [],
      otherMonths: [],
    });
  });

  test('writes no records while no book is open', async () => {
    await expect(tab.append([note('a')])).rejects.toThrow('no book is open');
    expect((await contentOf(shelf)).log).toEqual({});
  });
});

describe('accepting a plan', () => {
  test('opens a book for its person and writes down that it was accepted', async () => {
    await acceptPlan(tab, plan);
    expect(tab.state.book).toMatchObject({ id: plan.person.id, plan, earlierPlans: [] });
    expect(tab.state.records).toMatchObject([{ kind: 'planAccepted', accepted: { id: plan.id, revision: 1 }, zone: 'America/Chicago' }]);
    expect(await openTab(shelf, device).then((t) => t.state.book)).toEqual(tab.state.book);
  });

  test('a revision keeps the plan before it, for the records made under it', async () => {
    for (const own of [plan, revised(2), revised(3)]) await acceptPlan(tab, own);
    expect(tab.state.book?.plan.revision).toBe(3);
    expect(tab.state.book?.earlierPlans.map((p) => p.revision)).toEqual([1, 2]);
    expect(tab.state.books).toHaveLength(1);
  });

  test('the same plan twice is kept once', async () => {
    for (const own of [plan, revised(2), revised(2)]) await acceptPlan(tab, own);
    expect(tab.state.book?.earlierPlans.map((p) => p.revision)).toEqual([1]);
  });

  test('takes the waiting text away, and leaves the log alone', async () => {
    await acceptPlan(tab, plan);
    await tab.append([note('a')]);
    await tab.keepIncoming('a plan as text');
    await acceptPlan(tab, revised(2));
    expect(tab.state.incoming).toBeUndefined();
    expect(ids(tab.state.records)).toContain('a');
  });

  test('never throws away an earlier plan that this app cannot read: it stays whole, and is shown', async () => {
    const torn = { version: 1, id: 'torn' };
    await acceptPlan(tab, plan);
    await set(BOOK, { ...(await get<object>(BOOK, shelf.book)), earlierPlans: [torn] }, shelf.book);
    await acceptPlan(tab, revised(2));
    await tab.append([alert('a')]);
    expect(await get(BOOK, shelf.book)).toMatchObject({ earlierPlans: [torn, { revision: 1 }] });
    expect(tab.state.setAside).toEqual([{ where: BOOK, value: torn }]);
  });

  test('a book whose plan cannot be read is set aside, and a new plan for that person keeps it', async () => {
    const torn = { id: plan.person.id, plan: { version: 1 }, earlierPlans: [plan], acceptedAt: 'x', keepMonths: ['2030-01'] };
    await set(BOOK, torn, shelf.book);
    await tab.reload();
    expect(tab.state.book).toBeUndefined();
    expect(tab.state.setAside).toEqual([{ where: BOOK, value: torn }]);
    await acceptPlan(tab, revised(2));
    expect(tab.state.book).toMatchObject({ keepMonths: ['2030-01'], plan: { revision: 2 } });
    expect(tab.state.book?.earlierPlans).toEqual([plan]);
    expect(tab.state.setAside).toEqual([{ where: BOOK, value: { version: 1 } }]);
  });
});

describe('two people on one phone', () => {
  test('have a book each; plans, records and drafts are never mixed', async () => {
    await acceptPlan(tab, plan);
    await tab.append([note('nela-1')]);
    await tab.saveCheckDraft({ id: 'x', startedAt: '2031-03-04T15:00:00Z', answers: { unwell: ['faint'] } });
    await acceptPlan(tab, otherPerson());
    expect(tab.state.book?.plan.person.callMe).toBe('Tomas');
    expect(tab.state.records.map((r) => r.kind)).toEqual(['planAccepted']);
    expect(tab.state.checkDraft).toBeUndefined();
    expect(tab.state.book?.earlierPlans).toEqual([]);
    await tab.append([note('tomas-1')]);
    await tab.openBook(plan.person.id);
    expect(ids(tab.state.records)).toContain('nela-1');
    expect(ids(tab.state.records)).not.toContain('tomas-1');
    expect(tab.state.checkDraft?.answers).toEqual({ unwell: ['faint'] });
  });

  test('a book that is gone opens the oldest one instead', async () => {
    await acceptPlan(tab, plan);
    device.setClock('2031-03-04T16:00:00Z');
    await acceptPlan(tab, otherPerson());
    await tab.openBook('nobody');
    expect(tab.state.book?.id).toBe(plan.person.id);
  });
});

describe('writing records', () => {
  beforeEach(() => acceptPlan(tab, plan));

  test('the same id again changes nothing, alone or among new ones', async () => {
    await tab.append([note('a', undefined, 'first')]);
    await tab.append([note('a', undefined, 'second'), note('b')]);
    expect(tab.state.records.filter((r) => r.kind === 'note')).toMatchObject([{ id: 'a', text: 'first' }, { id: 'b' }]);
    expect(await page()).toHaveLength(3);
  });

  test('each record goes to the page of its own month', async () => {
    await tab.append([on(note('a'), '2031-02-28'), note('b'), on(note('c'), '2031-04-01')]);
    expect((await page(`${plan.person.id}/2031-02`)).map((r) => (r as { id: string }).id)).toEqual(['a']);
    expect((await page(`${plan.person.id}/2031-04`)).map((r) => (r as { id: string }).id)).toEqual(['c']);
    expect(tab.state.loadedMonths).toEqual(['2031-02', '2031-03', '2031-04']);
  });

  test('a record that does not fit its schema is refused, and none of its company is written', async () => {
    const before = await contentOf(shelf);
    await expect(tab.append([note('a'), { ...note('b'), day: '2031-02-30' } as LogRecord])).rejects.toThrow('schema');
    expect(await contentOf(shelf)).toEqual(before);
  });

  test('what cannot be read stays in its page, unchanged, is shown, and survives the next writing', async () => {
    const odd = { kind: 'wish', id: 'odd' };
    await set(PAGE, [odd, ...(await page()), null], shelf.log);
    await tab.append([note('a')]);
    expect(tab.state.setAside).toEqual([
      { where: 'log', value: odd },
      { where: 'log', value: null },
    ]);
    expect(await page()).toEqual(expect.arrayContaining([odd, null]));
    expect(ids(tab.state.records)).toContain('a');
  });

  test('a page that is no list is kept whole beside what is written next', async () => {
    await set(PAGE, 'a torn page', shelf.log);
    await tab.append([note('a')]);
    expect(await page()).toMatchObject(['a torn page', { id: 'a' }]);
    expect(tab.state.setAside).toEqual([{ where: 'log', value: 'a torn page' }]);
  });

  test('a stamp says when, where, by whom, on which phone and under which plan', async () => {
    await tab.saveSettings({ who: 'caregiver', name: 'Ana' });
    device.setClock('2031-03-05T05:30:00Z');
    expect(tab.stamp('x')).toEqual({
      id: 'x',
      at: '2031-03-05T05:30:00.000Z',
      // Half past eleven at night in Chicago: still the day before.
      day: '2031-03-04',
      zone: 'America/Chicago',
      by: { who: 'caregiver', name: 'Ana' },
      device: tab.state.settings.device,
      plan: { id: plan.id, revision: 1 },
    });
    expect(tab.state.settings.device).toMatch(/^id-/);
  });

  test('once a newer app has taken over the stores, nothing more is written or deleted', async () => {
    await tab.saveCheckDraft({ id: 'x', startedAt: 's', answers: {} });
    await tab.keepIncoming('text');
    await set(VERSION_KEY, SHELF_VERSION + 1, shelf.book);
    const before = await contentOf(shelf);
    const attempts = [
      () => tab.append([note('a')]),
      () => acceptPlan(tab, revised(2)),
      () => tab.saveSettings({ name: 'x' }),
      () => tab.saveCheckDraft({ id: 'y', startedAt: 's', answers: {} }),
      () => tab.dropDraftOf('check'),
      () => tab.dropIncoming(),
    ];
    for (const attempt of attempts) await expect(attempt()).rejects.toThrow(NewerShelfError);
    expect(await contentOf(shelf)).toEqual(before);
  });
});

describe('what is loaded', () => {
  beforeEach(() => acceptPlan(tab, plan));
  const later = async (time: string): Promise<Notebook> => openTab(shelf, fakeDevice(time));

  test('this month and the one before; earlier months one at a time, newest first', async () => {
    for (const month of ['2030-09', '2030-10', '2030-12', '2031-02']) await tab.append([on(note(`n-${month}`), `${month}-10`)]);
    const now = await later('2031-03-20T12:00:00Z');
    expect(now.state.loadedMonths).toEqual(['2031-02', '2031-03']);
    expect(now.state.otherMonths).toEqual(['2030-09', '2030-10', '2030-12']);
    await now.loadEarlier();
    expect(now.state.otherMonths).toEqual(['2030-09', '2030-10']);
    expect(ids(now.state.records)).toContain('n-2030-12');
    await now.loadEarlier();
    await now.loadEarlier();
    await now.loadEarlier();
    expect(now.state.otherMonths).toEqual([]);
    await now.reload();
    expect(ids(now.state.records)).toContain('n-2030-09');
  });

  test('an odd value in an earlier month is shown as soon as that month is loaded', async () => {
    await set(`${plan.person.id}/2030-10`, [{ odd: true }], shelf.log);
    const now = await later('2031-03-20T12:00:00Z');
    await set(`${plan.person.id}/2031-02`, [], shelf.log);
    await now.loadEarlier();
    expect(now.state.setAside).toEqual([{ where: 'log', value: { odd: true } }]);
  });

  test('an alert stays loaded however old, and so does what came of it: an answered alert never opens again', async () => {
    await tab.append([on(alert('a1'), '2031-03-31'), on(alert('a2'), '2031-03-31')]);
    await tab.append([on(outcome('o1', ['a1']), '2031-04-01')]);
    await tab.append([on(note('n'), '2031-06-01'), on(note('m'), '2031-09-01')]);
    const now = await later('2031-09-10T12:00:00Z');
    expect(now.openAlerts().map((a) => a.id)).toEqual(['a2']);
  });

  test('an outcome that was withdrawn months later leaves its alert open', async () => {
    await tab.append([on(alert('a1'), '2031-03-31')]);
    await tab.append([on(outcome('o1', ['a1']), '2031-04-01')]);
    await tab.append([on(withdrawal('v', 'o1'), '2031-06-01')]);
    await tab.append([on(note('n'), '2031-08-01'), on(note('m'), '2031-09-01')]);
    expect((await later('2031-09-10T12:00:00Z')).openAlerts().map((a) => a.id)).toEqual(['a1']);
  });

  test('the measurements of the first three months stay loaded, later ones do not; their corrections do', async () => {
    const sizes: [string, string][] = [
      ['m1', '2031-03-05'],
      ['m2', '2031-05-05'],
      ['m3', '2031-08-05'],
    ];
    for (const [id, day] of sizes) await tab.append([on(measurement(id, '2031-03-04T09:00', 20, 10), day)]);
    await tab.append([on(measurement('m1b', '2031-03-04T09:00', 22, 10, { amends: 'm1' }), '2031-09-05')]);
    await tab.append([on(note('n'), '2032-01-05'), on(note('m'), '2032-02-05')]);
    const now = await later('2032-02-10T12:00:00Z');
    const loaded = ids(now.state.records.filter((r) => r.kind === 'measurement'));
    expect(loaded).toEqual(['m1', 'm2', 'm1b']);
  });

  test('after a long pause the last change is still known, so that it can be overdue', async () => {
    await tab.append([change('d')]);
    const now = await later('2031-08-20T12:00:00Z');
    expect(ids(now.state.records)).toContain('d');
    expect(historyOf(now.state.entries, plan.wounds[0] as Plan['wounds'][number]).changes).toHaveLength(1);
  });

  test('months later than the clock says are loaded: a clock that was wrong hides nothing', async () => {
    await tab.append([on(note('future'), '2040-01-01')]);
    expect(ids((await later('2031-03-20T12:00:00Z')).state.records)).toContain('future');
  });

  test('ten years of daily records: opening reads the months it needs and no other', async () => {
    const from = Date.UTC(2021, 2, 1);
    const pages = new Map<string, LogRecord[]>();
    for (let i = 0; i < 3_650; i++) {
      const day = new Date(from + i * 86_400_000).toISOString().slice(0, 10);
      pages.set(day.slice(0, 7), [...(pages.get(day.slice(0, 7)) ?? []), on(check(`c${i}`), day)]);
    }
    for (const [month, records] of pages) await set(`${plan.person.id}/${month}`, records, shelf.log);
    await tab.append([on(alert('a'), '2024-05-05')]);
    const asked: string[] = [];
    const now = await openTab({ ...shelf, log: watched(shelf.log, asked) }, fakeDevice('2031-02-20T12:00:00Z'));
    const needed = ['2024-05', '2031-01', '2031-02', '2031-03'].map((m) => `${plan.person.id}/${m}`);
    expect(asked.sort()).toEqual(needed);
    expect(now.state.loadedMonths).toEqual(['2024-05', '2031-01', '2031-02', '2031-03']);
    expect(now.state.otherMonths).toHaveLength(pages.size - 3);
    expect((await now.wholeLog(plan.person.id)).records.length).toBe(3_652);
  });
});

describe('settings', () => {
  test('a value that does not fit falls back alone; the others stay', () => {
    const stored = {
      language: 'es',
      temperatureUnit: 'Kelvin',
      glucoseUnit: 'mmol/L',
      who: 7,
      name: 'Ana',
      region: 'USA',
      textSize: 'large',
    };
    expect(readSettings(stored)).toMatchObject({
      language: 'es',
      temperatureUnit: undefined,
      glucoseUnit: 'mmol/L',
      who: 'patient',
      name: 'Ana',
      region: undefined,
      textSize: 'large',
    });
  });

  test.each([undefined, null, 5, 'x', [], [1]])('%j gives the defaults', (value) => {
    expect(readSettings(value)).toMatchObject({
      scheme: 'auto',
      who: 'patient',
    });
    expect(readSettings(value).temperatureUnit).toBeUndefined();
  });

  test('are kept on the phone, for every book', async () => {
    await tab.saveSettings({ temperatureUnit: '[degF]' });
    await acceptPlan(tab, plan);
    await acceptPlan(tab, otherPerson());
    const again = await openTab(shelf, device);
    expect(again.state.settings).toMatchObject({ temperatureUnit: '[degF]', currentBook: otherPerson().person.id });
  });

  test('only plain values are stored: nothing that could not be read back', async () => {
    await acceptPlan(tab, plan);
    const [settings] = await getMany<unknown>(['settings'], shelf.book);
    expect(JSON.parse(JSON.stringify(settings))).toEqual(settings);
  });
});
