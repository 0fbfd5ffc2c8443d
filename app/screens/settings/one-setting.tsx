import { useState } from 'preact/hooks';
import { Choices } from '../../parts/choice.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { Unchecked } from '../../parts/unchecked.tsx';
import type { Settings } from '../../store/book.ts';
import { LANGUAGES, switchLanguage, t, words } from '../../words/i18n.ts';
import { useNotebook } from '../context.ts';
import { go } from '../route.ts';
import { questionsOf, type SettingName } from './values.ts';

/** One setting. A choice holds at once, so that it is seen before the page is left. Nothing here changes what is recorded. */
export function OneSettingScreen({ name }: { name: SettingName }) {
  const { notebook, state } = useNotebook();
  const [failed, setFailed] = useState(false);
  const save = (part: Partial<Settings>) => notebook.saveSettings(part).catch(() => setFailed(true));
  const questions = name === 'language' ? [] : questionsOf(name, state);
  return (
    <Page
      title={t(`settings:${name}`)}
      back={() => go('settings')}
      foot={
        <button type="button" class="button button-main" onClick={() => go('settings')}>
          {t('common:done')}
        </button>
      }
    >
      <NotSaved when={failed} />
      {name === 'language' && (
        <>
          <Choices
            legend={t('settings:language')}
            choices={Object.entries(LANGUAGES).map(([value, label]) => ({ value, label }))}
            chosen={[words.language]}
            onChange={([language]) => {
              if (language) void switchLanguage(language).then(() => save({ language }));
            }}
          />
          <p class="hint">{t('settings:languageNote')}</p>
          <Unchecked />
        </>
      )}
      {questions.map(({ key, values, label, chosen }) => (
        <section key={key}>
          {questions.length > 1 && <h2>{t(`settings:${key}`)}</h2>}
          <Choices
            legend={t(`settings:${key}`)}
            choices={values.map((value) => ({ value, label: label(value) }))}
            chosen={[chosen]}
            onChange={([value]) => void save({ [key]: key === 'readAloud' || key === 'wideNext' ? value === 'yes' : value })}
          />
        </section>
      ))}
      {name === 'who' && (
        <div class="field">
          <label for="name">{t('settings:name')}</label>
          <input
            id="name"
            type="text"
            dir="auto"
            maxLength={40}
            value={state.settings.name ?? ''}
            autocomplete="off"
            onChange={(e) => void save({ name: e.currentTarget.value.trim() || undefined })}
          />
        </div>
      )}
    </Page>
  );
}
