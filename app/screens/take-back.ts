import { stepsToLook } from '../care/change/sequence.ts';
import { itemAnswers } from '../care/check/item-answers.ts';
import { checkItems, type ItemAnswers, lookQuestions } from '../care/check/items.ts';
import type { AlertRecord, LogRecord } from '../care/log/records.ts';
import { type AlertState, alertStates, standing } from '../care/log/timeline.ts';
import type { Plan } from '../care/plan/plan.ts';
import { AHEAD_MS } from '../care/schedule/day.ts';
import type { ChangeDraft } from '../store/drafts.ts';
import type { Notebook } from '../store/notebook.ts';
import { t } from '../words/i18n.ts';

/**
 * A slip of the finger, taken back: what it wrote is withdrawn, not erased, and
 * the question is asked again.
 */

/** For how long an alert may be called a slip; after that it is for the clinic to judge (cautious). */
const SLIP_MS = 10 * 60_000;

const withdrawal = (notebook: Notebook, target: string): LogRecord => ({
  ...notebook.stamp(),
  kind: 'void',
  target,
  why: t('alert:wrongAnswer'),
});

/** Withdraws the alert that broke off a change, and asks its question again. @throws when the store refuses. */
export async function takeBackChange(notebook: Notebook, draft: ChangeDraft): Promise<void> {
  const wound = notebook.wound(draft.wound);
  if (draft.alert) await notebook.append([withdrawal(notebook, draft.alert)]);
  await notebook.saveChangeDraft({
    ...draft,
    interrupted: undefined,
    alert: undefined,
    path: undefined,
    position: wound ? stepsToLook(wound).length - 1 : draft.position,
    look: draft.asked ?? 1,
  });
}

/** Withdraws the alerts of a check under way, and asks the question on screen again, its answer still marked. @throws when the store refuses. */
export async function takeBackInCheck(notebook: Notebook): Promise<void> {
  const draft = notebook.state.checkDraft;
  if (!draft) return;
  await notebook.append(unanswered(notebook, draft.id).map((a) => withdrawal(notebook, a.id)));
  await notebook.saveCheckDraft({ ...draft, alert: undefined, told: undefined });
}

/** What a check or change has raised, and of which nothing is written down yet. */
const unanswered = (notebook: Notebook, from: string): AlertRecord[] =>
  alertStates(notebook.state.entries).flatMap(({ alert, outcomes }) => (alert.from === from && outcomes.length === 0 ? [alert] : []));

/** The question an alert comes from: the last answered one of those that its gravest reasons rest on. */
function questionOf(plan: Plan, answers: ItemAnswers, alert: AlertRecord): string | undefined {
  const found = alert.fired.filter((r) => r.level === alert.level).flatMap((r) => r.findings.map((f) => f.split(':')[0]));
  const answered = checkItems(plan).filter((item) => answers[item.key] !== undefined);
  return (answered.findLast((item) => found.includes(item.question.id)) ?? answered.at(-1))?.key;
}

/**
 * How to take an alert back as a slip, where that can still be done: it is a few
 * minutes old, nothing came of it yet, and the check or change it comes from has
 * not gone on since. A check that is written down is withdrawn and begun again
 * with its other answers. @returns what to do, resolving to the place to go to.
 */
export function slipOf(notebook: Notebook, { alert, outcomes }: AlertState): (() => Promise<'check' | 'change'>) | undefined {
  const { book, entries, checkDraft, changeDraft } = notebook.state;
  const ago = notebook.device.now() - Date.parse(alert.at);
  if (!book || outcomes.length > 0 || ago > SLIP_MS || ago < -AHEAD_MS) return undefined;
  if (changeDraft?.alert === alert.id) {
    const wound = notebook.wound(changeDraft.wound);
    // Once the wound is being covered, the look is over.
    const looking = changeDraft.interrupted || changeDraft.position === (wound && stepsToLook(wound).length);
    if (!looking) return undefined;
    return async () => {
      await takeBackChange(notebook, { ...changeDraft, asked: changeDraft.asked ?? lookQuestions().length });
      return 'change';
    };
  }
  const ofDraft = checkDraft?.id === alert.from ? checkDraft : undefined;
  if (checkDraft && !ofDraft) return undefined;
  const check = standing(entries, 'check').find((e) => e.first.id === alert.from);
  const used = changeDraft?.check === alert.from || standing(entries, 'change').some((e) => e.now.check === alert.from);
  if (!ofDraft && (!check || check.versions.length > 1 || used || check.first.day !== notebook.today())) return undefined;
  return async () => {
    const answers = ofDraft?.answers ?? (check ? itemAnswers(book.plan, check.first) : {});
    const at = questionOf(book.plan, answers, alert);
    const gone = [...unanswered(notebook, alert.from).map((a) => a.id), ...(!ofDraft && check ? [check.first.id] : [])];
    await notebook.append(gone.map((id) => withdrawal(notebook, id)));
    await notebook.saveCheckDraft({
      ...(ofDraft ?? { id: notebook.device.newId(), startedAt: new Date(notebook.device.now()).toISOString() }),
      alert: undefined,
      told: undefined,
      at,
      answers: { ...answers, ...(at === undefined ? {} : { [at]: undefined }) },
    });
    return 'check';
  };
}
