import './log.css';
import { t } from '../words/i18n.ts';
import { LogOpener } from './log-opener.tsx';
import type { OpenLog } from './open-log.ts';

/** Where a log is opened, before any is on the desk. */
export function ReadLog({ onLog, onBack }: { onLog: (log: OpenLog) => void; onBack: () => void }) {
  return (
    <main class="desk-start">
      <button type="button" class="small" onClick={onBack}>
        {t('clinic:readLog.back')}
      </button>
      <h1>{t('clinic:readLog.title')}</h1>
      <p class="lead">{t('clinic:readLog.lead')}</p>
      <LogOpener onLog={onLog} />
      <p class="f-hint">{t('clinic:readLog.keeps')}</p>
    </main>
  );
}
