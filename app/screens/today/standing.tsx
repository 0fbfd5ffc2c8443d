import { asksForCall, judgeStanding } from '../../care/escalation/judge.ts';
import { standing } from '../../care/log/timeline.ts';
import { AHEAD_MS, DAY_MS } from '../../care/schedule/day.ts';
import { Reasons } from '../../parts/reasons.tsx';
import { formatTime } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useBook, useNow } from '../context.ts';
import { settingOf } from '../sitting.ts';

/** What stands without a check: the clinic's word of today, and what time alone brought about. */
export function Standing() {
  return (
    <>
      <ClinicSaid />
      <TimeAlone />
    </>
  );
}

/** An overdue change, an unanswered alert, an outdated plan, the size of the wound. */
function TimeAlone() {
  const { notebook } = useBook();
  useNow(notebook);
  const judgement = judgeStanding(settingOf(notebook));
  if (judgement.fired.length === 0) return null;
  return (
    <section class={asksForCall(judgement) ? 'standing standing-call' : 'standing'} aria-label={t('today:standing')}>
      <Reasons fired={judgement.fired} />
      {asksForCall(judgement) && notebook.openAlerts().length === 0 && (
        <a class="button button-second" href="#/call">
          {t('today:whomToCall')}
        </a>
      )}
    </section>
  );
}

/** For a day, what the clinic said on the phone stands where the person looks first. */
const SAID_STANDS_MS = DAY_MS;

function ClinicSaid() {
  const { notebook, state } = useBook();
  const now = notebook.device.now();
  const last = standing(state.entries, 'outcome')
    .map((e) => e.now)
    .filter((o) => o.what !== 'couldNotReach' && now - Date.parse(o.at) < SAID_STANDS_MS && Date.parse(o.at) <= now + AHEAD_MS)
    .at(-1);
  if (!last) return null;
  return (
    <section class="notice">
      <p>{t('today:advice', { time: formatTime(last.at, last.zone) })}</p>
      {last.said && (
        <q class="said" dir="auto">
          {last.said}
        </q>
      )}
    </section>
  );
}
