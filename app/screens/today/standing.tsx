import { asksForCall, judgeStanding } from '../../care/escalation/judge.ts';
import { Reasons } from '../../parts/reasons.tsx';
import { t } from '../../words/i18n.ts';
import { useBook, useNow } from '../context.ts';
import { settingOf } from '../sitting.ts';

/** What time alone brought about: an overdue change, an unanswered alert, an outdated plan, the size of the wound. */
export function Standing() {
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
