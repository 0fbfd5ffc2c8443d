import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import fc from 'fast-check';
import { beforeEach, describe, expect, test } from 'vitest';
import { sortAnswers } from '../../app/care/check/items.ts';
import { judgeCheckParts, record } from '../../app/screens/sitting.ts';
import { openShelf, type Shelf } from '../../app/store/shelf.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { ACT_NAMES, ACTS, type Act, type ActName, type Found, look, lookBefore, wrongWith } from './acts.ts';
import { fakeDevice, openTab } from './phone.ts';

/** Few sittings, for each write of each is tried; in a quick run every fourth. */
const SIZE = 2;
const STEP = (fc.readConfigureGlobal().numRuns ?? 300) < 300 ? 4 : 1;

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

interface Counter {
  writes: number;
}

/** Stores that are gone from the n-th write on, counted over all three: the phone is off. */
function dyingAt(shelf: Shelf, last: number, counter: Counter = { writes: 0 }): Shelf & { counter: Counter } {
  const store = (own: Shelf['log']): Shelf['log'] => {
    const dying: Shelf['log'] = (mode, callback) => {
      if (mode === 'readwrite') counter.writes++;
      return counter.writes >= last ? Promise.reject(new Error('the phone is off')) : own(mode, callback);
    };
    return dying;
  };
  return { log: store(shelf.log), photos: store(shelf.photos), book: store(shelf.book), counter };
}

/** What an act leaves that nothing breaks off, and how many writes it takes. */
async function undisturbed(name: ActName): Promise<{ before: Found; whole: Found; writes: number }> {
  const act: Act = ACTS[name];
  globalThis.indexedDB = new IDBFactory();
  await act.prepare(openShelf(), SIZE);
  const before = await lookBefore(name, openShelf());
  const counted = dyingAt(openShelf(), Number.POSITIVE_INFINITY);
  await act.run(counted, () => {}, SIZE);
  return { before, whole: await look(openShelf()), writes: counted.counter.writes };
}

describe('a phone that goes off at any write', () => {
  test.each(ACT_NAMES)('%s: nothing is lost or doubled, and doing it again ends the same', async (name) => {
    const act: Act = ACTS[name];
    const { before, whole, writes } = await undisturbed(name);
    expect(wrongWith(whole, before, whole, [])).toEqual([]);
    expect(writes).toBeGreaterThan(3);
    for (let at = 1; at <= writes; at += STEP) {
      globalThis.indexedDB = new IDBFactory();
      await act.prepare(openShelf(), SIZE);
      const saved: string[] = [];
      // What only makes the locked screen fresh may fail in silence; all else ends the act.
      await act.run(dyingAt(openShelf(), at), (ids) => saved.push(...ids), SIZE).catch(() => undefined);
      // What another start of the app finds; nothing of the page before is left.
      expect([at, wrongWith(await look(openShelf()), before, whole, saved)]).toEqual([at, []]);
      await act.run(openShelf(), () => {}, SIZE);
      expect([at, await look(openShelf())]).toEqual([at, whole]);
    }
  });

  test('in the minute a month ends, a check is never written without the alert it calls for', async () => {
    const seen = new Set<string>();
    for (let at = 1; at <= 8; at++) {
      globalThis.indexedDB = new IDBFactory();
      await ACTS.check.prepare(openShelf(), 1);
      const device = fakeDevice('2031-04-01T04:59:59Z');
      const tab = await openTab(dyingAt(openShelf(), at), device).catch(() => undefined);
      if (!tab) continue;
      const items = { unwell: ['none'], pain: 'more' };
      const judgement = judgeCheckParts(tab, { person: { unwell: ['none'] }, feet: { left: { pain: 'more' } }, wounds: {} });
      const made = { ...tab.stamp('c1'), kind: 'check' as const, ...sortAnswers(demoPlan(), items), judgement };
      device.setClock('2031-04-01T05:00:01Z');
      await record(tab, made, judgement).catch(() => undefined);
      const { records } = await look(openShelf());
      const has = (id: string) => records.some(([known]) => known === id);
      seen.add(`${has('c1')} ${has('c1-callToday')}`);
    }
    expect([...seen].sort()).toEqual(['false false', 'false true', 'true true']);
  });
});
