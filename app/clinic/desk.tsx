import { useEffect, useMemo, useState } from 'preact/hooks';
import { finishDraft } from '../care/plan/draft.ts';
import type { PlanFault } from '../care/plan/faults.ts';
import { findings } from '../care/plan/findings.ts';
import type { Clinic } from '../care/plan/plan.ts';
import { localDay } from '../care/schedule/day.ts';
import type { ClinicKeys } from '../exchange/signature.ts';
import { faultLines } from '../words/faults.ts';
import { directionOf, isUnchecked, LANGUAGES, loadAreas, switchLanguage, t, words } from '../words/i18n.ts';
import { woundName } from '../words/names.ts';
import { ClinicForm } from './clinic-form.tsx';
import { DatesForm } from './dates-form.tsx';
import { DeskContext, useDesk } from './desk-context.ts';
import { addWound, type DeskState, type Edit, mayAddWound, removeWound, setPerson } from './desk-state.ts';
import { DryRun } from './dry-run.tsx';
import { findingText } from './finding-words.ts';
import { FindingsPanel } from './findings-panel.tsx';
import { HandOver } from './hand-over.tsx';
import { keepClinic, keptClinic, keptKeys } from './kept.ts';
import { PhonePreview } from './phone-preview.tsx';
import { RecipesForm } from './recipes-form.tsx';
import { RulesForm } from './rules-form.tsx';
import { SeenForm } from './seen-form.tsx';
import { StartChoices } from './start-choices.tsx';
import { renamed } from './supplies.ts';
import { supplyName } from './supply-words.ts';

/** Words of the whole desk, and those that it names supplies with in the person's language. */
export const DESK_AREAS = ['common', 'clinic', 'check', 'change', 'plan', 'alert', 'rules', 'welcome'] as const;
const NAMING_AREAS = ['common', 'clinic'] as const;

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
  return (
    <div class="desk" key={language}>
      <header class="desk-bar">
        <span class="desk-name">{t('clinic:title')}</span>
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
          edit={(change) => setState((now) => now && change(now))}
          saved={saved}
          onSaved={setSaved}
          keys={kept.keys}
          onKeys={(keys) => setKept({ ...kept, keys })}
          onLeave={() => void leave()}
        />
      ) : (
        <main class="desk-start">
          <StartChoices today={today} clinic={kept.clinic} keys={kept.keys} onStart={begin} />
          {isUnchecked(language) && <p class="f-hint">{t('clinic:person.unchecked')}</p>}
        </main>
      )}
    </div>
  );
}

interface FormProps {
  state: DeskState;
  edit: (edit: Edit) => void;
  saved: string;
  onSaved: (json: string) => void;
  keys: ClinicKeys | undefined;
  onKeys: (keys: ClinicKeys) => void;
  onLeave: () => void;
}

/** A finding says these better and beside its reason. */
const TOLD_BY_FINDINGS: readonly string[] = ['moistStepOnDryWound', 'looser', 'milderNotKnown'];
const isTold = ({ path, fault }: PlanFault): boolean =>
  TOLD_BY_FINDINGS.includes(fault) || path.at(-1) === 'cleanser' || (path.at(-2) === 'bands' && fault === 'missing');

const SIDES = ['findings', 'preview', 'dry', 'hand'] as const;
type SideView = (typeof SIDES)[number];

