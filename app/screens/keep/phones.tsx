import { useState } from 'preact/hooks';
import { readBookFile } from '../../exchange/book-file.ts';
import { Page } from '../../parts/page.tsx';
import { t } from '../../words/i18n.ts';
import { useNotebook } from '../context.ts';
import { offerLog } from '../incoming-log.ts';
import { go } from '../route.ts';

/** Two phones on one book: send this log, take in the other's, in any order and as often as wanted. */
export function PhonesScreen() {
  const { state } = useNotebook();
  const [failed, setFailed] = useState(false);
  const take = async (file: File | undefined) => {
    if (!file) return;
    try {
      offerLog(await readBookFile(file));
      go('take-in');
    } catch {
      setFailed(true);
    }
  };
  return (
    <Page title={t('keep:phones.title')} back={() => go('keep')}>
      <p class="lead">{t('keep:phones.lead')}</p>
      {failed && (
        <p class="error" role="alert">
          {t('keep:back.fault.unreadable')}
        </p>
      )}
      {state.book && (
        <section>
          <h2>{t('keep:phones.from', { name: state.book.plan.person.callMe })}</h2>
          <p>{t('keep:phones.fromText')}</p>
          <div class="stack">
            <button type="button" class="button button-main" onClick={() => go('send')}>
              {t('keep:phones.file')}
            </button>
            <button type="button" class="button button-second" onClick={() => go('codes')}>
              {t('keep:phones.codes')}
            </button>
          </div>
        </section>
      )}
      <section>
        <h2>{t('keep:phones.to')}</h2>
        <p>{t('keep:phones.toText')}</p>
        <div class="stack">
          <label class="button button-second file">
            {t('keep:phones.choose')}
            <input
              type="file"
              accept=".txt,.json,text/plain,application/json"
              onChange={(event) => {
                const input = event.currentTarget;
                void take(input.files?.[0]).finally(() => {
                  input.value = '';
                });
              }}
            />
          </label>
          <button type="button" class="button button-second" onClick={() => go('scan', 'log')}>
            {t('keep:phones.scan')}
          </button>
        </div>
      </section>
    </Page>
  );
}
