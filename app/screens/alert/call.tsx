import { useEffect } from 'preact/hooks';
import { asksForCall, judgeStanding } from '../../care/escalation/judge.ts';
import { whoToCall } from '../../care/escalation/who-to-call.ts';
import { LevelMark } from '../../parts/level.tsx';
import { Page } from '../../parts/page.tsx';
import { Reasons } from '../../parts/reasons.tsx';
import { t } from '../../words/i18n.ts';
import { CallAction } from '../call-action.tsx';
import { useBook, useNow } from '../context.ts';
import { emergencyNumber } from '../region.ts';
import { go, replace } from '../route.ts';
import { settingOf } from '../sitting.ts';

/** Whom to call for what time alone brought about, such as an overdue change. */
export function CallScreen() {
  const { notebook, state, book } = useBook();
  const now = useNow(notebook);
  const judgement = judgeStanding(settingOf(notebook));
  const open = notebook.openAlerts()[0];
  const nothing = !open && !asksForCall(judgement);
  // An open alert says more than time does; and where there is nothing to call for, nothing is said.
  useEffect(() => {
    if (open) replace('alert', open.id);
    else if (nothing) replace('today');
  }, [open, nothing]);
  if (open || nothing) return null;
  const { told, call } = whoToCall(book.plan.clinic, emergencyNumber(state), judgement.level, now);
  return (
    <Page
      title={t(call.to === 'department' ? 'alert:departmentTitle' : `alert:title.${told}`)}
      over={<LevelMark level={told} />}
      class={`alert alert-${told}`}
      back={() => go('today')}
      foot={<CallAction call={call} level={told} />}
    >
      {call.to !== 'department' && <p class="lead">{t(`alert:lead.${told}`)}</p>}
      <h2>{t('alert:why')}</h2>
      <Reasons fired={judgement.fired} />
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}