function DeskForm({ state, edit, saved, onSaved, keys, onKeys, onLeave }: FormProps) {
  const [woundId, setWoundId] = useState(state.draft.wounds[0]?.id ?? '');
  const [side, setSide] = useState<SideView>('findings');
  const wound = state.draft.wounds.some((w) => w.id === woundId) ? woundId : (state.draft.wounds[0]?.id ?? '');
  const now = Date.now();
  const today = localDay(now, deviceZone());
  const nameOf = useMemo(() => {
    const { language } = state.draft.person;
    return (need: Parameters<typeof supplyName>[0]) => supplyName(need, language);
  }, [state.draft.person.language]);

  const json = JSON.stringify(state.draft);
  const unsaved = json !== saved;
  useEffect(() => {
    if (!unsaved) return;
    const ask = (event: BeforeUnloadEvent) => event.preventDefault();
    window.addEventListener('beforeunload', ask);
    return () => window.removeEventListener('beforeunload', ask);
  }, [unsaved]);
  const clinicJson = JSON.stringify(state.draft.clinic);
  useEffect(() => {
    // The demo's invented clinic is not this one.
    if (state.draft.sample) return;
    void keepClinic(state.draft.clinic).catch(() => undefined);
  }, [clinicJson]);

  const { found, reading } = useMemo(
    () => ({ found: findings(state.draft, state.seen, { today, onHand: state.onHand }), reading: finishDraft(state.draft) }),
    [state, today],
  );
  const faults = reading.ok ? [] : faultLines(reading.faults.filter((f) => !isTold(f)));
  const stops = [...found.filter((f) => f.gravity === 'stops').map(findingText), ...faults];
  const toPersonLanguage = (language: string) => {
    // The supplies are named anew, so their words must be there first.
    void loadAreas(NAMING_AREAS, language).then(() => {
      const from = state.draft.person.language;
      edit((s) => {
        const draft = renamed(
          s.draft,
          (need) => supplyName(need, from),
          (need) => supplyName(need, language),
        );
        return setPerson({ language })({ ...s, draft });
      });
    });
  };
  const show = (part: string, at: string | undefined) => {
    if (at) setWoundId(at);
    requestAnimationFrame(() => document.getElementById(part)?.scrollIntoView({ block: 'start' }));
  };
  const leave = () => {
    if (!unsaved || window.confirm(t('clinic:leave'))) onLeave();
  };
  const count = found.filter((f) => f.gravity !== 'tells').length + faults.length;
  return (
    <DeskContext.Provider value={{ state, edit, wound, today, nameOf }}>
      <div class="desk-columns">
        <main class="desk-form">
          <h1 class="unseen">{t('clinic:title')}</h1>
          <div class="desk-top">
            <button type="button" class="small" onClick={leave}>
              {t('clinic:startOver')}
            </button>
            <Wounds onWound={setWoundId} />
          </div>
          <SeenForm />
          <RecipesForm />
          <RulesForm />
          <DatesForm />
          <ClinicForm onLanguage={toPersonLanguage} />
        </main>
        <aside class="desk-side" aria-label={t('clinic:side.label')}>
          <div class="side-tabs" role="tablist" aria-label={t('clinic:side.label')}>
            {SIDES.map((id) => (
              <button
                key={id}
                type="button"
                role="tab"
                id={`tab-${id}`}
                aria-selected={side === id}
                aria-controls="side"
                onClick={() => setSide(id)}
              >
                {id === 'findings' ? t('clinic:side.findings', { count }) : t(`clinic:side.${id}`)}
              </button>
            ))}
          </div>
          <div class="side-view" id="side" role="tabpanel" aria-labelledby={`tab-${side}`} tabIndex={-1}>
            {side === 'findings' && <FindingsPanel found={found} faults={faults} onShow={show} />}
            {side === 'preview' && (reading.ok ? <PhonePreview plan={reading.plan} /> : <NotYet lines={stops} />)}
            {side === 'dry' &&
              (reading.ok ? <DryRun key={wound} plan={reading.plan} woundId={wound} now={now} /> : <NotYet lines={stops} />)}
            {side === 'hand' && (
              <HandOver
                plan={reading.ok ? reading.plan : undefined}
                stops={stops}
                keys={keys}
                onKeys={onKeys}
                onSaved={() => onSaved(json)}
              />
            )}
          </div>
        </aside>
      </div>
    </DeskContext.Provider>
  );
}

/** Which wound is written about, when there is more than one. */
function Wounds({ onWound }: { onWound: (id: string) => void }) {
  const { state, edit, wound: current } = useDesk();
  const { wounds } = state.draft;
  return (
    <div class="wounds">
      {wounds.length > 1 &&
        wounds.map((w) => (
          <button key={w.id} type="button" class="chip" aria-pressed={w.id === current} onClick={() => onWound(w.id)}>
            {woundName(w)}
          </button>
        ))}
      {mayAddWound(state) && (
        <button
          type="button"
          class="small"
          onClick={() => {
            edit(addWound);
            onWound(addWound(state).draft.wounds.at(-1)?.id ?? current);
          }}
        >
          {t('clinic:wound.add')}
        </button>
      )}
      {wounds.length > 1 && (
        <button type="button" class="small" onClick={() => edit(removeWound(current))}>
          {t('clinic:wound.remove')}
        </button>
      )}
    </div>
  );
}

/** Neither preview nor dry run can show a plan that is not one yet. */
function NotYet({ lines }: { lines: readonly string[] }) {
  return (
    <>
      <p>{t('clinic:notYet')}</p>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </>
  );
}
