import type { Bundle, BundleEntry } from 'fhir/r4';
import type { RecordKind, RecordOf } from '../../care/log/records.ts';
import { type Entry, standing } from '../../care/log/timeline.ts';
import type { Plan } from '../../care/plan/plan.ts';
import { itemNames } from '../item-names.ts';
import { entriesWithin, type Period } from '../period.ts';
import { nameUuid } from '../uuid.ts';
import { checkResponse, lookResponse, questionnaire } from './answers-form.ts';
import { carePlan } from './care-plans.ts';
import { PLAN_IDS, UUID_SPACE } from './codes.ts';
import { alertCommunication, noteCommunication, outcomeCommunication, visitCommunication } from './communications.ts';
import {
  type Context,
  type ExportWords,
  entryFor,
  identifierOf,
  listed,
  listOf,
  plainText,
  sampleMark,
  urlOf,
  withoutControls,
} from './context.ts';
import { type ChosenPhoto, photoMedia } from './media.ts';
import { baselineObservation, checkObservations, lookObservations, sizeObservation, weighingObservation } from './observations.ts';
import { changeProcedure, delivery } from './procedures.ts';

export interface FhirExport {
  /** The plan in force. */
  plan: Plan;
  /** Those before it, oldest first. */
  earlierPlans?: readonly Plan[];
  /** The whole log: what lies outside the period is not in the file, but names of items come from it. */
  entries: readonly Entry[];
  period?: Period;
  /** Photos that the person chose, by their id; without any there is no photo in the file. They need not lie in the period. */
  photos?: ReadonlyMap<string, ChosenPhoto>;
  words: ExportWords;
  /** BCP 47, of the words. */
  language: string;
  /** When the file is made, ms. */
  now: number;
}

function fhirBundle(source: FhirExport): Bundle {
  const { plan, earlierPlans = [], entries, period = {}, photos = new Map(), words, language, now } = source;
  const plans: Context['plans'] = [plan, ...[...earlierPlans].reverse()];
  const shown = entriesWithin(entries, period);
  const pictures = standing(entries, 'photo').filter((e) => photos.has(e.now.photo));
  const ctx: Context = {
    words,
    book: plan.person.id,
    urls: new Map(),
    form: `urn:uuid:${nameUuid(UUID_SPACE, `questions/${language}`)}`,
    plans,
    included: new Map([...shown, ...pictures].map((e) => [e.first.id, e.first.kind])),
    itemNames: itemNames(plans, entries),
    usedAt: itemsUsedAt(entries),
    photoRecords: new Map(pictures.map((e) => [e.now.photo, e.first.id])),
  };
  const used = plansUsed(ctx, shown);
  const clinic = { type: 'Organization', display: plan.clinic.name };
  return {
    resourceType: 'Bundle',
    ...sampleMark(plan),
    language,
    identifier: identifierOf(urlOf(ctx, 'bundle', period.from ?? '', period.to ?? '')),
    type: 'collection',
    timestamp: new Date(now).toISOString(),
    entry: [
      patient(ctx),
      ...used.map((p) => carePlan(ctx, p, used)),
      ...plan.wounds.flatMap((wound) => listOf(baselineObservation(ctx, plan, wound, clinic))),
      questionnaire(ctx),
      ...shown.flatMap((e) => resourcesOf(ctx, e)),
      ...pictures.flatMap((e) => listOf(photos.get(e.now.photo)).map((photo) => photoMedia(ctx, e, photo))),
    ],
  };
}

/**
 * A person's log as a FHIR R4 Bundle of type collection, in JSON.
 *
 * Two files of the same records differ in `timestamp` alone. A corrected
 * record stands as it is now, marked as amended; a withdrawn one is marked as
 * entered in error. What was not written down is not in the file.
 */
export const fhirFile = (source: FhirExport): string =>
  JSON.stringify(fhirBundle(source), (_key, value: unknown) => (typeof value === 'string' ? withoutControls(value) : value));

/**
 * The person, by no more than the clinic's own id for them and the name that
 * the clinic calls them by, so that the file is not laid in another person's
 * record. No date of birth, address or phone: the app does not know them.
 */
function patient(ctx: Context): BundleEntry {
  const { person } = ctx.plans[0];
  return entryFor(ctx, urlOf(ctx, 'patient'), {
    resourceType: 'Patient',
    identifier: [identifierOf(urlOf(ctx, 'patient')), { system: PLAN_IDS, value: person.id }],
    ...listed(
      'name',
      listOf(plainText(person.callMe)).map((text) => ({ use: 'usual' as const, text })),
    ),
  });
}

/** The plan in force, and those that records of the file were made under. */
function plansUsed(ctx: Context, shown: readonly Entry[]): Plan[] {
  const named = new Set(shown.flatMap((e) => e.versions.map((r) => `${r.plan?.id}/${r.plan?.revision}`)));
  const wanted = ctx.plans.filter((p) => p === ctx.plans[0] || named.has(`${p.id}/${p.revision}`));
  // A version that was taken in twice is one plan.
  return wanted.filter((p, i) => wanted.findIndex((other) => other.id === p.id && other.revision === p.revision) === i);
}

function itemsUsedAt(entries: readonly Entry[]): Map<string, string[]> {
  const at = new Map<string, string[]>();
  for (const { now } of standing(entries, 'stock')) {
    if (now.movement !== 'used' || now.change === undefined || now.amount === 0) continue;
    at.set(now.change, [...(at.get(now.change) ?? []), now.item]);
  }
  return at;
}

/** What one record becomes. Photos stand apart, for they are chosen; own items give names; a plan that was accepted is a CarePlan. */
function resourcesOf(ctx: Context, entry: Entry): BundleEntry[] {
  const as = <K extends RecordKind>(_kind: K) => entry as Entry<RecordOf<K>>;
  switch (entry.first.kind) {
    case 'check':
      return [checkResponse(ctx, as('check')), ...checkObservations(ctx, as('check'))];
    case 'change':
      return [changeProcedure(ctx, as('change')), ...listOf(lookResponse(ctx, as('change'))), ...lookObservations(ctx, as('change'))];
    case 'alert':
      return [alertCommunication(ctx, as('alert'))];
    case 'outcome':
      return [outcomeCommunication(ctx, as('outcome'))];
    case 'note':
      return listOf(noteCommunication(ctx, as('note')));
    case 'visit':
      return [visitCommunication(ctx, as('visit'))];
    case 'measurement':
      return [sizeObservation(ctx, as('measurement'))];
    case 'weighing':
      return [weighingObservation(ctx, as('weighing'))];
    case 'stock':
      return listOf(delivery(ctx, as('stock')));
    default:
      return [];
  }
}
