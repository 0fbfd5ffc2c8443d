import { ASKABLE } from '../care/check/applies.ts';
import { QUESTIONS, question } from '../care/check/questions.ts';
import { isAtLeast, LEVELS, type Level } from '../care/escalation/levels.ts';
import { DEFAULT_THRESHOLDS, type Thresholds } from '../care/escalation/limits.ts';
import { RULES } from '../care/escalation/rules.ts';
import { canGoQuiet } from '../care/plan/known.ts';
import { DEVICES, DONTS, type Plan } from '../care/plan/plan.ts';
import { formatNumber } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { useDesk } from './desk-context.ts';
import { setPlan, setWound, withDeviceSteps, woundOf } from './desk-state.ts';
import { Lines, NumberBox, type Option, Pick, Section, TextBox, Ticks } from './fields.tsx';
import { answerName } from './finding-words.ts';

/** What not to do, off-loading, what else to ask, what is known, and when to hear earlier than usual. */
export function RulesForm() {
  const { state, edit, wound: id } = useDesk();
  const { draft } = state;
  const wound = woundOf(state, id);
  const device = draft.device;
  return (
    <Section id="rules" number={3} title={t('clinic:part.rules')}>
      <Ticks
        legend={t('clinic:rules.donts')}
        options={DONTS.map((d) => [d, t(`plan:dont.${d}`)])}
        chosen={draft.donts}
        onChange={(donts) => edit(setPlan({ donts: donts as Plan['donts'] }))}
      />
      <Lines
        label={t('clinic:rules.ownDonts')}
        hint={t('clinic:oneALine')}
        value={draft.ownDonts}
        onChange={(ownDonts) => edit(setPlan({ ownDonts }))}
      />
      <div class="f-row">
        <Pick
          field="device"
          label={t('clinic:rules.device')}
          value={device?.kind ?? ''}
          options={[['', t('clinic:rules.noDevice')], ...DEVICES.map((d) => [d, t(`plan:deviceKind.${d}`)] as const)]}
          onChange={(kind) =>
            edit((now) => {
              const next = kind === '' ? undefined : { ...now.draft.device, kind: kind as NonNullable<Plan['device']>['kind'] };
              // Whoever has a shoe or boot is asked about it (common practice).
              const asks = now.draft.asks.filter((a) => a !== 'offloading');
              return withDeviceSteps(setPlan({ device: next, asks: next ? [...asks, 'offloading'] : asks })(now));
            })
          }
        />
        {device && (
          <TextBox
            wide
            label={t('clinic:rules.deviceNote')}
            value={device.note ?? ''}
            onChange={(note) => edit(setPlan({ device: { ...device, note: note.trim() === '' ? undefined : note } }))}
          />
        )}
      </div>
      <Ticks
        legend={t('clinic:rules.asks')}
        options={ASKABLE.map((a) => [a, t(`clinic:ask.${a}`)])}
        chosen={draft.asks}
        onChange={(asks) =>
          edit(
            setPlan({
              asks: asks as Plan['asks'],
              ...(asks.includes('warmth') ? {} : { warmthSites: undefined }),
            }),
          )
        }
      />
      {draft.asks.includes('warmth') && (
        <Lines
          label={t('clinic:rules.warmthSites')}
          hint={t('clinic:oneALine')}
          value={draft.warmthSites ?? []}
          onChange={(sites) => edit(setPlan({ warmthSites: sites.length > 0 ? sites : undefined }))}
        />
      )}
      {wound && (
        <Findings
          label={t('clinic:rules.known')}
          hint={t('clinic:rules.knownHint')}
          offered={KNOWABLE}
          value={wound.known}
          onChange={(known) => edit(setWound(id, { known }))}
        />
      )}
      <Tighter />
    </Section>
  );
}

/** Answers of the check that a plan can name, mildest codes left out, for they mean nothing is to be told. */
const NAMEABLE: readonly string[] = QUESTIONS.filter((q) => q.kind === 'oneOf' || q.kind === 'manyOf' || q.kind === 'warmth').flatMap((q) =>
  question(q.id)
    .codes.slice(1)
    .map((code) => `${q.id}:${code}`),
);

/** A grave answer stays loud though it is known: to offer it would promise what the app does not do. */
const KNOWABLE = NAMEABLE.filter(canGoQuiet);

interface FindingsProps {
  label: string;
  hint: string;
  offered: readonly string[];
  value: readonly string[];
  onChange: (findings: string[]) => void;
}

function Findings({ label, hint, offered, value, onChange }: FindingsProps) {
  const others = offered.filter((f) => !value.includes(f));
  return (
    <div class="f-list">
      <Pick
        label={label}
        hint={hint}
        value=""
        options={[['', t('clinic:choose')], ...others.map((f) => [f, answerName(f)] as Option)]}
        onChange={(f) => f !== '' && onChange([...value, f])}
      />
      <Chosen items={value.map((f) => [f, answerName(f)])} onDrop={(f) => onChange(value.filter((v) => v !== f))} />
    </div>
  );
}

