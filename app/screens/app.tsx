import { useEffect, useState } from 'preact/hooks';
import type { Notebook } from '../store/notebook.ts';
import { type Area, loadAreas, words } from '../words/i18n.ts';
import { NotebookContext, useNotebook } from './context.ts';
import { FatalScreen } from './fatal.tsx';
import { type Route, useRoute } from './route.ts';
import { TodayScreen } from './today/today.tsx';

/** A screen that is loaded when it is first shown, with the words it needs. */
interface Place {
  load: () => Promise<(route: Route) => preact.JSX.Element>;
  areas: readonly Area[];
  needsBook: boolean;
}

const place = (areas: readonly Area[], load: Place['load'], needsBook = true): Place => ({ areas, load, needsBook });

const PLACES: Record<string, Place> = {
  today: place(['today'], async () => () => <TodayScreen />),
  check: place(['alert', 'check'], async () => {
    const { CheckScreen } = await import('./check/check.tsx');
    return () => <CheckScreen />;
  }),
  checked: place(['alert', 'check'], async () => {
    const { CheckedScreen } = await import('./check/checked.tsx');
    return (r) => <CheckedScreen id={r[1] ?? ''} />;
  }),
  change: place(['alert', 'check', 'change'], async () => {
    const { ChangeScreen } = await import('./change/change.tsx');
    return (r) => <ChangeScreen woundId={r[1]} />;
  }),
  changed: place(['alert', 'check', 'change'], async () => {
    const { ChangedScreen } = await import('./change/changed.tsx');
    return (r) => <ChangedScreen id={r[1] ?? ''} />;
  }),
  alert: place(['alert', 'check'], async () => {
    const { AlertScreen } = await import('./alert/alert.tsx');
    return (r) => <AlertScreen id={r[1] ?? ''} key={r[1]} />;
  }),
  call: place(['alert', 'check'], async () => {
    const { CallScreen } = await import('./alert/call.tsx');
    return () => <CallScreen />;
  }),
  help: place(
    ['alert', 'check'],
    async () => {
      const { HelpScreen } = await import('./help/help.tsx');
      return () => <HelpScreen />;
    },
    false,
  ),
  log: place(['alert', 'check', 'change', 'log'], async () => {
    const [{ LogScreen }, { EntryScreen }, { CorrectScreen }] = await Promise.all([
      import('./log/log.tsx'),
      import('./log/entry.tsx'),
      import('./log/correct.tsx'),
    ]);
    return (r) =>
      r[1] === undefined ? <LogScreen /> : r[2] === 'correct' ? <CorrectScreen id={r[1]} /> : <EntryScreen id={r[1]} key={r[1]} />;
  }),
  note: place(['log'], async () => {
    const { NoteScreen } = await import('./log/correct.tsx');
    return () => <NoteScreen />;
  }),
  measure: place(['log', 'change'], async () => {
    const { MeasureScreen } = await import('./measure/measure.tsx');
    return () => <MeasureScreen />;
  }),
  plan: place(['alert', 'check', 'change', 'plan'], async () => {
    const { PlanScreen } = await import('./plan/plan.tsx');
    return () => <PlanScreen />;
  }),
  settings: place(
    ['settings', 'today'],
    async () => {
      const { SettingsScreen } = await import('./settings/settings.tsx');
      return () => <SettingsScreen />;
    },
    false,
  ),
  people: place(
    ['settings'],
    async () => {
      const { PeopleScreen } = await import('./settings/settings.tsx');
      return () => <PeopleScreen />;
    },
    false,
  ),
  'set-aside': place(
    ['settings'],
    async () => {
      const { SetAsideScreen } = await import('./settings/settings.tsx');
      return () => <SetAsideScreen />;
    },
    false,
  ),
  about: place(
    ['settings'],
    async () => {
      const { AboutScreen } = await import('./settings/settings.tsx');
      return () => <AboutScreen />;
    },
    false,
  ),
  welcome: place(
    ['welcome'],
    async () => {
      const { WelcomeScreen } = await import('./welcome/welcome.tsx');
      return () => <WelcomeScreen />;
    },
    false,
  ),
  open: place(
    ['welcome'],
    async () => {
      const { OpenPlanScreen } = await import('./welcome/welcome.tsx');
      return () => <OpenPlanScreen />;
    },
    false,
  ),
  confirm: place(
    ['welcome', 'plan', 'check'],
    async () => {
      const { ConfirmScreen } = await import('./welcome/confirm.tsx');
      return () => <ConfirmScreen />;
    },
    false,
  ),
  demo: place(
    ['welcome'],
    async () => {
      const { DemoScreen } = await import('./welcome/demo.tsx');
      return () => <DemoScreen />;
    },
    false,
  ),
};

/** The whole app: the place the address names, with a book or without one. */
export function App({ notebook }: { notebook: Notebook }) {
  return (
    <NotebookContext.Provider value={notebook}>
      <Router />
    </NotebookContext.Provider>
  );
}

type Shown = { name: string; draw: (route: Route) => preact.JSX.Element };

function Router() {
  const { state } = useNotebook();
  const route = useRoute();
  const [language, setLanguage] = useState(words.language);
  const [shown, setShown] = useState<Shown | undefined>();
  const [broken, setBroken] = useState(false);
  const home = state.book ? 'today' : 'welcome';
  const asked = route[0] !== undefined && Object.hasOwn(PLACES, route[0]) ? route[0] : home;
  const name = PLACES[asked]?.needsBook && !state.book ? home : asked;

  useEffect(() => {
    const changed = () => setLanguage(words.language);
    words.on('languageChanged', changed);
    return () => words.off('languageChanged', changed);
  }, []);

  useEffect(() => {
    let current = true;
    const wanted = PLACES[name] as Place;
    Promise.all([wanted.load(), loadAreas(['common', ...wanted.areas])]).then(
      ([draw]) => current && setShown({ name, draw }),
      // A part of the app could not be fetched: say so, never show a blank page.
      () => current && setBroken(true),
    );
    return () => {
      current = false;
    };
  }, [name, language]);

  useEffect(() => {
    if (shown || broken) document.querySelector('.first')?.remove();
  }, [shown, broken]);

  if (broken) return <FatalScreen error={new Error('a part of the app could not be loaded')} />;
  if (!shown || (PLACES[shown.name]?.needsBook && !state.book)) return null;
  return (
    <div class="place" key={`${shown.name}/${language}/${state.book?.id ?? ''}`}>
      {shown.draw(shown.name === name ? route : [])}
    </div>
  );
}
