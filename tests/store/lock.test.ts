import { get, set } from 'idb-keyval';
import { describe, expect, it } from 'vitest';
import { acceptPlan } from '../../app/store/accept-plan.ts';
import { readFront } from '../../app/store/front.ts';
import { changePasscode, readLock, removePasscode, setLockOptions, setPasscode, unlock, waitOf } from '../../app/store/lock.ts';
import { keepPhoto, photoBytes } from '../../app/store/photos.ts';
import { isSealed, LOCK_KEY, LockedError, openShelf, type Shelf, VERSION_KEY } from '../../app/store/shelf.ts';
import { changeIn, readValue } from '../../app/store/values.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { contentOf, fakeDevice, newShelf, openTab } from './phone.ts';

const CODE = 'seven swans';
/** Few rounds, for speed; that the real count is used is tested once. */
const ROUNDS = 1000;
const NOW = Date.parse('2031-03-04T15:00:00Z');

/** A phone with a book, a note, a draft and a photo. */
async function usedPhone(): Promise<Shelf> {
  const shelf = newShelf();
  const notebook = await openTab(shelf, fakeDevice());
  await acceptPlan(notebook, demoPlan());
  await notebook.append([{ ...notebook.stamp(), kind: 'note', text: 'a secret of mine' }]);
  await notebook.saveCheckDraft({ id: 'd1', startedAt: '2031-03-04T15:00:00Z', answers: { pain: 'more' } } as never);
  await keepPhoto(shelf, 'p1', new Blob(['picture bytes'], { type: 'image/jpeg' }));
  return shelf;
}

/** The same stores as another page finds them: nothing in memory. */
const again = (): Shelf => openShelf();

/** Every stored value as text, however it is stored. */
async function allText(shelf: Shelf): Promise<string> {
  const content = await contentOf(shelf);
  const texts = Object.values(content).flatMap((store) =>
    Object.values(store).map(async (value) => {
      if (value instanceof Blob) return value.text();
      if (isSealed(value)) return Buffer.from(value.bytes).toString('latin1');
      return JSON.stringify(value);
    }),
  );
  return (await Promise.all(texts)).join('\n');
}

