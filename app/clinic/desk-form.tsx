import { useEffect, useMemo, useState } from 'preact/hooks';
import { finishDraft } from '../care/plan/draft.ts';
import type { PlanFault } from '../care/plan/faults.ts';
import { findings } from '../care/plan/findings.ts';
import { localDay } from '../care/schedule/day.ts';
import type { ClinicKeys } from '../exchange/signature.ts';
import { loadAreas, t } from '../words/i18n.ts';
import { ClinicForm } from './clinic-form.tsx';
import { DatesForm } from './dates-form.tsx';
import { DeskContext, useDesk } from './desk-context.ts';
import { deskRegion } from './desk-region.ts';
import { addWound, type DeskState, type Edit, handOver, mayAddWound, removeWound, setPerson, standingOf } from './desk-state.ts';
import { draftWoundName } from './draft-names.ts';
import { DryRun } from './dry-run.tsx';
import { deskFaults } from './fault-lines.ts';
import { findingText } from './finding-words.ts';
import { FindingsPanel } from './findings-panel.tsx';
import { HandOver } from './hand-over.tsx';
import { keepClinic } from './kept.ts';
import type { LogChoice } from './log-input.ts';
import { LogSide } from './log-side.tsx';
import type { OpenLog } from './open-log.ts';
import { PhonePreview } from './phone-preview.tsx';
import { RecipesForm } from './recipes-form.tsx';
import { RulesForm } from './rules-form.tsx';
import { SeenForm } from './seen-form.tsx';
import { renamed } from './supplies.ts';
import { supplyName } from './supply-words.ts';

const NAMING_AREAS = ['common', 'clinic'] as const;

interface FormProps {
  state: DeskState;
  edit: (edit: Edit) => void;
  saved: string;
  onSaved: (json: string) => void;
  keys: ClinicKeys | undefined;
  onKeys: (keys: ClinicKeys) => void;
  onLeave: () => void;
  /** The person's log beside the plan, if one is open. */
  log: OpenLog | undefined;
  choice: LogChoice;
  onLog: (log: OpenLog) => void;
}

/** A finding says these better and beside its reason. */
const TOLD_BY_FINDINGS: readonly string[] = ['moistStepOnDryWound', 'looser', 'milderNotKnown'];
const TOLD_FIELDS: readonly unknown[] = ['cleanser', 'site', 'side'];
const isTold = ({ path, fault }: PlanFault): boolean =>
  TOLD_BY_FINDINGS.includes(fault) ||
  TOLD_FIELDS.includes(path.at(-1)) ||
  path.join('.') === 'nextVisit.time' ||
  (path.at(-2) === 'bands' && fault === 'missing');

const SIDES = ['findings', 'preview', 'dry', 'hand', 'log'] as const;
type SideView = (typeof SIDES)[number];

/** The form of a plan with what belongs beside it. */
export function DeskForm({ state, edit, saved, onSaved, keys, onKeys, onLeave, log, choice, onLog }: FormProps) {
  const [woundId, setWoundId] = useState(state.draft.wounds[0]?.id ?? '');
  const [side, setSide] = useState<SideView>(log ? 'log' : 'findings');
  const wound = state.draft.wounds.some((w) => w.id === woundId) ? woundId : (state.draft.wounds[0]?.id ?? '');
  const now = Date.now();
  const today = localDay(now, Intl.DateTimeFormat().resolvedOptions().timeZone);
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
    () => ({
      found: findings(state.draft, state.seen, { today, onHand: state.onHand, region: deskRegion() }),
      reading: finishDraft(state.draft),
    }),
    [state, today],
  );
  const faults = reading.ok
    ? []
    : deskFaults(
        state.draft,
        reading.faults.filter((f) => !isTold(f)),
      );
  const stopping = [...found.filter((f) => f.gravity === 'stops').map(findingText), ...faults.map((f) => f.line)];
  // Two wounds may have the same trouble.
  const stops = [...new Set(stopping)];
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
  const show = (part: string, at: string | undefined, field?: string) => {
    if (at) setWoundId(at);
    requestAnimationFrame(() => {
      const section = document.getElementById(part);
      section?.scrollIntoView({ block: 'start' });
      if (field) section?.querySelector<HTMLElement>(`[data-field="${field}"]`)?.focus();
    });
  };
  const leave = () => {
    if (!unsaved || window.confirm(t('clinic:leave'))) onLeave();
  };
  const toChange = stopping.length;
  const toLookAt = found.filter((f) => f.gravity === 'warns').length;
  const counts = [
    toChange > 0 && t('clinic:findings.stops', { count: toChange }),
    toLookAt > 0 && t('clinic:findings.warns', { count: toLookAt }),
  ].filter((text) => text !== false);
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
                {t(`clinic:side.${id}`)}
                {id === 'findings' && counts.length > 0 && (
                  <span class="tab-counts">
                    {counts.map((text, i) => (
                      <span key={text}>
                        {i > 0 && ' · '}
                        <span class="whole">{text}</span>
                      </span>
                    ))}
                  </span>
                )}
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
                changed={standingOf(state) === 'changed'}
                keys={keys}
                onKeys={onKeys}
                onHanded={() => edit(handOver(state.draft))}
                onSaved={() => onSaved(json)}
              />
            )}
            {side === 'log' && <LogSide log={log} choice={choice} onLog={onLog} onShow={show} />}
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
            {draftWoundName(state.draft, w)}
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
