import type { WoundStands } from '../../care/change/sequence.ts';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { t } from '../../words/i18n.ts';

interface Props {
  stands: WoundStands;
  over: string | undefined;
  busy: boolean;
  /** Goes on with the step. */
  onStay: () => void;
  /** Leaves the change as it is, to come back to. */
  onLater: () => void;
  /** Ends the change. */
  onStop: () => void;
}

/** Leaving a change, for a while or for today: what to do with the wound first. */
export function StopChange({ stands, over, busy, onStay, onLater, onStop }: Props) {
  return (
    <Page
      title={t('change:stopTitle')}
      over={over}
      back={onStay}
      foot={
        <>
          <button type="button" class="button button-main" {...press(onLater, busy)}>
            {t('change:stopLater')}
          </button>
          <button type="button" class="button button-second" {...press(onStop, busy)}>
            {t('change:stopSure')}
          </button>
          <button type="button" class="button button-quiet" onClick={onStay}>
            {t('change:stay')}
          </button>
        </>
      }
    >
      <p class="lead">{stands === 'dressed' ? t('change:dressed') : t(stands === 'open' ? 'change:stopText' : 'change:stopUnder')}</p>
      <p>{t('change:stopLaterWhy')}</p>
      <p>{t('change:stopKeeps')}</p>
    </Page>
  );
}
