import { standing, timeline } from '../care/log/timeline.ts';
import type { Plan } from '../care/plan/plan.ts';
import { bookKey, keepMonthsIn, plansIn, readBook } from './book.ts';
import { DRAFT_KINDS, draftKey, dropDraft, INCOMING_KEY } from './drafts.ts';
import { appendRecords, monthsOf, pageKey } from './log.ts';
import type { Notebook } from './notebook.ts';
import { changeIn, deleteIn } from './values.ts';

/**
 * Puts a plan in force: a new book for a new person, or the next plan of a
 * known one. Its record comes first and what asked for it goes last, so that
 * a phone that goes off in between asks again; the record is then not made anew.
 */
export async function acceptPlan(notebook: Notebook, plan: Plan): Promise<void> {
  const { shelf, device } = notebook;
  const { id } = plan.person;
  await notebook.nameDevice();
  const own = { id: plan.id, revision: plan.revision };
  const last = standing(timeline((await notebook.wholeLog(id)).records), 'planAccepted').at(-1)?.first.accepted;
  if (last?.id !== own.id || last.revision !== own.revision) {
    const accepted = { ...own, clinic: plan.clinic.name };
    await appendRecords(shelf, id, [{ ...notebook.stamp(), plan: own, kind: 'planAccepted', accepted }]);
  }
  await changeIn(shelf, 'book', bookKey(id), (old) => {
    const earlier = plansIn(old);
    // The very plan in force is not kept twice; what cannot be read is kept as it is.
    if (JSON.stringify(readBook(old)?.plan) === JSON.stringify(plan)) earlier.pop();
    return { id, plan, earlierPlans: earlier, acceptedAt: new Date(device.now()).toISOString(), keepMonths: keepMonthsIn(old) };
  });
  await dropDraft(shelf, INCOMING_KEY);
  await notebook.openBook(id);
  await notebook.refresh();
}

/** Takes the sample's book off the phone, with all that was written in it. Other books cannot be removed this way. */
export async function removeSample(notebook: Notebook, id: string): Promise<void> {
  const { shelf, state } = notebook;
  if (!state.books.some((b) => b.id === id && b.plan.sample)) return;
  const pages = (await monthsOf(shelf, id)).map((m) => pageKey(id, m));
  const photos = (await notebook.wholeLog(id)).records.flatMap((r) => (r.kind === 'photo' ? [r.photo] : []));
  await deleteIn(shelf, 'photos', photos);
  await deleteIn(shelf, 'log', pages);
  await deleteIn(shelf, 'book', [...DRAFT_KINDS.map((kind) => draftKey(id, kind)), bookKey(id)]);
  await notebook.closeBook();
}