describe('a passcode on the phone', () => {
  it('leaves nothing of the person in the clear, and everything as it was once it is given', async () => {
    const shelf = await usedPhone();
    const before = await contentOf(shelf);
    expect(await allText(shelf)).toContain('a secret of mine');
    await setPasscode(shelf, CODE, 'lock-1', ROUNDS);
    const text = await allText(shelf);
    for (const secret of ['a secret of mine', 'picture bytes', demoPlan().person.callMe, 'patient', 'pain'])
      expect(text).not.toContain(secret);
    const other = again();
    expect(await unlock(other, CODE, NOW)).toEqual({ opened: true });
    const notebook = await openTab(other, fakeDevice());
    expect(notebook.state.book?.plan).toEqual(demoPlan());
    expect(notebook.state.records.filter((r) => r.kind === 'note')).toHaveLength(1);
    expect(notebook.state.checkDraft?.answers).toEqual({ pain: 'more' });
    expect(await (await photoBytes(other, 'p1'))?.text()).toBe('picture bytes');
    expect(await removePasscode(other, CODE)).toBe(true);
    const after = await contentOf(other);
    expect(after.log).toEqual(before.log);
    expect(after.book).toEqual(before.book);
  });

  it('is refused when it is short, and then nothing is closed', async () => {
    const shelf = await usedPhone();
    await expect(setPasscode(shelf, '12345', 'lock-1', ROUNDS)).rejects.toThrow(RangeError);
    expect(await get(LOCK_KEY, shelf.book)).toBeUndefined();
    expect(await allText(shelf)).toContain('a secret of mine');
  });

  it('not given, nothing can be read or written', async () => {
    await setPasscode(await usedPhone(), CODE, 'lock-1', ROUNDS);
    const other = again();
    await expect(openTab(other, fakeDevice())).rejects.toThrow(LockedError);
    await expect(changeIn(other, 'book', 'settings', () => ({}))).rejects.toThrow(LockedError);
    expect(isSealed(await get('settings', other.book))).toBe(true);
  });

  it('a tab that was open when it was set cannot write in the clear afterwards', async () => {
    const shelf = await usedPhone();
    const tab = await openTab(again(), fakeDevice());
    await setPasscode(shelf, CODE, 'lock-1', ROUNDS);
    await expect(tab.append([{ ...tab.stamp(), kind: 'note', text: 'late words' }])).rejects.toThrow(LockedError);
    expect(await allText(shelf)).not.toContain('late words');
  });

  it('a tab that had it when it was taken away cannot close values nobody could open', async () => {
    const shelf = await usedPhone();
    await setPasscode(shelf, CODE, 'lock-1', ROUNDS);
    const tab = again();
    await unlock(tab, CODE, NOW);
    const notebook = await openTab(tab, fakeDevice());
    await removePasscode(shelf, CODE);
    await expect(notebook.append([{ ...notebook.stamp(), kind: 'note', text: 'late' }])).rejects.toThrow(LockedError);
    expect(Object.values((await contentOf(shelf)).log).some(isSealed)).toBe(false);
  });

  it('changed, the old one no longer opens and the new one does', async () => {
    const shelf = await usedPhone();
    await setPasscode(shelf, CODE, 'lock-1', ROUNDS);
    expect(await changePasscode(shelf, 'not this one', 'eight ducks')).toBe(false);
    expect(await changePasscode(shelf, CODE, 'eight ducks')).toBe(true);
    expect(await unlock(again(), CODE, NOW)).toEqual({ opened: false, why: 'wrong', wrong: 1 });
    expect(await unlock(again(), 'eight ducks', NOW)).toEqual({ opened: true });
  });

  it('broken off at any value while it was set, it is finished at the next opening and nothing is lost', async () => {
    const whole = await usedPhone();
    const { book, log, photos } = await contentOf(whole);
    const count = Object.keys(book).length + Object.keys(log).length + Object.keys(photos).length;
    for (let stop = 0; stop < count; stop++) {
      const shelf = await usedPhone();
      const real = crypto.subtle.encrypt.bind(crypto.subtle);
      let calls = 0;
      crypto.subtle.encrypt = (...args: Parameters<typeof real>) => {
        if (calls++ === stop) throw new Error('killed');
        return real(...args);
      };
      await setPasscode(shelf, CODE, 'lock-1', ROUNDS).catch(() => undefined);
      crypto.subtle.encrypt = real;
      const other = again();
      expect(await unlock(other, CODE, NOW)).toEqual({ opened: true });
      expect(readLock(await get(LOCK_KEY, other.book))?.state).toBe('on');
      expect(await allText(other)).not.toContain('a secret of mine');
      const notebook = await openTab(other, fakeDevice());
      expect(notebook.state.records.filter((r) => r.kind === 'note')).toHaveLength(1);
    }
  });

  it('broken off while it was taken away, that is finished at the next opening', async () => {
    const shelf = await usedPhone();
    await setPasscode(shelf, CODE, 'lock-1', ROUNDS);
    const real = crypto.subtle.decrypt.bind(crypto.subtle);
    let calls = 0;
    crypto.subtle.decrypt = (...args: Parameters<typeof real>) => {
      if (calls++ === 2) throw new Error('killed');
      return real(...args);
    };
    await removePasscode(shelf, CODE).catch(() => undefined);
    crypto.subtle.decrypt = real;
    const other = again();
    expect(await unlock(other, CODE, NOW)).toEqual({ opened: true });
    expect(await get(LOCK_KEY, other.book)).toBeUndefined();
    expect(other.seal).toBeUndefined();
    const notebook = await openTab(other, fakeDevice());
    expect(notebook.state.records.filter((r) => r.kind === 'note')).toHaveLength(1);
  });

  it('two tabs that write to one page at once both keep their records', async () => {
    await setPasscode(await usedPhone(), CODE, 'lock-1', ROUNDS);
    const tabs = await Promise.all(
      ['a', 'b', 'c'].map(async (name) => {
        const shelf = again();
        await unlock(shelf, CODE, NOW);
        return openTab(shelf, fakeDevice('2031-03-04T15:00:00Z', 'America/Chicago', name));
      }),
    );
    await Promise.all(
      tabs.flatMap((tab) => Array.from({ length: 5 }, (_, i) => tab.append([{ ...tab.stamp(), kind: 'note', text: `note ${i}` }]))),
    );
    await tabs[0]?.reload();
    expect(tabs[0]?.state.records.filter((r) => r.kind === 'note')).toHaveLength(16);
  });

  it('a value put in another place, or altered, is not taken for one of ours', async () => {
    const shelf = await usedPhone();
    await setPasscode(shelf, CODE, 'lock-1', ROUNDS);
    const settings = await get('settings', shelf.book);
    await set('incoming', settings, shelf.book);
    await expect(readValue(shelf, 'book', 'incoming')).rejects.toThrow();
    const broken = structuredClone(settings) as { bytes: ArrayBuffer };
    new Uint8Array(broken.bytes)[3] = (new Uint8Array(broken.bytes)[3] ?? 0) ^ 1;
    await set('settings', broken, shelf.book);
    await expect(readValue(shelf, 'book', 'settings')).rejects.toThrow();
  });

  it('uses the count of rounds that OWASP asks for', async () => {
    const shelf = await usedPhone();
    await setPasscode(shelf, CODE, 'lock-1');
    expect(readLock(await get(LOCK_KEY, shelf.book))?.rounds).toBeGreaterThanOrEqual(600_000);
    expect(await get(VERSION_KEY, shelf.book)).toBe(1);
  });
});

