import { acceptPlan } from '../../app/store/accept-plan.ts';
import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import fc from 'fast-check';
import { get, set } from 'idb-keyval';
import { beforeEach, describe, expect, test } from 'vitest';
import type { LogRecord } from '../../app/care/log/records.ts';
import { mergeLogs } from '../../app/care/log/timeline.ts';
import { openBackup, writeBackup } from '../../app/exchange/backup-file.ts';
import type { Notebook } from '../../app/store/notebook.ts';
import { keepPhoto, photoIds } from '../../app/store/photos.ts';
import { type Restored, restore } from '../../app/store/restore.ts';
import { openShelf } from '../../app/store/shelf.ts';
import { wasCutShort } from '../../app/store/take-in.ts';
import { countOfParts, everything, inventory, type KeptPart } from '../../app/store/whole.ts';
import { historiesArb } from '../care/log/histories.ts';
import { alert, note } from '../care/log/make.ts';
import { demoPlan, mustRead } from '../care/plan/plans.ts';
import { lived, picture } from '../exchange/logs.ts';
import { PASSPHRASE } from '../exchange/make.ts';
import { contentOf, type FakeDevice, fakeDevice, openTab } from './phone.ts';

const plan = demoPlan();
const ID = plan.person.id;
const ivo = mustRead({ ...plan, id: 'birch-1', person: { ...plan.person, id: 'ivo', callMe: 'Ivo' } });
const on = <R extends LogRecord>(record: R, day: string): R => ({ ...record, day, at: `${day}T12:00:00.000Z` }) as R;

let count = 0;
interface Phone {
  tab: Notebook;
  device: FakeDevice;
}
async function phone(time = '2031-03-20T15:00:00Z'): Promise<Phone> {
  const device = fakeDevice(time, 'America/Chicago', `id${++count}`);
  return { tab: await openTab(openShelf(`phone-${count}`), device), device };
}

/** A phone that has been lived with: two books, a draft, trusted keys, settings, photos, something unreadable. */
async function livedWith(): Promise<Phone> {
  const own = await phone('2031-03-19T15:00:00Z');
  const { tab, device } = own;
  await acceptPlan(tab, ivo);
  device.setClock('2031-03-20T15:00:00Z');
  await tab.append([note('ivo-1', '2031-03-18T09:00'), alert('ivo-2', '2031-03-18T09:00')]);
  await acceptPlan(tab, plan);
  await tab.append([...lived(14), on(alert('old'), '2030-07-01'), on(note('older'), '2030-06-01')]);
  await tab.saveSettings({ textSize: 'large', who: 'caregiver', name: 'Ana', leadDays: 4, remind: true, language: 'es' });
  await tab.saveCheckDraft({ id: 'draft-1', startedAt: '2031-03-20T14:00:00Z', answers: { unwell: ['none'] } });
  await set(`senders:${ID}`, [{ key: 1 }, { key: 2 }], tab.shelf.book);
  await set(`${ID}/0000-00`, ['torn', { kind: 'wish' }], tab.shelf.log);
  await set('trace:photo-1', { shares: [[0.1, 0.2]] }, tab.shelf.book);
  await keepPhoto(tab.shelf, 'photo-1', picture(1));
  await keepPhoto(tab.shelf, 'photo-2', picture(2));
  await tab.reload();
  return own;
}

async function bringBack(
  from: Phone,
  to: Phone,
  more: { photos?: boolean; signal?: AbortSignal; told?: (so: Restored) => void } = {},
): Promise<Restored> {
  await to.tab.nameDevice();
  const { photos = true, ...rest } = more;
  const restored = await restore(to.tab.shelf, to.device, to.tab.state.settings.device ?? '', everything(from.tab.shelf, photos), rest);
  await to.tab.refresh();
  return restored;
}
const wholeOf = async ({ tab }: Phone, book = ID): Promise<LogRecord[]> => mergeLogs((await tab.wholeLog(book)).records, []);

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

