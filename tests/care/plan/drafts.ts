import fc from 'fast-check';
import { BANDS, type Band } from '../../../app/care/check/questions.ts';
import {
  type ClinicView,
  DOES_ALONE,
  DRAINAGE_KINDS,
  EMPTY_VIEW,
  INFECTION_SIGNS,
  SKIN_AROUND,
  WOUND_BEDS,
} from '../../../app/care/plan/clinic-view.ts';
import { type DraftPlan, type DraftRecipe, draftRecipe } from '../../../app/care/plan/draft.ts';
import type { SupplyNeed } from '../../../app/care/plan/propose-recipes.ts';
import { type StartingPoint, startingPlan } from '../../../app/care/plan/starting-plan.ts';
import type { LocalDay } from '../../../app/care/schedule/day.ts';

export const TODAY = '2031-03-04' as LocalDay;

/** An invented clinic; the numbers are of a range kept for fiction. */
export const CLINIC = {
  name: 'Harbour Lane Wound Clinic',
  phone: '+1 312 555 0142',
  outOfHoursPhone: '+1 312 555 0187',
  emergencyNumber: '911',
  hours: [
    { day: 'mon', opens: '08:30', closes: '17:00' },
    { day: 'thu', opens: '08:30', closes: '17:00' },
  ],
  zone: 'America/Chicago',
} as const satisfies Record<string, unknown>;

export const view = (more: Partial<ClinicView> = {}): ClinicView => ({ ...EMPTY_VIEW, bed: ['red'], drainage: 'moderate', ...more });

/** Anything a clinician may have seen. */
export const views: fc.Arbitrary<ClinicView> = fc.record({
  bed: fc.subarray([...WOUND_BEDS]),
  drainage: fc.option(fc.constantFrom(...BANDS), { nil: undefined }),
  drainageKind: fc.option(fc.constantFrom(...DRAINAGE_KINDS), { nil: undefined }),
  signs: fc.subarray([...INFECTION_SIGNS]),
  circulationDoubt: fc.boolean(),
  dryGangrene: fc.boolean(),
  cavity: fc.boolean(),
  skinAround: fc.subarray([...SKIN_AROUND]),
  doesAlone: fc.constantFrom(...DOES_ALONE),
});

export const startingPoint = (seen: ClinicView, more: Partial<StartingPoint> = {}): StartingPoint => ({
  id: 'harbour-0042',
  person: { id: 'ines-b', callMe: 'Ines', language: 'en' },
  clinic: { ...CLINIC, hours: [...CLINIC.hours] },
  zone: 'America/Chicago',
  issued: TODAY,
  wounds: [{ id: 'w1', site: 'heelBack', side: 'left', view: seen, size: { lengthMm: 22, widthMm: 16 } }],
  ...more,
});

/** A name for a supply as a desk would give it. */
export const nameOf = ({ kind, family, widthMm, heightMm }: SupplyNeed): string =>
  `${family ?? kind}${widthMm === undefined ? '' : ` ${widthMm / 10} × ${(heightMm ?? 0) / 10} cm`}`;

export const startingDraft = (seen: ClinicView, more: Partial<StartingPoint> = {}): DraftPlan =>
  startingPlan(startingPoint(seen, more), nameOf);

/** Changes the recipe of one band of the first wound. */
export function withRecipe(draft: DraftPlan, band: Band, change: Partial<DraftRecipe>): DraftPlan {
  const [wound, ...others] = draft.wounds;
  if (!wound) throw new Error('no wound');
  const recipe = draftRecipe(wound, band);
  if (!recipe) throw new Error(`no recipe for ${band}`);
  return { ...draft, wounds: [{ ...wound, bands: { ...wound.bands, [band]: { recipe: { ...recipe, ...change } } } }, ...others] };
}
