import { useEffect, useState } from 'preact/hooks';
import { BANDS } from '../care/check/questions.ts';
import {
  type ClinicView,
  DOES_ALONE,
  DRAINAGE_KINDS,
  INFECTION_SIGNS,
  SKIN_AROUND,
  WOUND_BEDS,
  type WoundSize,
} from '../care/plan/clinic-view.ts';
import { SIDES, SITES, type Side, type Wound } from '../care/plan/plan.ts';
import { promptsFor } from '../care/plan/proposals.ts';
import { lengthSign } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { useDesk } from './desk-context.ts';
import { setSize, setView, setWound, sizeOf, viewOf, woundOf } from './desk-state.ts';
import { NumberBox, OneOf, Pick, Section, TextBox, Tick, Ticks } from './fields.tsx';
import { Source } from './source.tsx';

/** The wound as the clinician sees it. None of it but place, size and "keep dry" goes into the plan. */
export function SeenForm() {
  const { state, edit, wound: id, nameOf } = useDesk();
  const wound = woundOf(state, id);
  if (!wound) return null;
  const view = viewOf(state, id);
  const see = (part: Partial<ClinicView>) => edit(setView(id, part, nameOf));
  return (
    <Section id="seen" number={1} title={t('clinic:part.seen')}>
      <div class="f-row">
        <OneOf
          legend={t('clinic:seen.side')}
          options={SIDES.map((side) => [side, t(`common:foot.${side}`)])}
          chosen={wound.side}
          onChange={(side) => edit(setWound(id, { side: side as Side }))}
        />
        <Pick
          field="site"
          label={t('clinic:seen.site')}
          value={wound.site ?? ''}
          options={[['', t('clinic:choose')], ...SITES.map((site) => [site, t(`common:site.${site}`)] as const)]}
          onChange={(site) => edit(setWound(id, { site: site === '' ? undefined : (site as Wound['site']) }))}
        />
        <TextBox
          field="label"
          label={t('clinic:seen.label')}
          value={wound.label ?? ''}
          most={40}
          onChange={(label) => edit(setWound(id, { label: label.trim() === '' ? undefined : label }))}
        />
      </div>
      <SizeFields key={id} />
      <OneOf
        legend={t('clinic:seen.drainage')}
        options={BANDS.map((band) => [band, t(`clinic:band.${band}`)])}
        chosen={view.drainage}
        onChange={(band) => see({ drainage: band as ClinicView['drainage'] })}
      />
      <OneOf
        legend={t('clinic:seen.kind')}
        options={DRAINAGE_KINDS.map((kind) => [kind, t(`clinic:kind.${kind}`)])}
        chosen={view.drainageKind}
        onChange={(kind) => see({ drainageKind: kind as ClinicView['drainageKind'] })}
      />
      <Ticks
        legend={t('clinic:seen.bed')}
        options={WOUND_BEDS.map((bed) => [bed, t(`clinic:bed.${bed}`)])}
        chosen={view.bed}
        onChange={(bed) => see({ bed: bed as ClinicView['bed'] })}
      />
      <Ticks
        legend={t('clinic:seen.signs')}
        options={INFECTION_SIGNS.map((sign) => [sign, t(`clinic:sign.${sign}`)])}
        chosen={view.signs}
        onChange={(signs) => see({ signs: signs as ClinicView['signs'] })}
      />
      <Ticks
        legend={t('clinic:seen.skin')}
        options={SKIN_AROUND.map((skin) => [skin, t(`clinic:skin.${skin}`)])}
        chosen={view.skinAround}
        onChange={(skin) => see({ skinAround: skin as ClinicView['skinAround'] })}
      />
      <fieldset class="pills">
        <legend>{t('clinic:seen.also')}</legend>
        <Tick label={t('clinic:seen.gangrene')} checked={view.dryGangrene} onChange={(dryGangrene) => see({ dryGangrene })} />
        <Tick
          label={t('clinic:seen.circulation')}
          checked={view.circulationDoubt}
          onChange={(circulationDoubt) => see({ circulationDoubt })}
        />
        <Tick label={t('clinic:seen.cavity')} checked={view.cavity} onChange={(cavity) => see({ cavity })} />
      </fieldset>
      <OneOf
        legend={t('clinic:seen.alone')}
        options={DOES_ALONE.map((does) => [does, t(`clinic:alone.${does}`)])}
        chosen={view.doesAlone}
        onChange={(does) => see({ doesAlone: does as ClinicView['doesAlone'] })}
      />
      <ul class="prompts">
        {promptsFor(view).map((prompt) => (
          <li key={prompt.why}>
            {t(`clinic:prompt.${prompt.why.slice('prompt.'.length)}`)} <Source rows={prompt.source} />
          </li>
        ))}
      </ul>
    </Section>
  );
}

/** Length, width and depth in centimetres. The plan takes them once length and width are both there. */
function SizeFields() {
  const { state, edit, wound: id, today, nameOf } = useDesk();
  const size = sizeOf(woundOf(state, id));
  const [typed, setTyped] = useState<Partial<WoundSize>>(size ?? {});
  useEffect(() => {
    if (size) setTyped(size);
  }, [size]);
  const type = (part: Partial<WoundSize>) => {
    const next = { ...typed, ...part };
    setTyped(next);
    const { lengthMm, widthMm, depthMm } = next;
    const whole = lengthMm !== undefined && widthMm !== undefined && lengthMm > 0 && widthMm > 0;
    edit(setSize(id, whole ? { lengthMm, widthMm, ...(depthMm === undefined ? {} : { depthMm }) } : undefined, today, nameOf));
  };
  const cm = (mm: number | undefined) => (mm === undefined ? undefined : mm / 10);
  const mm = (value: number | undefined) => (value === undefined ? undefined : Math.round(value * 100) / 10);
  return (
    <div class="f-row">
      <NumberBox
        label={t('clinic:seen.length')}
        unit={lengthSign('cm')}
        value={cm(typed.lengthMm)}
        onChange={(v) => type({ lengthMm: mm(v) as number })}
      />
      <NumberBox
        label={t('clinic:seen.width')}
        unit={lengthSign('cm')}
        value={cm(typed.widthMm)}
        onChange={(v) => type({ widthMm: mm(v) as number })}
      />
      <NumberBox
        label={t('clinic:seen.depth')}
        unit={lengthSign('cm')}
        value={cm(typed.depthMm)}
        onChange={(v) => type({ depthMm: mm(v) })}
      />
    </div>
  );
}
