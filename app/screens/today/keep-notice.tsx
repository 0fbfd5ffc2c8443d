import { useEffect, useState } from 'preact/hooks';
import { conflicts } from '../../care/log/conflicts.ts';
import { COPY_LATER_DAYS, isCopyDue } from '../../care/schedule/copy-due.ts';
import { addDays } from '../../care/schedule/day.ts';
import { useWords } from '../../parts/use-words.ts';
import type { Notebook } from '../../store/notebook.ts';
import { wasCutShort } from '../../store/take-in.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { keepQuietly } from '../storage.ts';

type Notice = 'cutShort' | 'judge' | 'copy';

/** What is worth saying about the log itself today, the most pressing first; nothing while an alert waits. */
async function noticeOf(notebook: Notebook): Promise<Notice | undefined> {
  const { book, records, otherMonths, settings } = notebook.state;
  if (!book || notebook.openAlerts().length > 0) return undefined;
  if (await wasCutShort(notebook.shelf)) return 'cutShort';
  if (new Set(records.map((r) => r.device)).size > 1 && conflicts(records).length > 0) return 'judge';
  // A month that is not loaded is older than a week.
  const days = records.map((r) => r.day).sort();
  const first = otherMonths.length > 0 ? addDays(notebook.today(), -31) : days[0];
  const isSample = book.plan.sample === true;
  const due = isCopyDue({ every: settings.copyEvery, first, last: settings.copiedOn, later: settings.copyLater }, notebook.today());
  return due && !isSample ? 'copy' : undefined;
}

const TO: Record<Notice, string> = { cutShort: '#/keep', judge: '#/judge', copy: '#/copy' };

/** A quiet word on the first screen: a copy is due, or two phones do not agree. It comes after everything else and can be put off. */
export function KeepNotice() {
  const { notebook, state } = useBook();
  const [notice, setNotice] = useState<Notice | undefined>();
  useEffect(() => {
    let current = true;
    void noticeOf(notebook).then((found) => current && setNotice(found));
    void keepQuietly();
    return () => {
      current = false;
    };
  }, [notebook, state.records, state.settings, state.book]);
  if (!useWords(notice ? ['keep'] : []) || !notice) return null;
  return (
    <section class="notice" aria-label={t('keep:title')}>
      <p>{t(`keep:notice.${notice}.text`)}</p>
      <div class="notice-actions">
        <a class="button button-second" href={TO[notice]}>
          {t(`keep:notice.${notice}.go`)}
        </a>
        {notice === 'copy' && (
          <button
            type="button"
            class="button button-quiet"
            onClick={() => void notebook.saveSettings({ copyLater: addDays(notebook.today(), COPY_LATER_DAYS) })}
          >
            {t('keep:notice.later')}
          </button>
        )}
      </div>
    </section>
  );
}
