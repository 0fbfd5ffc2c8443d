import { get, set } from 'idb-keyval';
import { beforeEach, describe, expect, test } from 'vitest';
import { acceptPlan } from '../../app/store/accept-plan.ts';
import type { ChangeDraft, CheckDraft } from '../../app/store/drafts.ts';
import type { Notebook } from '../../app/store/notebook.ts';
import type { Shelf } from '../../app/store/shelf.ts';
import { alert, check, note, outcome } from '../care/log/make.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { FakeBell, fakeDevice, newShelf, openTab, until } from './phone.ts';

/** Two tabs of the app on one phone. */
let shelf: Shelf;
let one: Notebook;
let two: Notebook;
const plan = demoPlan();
const DRAFT = `draft:${plan.person.id}:check`;

beforeEach(async () => {
  shelf = newShelf();
  const house: FakeBell[] = [];
  one = await openTab(shelf, fakeDevice(undefined, undefined, 'one'), new FakeBell(house));
  await acceptPlan(one, plan);
  two = await openTab(shelf, fakeDevice(undefined, undefined, 'two'), new FakeBell(house));
});

const draft = (answers: Record<string, unknown>, more: Partial<CheckDraft> = {}): CheckDraft => ({
  id: 'check-1',
  startedAt: '2031-03-04T15:00:00Z',
  answers,
  ...more,
});

describe('two tabs on one phone', () => {
  test('what one writes the other shows', async () => {
    await one.append([note('a')]);
    await until(() => two.state.records.some((r) => r.id === 'a'));
    await two.saveSettings({ name: 'Ana' });
    await until(() => one.state.settings.name === 'Ana');
    expect(two.state.entries).toEqual(one.state.entries);
  });

  test('records written at the same moment are all kept', async () => {
    const many = (tab: string) => Array.from({ length: 20 }, (_, i) => note(`note-${tab}-${i}`));
    await Promise.all([...many('one').map((r) => one.append([r])), ...many('two').map((r) => two.append([r]))]);
    await one.reload();
    expect(one.state.records.filter((r) => r.kind === 'note')).toHaveLength(40);
  });

  test('months to keep loaded that both add at the same moment are all kept', async () => {
    const old = (id: string, day: string) => ({ ...alert(id), day, at: `${day}T10:00:00.000Z` }) as ReturnType<typeof alert>;
    await Promise.all([one.append([old('a', '2030-05-05')]), two.append([old('b', '2030-07-07')])]);
    await one.reload();
    expect(one.state.book?.keepMonths).toEqual(['2030-05', '2030-07']);
    expect(
      one
        .openAlerts()
        .map((a) => a.id)
        .sort(),
    ).toEqual(['a', 'b']);
  });

  test('an alert answered in one is answered in the other', async () => {
    await one.append([alert('a')]);
    await until(() => two.openAlerts().length === 1);
    await two.append([outcome('o', ['a'])]);
    await until(() => one.openAlerts().length === 0);
  });
});

