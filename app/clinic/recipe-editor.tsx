import { RECIPE_STEPS, type RecipeStepId } from '../care/change/steps.ts';
import { FAMILY_IDS, familyOf } from '../care/dressings/families.ts';
import { DRAFT_CLEANSERS, type DraftCleanser, type DraftRecipe } from '../care/plan/draft.ts';
import { type Dressing, FIXATIONS, type Interval, SKIN_PROTECTIONS } from '../care/plan/plan.ts';
import { WEEKDAYS, type Weekday } from '../care/schedule/day.ts';
import { press } from '../parts/press.ts';
import { formatWeekdayShort, lengthSign } from '../words/format.ts';
import { apart, t } from '../words/i18n.ts';
import { useDesk } from './desk-context.ts';
import { sizeOf, woundOf } from './desk-state.ts';
import { NumberBox, Pick, TextBox, Tick, Ticks } from './fields.tsx';
import {
  type Layer,
  moved,
  type RecipeEdit,
  sizedFor,
  withCleanser,
  withDressing,
  withFixation,
  withNote,
  withSkinProtection,
  withStep,
  withUse,
} from './recipe-edits.ts';

interface Props {
  recipe: DraftRecipe;
  onChange: (edit: RecipeEdit) => void;
}

/** Everything about one recipe. */
export function RecipeEditor({ recipe, onChange }: Props) {
  return (
    <div class="recipe-editor">
      <DressingFields layer="primary" recipe={recipe} onChange={onChange} />
      <DressingFields layer="secondary" recipe={recipe} onChange={onChange} />
      <div class="f-row">
        <Pick
          label={t('clinic:recipe.fixation')}
          value={recipe.fixation}
          options={FIXATIONS.map((f) => [f, t(`clinic:fixation.${f}`)])}
          onChange={(f) => onChange((r) => withFixation(r, f as DraftRecipe['fixation']))}
        />
        <Pick
          label={t('clinic:recipe.cleanser')}
          value={recipe.cleanser}
          options={DRAFT_CLEANSERS.map((c) => [c, t(`clinic:cleanser.${c}`)])}
          onChange={(c) => onChange((r) => withCleanser(r, c as DraftCleanser))}
        />
        <Pick
          label={t('clinic:recipe.skin')}
          value={recipe.skinProtection}
          options={SKIN_PROTECTIONS.map((s) => [s, t(`clinic:protection.${s}`)])}
          onChange={(s) => onChange((r) => withSkinProtection(r, s as DraftRecipe['skinProtection']))}
        />
      </div>
      {recipe.cleanser === 'povidoneIodine' && (
        <Tick
          label={t('clinic:recipe.iodine')}
          checked={recipe.iodinePrescribed === true}
          onChange={(on) => onChange((r) => ({ ...r, iodinePrescribed: on ? true : undefined }))}
        />
      )}
      <IntervalFields value={recipe.change} onChange={(change) => onChange((r) => ({ ...r, change }))} />
      <Steps recipe={recipe} onChange={onChange} />
      <Uses recipe={recipe} onChange={onChange} />
    </div>
  );
}

function DressingFields({ layer, recipe, onChange }: Props & { layer: Layer }) {
  const { state, wound: id } = useDesk();
  const own = recipe[layer];
  const familyOfItem = (item: string) => state.draft.supplies.find((s) => s.id === item)?.family;
  const set = (next: Dressing | undefined) => onChange((r) => withDressing(r, layer, next, familyOfItem));
  // A name, a mark or a note changes no supply.
  const mark = (part: Partial<Dressing>) => onChange((r) => ({ ...r, [layer]: { ...(r[layer] as Dressing), ...part } }));
  const fitting = FAMILY_IDS.filter((f) => familyOf(f).layer === 'both' || familyOf(f).layer === layer);
  const families = own && !fitting.includes(own.family) ? [...fitting, own.family] : fitting;
  const options = [['', t('clinic:recipe.noDressing')] as const, ...families.map((f) => [f, t(`common:family.${f}`)] as const)];
  const cm = (mm: number | undefined) => (mm === undefined ? undefined : mm / 10);
  const side = (value: number | undefined) => (value === undefined || value <= 0 ? undefined : Math.round(value * 10));
  return (
    <fieldset class="f-row dressing" aria-label={t(`clinic:layer.${layer}`)}>
      <Pick
        label={t(`clinic:layer.${layer}`)}
        value={own?.family ?? ''}
        options={options}
        onChange={(family) => set(family === '' ? undefined : sizedFor(family as Dressing['family'], layer, sizeOf(woundOf(state, id))))}
      />
      {own && (
        <>
          <NumberBox
            label={t('clinic:recipe.width')}
            unit={lengthSign('cm')}
            value={cm(own.widthMm)}
            onChange={(v) => set({ ...own, widthMm: side(v) })}
          />
          <NumberBox
            label={t('clinic:recipe.height')}
            unit={lengthSign('cm')}
            value={cm(own.heightMm)}
            onChange={(v) => set({ ...own, heightMm: side(v) })}
          />
          <TextBox
            label={t('clinic:recipe.packet')}
            value={own.name ?? ''}
            most={60}
            onChange={(name) => mark({ name: name.trim() === '' ? undefined : name })}
          />
          <Tick
            label={t('clinic:recipe.silver')}
            checked={own.silver === true}
            onChange={(on) => mark({ silver: on ? true : undefined })}
          />
        </>
      )}
    </fieldset>
  );
}

