import type { Bundle, FhirResource } from 'fhir/r4';
import type { LogRecord } from '../../app/care/log/records.ts';
import { timeline } from '../../app/care/log/timeline.ts';
import type { Plan } from '../../app/care/plan/plan.ts';
import { type FhirExport, fhirFile } from '../../app/exchange/fhir/bundle.ts';
import { EXPORT_WORDS } from '../../app/screens/hand-over/ways.ts';
import { AREAS, loadAreas, words } from '../../app/words/i18n.ts';
import { firstPlan, secondPlan } from './full-log.ts';

/** When test files are made, ms. */
export const MADE_AT = Date.UTC(2031, 2, 20, 12);
/** The smallest JPEG there is for a test: its two end marks. */
export const JPEG = new Uint8Array([0xff, 0xd8, 0xff, 0xd9]);

/** Loads the app's own words, which the files are written in. */
export async function speak(language = 'en'): Promise<void> {
  await words.changeLanguage(language);
  await loadAreas(AREAS);
}

type More = Partial<Omit<FhirExport, 'entries' | 'plan'>> & { plan?: Plan };

/** Records as the bundle in their file, under the second plan with the first before it. */
export const bundleOf = (records: readonly LogRecord[], more: More = {}): Bundle =>
  JSON.parse(
    fhirFile({
      plan: secondPlan(),
      earlierPlans: [firstPlan()],
      words: EXPORT_WORDS,
      language: 'en',
      now: MADE_AT,
      ...more,
      entries: timeline(records),
    }),
  ) as Bundle;

export const resourcesOf = (bundle: Bundle): FhirResource[] =>
  (bundle.entry ?? []).flatMap((e) => (e.resource ? [e.resource as FhirResource] : []));

/** The resources of one type. */
export const ofType = <T extends FhirResource['resourceType']>(bundle: Bundle, type: T): Extract<FhirResource, { resourceType: T }>[] =>
  resourcesOf(bundle).filter((r): r is Extract<FhirResource, { resourceType: T }> => r.resourceType === type);
