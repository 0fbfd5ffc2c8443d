import { useState } from 'preact/hooks';
import type { AlertRecord } from '../../care/log/records.ts';
import { LevelMark } from '../../parts/level.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { Reasons } from '../../parts/reasons.tsx';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { takeBackInCheck } from '../take-back.ts';

interface Props {
  alert: AlertRecord;
  busy: boolean;
  failed: boolean;
  onStop: () => void;
  onRest: () => void;
}

/** A grave answer in the middle of a check. Its alert is written down already; the rest can wait. */
export function CheckStop({ alert, busy, failed, onStop, onRest }: Props) {
  const { notebook } = useBook();
  const [kept, setKept] = useState(false);
  return (
    <Page
      title={t('alert:title.callNow')}
      over={<LevelMark level="callNow" />}
      class="alert alert-callNow"
      foot={
        <>
          <NotSaved when={failed || kept} />
          <button type="button" class="button button-main" {...press(onStop, busy)}>
            {t('check:stopAndCall')}
          </button>
          <button type="button" class="button button-quiet" onClick={onRest}>
            {t('check:answerRest')}
          </button>
        </>
      }
    >
      <Reasons fired={alert.fired} />
      <p>{t('check:stopWhy')}</p>
      <button type="button" class="button button-quiet" onClick={() => void takeBackInCheck(notebook).catch(() => setKept(true))}>
        {t('alert:wrongAnswer')}
      </button>
    </Page>
  );
}
