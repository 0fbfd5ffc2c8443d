import './log.css';
import { formatDay } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { useDesk } from './desk-context.ts';
import { LogFindings } from './log-findings-panel.tsx';
import type { LogChoice } from './log-input.ts';
import { LogOpener } from './log-opener.tsx';
import type { OpenLog } from './open-log.ts';
import { useLog } from './use-log.ts';

interface Props {
  log: OpenLog | undefined;
  choice: LogChoice;
  onLog: (log: OpenLog) => void;
  onShow: (part: string, wound: string | undefined) => void;
}

/** What the person's log says, beside the plan that is to answer it; or where to open it. */
export function LogSide({ log, choice, onLog, onShow }: Props) {
  const { state } = useDesk();
  if (log) return <Findings log={log} choice={choice} onShow={onShow} />;
  return (
    <section class="log-beside">
      <h2>{t('clinic:readLog.title')}</h2>
      <p>{t('clinic:readLog.beside')}</p>
      <LogOpener expected={state.draft.person} onLog={onLog} />
    </section>
  );
}

function Findings({ log: { book }, choice, onShow }: Omit<Props, 'onLog'> & { log: OpenLog }) {
  const { summary, found } = useLog(book, choice);
  const { from, to } = summary.period;
  const span = { from: formatDay(from, 'short'), to: formatDay(to, 'short') };
  return (
    <section class="log-beside" aria-labelledby="log-found-title">
      <h2 id="log-found-title">{t('clinic:found.title', { count: found.length })}</h2>
      <p class="f-hint">{t('clinic:found.from', { name: book.plan.person.callMe, ...span, revision: book.plan.revision })}</p>
      <LogFindings found={found} wounds={summary.wounds} onShow={onShow} />
    </section>
  );
}
