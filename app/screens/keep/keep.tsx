import { useEffect, useState } from 'preact/hooks';
import { Choices } from '../../parts/choice.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { wasCutShort } from '../../store/take-in.ts';
import { formatBytes, formatDay } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useNotebook } from '../context.ts';
import { goBack } from '../route.ts';
import { askToKeep, type Keeping, keeping, spaceUsed } from '../storage.ts';

/** After how many days to be reminded of a copy. */
const EVERY = [7, 14, 30, 0] as const;

/** Copies and other phones: what keeps the log from being lost. */
export function KeepScreen() {
  const { notebook, state } = useNotebook();
  const { settings } = state;
  const [cutShort, setCutShort] = useState(false);
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    void wasCutShort(notebook.shelf).then(setCutShort);
  }, [notebook]);
  return (
    <Page title={t('keep:title')} back={() => goBack('settings')}>
      <NotSaved when={failed} />
      <p class="lead">{t('keep:lead')}</p>
      {cutShort && <p class="notice">{t('keep:cutShort')}</p>}
      <nav class="contents" aria-label={t('keep:pages')}>
        {state.book && <a href="#/copy">{t('keep:copy.title')}</a>}
        <a href="#/bring-back">{t('keep:back.title')}</a>
        <a href="#/phones">{t('keep:phones.title')}</a>
        {state.book && <a href="#/judge">{t('keep:judge.title')}</a>}
      </nav>
      <section>
        <h2>{t('keep:last.title')}</h2>
        <p>{settings.copiedOn ? t('keep:last.on', { day: formatDay(settings.copiedOn, 'short') }) : t('keep:last.never')}</p>
      </section>
      <section>
        <h2>{t('keep:remind.title')}</h2>
        <Choices
          legend={t('keep:remind.title')}
          choices={EVERY.map((days) => ({
            value: String(days),
            label: days === 0 ? t('keep:remind.never') : t('keep:remind.after', { count: days }),
          }))}
          chosen={[String(settings.copyEvery)]}
          onChange={([days]) => void notebook.saveSettings({ copyEvery: Number(days) }).catch(() => setFailed(true))}
        />
      </section>
      <Storage />
    </Page>
  );
}

/** Whether this phone will keep the book, in plain words, and a way to ask it to. */
function Storage() {
  const [state, setState] = useState<Keeping | undefined>();
  const [used, setUsed] = useState<number | undefined>();
  const [refused, setRefused] = useState(false);
  useEffect(() => {
    void keeping().then(setState);
    void spaceUsed().then(setUsed);
  }, []);
  const ask = async () => {
    setRefused(!(await askToKeep()));
    setState(await keeping());
  };
  if (!state) return null;
  return (
    <section>
      <h2>{t('keep:storage.title')}</h2>
      <p>{t(`keep:storage.is.${state}`)}</p>
      {used !== undefined && <p>{t('keep:storage.used', { size: formatBytes(used) })}</p>}
      {refused && <p role="status">{t('keep:storage.refused')}</p>}
      {state !== 'kept' && state !== 'unknown' && (
        <button type="button" class="button button-second" onClick={() => void ask()}>
          {t('keep:storage.ask')}
        </button>
      )}
    </section>
  );
}
