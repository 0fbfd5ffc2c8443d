import { useEffect, useState } from 'preact/hooks';
import { sortAnswers } from '../../care/check/items.ts';
import { byAnswers } from '../../care/escalation/judge.ts';
import type { AlertRecord, CheckRecord } from '../../care/log/records.ts';
import { localDay } from '../../care/schedule/day.ts';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import type { CheckDraft } from '../../store/drafts.ts';
import type { Notebook } from '../../store/notebook.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { go, replace } from '../route.ts';
import { alertFor, judgeCheckParts } from '../sitting.ts';

/**
 * Writes a check that was left on an earlier day down as a check of that day,
 * cut short, and ends its draft. Its answers are judged as of then; what they
 * call for is told now, unless it was told already. @returns the alert it raised.
 * @throws when the store refuses; the draft then stays.
 */
export async function writeDownOld(notebook: Notebook, draft: CheckDraft): Promise<AlertRecord | undefined> {
  const { book } = notebook.state;
  if (!book) throw new Error('no book is open');
  let alert: AlertRecord | undefined;
  if (Object.values(draft.answers).some((answer) => answer !== undefined)) {
    const at = Date.parse(draft.startedAt);
    const stamp = notebook.stamp(draft.id);
    const day = localDay(at, stamp.zone);
    const parts = sortAnswers(book.plan, draft.answers);
    const judgement = judgeCheckParts(notebook, parts, [draft.id], { at, day });
    const made: CheckRecord = { ...stamp, at: new Date(at).toISOString(), day, kind: 'check', ...parts, judgement };
    // What time alone brought about then is looked at anew now.
    alert = alertFor(notebook, byAnswers(judgement), draft.id);
    await notebook.append(alert ? [alert, made] : [made]);
  }
  await notebook.dropDraftOf('check');
  return alert;
}

/** Stands for a moment where a check of an earlier day was left, while it is written down. */
export function OldCheck({ draft }: { draft: CheckDraft }) {
  const { notebook } = useBook();
  const [failed, setFailed] = useState(false);
  const write = async () => {
    setFailed(false);
    try {
      const alert = await writeDownOld(notebook, draft);
      if (alert) replace('alert', alert.id);
    } catch {
      setFailed(true);
    }
  };
  useEffect(() => void write(), []);
  if (!failed) return null;
  return (
    <Page
      title={t('check:oldTitle')}
      back={() => go('today')}
      foot={
        <>
          <NotSaved when />
          <button type="button" class="button button-main" onClick={() => void write()}>
            {t('check:oldWrite')}
          </button>
        </>
      }
    >
      <p class="lead">{t('check:oldText')}</p>
    </Page>
  );
}
