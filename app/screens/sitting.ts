import type { Answers } from '../care/check/answers.ts';
import { sortAnswers } from '../care/check/items.ts';
import type { Moment } from '../care/escalation/facts.ts';
import { asksForCall, judge, needsNewAlert, type Setting } from '../care/escalation/judge.ts';
import { answersForWound } from '../care/log/history.ts';
import type { AlertRecord, ChangeRecord, CheckRecord, Judgement, LogRecord } from '../care/log/records.ts';
import { alertStates } from '../care/log/timeline.ts';
import type { Wound } from '../care/plan/plan.ts';
import type { Notebook } from '../store/notebook.ts';
import { emergencyNumber } from './region.ts';

/** What judgements rest on, from the open book and the clock. */
export function settingOf(notebook: Notebook): Setting {
  const { book, entries } = notebook.state;
  if (!book) throw new Error('no book is open');
  const now = notebook.device.now();
  return { plan: book.plan, entries, emergencyNumber: emergencyNumber(notebook.state), now: { at: now, day: notebook.today() } };
}

type CheckParts = Pick<CheckRecord, 'person' | 'feet' | 'wounds'>;

/** Judges a daily check, finished or not. */
export function judgeCheckParts(notebook: Notebook, parts: CheckParts, without: readonly string[] = [], asOf?: Moment): Judgement {
  const setting = { ...settingOf(notebook), asOf };
  const whole = parts as CheckRecord;
  return judge(setting, new Map(setting.plan.wounds.map((w) => [w, answersForWound(whole, w)])), without);
}

export function judgeItems(notebook: Notebook, items: Record<string, unknown>): Judgement {
  const { book } = notebook.state;
  if (!book) throw new Error('no book is open');
  return judgeCheckParts(notebook, sortAnswers(book.plan, items));
}

/** Judges the look at an open wound together with the check of the same sitting. */
export function judgeLook(
  notebook: Notebook,
  wound: Wound,
  check: CheckRecord | undefined,
  open: Answers,
  without: readonly string[] = [],
  asOf?: Moment,
): Judgement {
  const every = check ? answersForWound(check, wound) : {};
  const left = check ? [check.id, ...(check.amends ? [check.amends] : []), ...without] : without;
  return judge({ ...settingOf(notebook), asOf }, new Map([[wound, { ...every, ...open }]]), left);
}

/** The alert a judgement calls for, if it needs one of its own. */
export function alertFor(notebook: Notebook, judgement: Judgement, from: string, cause: string = from): AlertRecord | undefined {
  const { entries } = notebook.state;
  // What this check or change has told before needs no second alert, even if it was answered meanwhile; a correction is told anew.
  const own = alertStates(entries).flatMap((s) => (s.closed && s.alert.from === cause ? [s.alert] : []));
  if (!asksForCall(judgement) || !needsNewAlert(judgement, [...notebook.openAlerts(), ...own])) return undefined;
  // Named after its cause, so that the same cause told in two tabs is one alert; one that is there already, withdrawn or not, keeps its name.
  const name = `${cause}-${judgement.told}`;
  const before = entries.filter((e) => e.first.kind === 'alert' && e.first.id.startsWith(name)).length;
  const id = before > 0 ? `${name}-${before}` : name;
  return { ...notebook.stamp(id), kind: 'alert', level: judgement.level, told: judgement.told, from, fired: judgement.fired };
}

/**
 * Writes a record and the alert it calls for in one go. The alert stands first:
 * where the two are of different months, a phone that goes off in between has
 * the alert, and the draft to finish. @returns the alert, if there is one.
 */
export async function record(
  notebook: Notebook,
  made: CheckRecord | ChangeRecord,
  judgement: Judgement | undefined,
): Promise<AlertRecord | undefined> {
  const alert = judgement && alertFor(notebook, judgement, made.amends ?? made.id, made.id);
  const records: LogRecord[] = alert ? [alert, made] : [made];
  await notebook.append(records);
  return alert;
}
