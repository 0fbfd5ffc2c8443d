import { useState } from 'preact/hooks';
import { Drawing } from '../../parts/drawing.tsx';
import { WordsField } from '../../parts/number-field.tsx';
import { Page } from '../../parts/page.tsx';
import { Unchecked } from '../../parts/unchecked.tsx';
import { LANGUAGES, t } from '../../words/i18n.ts';
import { useNotebook } from '../context.ts';
import { go, replace } from '../route.ts';

/** The first screen of a phone without a plan. */
export function WelcomeScreen() {
  return (
    <Page
      title={t('welcome:title')}
      class="welcome"
      foot={
        <>
          <button type="button" class="button button-main" onClick={() => go('open')}>
            {t('welcome:havePlan')}
          </button>
          <button type="button" class="button button-second" onClick={() => go('demo')}>
            {t('welcome:demo')}
          </button>
        </>
      }
    >
      <Drawing name="noPlan" />
      <p class="lead">{t('welcome:what')}</p>
      <p>{t('welcome:stays')}</p>
      <nav class="contents" aria-label={t('today:contents')}>
        <a href="#/keep">{t('welcome:haveCopy')}</a>
        <a href="#/settings/language">{Object.values(LANGUAGES).join(' · ')}</a>
        <a href="#/settings">{t('today:settings')}</a>
      </nav>
      <p class="caution">{t('common:caution')}</p>
      <Unchecked />
    </Page>
  );
}

/** A plan comes in as a link, as text, or as a file. */
export function OpenPlanScreen() {
  const { notebook, state } = useNotebook();
  const [text, setText] = useState('');
  const [failed, setFailed] = useState<string | undefined>();
  const take = async (content: string) => {
    try {
      await notebook.keepIncoming(content);
      replace('confirm');
    } catch {
      setFailed(t('common:notSaved'));
    }
  };
  const onFile = async (file: File | undefined) => {
    if (!file) return;
    const { looksLikeBook, readBookFile } = await import('../../exchange/book-file.ts');
    if (await looksLikeBook(file)) {
      // A log, not a plan: it is asked about where logs come in.
      (await import('../incoming-log.ts')).offerLog(await readBookFile(file));
      return go('take-in');
    }
    if (file.size > FILE_MOST) return setFailed(t('welcome:fault.tooLong'));
    await take(await file.text());
  };
  return (
    <Page
      title={t('welcome:openTitle')}
      back={() => go(state.book ? 'today' : 'welcome')}
      foot={
        text.trim() === '' ? (
          <button type="button" class="button button-main" onClick={() => go('scan')}>
            {t('welcome:openScan')}
          </button>
        ) : (
          <button type="button" class="button button-main" onClick={() => void take(text)}>
            {t('welcome:openText')}
          </button>
        )
      }
    >
      <Drawing name="planArrived" />
      <p class="lead">{t('welcome:openHow')}</p>
      {failed && (
        <p class="error" role="alert">
          {failed}
        </p>
      )}
      <label class="button button-second file">
        {t('welcome:openFile')}
        <input type="file" accept=".json,.txt,application/json,text/plain" onChange={(e) => void onFile(e.currentTarget.files?.[0])} />
      </label>
      <WordsField label={t('welcome:pasteField')} value={text} rows={4} most={FILE_MOST} onChange={setText} />
    </Page>
  );
}

/** No plan comes near this size; a larger file is something else. */
const FILE_MOST = 2_000_000;
