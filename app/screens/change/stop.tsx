import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { t } from '../../words/i18n.ts';

/** Breaking off a change: what to do with the wound first. */
export function StopChange({ busy, onStay, onStop }: { busy: boolean; onStay: () => void; onStop: () => void }) {
  return (
    <Page
      title={t('change:stopTitle')}
      back={onStay}
      foot={
        <>
          <button type="button" class="button button-main" onClick={onStay}>
            {t('change:stay')}
          </button>
          <button type="button" class="button button-second" {...press(onStop, busy)}>
            {t('change:stopSure')}
          </button>
        </>
      }
    >
      <p class="lead">{t('change:stopText')}</p>
      <p>{t('change:stopKeeps')}</p>
    </Page>
  );
}
