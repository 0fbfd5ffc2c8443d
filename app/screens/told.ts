import { type Call, whoToCall } from '../care/escalation/who-to-call.ts';
import type { AlertRecord } from '../care/log/records.ts';
import { AHEAD_MS, HOUR_MS } from '../care/schedule/day.ts';
import type { Notebook } from '../store/notebook.ts';
import { t } from '../words/i18n.ts';
import { emergencyNumber } from './region.ts';

/** What an open alert says now: one answer for every screen that shows it. */
export interface Told {
  title: string;
  level: AlertRecord['told'];
  call: Call;
  /** Why no phone will do: nobody answered in time, or nobody is there at this hour. */
  department: 'noAnswer' | 'closed' | undefined;
  /** Until when somebody must have answered a call now, ms; after that it is an emergency department. */
  by: number | undefined;
}

/** How long a call now may go unanswered. */
const ANSWER_MS = HOUR_MS / 2;

/** @param level the level now, where waiting has made it graver than the alert's own. */
export function toldNow(notebook: Notebook, alert: AlertRecord, level: AlertRecord['told'] = alert.told): Told {
  const { state } = notebook;
  if (!state.book) throw new Error('no book is open');
  const now = notebook.device.now();
  const { told, call } = whoToCall(state.book.plan.clinic, emergencyNumber(state), level, now);
  const at = Date.parse(alert.at);
  // One dated ahead by a wrong clock may have waited for long.
  const isLate = alert.told === 'callNow' && (now - at >= ANSWER_MS || at > now + AHEAD_MS);
  const department = call.to === 'department' ? 'closed' : isLate ? 'noAnswer' : undefined;
  const by = alert.told === 'callNow' && !department ? at + ANSWER_MS : undefined;
  return {
    title: t(department ? 'alert:departmentTitle' : `alert:title.${told}`),
    level: told as AlertRecord['told'],
    call,
    department,
    by,
  };
}
