import { get, set } from 'idb-keyval';
import { beforeEach, describe, expect, test } from 'vitest';
import { acceptPlan, removeSample } from '../../app/store/accept-plan.ts';
import type { WeighDraft } from '../../app/store/drafts.ts';
import type { Notebook } from '../../app/store/notebook.ts';
import type { Shelf } from '../../app/store/shelf.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { newShelf, openTab } from './phone.ts';

const plan = demoPlan();
const key = `draft:${plan.person.id}:weigh`;
const draft: WeighDraft = { id: 'g1', startedAt: '2031-03-04T15:00:00Z', wound: 'w1', at: 'used', answers: { dry: '12' } };

let shelf: Shelf;
let notebook: Notebook;

beforeEach(async () => {
  shelf = newShelf();
  notebook = await openTab(shelf);
  await acceptPlan(notebook, plan);
});

describe('a weighing under way', () => {
  test('comes back whole after the app was closed', async () => {
    await notebook.saveWeighDraft(draft);
    expect((await openTab(shelf)).state.weighDraft).toEqual(draft);
  });

  test('in two tabs keeps what was typed in both', async () => {
    await notebook.saveWeighDraft(draft);
    const other = await openTab(shelf);
    await other.saveWeighDraft({ ...draft, answers: { used: '19' } });
    expect((await openTab(shelf)).state.weighDraft?.answers).toEqual({ dry: '12', used: '19' });
  });

  test('that cannot be read is set aside and shown, not used', async () => {
    await set(key, { ...draft, wound: 7 }, shelf.book);
    const { state } = await openTab(shelf);
    expect(state.weighDraft).toBeUndefined();
    expect(state.setAside).toEqual([{ where: key, value: { ...draft, wound: 7 } }]);
  });

  test('is cleared away when it is finished, and goes with the sample', async () => {
    await notebook.saveWeighDraft(draft);
    await notebook.dropDraftOf('weigh');
    expect(notebook.state.weighDraft).toBeUndefined();
    await notebook.saveWeighDraft(draft);
    expect(plan.sample).toBe(true);
    await removeSample(notebook, plan.person.id);
    expect(await get(key, shelf.book)).toBeUndefined();
  });
});
