import './log.css';
import { useMemo, useState } from 'preact/hooks';
import { localDay } from '../care/schedule/day.ts';
import { visitDays } from '../care/visit/days.ts';
import { VisitSheet } from '../parts/visit/sheet.tsx';
import { t } from '../words/i18n.ts';
import { LogBanner } from './log-banner.tsx';
import { LogDays } from './log-days.tsx';
import { LogFindings } from './log-findings-panel.tsx';
import { type LogChoice, unitsIn } from './log-input.ts';
import { LogPeriod } from './log-period.tsx';
import { LogPhotos } from './log-photos.tsx';
import type { OpenLog } from './open-log.ts';
import { save } from './save.ts';
import { useLog, usePhotoAddresses } from './use-log.ts';
import { useLogReader } from './use-log-reader.ts';

interface Props {
  log: OpenLog;
  choice: LogChoice;
  onChoose: (choice: LogChoice) => void;
  /** Another log of the same person takes the place of this one. */
  onLog: (log: OpenLog) => void;
  /** Begins the next version of the plan beside this log. */
  onWrite: () => void;
  onClose: () => void;
}

const TABS = ['summary', 'days', 'photos'] as const;
type Tab = (typeof TABS)[number];

/** A log on the desk: the page for the visit, larger, its days, its photos, and what it says against the plan. */
export function LogView({ log, choice, onChoose, onLog, onWrite, onClose }: Props) {
  const { book, file } = log;
  const { input, summary, found } = useLog(book, choice);
  const addresses = usePhotoAddresses(book);
  const { fault, takeFiles } = useLogReader(book.plan.person, onLog);
  const [tab, setTab] = useState<Tab>('summary');
  const days = useMemo(() => (tab === 'days' ? visitDays(input) : []), [tab, input]);
  const units = { ...unitsIn(input.entries), length: choice.length };
  return (
    <main
      class="log-view"
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        void takeFiles([...(event.dataTransfer?.files ?? [])]);
      }}
    >
      <LogBanner book={book} zone={input.zone} now={Date.now()} />
      {fault && (
        <p class="error" role="alert">
          {fault}
        </p>
      )}
      <div class="ways log-ways">
        <button type="button" class="act" onClick={onWrite}>
          {t('clinic:log.write')}
        </button>
        <button type="button" class="small" onClick={() => window.print()}>
          {t('clinic:log.print')}
        </button>
        <button type="button" class="small" onClick={() => save(file.name, file.content, 'text/plain')}>
          {t('clinic:log.save')}
        </button>
        <label class="small file">
          {t('clinic:log.another')}
          <input
            type="file"
            accept=".txt,.json,text/plain,application/json"
            onChange={(event) => {
              const own = event.currentTarget;
              void takeFiles([...(own.files ?? [])]).finally(() => {
                own.value = '';
              });
            }}
          />
        </label>
        <button type="button" class="small" onClick={onClose}>
          {t('clinic:log.close')}
        </button>
      </div>
      <LogPeriod choice={choice} period={summary.period} last={localDay(input.now, input.zone)} onChoose={onChoose} />
      <div class={tab === 'summary' ? 'log-columns' : undefined}>
        {tab === 'summary' && (
          <aside class="log-side" aria-labelledby="log-found-title">
            <h2 id="log-found-title">{t('clinic:found.title', { count: found.length })}</h2>
            <LogFindings found={found} wounds={summary.wounds} />
          </aside>
        )}
        <div class="log-main">
          <div class="side-tabs" role="tablist" aria-label={t('clinic:log.show')}>
            {TABS.map((id) => (
              <button
                key={id}
                type="button"
                role="tab"
                id={`log-tab-${id}`}
                aria-selected={tab === id}
                aria-controls="log-shown"
                onClick={() => setTab(id)}
              >
                {id === 'photos' ? t('clinic:log.tab.photos', { count: book.photos.length }) : t(`clinic:log.tab.${id}`)}
              </button>
            ))}
          </div>
          <div class="log-shown" id="log-shown" role="tabpanel" aria-labelledby={`log-tab-${tab}`} tabIndex={-1}>
            {tab === 'summary' && <VisitSheet summary={summary} units={units} photos={addresses} />}
            {tab === 'days' && <LogDays days={days} wounds={summary.wounds} length={choice.length} />}
            {tab === 'photos' && <LogPhotos entries={input.entries} wounds={summary.wounds} addresses={addresses} />}
          </div>
        </div>
      </div>
    </main>
  );
}