describe('bringing a copy back to an empty phone', () => {
  test('gives the same books, plans, logs, photos, keys and what was set aside', async () => {
    const [old, fresh] = [await livedWith(), await phone()];
    const restored = await bringBack(old, fresh);
    expect(restored.books.map((b) => [b.book, b.plan])).toEqual([
      ['ivo', 'new'],
      [ID, 'new'],
    ]);
    for (const book of [ID, 'ivo']) expect(await wholeOf(fresh, book)).toEqual(await wholeOf(old, book));
    const [before, after] = [await contentOf(old.tab.shelf), await contentOf(fresh.tab.shelf)];
    expect(after.log).toEqual(before.log);
    expect(Object.keys(after.photos).sort()).toEqual(['photo-1', 'photo-2']);
    for (const key of [`book:${ID}`, 'book:ivo', `senders:${ID}`, 'trace:photo-1']) expect(after.book[key]).toEqual(before.book[key]);
    expect(fresh.tab.state.setAside.map((s) => s.value)).toEqual(['torn', { kind: 'wish' }]);
    expect(fresh.tab.openAlerts().map((a) => a.id)).toEqual(['old']);
    expect(fresh.tab.state.books.find((b) => b.id === 'ivo')?.openAlert).toBe('callToday');
  });

  test('takes over the settings that make sense on another phone, not who holds it or which phone it is', async () => {
    const [old, fresh] = [await livedWith(), await phone()];
    expect((await bringBack(old, fresh)).settings).toBe(true);
    const { settings } = fresh.tab.state;
    expect(settings).toMatchObject({ textSize: 'large', leadDays: 4, language: 'es', who: 'patient', remind: false, currentBook: ID });
    expect(settings.name).toBeUndefined();
    expect(settings.device).toBeDefined();
    expect(settings.device).not.toBe(old.tab.state.settings.device);
    expect(fresh.tab.state.book?.id).toBe(ID);
  });

  test('a draft of today goes on under an id of this phone’s own, so that both phones may finish it', async () => {
    const [old, fresh] = [await livedWith(), await phone()];
    expect((await bringBack(old, fresh)).drafts).toBe(2);
    expect(fresh.tab.state.checkDraft?.answers).toEqual({ unwell: ['none'] });
    expect(fresh.tab.state.checkDraft?.id).not.toBe('draft-1');
    expect(fresh.tab.state.checkDraft?.id).toMatch(/^draft-1-[A-Za-z0-9_-]+$/);
  });

  test('a check that was begun days ago is kept aside whole: it must not be finished as if it were today’s', async () => {
    const [old, fresh] = [await livedWith(), await phone('2031-03-22T15:00:00Z')];
    await bringBack(old, fresh);
    expect(fresh.tab.state.checkDraft).toBeUndefined();
    expect(fresh.tab.state.setAside.map((s) => s.value)).toContainEqual({ draft: expect.objectContaining({ id: 'draft-1' }) });
  });

  test('without photos chosen it brings none', async () => {
    const [old, fresh] = [await livedWith(), await phone()];
    await bringBack(old, fresh, { photos: false });
    expect(await photoIds(fresh.tab.shelf)).toEqual([]);
  });

  test('a book whose plan cannot be read comes back whole, set aside, with its log', async () => {
    const [old, fresh] = [await phone(), await phone()];
    await acceptPlan(old.tab, plan);
    await old.tab.append([note('a')]);
    const torn = { ...((await get<object>(`book:${ID}`, old.tab.shelf.book)) ?? {}), plan: { version: 1 } };
    await set(`book:${ID}`, torn, old.tab.shelf.book);
    await bringBack(old, fresh);
    expect(await get(`book:${ID}`, fresh.tab.shelf.book)).toMatchObject(torn);
    expect(fresh.tab.state.setAside).toEqual([{ where: `book:${ID}`, value: torn }]);
    // A plan for the same person opens it with all that was written.
    await acceptPlan(fresh.tab, plan);
    expect((await wholeOf(fresh)).map((r) => r.id)).toContain('a');
  });
});

