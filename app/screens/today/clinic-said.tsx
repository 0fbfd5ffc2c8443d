import { standing } from '../../care/log/timeline.ts';
import { AHEAD_MS, DAY_MS } from '../../care/schedule/day.ts';
import { useWords } from '../../parts/use-words.ts';
import { formatNearDay, formatTime, inARow } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';

/** For a day, what the clinic said on the phone stands where the person looks first. */
const SAID_STANDS_MS = DAY_MS;

export function ClinicSaid() {
  const { notebook, state } = useBook();
  const ready = useWords(['alert']);
  const now = notebook.device.now();
  const last = standing(state.entries, 'outcome')
    .filter(({ first, now: o }) => {
      const at = Date.parse(first.at);
      return o.what !== 'couldNotReach' && now - at < SAID_STANDS_MS && at <= now + AHEAD_MS;
    })
    .at(-1);
  if (!last || !ready) return null;
  const { at, zone, day } = last.first;
  const { what, said, alerts } = last.now;
  const time = formatTime(at, zone);
  const when = day === notebook.today() ? time : inARow([formatNearDay(day, notebook.today()), time]);
  const isBare = what === 'reached' && !said;
  // What an open alert asks for comes first.
  if (isBare && notebook.openAlerts().length > 0) return null;
  return (
    <section class="notice">
      <p>{t(isBare ? 'alert:adviceBare' : 'alert:advice', { when })}</p>
      {isBare && (
        <div class="notice-actions">
          <a class="button button-second" href={`#/alert/${encodeURIComponent(alerts[0] ?? '')}`}>
            {t('alert:adviceWrite')}
          </a>
        </div>
      )}
      {said && (
        <q class="said" dir="auto">
          {said}
        </q>
      )}
    </section>
  );
}
