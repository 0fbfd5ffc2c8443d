import { useState } from 'preact/hooks';
import type { AlertRecord, OutcomeCode, RecordOf } from '../../care/log/records.ts';
import { NotSaved } from '../../parts/not-saved.tsx';
import { WordsField } from '../../parts/number-field.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { t } from '../../words/i18n.ts';
import { CallAction } from '../call-action.tsx';
import { useBook } from '../context.ts';
import { go } from '../route.ts';
import type { Told } from '../told.ts';
import { useKeptText } from '../use-kept-text.ts';
import { unansweredText } from './rule-text.ts';

export type OutcomeRecord = RecordOf<'outcome'>;

interface TellProps {
  alert: AlertRecord;
  told: Told;
  /** What happened; or an outcome that is written down already, to add what they said. */
  about: OutcomeCode | OutcomeRecord;
  onBack: () => void;
}

/** What came of a call, in the person's own words if they like. Closes every alert that waits. */
export function Tell({ alert, told, about, onBack }: TellProps) {
  const { notebook } = useBook();
  const before = typeof about === 'string' ? undefined : about;
  const what = typeof about === 'string' ? about : about.what;
  const isUnanswered = what === 'couldNotReach';
  const [said, setSaid, done] = useKeptText(`said-${alert.id}`);
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState(false);
  const save = async () => {
    setBusy(true);
    try {
      const open = notebook.openAlerts().map((a) => a.id);
      const words = said.trim();
      const alerts = before ? before.alerts : [...new Set([alert.id, ...open])];
      const amends = before ? { amends: before.amends ?? before.id } : {};
      await notebook.append([{ ...notebook.stamp(), ...amends, kind: 'outcome', alerts, what, ...(words ? { said: words } : {}) }]);
      await done();
      if (isUnanswered) onBack();
      else go('today');
    } catch {
      setFailed(true);
      setBusy(false);
    }
  };
  return (
    <Page
      title={t(`alert:outcome.${what}`)}
      focusKey={what}
      back={onBack}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" {...press(() => void save(), busy)}>
            {t('common:save')}
          </button>
        </>
      }
    >
      <p class="lead">{isUnanswered ? unansweredText(notebook, told) : t(`alert:tell.${what}`)}</p>
      {isUnanswered && told.call.to !== 'department' && (
        <div class="stack">
          <CallAction call={told.call} level={told.level} again />
        </div>
      )}
      <WordsField label={t(`alert:tellField.${what}`)} hint={t('alert:tellHint')} value={said} onChange={setSaid} />
    </Page>
  );
}
