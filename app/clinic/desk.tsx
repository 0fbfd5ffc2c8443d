import { useEffect, useState } from 'preact/hooks';
import { nextRevision } from '../care/plan/draft.ts';
import type { Clinic } from '../care/plan/plan.ts';
import { localDay } from '../care/schedule/day.ts';
import { visitSummary } from '../care/visit/summary.ts';
import type { ClinicKeys } from '../exchange/signature.ts';
import { VISIT_AREAS } from '../parts/visit/speak.tsx';
import { directionOf, isUnchecked, LANGUAGES, loadAreas, switchLanguage, t, words } from '../words/i18n.ts';
import { DeskForm } from './desk-form.tsx';
import { countVersion, type DeskState, standingOf } from './desk-state.ts';
import { keptClinic, keptKeys } from './kept.ts';
import { FIRST_CHOICE, inputOf, type LogChoice } from './log-input.ts';
import { LogView } from './log-view.tsx';
import type { OpenLog } from './open-log.ts';
import { ReadLog } from './read-log.tsx';
import { StartChoices } from './start-choices.tsx';

/** Words of the whole desk, and those that it names supplies with in the person's language. */
export const DESK_AREAS = ['common', 'clinic', 'check', 'change', 'plan', 'alert', 'rules', 'welcome'] as const;
/** Words of a log, loaded when one is read. */
const LOG_AREAS = [...VISIT_AREAS, 'course'] as const;

const deviceZone = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone;

interface Kept {
  clinic: Partial<Clinic> | undefined;
  keys: ClinicKeys | undefined;
}

/** The clinic's desk: how to begin, then the form with its findings. */
export function Desk() {
  const [kept, setKept] = useState<Kept | undefined>();
  const [state, setState] = useState<DeskState | undefined>();
  /** The plan as it was when it was begun or last saved to a file. */
  const [saved, setSaved] = useState('');
  const [language, setLanguage] = useState(words.language);
  const [reading, setReading] = useState(false);
  const [log, setLog] = useState<OpenLog | undefined>();
  const [choice, setChoice] = useState<LogChoice>(FIRST_CHOICE);
  useEffect(() => {
    void Promise.all([keptClinic().catch(() => undefined), keptKeys().catch(() => undefined)]).then(([clinic, keys]) =>
      setKept({ clinic, keys }),
    );
  }, []);
  useEffect(() => {
    document.documentElement.lang = language;
    document.documentElement.dir = directionOf(language);
    document.title = t('clinic:title');
  }, [language]);
  if (!kept) return null;
  const toLanguage = (next: string) => void switchLanguage(next).then(() => setLanguage(next));
  const leave = async () => {
    setKept({ ...kept, clinic: await keptClinic().catch(() => kept.clinic) });
    setState(undefined);
  };
  const begin = (next: DeskState) => {
    setSaved(JSON.stringify(next.draft));
    setState(next);
  };
  const today = localDay(Date.now(), deviceZone());
  /** Leads to where a log is opened, with the words that it needs. */
  const readLog = () => void loadAreas(LOG_AREAS).then(() => setReading(true));
  const open = (next: OpenLog) => {
    setReading(false);
    setLog(next);
  };
  const close = () => {
    setLog(undefined);
    setChoice(FIRST_CHOICE);
  };
  const writeNext = ({ book }: OpenLog) => {
    const { supplies } = visitSummary(inputOf(book, FIRST_CHOICE));
    const onHand = Object.fromEntries(supplies.flatMap((s) => (s.left === undefined ? [] : [[s.item, s.left]])));
    begin({ draft: nextRevision(book.plan, today), seen: {}, follows: [], onHand });
  };
  return (
    <div class="desk" key={language}>
      <header class="desk-bar">
        <span class="desk-name">{t('clinic:title')}</span>
        {state && <Standing state={state} />}
        <label class="desk-language">
          <span class="unseen">{t('clinic:language')}</span>
          <select value={language} onChange={(event) => toLanguage(event.currentTarget.value)}>
            {Object.entries(LANGUAGES).map(([id, name]) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </select>
        </label>
      </header>
      {state ? (
        <DeskForm
          state={state}
          edit={(change) => setState((now) => now && countVersion(change(now)))}
          saved={saved}
          onSaved={setSaved}
          keys={kept.keys}
          onKeys={(keys) => setKept({ ...kept, keys })}
          onLeave={() => void leave()}
          log={log}
          choice={choice}
          onLog={(next) => void loadAreas(LOG_AREAS).then(() => setLog(next))}
        />
      ) : log ? (
        <LogView log={log} choice={choice} onChoose={setChoice} onLog={open} onWrite={() => writeNext(log)} onClose={close} />
      ) : reading ? (
        <ReadLog onLog={open} onBack={() => setReading(false)} />
      ) : (
        <main class="desk-start">
          <StartChoices today={today} clinic={kept.clinic} keys={kept.keys} onStart={begin} onRead={readLog} />
          {isUnchecked(language) && <p class="f-hint">{t('clinic:person.unchecked')}</p>}
        </main>
      )}
    </div>
  );
}

/** Whose plan this is, which version, and whether it is out of the house: always in sight. */
function Standing({ state }: { state: DeskState }) {
  const { person, revision } = state.draft;
  const name = person.callMe.trim() || t('clinic:standing.noName');
  return <p class="desk-standing">{t('clinic:standing.line', { name, revision, standing: t(`clinic:standing.${standingOf(state)}`) })}</p>;
}