describe('one draft in two tabs', () => {
  test('keeps the answers of both, and both end with the same', async () => {
    await one.saveCheckDraft(draft({ unwell: ['none'] }));
    await two.reload();
    await Promise.all([
      one.saveCheckDraft(draft({ unwell: ['none'], 'pain@left': 'more' })),
      two.saveCheckDraft(draft({ unwell: ['none'], 'swelling@left': 'new' })),
    ]);
    await Promise.all([one.reload(), two.reload()]);
    expect(one.state.checkDraft?.answers).toEqual({ unwell: ['none'], 'pain@left': 'more', 'swelling@left': 'new' });
    expect(two.state.checkDraft).toEqual(one.state.checkDraft);
  });

  test('finished in both it gives one record, the one that was written first', async () => {
    await one.saveCheckDraft(draft({ unwell: ['none'] }));
    await two.reload();
    const made = (tab: Notebook) => ({ ...check('check-1'), ...tab.stamp('check-1') });
    await Promise.all([one.append([made(one)]), two.append([made(two)])]);
    await Promise.all([one.dropDraftOf('check'), two.dropDraftOf('check')]);
    await Promise.all([one.reload(), two.reload()]);
    for (const tab of [one, two]) {
      expect(tab.state.records.filter((r) => r.kind === 'check').map((r) => r.id)).toEqual(['check-1']);
      expect(tab.state.checkDraft).toBeUndefined();
    }
  });

  test('finished in one it is gone from the other', async () => {
    await one.saveCheckDraft(draft({ unwell: ['none'] }));
    await two.reload();
    expect(two.state.checkDraft?.id).toBe('check-1');
    await one.dropDraftOf('check');
    await until(() => two.state.checkDraft === undefined);
  });

  test('an answer taken back stays taken back', async () => {
    await one.saveCheckDraft(draft({ unwell: ['faint'], 'pain@left': 'more' }));
    await one.saveCheckDraft(draft({ unwell: undefined, 'pain@left': 'more' }));
    await two.reload();
    expect(two.state.checkDraft?.answers.unwell).toBeUndefined();
    expect(two.state.checkDraft?.answers['pain@left']).toBe('more');
  });

  test('a new draft takes the place of an older one, without its answers', async () => {
    await one.saveCheckDraft(draft({ unwell: ['faint'] }));
    await one.saveCheckDraft(draft({ 'pain@left': 'usual' }, { id: 'check-2' }));
    expect(await get(DRAFT, shelf.book)).toMatchObject({ id: 'check-2', answers: { 'pain@left': 'usual' } });
    await two.reload();
    expect(two.state.checkDraft?.answers).not.toHaveProperty('unwell');
  });
});

describe('a draft while the stores are read anew', () => {
  test('an answer given in that moment is not lost from the screen', async () => {
    await one.saveCheckDraft(draft({ unwell: ['none'] }));
    const reading = one.reload();
    const saving = one.saveCheckDraft(draft({ unwell: ['none'], 'pain@left': 'severe' }));
    await reading;
    expect(one.state.checkDraft?.answers['pain@left']).toBe('severe');
    await saving;
    expect(one.state.checkDraft?.answers['pain@left']).toBe('severe');
  });

  test('the very first answer is not lost either, when another tab rings', async () => {
    const saving = one.saveCheckDraft(draft({ unwell: ['faint'] }));
    await two.saveSettings({ name: 'Ana' });
    await saving;
    await until(() => one.state.settings.name === 'Ana');
    expect(one.state.checkDraft?.answers).toEqual({ unwell: ['faint'] });
  });

  test('what another tab answered meanwhile is shown once everything is stored', async () => {
    await one.saveCheckDraft(draft({ unwell: ['none'] }));
    await two.reload();
    await two.saveCheckDraft(draft({ unwell: ['none'], 'swelling@left': 'new' }));
    const saving = one.saveCheckDraft(draft({ unwell: ['none'], 'pain@left': 'more' }));
    await Promise.all([one.reload(), saving]);
    expect(one.state.checkDraft?.answers).toEqual({ unwell: ['none'], 'pain@left': 'more', 'swelling@left': 'new' });
  });
});

describe('a draft on the phone', () => {
  const changing: ChangeDraft = {
    id: 'd1',
    startedAt: '2031-03-04T15:00:00Z',
    wound: 'w1',
    check: 'c1',
    position: 7,
    look: 3,
    answers: { drainageAmount: 'light' },
    path: 'recipe',
    interrupted: undefined,
    alert: undefined,
    gathered: ['foam'],
    states: { washHands: { state: 'done' }, remove: { state: 'different', note: 'with water' } },
  };

  test('comes back whole after the app was closed', async () => {
    await one.saveChangeDraft(changing);
    expect((await openTab(shelf)).state.changeDraft).toEqual(changing);
  });

  test('with a broken part comes back without that part, answers and place kept', async () => {
    await set(`draft:${plan.person.id}:change`, { ...changing, look: 'x', gathered: 7, states: null, path: 'nowhere' }, shelf.book);
    expect((await openTab(shelf)).state.changeDraft).toMatchObject({
      position: 7,
      answers: changing.answers,
      look: 0,
      gathered: [],
      states: {},
    });
  });

  test('that cannot be read is set aside and shown, not used', async () => {
    const torn = { id: 5, answers: 'x' };
    await set(DRAFT, torn, shelf.book);
    const tab = await openTab(shelf);
    expect(tab.state.checkDraft).toBeUndefined();
    expect(tab.state.setAside).toEqual([{ where: DRAFT, value: torn }]);
  });
});
