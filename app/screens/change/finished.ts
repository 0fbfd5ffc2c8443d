import { stepsAfterLook, stepsToLook } from '../../care/change/sequence.ts';
import type { Answers } from '../../care/check/answers.ts';
import type { Band } from '../../care/check/questions.ts';
import type { ChangeRecord, Judgement, LogRecord } from '../../care/log/records.ts';
import type { Wound } from '../../care/plan/plan.ts';
import { usesOfChange } from '../../care/supplies/uses.ts';
import type { ChangeDraft } from '../../store/drafts.ts';
import type { Notebook } from '../../store/notebook.ts';

/** The amount that a look has found so far. */
export const amountOf = (draft: ChangeDraft): Band | 'unsure' | undefined => draft.answers.drainageAmount as Band | 'unsure' | undefined;

/** The steps of a change under way: those up to the look, and those after it as far as the amount is known. */
export function stepsOf(wound: Wound, draft: ChangeDraft) {
  const before = stepsToLook(wound);
  const after = stepsAfterLook(wound, draft.path === 'coverAndCall' ? undefined : (amountOf(draft) ?? wound.expectedDrainage[0]));
  return { before, after, steps: [...before, ...after.steps] };
}

/** Answers without those taken back. */
const given = (answers: Record<string, unknown>): Answers =>
  Object.fromEntries(Object.entries(answers).filter(([, value]) => value !== undefined)) as Answers;

/**
 * What a change leaves in the log, in the order it must be written: what was
 * used first, then the change, which ends the draft.
 * @param judgement of the look, if there was one.
 */
export function recordsOfChange(
  notebook: Notebook,
  wound: Wound,
  draft: ChangeDraft,
  { states, stopped, judgement }: { states: ChangeDraft['states']; stopped: boolean; judgement: Judgement | undefined },
): LogRecord[] {
  const { book } = notebook.state;
  if (!book) throw new Error('no book is open');
  const path = draft.path ?? 'coverAndCall';
  const amount = amountOf(draft);
  const made: ChangeRecord = {
    ...notebook.stamp(draft.id),
    kind: 'change',
    wound: wound.id,
    startedAt: draft.startedAt,
    path,
    steps: stepsOf(wound, draft).steps.map(({ step }) => ({ step, ...(states[step] ?? { state: 'skipped' as const }) })),
    ...(draft.check ? { check: draft.check } : {}),
    ...(judgement ? { answers: given(draft.answers), judgement } : {}),
    ...(path !== 'coverAndCall' && amount && amount !== 'unsure' ? { band: amount } : {}),
    ...(stopped ? { stopped: true } : {}),
  };
  const used = usesOfChange(book.plan, made).map(({ item, amount: pieces }, i) => ({
    ...notebook.stamp(`${made.id}-${i}`),
    kind: 'stock' as const,
    item,
    movement: 'used' as const,
    amount: pieces,
    change: made.id,
  }));
  return [...used, made];
}