describe('wrong passcodes', () => {
  it('are counted over restarts, then have to wait, longer each time, and never erase unless asked', async () => {
    await setPasscode(await usedPhone(), CODE, 'lock-1', ROUNDS);
    let now = NOW;
    const seen: unknown[] = [];
    for (let i = 0; i < 5; i++) seen.push(await unlock(again(), 'wrong one', now));
    expect(seen.at(-1)).toEqual({ opened: false, why: 'wrong', wrong: 5 });
    expect(await unlock(again(), CODE, now)).toEqual({ opened: false, why: 'wait', waitMs: 30_000 });
    now += 30_000;
    expect(await unlock(again(), 'wrong one', now)).toEqual({ opened: false, why: 'wrong', wrong: 6 });
    expect(await unlock(again(), CODE, now)).toEqual({ opened: false, why: 'wait', waitMs: 60_000 });
    for (let i = 0; i < 40; i++) {
      now += 16 * 60_000;
      expect(await unlock(again(), 'wrong one', now)).toMatchObject({ why: 'wrong' });
    }
    now += 16 * 60_000;
    expect(await unlock(again(), CODE, now)).toEqual({ opened: true });
    expect(await unlock(again(), 'wrong one', now)).toEqual({ opened: false, why: 'wrong', wrong: 1 });
  });

  it('a clock set back locks nobody out', () => {
    expect(waitOf({ wrong: 30, wrongAt: NOW }, NOW - 365 * 86_400_000)).toBe(0);
    expect(waitOf({ wrong: 30, wrongAt: NOW }, NOW)).toBe(15 * 60_000);
  });

  it('where the person asked for it, the tenth in a row asks to erase', async () => {
    const shelf = await usedPhone();
    await setPasscode(shelf, CODE, 'lock-1', ROUNDS);
    await setLockOptions(shelf, { eraseAfter: 10, after: 15 });
    expect(readLock(await get(LOCK_KEY, shelf.book))?.after).toBe(15);
    let now = NOW;
    for (let i = 1; i < 10; i++) {
      expect(await unlock(again(), 'wrong one', now)).toEqual({ opened: false, why: 'wrong', wrong: i });
      now += 16 * 60_000;
    }
    expect(await unlock(again(), 'wrong one', now)).toEqual({ opened: false, why: 'erase' });
  });
});

describe('what a locked phone shows', () => {
  it('is whom to call and in which language, and nothing of the person', async () => {
    const shelf = await usedPhone();
    const tab = await openTab(shelf, fakeDevice());
    await setPasscode(shelf, CODE, 'lock-1', ROUNDS);
    await tab.saveSettings({ language: 'es', name: 'Nela' });
    const front = await readFront(again());
    expect(front.settings.language).toBe('es');
    expect(front.clinics).toEqual([demoPlan().clinic]);
    expect(JSON.stringify(front)).not.toContain('Nela');
  });
});