describe('bringing a copy back to a phone in use', () => {
  async function twoPhones(): Promise<[Phone, Phone]> {
    const [old, used] = [await livedWith(), await phone()];
    await acceptPlan(used.tab, mustRead({ ...plan, revision: 2 }));
    await used.tab.append([note('mine', '2031-03-19T09:00'), note('older', '2031-03-19T10:00', 'newer content')]);
    await used.tab.saveSettings({ textSize: 'largest' });
    await used.tab.saveCheckDraft({ id: 'mine-draft', startedAt: '2031-03-20T14:30:00Z', answers: { unwell: ['faint'] } });
    await set(`senders:${ID}`, [{ key: 2 }, { key: 3 }], used.tab.shelf.book);
    await keepPhoto(used.tab.shelf, 'photo-1', picture(9));
    return [old, used];
  }

  test('is a union: nothing that was here is lost or changed', async () => {
    const [old, used] = await twoPhones();
    const before = await contentOf(used.tab.shelf);
    const restored = await bringBack(old, used);
    const after = await contentOf(used.tab.shelf);
    for (const [key, page] of Object.entries(before.log)) expect(after.log[key]).toEqual(expect.arrayContaining(page as unknown[]));
    expect(after.book.settings).toMatchObject({ textSize: 'largest', currentBook: ID });
    expect(restored.settings).toBe(false);
    expect(after.book[`draft:${ID}:check`]).toEqual(before.book[`draft:${ID}:check`]);
    expect(await (after.photos['photo-1'] as Blob).arrayBuffer()).toEqual(await picture(9).arrayBuffer());
    expect(used.tab.state.book?.plan.revision).toBe(2);
    expect(used.tab.state.book?.earlierPlans.map((p) => p.revision)).toEqual([1]);
    expect(restored.books.find((b) => b.book === ID)).toMatchObject({ plan: 'kept' });
    expect(after.book[`senders:${ID}`]).toEqual([{ key: 1 }, { key: 2 }, { key: 3 }]);
  });

  test('a newer record here is not overwritten by an older one of the same id; that one is kept aside', async () => {
    const [old, used] = await twoPhones();
    await bringBack(old, used);
    expect((await wholeOf(used)).find((r) => r.id === 'older')).toMatchObject({ text: 'newer content' });
    expect(used.tab.state.setAside.map((s) => s.value)).toContainEqual({
      doubled: expect.objectContaining({ id: 'older', text: 'slept well' }),
    });
  });

  test('a second time changes nothing', async () => {
    const [old, used] = await twoPhones();
    await bringBack(old, used);
    const before = await contentOf(used.tab.shelf);
    const again = await bringBack(old, used);
    expect(again.books.every((b) => b.added === 0 && b.aside === 0)).toBe(true);
    expect(again).toMatchObject({ photos: 0, drafts: 0 });
    expect(await contentOf(used.tab.shelf)).toEqual(before);
  });

  test('a draft whose record was finished meanwhile does not come back', async () => {
    const [old, used] = [await livedWith(), await phone()];
    await acceptPlan(used.tab, plan);
    await used.tab.append([note('draft-1', '2031-03-20T14:10')]);
    await bringBack(old, used);
    expect(used.tab.state.checkDraft).toBeUndefined();
    expect(used.tab.state.setAside.map((s) => s.value)).not.toContainEqual({ draft: expect.anything() });
  });

  test('two torn books of one id are both kept', async () => {
    const [old, used] = [await phone(), await phone()];
    await set(`book:${ID}`, { id: ID, plan: { version: 1 }, acceptedAt: 'x' }, old.tab.shelf.book);
    await set(`book:${ID}`, 'quite torn', used.tab.shelf.book);
    await bringBack(old, used);
    expect(await get(`book:${ID}`, used.tab.shelf.book)).toBe('quite torn');
    expect(await get(`${ID}/0000-00`, used.tab.shelf.log)).toEqual([{ id: ID, plan: { version: 1 }, acceptedAt: 'x' }]);
  });

  test('a torn book of a person who has a good one here is kept with it', async () => {
    const [old, used] = [await phone(), await phone()];
    await acceptPlan(used.tab, plan);
    await set(
      `book:${ID}`,
      { id: ID, plan: { version: 1 }, earlierPlans: [mustRead({ ...plan, greeting: 'Before.' })], acceptedAt: 'x' },
      old.tab.shelf.book,
    );
    await bringBack(old, used);
    expect(used.tab.state.book?.plan).toEqual(plan);
    expect(used.tab.state.book?.earlierPlans.map((p) => p.greeting)).toEqual(['Before.']);
    expect(used.tab.state.setAside.map((s) => s.value)).toEqual([{ version: 1 }]);
  });
});

