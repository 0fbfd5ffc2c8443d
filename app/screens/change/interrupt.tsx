import { standingOne } from '../../care/log/timeline.ts';
import { LevelMark } from '../../parts/level.tsx';
import { Page } from '../../parts/page.tsx';
import { Reasons } from '../../parts/reasons.tsx';
import { t } from '../../words/i18n.ts';
import { CallAction } from '../call-action.tsx';
import { useBook } from '../context.ts';
import { toldNow } from '../told.ts';

/**
 * A grave answer in the middle of a change: what to do at once. The wound is
 * not left open: cover it, then call. Heavy bleeding and emergencies call first.
 */
export function Interrupt({ alertId, onCover, onWrong }: { alertId: string | undefined; onCover: () => void; onWrong: () => void }) {
  const { notebook, state } = useBook();
  const alert = standingOne(state.entries, 'alert', alertId);
  if (!alert) return null;
  const { title, call } = toldNow(notebook, alert);
  const callFirst = alert.told === 'emergency' || alert.fired.some((r) => r.rule.startsWith('bleeding'));
  const cover = (
    <button type="button" class={`button ${callFirst ? 'button-second' : 'button-main'}`} onClick={onCover}>
      {t('change:coverNow')}
    </button>
  );
  return (
    <Page
      title={title}
      over={<LevelMark level={alert.told} />}
      class={`alert alert-${alert.told}`}
      foot={
        callFirst ? (
          <>
            <CallAction call={call} level={alert.told} />
            {cover}
          </>
        ) : (
          <>
            {cover}
            <CallAction call={call} level={alert.told} quiet />
          </>
        )
      }
    >
      <p class="lead">{t(callFirst ? 'change:callThenCover' : 'change:coverThenCall')}</p>
      <h2>{t('alert:why')}</h2>
      <Reasons fired={alert.fired} />
      <button type="button" class="button button-quiet" onClick={onWrong}>
        {t('alert:wrongAnswer')}
      </button>
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}
