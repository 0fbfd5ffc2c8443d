import type { Notebook } from '../../store/notebook.ts';
import { formatTime } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import type { Told } from '../told.ts';

const clock = (notebook: Notebook, at: number): string => formatTime(at, notebook.device.zone());

/** What to do, with the time of day until when somebody must have answered, where it is known. */
export const leadText = (notebook: Notebook, { level, by }: Told): string =>
  by === undefined ? t(`alert:lead.${level}`) : t('alert:leadBy', { time: clock(notebook, by) });

/** What to do after a call that nobody answered; the same rule as before it. */
export function unansweredText(notebook: Notebook, { level, call, department, by }: Told): string {
  if (call.to === 'emergency') return t('alert:noAnswerEmergency', { phone: call.phone });
  if (department === 'closed') return t('alert:department');
  if (by !== undefined) return t('alert:noAnswerBy', { time: clock(notebook, by) });
  if (department) return t('alert:noAnswer');
  return t(level === 'callNow' ? 'alert:lead.callNow' : 'alert:tell.couldNotReach');
}
