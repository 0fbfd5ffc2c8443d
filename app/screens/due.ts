import { lastChange, lastFound } from '../care/log/history.ts';
import { intervalInUse } from '../care/plan/limits-of.ts';
import type { Wound } from '../care/plan/plan.ts';
import { daysBetween } from '../care/schedule/day.ts';
import { type Due, nextDue } from '../care/schedule/due.ts';
import type { Notebook } from '../store/notebook.ts';

/** When a wound's dressing is next due; `undefined` for one never dressed in this book, which is due now. */
export function dueOf(notebook: Notebook, wound: Wound): Due | undefined {
  const { entries } = notebook.state;
  const now = notebook.device.now();
  const last = lastChange(entries, wound.id, now);
  const interval = intervalInUse(wound, lastFound(entries, wound.id, now));
  return last === undefined || interval === undefined ? undefined : nextDue(interval, last, notebook.device.zone());
}

/** The open book's wounds whose dressing is due today or late. */
export function woundsDue(notebook: Notebook): Wound[] {
  const today = notebook.today();
  return (notebook.state.book?.plan.wounds ?? []).filter((wound) => {
    const due = dueOf(notebook, wound);
    return due === undefined || daysBetween(today, due.day) <= 0;
  });
}