const HOURS = [12, 24, 48, 72, 96, 120, 168] as const;

function IntervalFields({ value, onChange }: { value: Interval; onChange: (interval: Interval) => void }) {
  const kinds = ['hours', 'timesADay', 'weekdays'] as const;
  const begin: Record<Interval['kind'], Interval> = {
    hours: { kind: 'hours', hours: 48 },
    timesADay: { kind: 'timesADay', times: 2 },
    weekdays: { kind: 'weekdays', days: ['mon', 'wed', 'fri'] },
  };
  const hours: readonly number[] = value.kind === 'hours' ? [...new Set([...HOURS, value.hours])].sort((a, b) => a - b) : [];
  return (
    <div class="f-row">
      <Pick
        label={t('clinic:recipe.change')}
        value={value.kind}
        options={kinds.map((k) => [k, t(`clinic:interval.${k}`)])}
        onChange={(kind) => onChange(begin[kind as Interval['kind']])}
      />
      {value.kind === 'hours' && (
        <Pick
          label={t('clinic:recipe.every')}
          value={String(value.hours)}
          options={hours.map((h) => [
            String(h),
            h % 24 === 0 ? t('common:every.days', { count: h / 24 }) : t('common:every.hours', { count: h }),
          ])}
          onChange={(h) => onChange({ kind: 'hours', hours: Number(h) })}
        />
      )}
      {value.kind === 'timesADay' && (
        <Pick
          label={t('clinic:recipe.every')}
          value={String(value.times)}
          options={[1, 2, 3, 4].map((n) => [String(n), t('common:every.times', { count: n })])}
          onChange={(n) => onChange({ kind: 'timesADay', times: Number(n) })}
        />
      )}
      {value.kind === 'weekdays' && (
        <Ticks
          legend={t('clinic:recipe.days')}
          options={WEEKDAYS.map((d, i) => [d, formatWeekdayShort(i)])}
          chosen={value.days}
          // The last day stays: a recipe without a day is never due.
          onChange={(days) => days.length > 0 && onChange({ kind: 'weekdays', days: days as Weekday[] })}
        />
      )}
    </div>
  );
}

function Steps({ recipe, onChange }: Props) {
  const others = RECIPE_STEPS.filter((step) => !recipe.steps.some((s) => s.step === step));
  return (
    <details class="inner">
      <summary>{t('clinic:recipe.steps', { count: recipe.steps.length })}</summary>
      <ol class="steps">
        {recipe.steps.map((s, i) => {
          const title = t(`change:step.${s.step}.title`);
          return (
            <li key={s.step}>
              <span class="step-name">{title}</span>
              <TextBox
                label={t('clinic:recipe.note', { step: title })}
                value={s.note ?? ''}
                most={240}
                onChange={(n) => onChange((r) => withNote(r, i, n))}
              />
              <button
                type="button"
                class="tiny"
                aria-label={t('clinic:recipe.up', { step: title })}
                {...press(() => onChange((r) => moved(r, i, -1)), i === 0)}
              >
                ↑
              </button>
              <button
                type="button"
                class="tiny"
                aria-label={t('clinic:recipe.down', { step: title })}
                {...press(() => onChange((r) => moved(r, i, 1)), i === recipe.steps.length - 1)}
              >
                ↓
              </button>
              <button
                type="button"
                class="tiny"
                aria-label={t('clinic:recipe.drop', { step: title })}
                onClick={() => onChange((r) => withStep(r, s.step, false))}
              >
                ×
              </button>
            </li>
          );
        })}
      </ol>
      {others.length > 0 && (
        <Pick
          label={t('clinic:recipe.addStep')}
          value=""
          options={[['', t('clinic:choose')], ...others.map((step) => [step, t(`change:step.${step}.title`)] as const)]}
          onChange={(step) => step !== '' && onChange((r) => withStep(r, step as RecipeStepId, true))}
        />
      )}
    </details>
  );
}

function Uses({ recipe, onChange }: Props) {
  const { supplies } = useDesk().state.draft;
  return (
    <details class="inner">
      <summary>{t('clinic:recipe.uses', { count: recipe.uses.length })}</summary>
      <div class="f-row">
        {supplies.map((s) => (
          <NumberBox
            key={s.id}
            label={apart(s.name)}
            value={recipe.uses.find((u) => u.item === s.id)?.amount}
            onChange={(amount) => onChange((r) => withUse(r, s.id, amount))}
          />
        ))}
      </div>
    </details>
  );
}
