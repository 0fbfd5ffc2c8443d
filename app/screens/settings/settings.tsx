import { useState } from 'preact/hooks';
import type { TemperatureUnit } from '../../care/check/answers.ts';
import { type Choice, Choices } from '../../parts/choice.tsx';
import { LevelWord } from '../../parts/level.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { Unchecked } from '../../parts/unchecked.tsx';
import { removeSample } from '../../store/accept-plan.ts';
import type { Settings } from '../../store/book.ts';
import { unitSign } from '../../words/format.ts';
import { apart, LANGUAGES, switchLanguage, t, words } from '../../words/i18n.ts';
import { useNotebook } from '../context.ts';
import { go } from '../route.ts';
import { save as saveFile } from '../save-file.ts';
import { unitsOf } from '../units.ts';
import { OfflineLine } from './offline-line.tsx';

/** How this phone shows and writes things. Nothing here changes what is recorded. */
export function SettingsScreen() {
  const { notebook, state } = useNotebook();
  const { settings } = state;
  const [failed, setFailed] = useState(false);
  const save = (part: Partial<Settings>) => notebook.saveSettings(part).catch(() => setFailed(true));
  const units = unitsOf(state);
  const one = (key: keyof Settings, values: readonly string[], label: (value: string) => string, inUse = settings[key]) => (
    <section>
      <h2>{t(`settings:${key}`)}</h2>
      <Choices
        legend={t(`settings:${key}`)}
        choices={values.map((value): Choice => ({ value, label: label(value) }))}
        chosen={[String(inUse ?? '')]}
        onChange={([value]) => void save({ [key]: value } as Partial<Settings>)}
      />
    </section>
  );
  const yes = (key: 'readAloud' | 'wideNext') => (
    <section>
      <h2>{t(`settings:${key}`)}</h2>
      <Choices
        legend={t(`settings:${key}`)}
        choices={['no', 'yes'].map((value): Choice => ({ value, label: t(`settings:${key}Is.${value}`) }))}
        chosen={[settings[key] ? 'yes' : 'no']}
        onChange={([value]) => void save({ [key]: value === 'yes' })}
      />
    </section>
  );
  return (
    <Page title={t('settings:title')} back={() => go(state.book ? 'today' : 'welcome')}>
      <NotSaved when={failed} />
      <section>
        <h2>{t('settings:language')}</h2>
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
      </section>
      {one('who', ['patient', 'caregiver'], (v) => t(`settings:whoIs.${v}`))}
      <div class="field">
        <label for="name">{t('settings:name')}</label>
        <input
          id="name"
          type="text"
          dir="auto"
          maxLength={40}
          value={settings.name ?? ''}
          autocomplete="off"
          onChange={(e) => void save({ name: e.currentTarget.value.trim() || undefined })}
        />
      </div>
      {one('textSize', ['normal', 'large', 'largest'], (v) => t(`settings:size.${v}`))}
      {yes('readAloud')}
      {yes('wideNext')}
      {one('scheme', ['auto', 'light', 'dark'], (v) => t(`settings:schemeIs.${v}`))}
      {one('temperatureUnit', ['Cel', '[degF]'], (v) => unitSign(v as TemperatureUnit), units.temperature)}
      {one('glucoseUnit', ['mg/dL', 'mmol/L'], (v) => v, units.glucose)}
      {one('lengthUnit', ['cm', 'in'], (v) => t(`settings:length.${v}`), units.length)}
      <nav class="contents" aria-label={t('settings:more')}>
        <a href="#/keep">{t('settings:keep')}</a>
        <a href="#/people">{t('today:people')}</a>
        <a href="#/lock">{t('settings:passcode')}</a>
        <a href="#/erase">{t('settings:erase')}</a>
        <a href="#/set-aside">{t('settings:setAside')}</a>
        <a href="#/about">{t('settings:about')}</a>
      </nav>
    </Page>
  );
}

/** The books on this phone, one for each person. */
export function PeopleScreen() {
  const { notebook, state } = useNotebook();
  const open = async (id: string) => {
    await notebook.openBook(id);
    go('today');
  };
  return (
    <Page
      title={t('settings:people')}
      back={() => go(state.book ? 'today' : 'welcome')}
      foot={
        <a class="button button-second" href="#/open">
          {t('settings:addPerson')}
        </a>
      }
    >
      <p class="lead">{t('settings:peopleText')}</p>
      {state.books
        .filter((b) => b.plan.sample)
        .map((b) => (
          <button key={b.id} type="button" class="button button-second" onClick={() => void removeSample(notebook, b.id)}>
            {t('settings:removeSample')}
          </button>
        ))}
      <ul class="rows">
        {state.books.map((b) => (
          <li key={b.id}>
            <button type="button" class="row" aria-current={b.id === state.book?.id ? 'true' : undefined} onClick={() => void open(b.id)}>
              <span class="row-words">
                <span>{apart(b.plan.person.callMe)}</span>
                <span class="row-more">{apart(b.plan.clinic.name)}</span>
                {b.openAlert && <LevelWord level={b.openAlert} />}
                {b.id === state.book?.id && <span class="row-more">{t('settings:openNow')}</span>}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </Page>
  );
}

/** What could not be read: kept whole, shown, and to be handed to someone who can help. */
export function SetAsideScreen() {
  const { state } = useNotebook();
  const save = () => saveFile('tendbook-set-aside.json', 'application/json', JSON.stringify(state.setAside, null, 2));
  return (
    <Page
      title={t('settings:setAside')}
      back={() => go('settings')}
      foot={
        state.setAside.length > 0 && (
          <button type="button" class="button button-main" onClick={save}>
            {t('settings:setAsideSave')}
          </button>
        )
      }
    >
      <p class="lead">{t(state.setAside.length > 0 ? 'settings:setAsideText' : 'settings:setAsideNone')}</p>
      {state.setAside.map((item, i) => (
        <details key={`${item.where}${i}`} class="versions">
          <summary>{t('settings:setAsideItem', { number: i + 1 })}</summary>
          <pre dir="ltr">{JSON.stringify(item.value, null, 2)}</pre>
        </details>
      ))}
    </Page>
  );
}

/** What the app is, what it is not, and what happens to what is entered. */
export function AboutScreen() {
  return (
    <Page title={t('settings:about')} back={() => go('settings')}>
      <p class="lead">{t('common:caution')}</p>
      <Unchecked />
      <section>
        <h2>{t('settings:offline.title')}</h2>
        <OfflineLine />
      </section>
      {['what', 'not', 'stays', 'lost', 'sources'].map((part) => (
        <section key={part}>
          <h2>{t(`settings:aboutPart.${part}.title`)}</h2>
          <p>{t(`settings:aboutPart.${part}.text`)}</p>
        </section>
      ))}
    </Page>
  );
}