function Chosen({ items, onDrop }: { items: readonly Option[]; onDrop: (value: string) => void }) {
  if (items.length === 0) return null;
  return (
    <ul class="chosen">
      {items.map(([value, label]) => (
        <li key={value}>
          <span>{label}</span>
          <button type="button" class="tiny" aria-label={t('clinic:drop', { what: label })} onClick={() => onDrop(value)}>
            ×
          </button>
        </li>
      ))}
    </ul>
  );
}

const THRESHOLDS = Object.keys(DEFAULT_THRESHOLDS) as (keyof Thresholds)[];
const UNITS: Record<keyof Thresholds, string> = {
  feverC: '°C',
  raisedC: '°C',
  warmthDifferenceC: '°C',
  glucoseHighMgdl: 'mg/dL',
  glucoseHighIllMgdl: 'mg/dL',
  growthShare: '%',
};
/** A share is shown in per cent. */
const factorOf = (key: keyof Thresholds): number => (key === 'growthShare' ? 100 : 1);

/** Whatever makes the app call sooner. What would make it call later is a finding that stops. */
function Tighter() {
  const { state, edit } = useDesk();
  const { escalation } = state.draft;
  const set = (part: Partial<Plan['escalation']>) => edit(setPlan({ escalation: { ...escalation, ...part } }));
  const raise = (escalation.raise ?? {}) as Record<string, Level>;
  const setRaise = (next: Record<string, Level>) => set({ raise: Object.keys(next).length > 0 ? next : undefined });
  const raisable = RULES.filter((r) => r.level !== 'emergency' && raise[r.id] === undefined);
  const count = Object.keys(raise).length + Object.keys(escalation.thresholds ?? {}).length + (escalation.alsoSigns ?? []).length;
  return (
    <details class="band">
      <summary>
        <span class="band-name">{t('clinic:rules.tighter')}</span>
        <span class="band-line">{count === 0 ? t('clinic:rules.tighterNone') : t('clinic:rules.tighterCount', { count })}</span>
      </summary>
      <div class="band-inside">
        <p class="f-hint">{t('clinic:rules.tighterHint')}</p>
        <div class="f-row">
          {THRESHOLDS.map((key) => {
            const factor = factorOf(key);
            const usual = DEFAULT_THRESHOLDS[key] * factor;
            const own = escalation.thresholds?.[key];
            return (
              <NumberBox
                key={key}
                label={t(`clinic:threshold.${key}`)}
                hint={t('clinic:rules.usual', { value: formatNumber(usual), unit: UNITS[key] })}
                unit={UNITS[key]}
                value={own === undefined ? undefined : own * factor}
                onChange={(value) => {
                  const { [key]: _old, ...rest } = escalation.thresholds ?? {};
                  const next = value === undefined ? rest : { ...rest, [key]: value / factor };
                  set({ thresholds: Object.keys(next).length > 0 ? next : undefined });
                }}
              />
            );
          })}
        </div>
        <Pick
          label={t('clinic:rules.raise')}
          value=""
          options={[['', t('clinic:choose')], ...raisable.map((r) => [r.id, t(`clinic:rule.${r.id}`)] as const)]}
          onChange={(id) => {
            const rule = RULES.find((r) => r.id === id);
            if (rule) setRaise({ ...raise, [id]: LEVELS[LEVELS.indexOf(rule.level) + 1] as Level });
          }}
        />
        {Object.entries(raise).map(([id, level]) => {
          const rule = RULES.find((r) => r.id === id);
          const name = rule ? t(`clinic:rule.${rule.id}`) : id;
          return (
            <div class="f-row" key={id}>
              <Pick
                label={name}
                value={level}
                options={LEVELS.filter((l) => isAtLeast(l, rule?.level ?? 'carryOn')).map((l) => [l, t(`alert:short.${l}`)])}
                onChange={(l) => setRaise({ ...raise, [id]: l as Level })}
              />
              <button
                type="button"
                class="tiny"
                aria-label={t('clinic:drop', { what: name })}
                onClick={() => {
                  const { [id]: _gone, ...rest } = raise;
                  setRaise(rest);
                }}
              >
                ×
              </button>
            </div>
          );
        })}
        <Findings
          label={t('clinic:rules.alsoSigns')}
          hint={t('clinic:rules.alsoSignsHint')}
          offered={NAMEABLE}
          value={escalation.alsoSigns ?? []}
          onChange={(alsoSigns) => set({ alsoSigns: alsoSigns.length > 0 ? alsoSigns : undefined })}
        />
      </div>
    </details>
  );
}
