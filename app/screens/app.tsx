import { useEffect, useLayoutEffect, useState } from 'preact/hooks';
import type { Notebook, NotebookState } from '../store/notebook.ts';
import { loadAreas, t, words } from '../words/i18n.ts';
import { NotebookContext, useNotebook } from './context.ts';
import { FatalScreen } from './fatal.tsx';
import type { Place } from './places.tsx';
import { type Route, useRoute } from './route.ts';
import { TodayScreen } from './today/today.tsx';

const TODAY: Place = { areas: ['today'], load: async () => () => <TodayScreen /> };

/** Places that a phone without a book can go to. */
const WITHOUT_BOOK = [
  'help',
  'settings',
  'lock',
  'erase',
  'people',
  'set-aside',
  'about',
  'welcome',
  'open',
  'scan',
  'confirm',
  'demo',
  'keep',
  'bring-back',
  'phones',
  'take-in',
];

/** Places in which a book may appear: they must outlive that. */
const OUTLIVES_BOOK = ['bring-back', 'take-in'];

/** The table of places is loaded with the first step away from the first screen. */
async function placeOf(name: string): Promise<Place> {
  if (name === 'today') return TODAY;
  const { PLACES } = await import('./places.tsx');
  return Object.hasOwn(PLACES, name) ? (PLACES[name] as Place) : TODAY;
}

/** The whole app: the place the address names, with a book or without one. */
export function App({ notebook }: { notebook: Notebook }) {
  return (
    <NotebookContext.Provider value={notebook}>
      <Router />
    </NotebookContext.Provider>
  );
}

/** While the phone is in other hands there is the visit page and the way to help, whatever the address says. */
const isHanded = (state: NotebookState, asked: string): boolean =>
  state.book !== undefined && state.settings.handed !== undefined && asked !== 'help';

type Shown = { name: string; draw: (route: Route) => preact.JSX.Element };

function Router() {
  const { state } = useNotebook();
  const route = useRoute();
  const [language, setLanguage] = useState(words.language);
  const [shown, setShown] = useState<Shown | undefined>();
  const [broken, setBroken] = useState(false);
  const home = state.book ? 'today' : 'welcome';
  const asked = route[0] ?? home;
  const name = isHanded(state, asked) ? 'visit' : !state.book && !WITHOUT_BOOK.includes(asked) ? home : asked;

  useEffect(() => {
    const changed = () => setLanguage(words.language);
    words.on('languageChanged', changed);
    return () => words.off('languageChanged', changed);
  }, []);

  useEffect(() => {
    let current = true;
    placeOf(name)
      .then((wanted) => Promise.all([wanted.load(), loadAreas(['common', ...wanted.areas])]))
      .then(
        ([draw]) => {
          if (!current) return;
          setShown({ name, draw });
          setBroken(false);
        },
        // A part of the app could not be fetched: say so, never show a blank page.
        () => current && setBroken(true),
      );
    return () => {
      current = false;
    };
  }, [name, language]);

  // Before the screen is painted: below the first words it would stand for a moment, and then jump.
  useLayoutEffect(() => {
    if (shown || broken) document.querySelector('.first')?.remove();
  }, [shown, broken]);

  if (broken) return <FatalScreen why="part" />;
  if (!shown || (!state.book && !WITHOUT_BOOK.includes(shown.name))) return null;
  const own = OUTLIVES_BOOK.includes(shown.name) ? '' : (state.book?.id ?? '');
  return (
    <div class="place" data-place={shown.name} key={`${shown.name}/${language}/${own}`}>
      {state.book?.plan.sample && (
        <aside class="sample">
          <p>{t('common:sample')}</p>
        </aside>
      )}
      {state.book && state.books.length > 1 && <p class="whose">{t('common:whose', { name: state.book.plan.person.callMe })}</p>}
      {shown.draw(shown.name === name ? route : [])}
    </div>
  );
}
