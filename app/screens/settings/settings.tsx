import { LevelWord } from '../../parts/level.tsx';
import { Page } from '../../parts/page.tsx';
import { Unchecked } from '../../parts/unchecked.tsx';
import { removeSample } from '../../store/accept-plan.ts';
import { apart, t } from '../../words/i18n.ts';
import { useNotebook } from '../context.ts';
import { go } from '../route.ts';
import { save as saveFile } from '../save-file.ts';
import { OfflineLine } from './offline-line.tsx';
import { chosenOf, GROUPS } from './values.ts';

/** How this phone shows and writes things, a line each with what is chosen; and the pages about what it keeps. */
export function SettingsScreen() {
  const { state } = useNotebook();
  return (
    <Page title={t('settings:title')} back={() => go(state.book ? 'today' : 'welcome')}>
      <nav class="contents" aria-label={t('settings:title')}>
        {GROUPS.map((group) => (
          <div key={group[0]}>
            {group.map((name) => (
              <a key={name} href={`#/settings/${name}`}>
                <span class="row-words">
                  {t(`settings:${name}`)}
                  <span class="row-more">{chosenOf(name, state)}</span>
                </span>
              </a>
            ))}
          </div>
        ))}
      </nav>
      <nav class="contents" aria-label={t('settings:more')}>
        <div>
          <a href="#/keep">{t('settings:keep')}</a>
          <a href="#/people">{t('today:people')}</a>
          <a href="#/lock">{t('settings:passcode')}</a>
        </div>
        <div>
          {state.setAside.length > 0 && <a href="#/set-aside">{t('settings:setAside')}</a>}
          <a href="#/about">{t('settings:about')}</a>
        </div>
        <div>
          <a href="#/erase">{t('settings:erase')}</a>
        </div>
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
      {state.books
        .filter((b) => b.plan.sample)
        .map((b) => (
          <button key={b.id} type="button" class="button button-second" onClick={() => void removeSample(notebook, b.id)}>
            {t('settings:removeSample')}
          </button>
        ))}
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
