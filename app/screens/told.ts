import { type Call, whoToCall } from '../care/escalation/who-to-call.ts';
import type { AlertRecord } from '../care/log/records.ts';
import { alertStates } from '../care/log/timeline.ts';
import type { Notebook } from '../store/notebook.ts';
import { t } from '../words/i18n.ts';
import { emergencyNumber } from './region.ts';

/** What an open alert says now: one answer for every screen that shows it. */
export interface Told {
  title: string;
  level: AlertRecord['told'];
  call: Call;
  /** Why no phone will do: nobody answered, or nobody is there at this hour. */
  department: 'noAnswer' | 'closed' | undefined;
}

/** @param level the level now, where waiting has made it graver than the alert's own. */
export function toldNow(notebook: Notebook, alert: AlertRecord, level: AlertRecord['told'] = alert.told): Told {
  const { state } = notebook;
  if (!state.book) throw new Error('no book is open');
  const { told, call } = whoToCall(state.book.plan.clinic, emergencyNumber(state), level, notebook.device.now());
  const outcomes = alertStates(state.entries).find((s) => s.alert.id === alert.id)?.outcomes ?? [];
  const failed = outcomes.some((o) => o.what === 'couldNotReach') && alert.told !== 'callToday';
  const department = failed ? 'noAnswer' : call.to === 'department' ? 'closed' : undefined;
  const now = told as AlertRecord['told'];
  return { title: t(department ? 'alert:departmentTitle' : `alert:title.${now}`), level: now, call, department };
}