describe('stopping', () => {
  test('between two parts leaves what was done, says so, and again brings the rest', async () => {
    const [old, fresh] = [await livedWith(), await phone()];
    const stop = new AbortController();
    let parts = 0;
    const stopped = bringBack(old, fresh, {
      signal: stop.signal,
      told: () => {
        if (++parts === 8) stop.abort();
      },
    });
    await expect(stopped).rejects.toMatchObject({ name: 'AbortError' });
    await fresh.tab.refresh();
    expect(await wasCutShort(fresh.tab.shelf)).toBe(true);
    // Whole months only, the newest first, and no photo yet.
    const pages = Object.entries((await contentOf(fresh.tab.shelf)).log);
    const all = (await contentOf(old.tab.shelf)).log;
    for (const [key, page] of pages) expect(page).toEqual(all[key]);
    expect(pages.length).toBeLessThan(Object.keys(all).length);
    await bringBack(old, fresh);
    expect(await wasCutShort(fresh.tab.shelf)).toBe(false);
    expect((await contentOf(fresh.tab.shelf)).log).toEqual(all);
  });

  test('a copy that ends in the middle leaves what came before, and the fault is told', async () => {
    const [old, fresh] = [await livedWith(), await phone()];
    async function* torn(): AsyncGenerator<KeptPart> {
      let left = 6;
      for await (const part of everything(old.tab.shelf, true)) {
        if (left-- === 0) throw new Error('cut off');
        yield part;
      }
    }
    await expect(restore(fresh.tab.shelf, fresh.device, 'x', torn())).rejects.toThrow('cut off');
    await fresh.tab.refresh();
    expect(fresh.tab.state.books).toHaveLength(2);
  });
});

describe('what a phone holds', () => {
  test('is counted as it will be written', async () => {
    const { tab } = await livedWith();
    const found = await inventory(tab.shelf, true);
    expect(found).toMatchObject({ photos: 2, photoBytes: 128 });
    expect(found.books).toEqual([
      { book: 'ivo', callMe: 'Ivo', clinic: plan.clinic.name, revision: 1, records: 3, first: '2031-03-18', last: '2031-03-19' },
      {
        book: ID,
        callMe: 'Nela',
        clinic: plan.clinic.name,
        revision: 1,
        records: lived(14).length + 5,
        first: '2030-06-01',
        last: '2031-03-20',
      },
    ]);
    const parts: KeptPart[] = [];
    for await (const part of everything(tab.shelf, true)) parts.push(part);
    expect(await countOfParts(tab.shelf, true)).toBeGreaterThanOrEqual(parts.length - 2);
    expect(parts.map((p) => p.kind)).toEqual([
      'settings',
      'book',
      'month',
      'book',
      'senders',
      ...Array(4).fill('month'),
      'draft',
      'draft',
      'photo',
      'photo',
    ]);
    expect((await inventory(tab.shelf, false)).photos).toBe(0);
  });

  test('goes through a locked file and comes back the same', async () => {
    const [old, fresh] = [await livedWith(), await phone()];
    const contents = await inventory(old.tab.shelf, true);
    async function* parts() {
      yield { kind: 'contents' as const, ...contents };
      yield* everything(old.tab.shelf, true);
    }
    const file = await writeBackup(parts(), PASSPHRASE, { made: '2031-03-20T15:00:00.000Z', count: 20 });
    const opened = await openBackup(file, PASSPHRASE);
    if (!opened.ok) throw new Error(opened.why);
    expect(opened.backup.contents).toEqual(contents);
    async function* kept(): AsyncGenerator<KeptPart> {
      if (!opened.ok) return;
      for await (const part of opened.backup.parts()) if (part.kind !== 'contents') yield part;
    }
    await fresh.tab.nameDevice();
    await restore(fresh.tab.shelf, fresh.device, 'phone-2', kept());
    await fresh.tab.refresh();
    expect((await contentOf(fresh.tab.shelf)).log).toEqual((await contentOf(old.tab.shelf)).log);
    expect((await photoIds(fresh.tab.shelf)).sort()).toEqual(['photo-1', 'photo-2']);
  });
});

test('copies of three phones brought back in any order give the same log', async () => {
  await fc.assert(
    fc.asyncProperty(historiesArb, fc.shuffledSubarray([0, 1, 2, 0, 1], { minLength: 5 }), async (logs, order) => {
      const phones = await Promise.all(
        logs.map(async (log) => {
          const own = await phone();
          await acceptPlan(own.tab, plan);
          await own.tab.append(log);
          return own;
        }),
      );
      const target = await phone();
      for (const i of [...order, 0, 1, 2]) await bringBack(phones[i] as Phone, target);
      const expected = (await Promise.all(phones.map((p) => wholeOf(p)))).reduce(mergeLogs);
      expect(await wholeOf(target)).toEqual(expected);
    }),
    { numRuns: 10 },
  );
});
