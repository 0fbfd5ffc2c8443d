import type { Annotation, BundleEntry, CodeableConcept, FhirResource, Identifier, Meta, Reference } from 'fhir/r4';
import type { StepId } from '../../care/change/steps.ts';
import type { QuestionId } from '../../care/check/questions.ts';
import type { LoggedRule, LogRecord, RecordKind } from '../../care/log/records.ts';
import type { Entry } from '../../care/log/timeline.ts';
import type { Dressing, Plan, Recipe, Wound } from '../../care/plan/plan.ts';
import { nameUuid } from '../uuid.ts';
import { zonedTime } from '../zoned-time.ts';
import { PLAN_IDS, URI, UUID_SPACE } from './codes.ts';

/** The words that a file is written in. The app's own words fit; they are handed in because this part speaks no language. */
export interface ExportWords {
  say: (key: string, params?: Record<string, unknown>) => string;
  /** What a question asks. @param dry of a wound that must stay dry. */
  ask: (id: QuestionId, dry: boolean) => string;
  answer: (id: QuestionId, answer: unknown, about: { dry: boolean }) => string;
  reason: (rule: LoggedRule) => string;
  wound: (wound: Wound) => string;
  dressing: (dressing: Dressing) => string;
  /** What a step is done with in a recipe, if that says anything. */
  means: (step: StepId, recipe: Recipe) => string | undefined;
}

/** What every resource of one file is made from. */
export interface Context {
  words: ExportWords;
  /** The id of the book, which is that of the person. */
  book: string;
  /** Names that were made before: that of the person is asked for by every resource. */
  urls: Map<string, string>;
  /** The name of the form of all questions: the same for everybody who reads it in one language. */
  form: string;
  /** The plan in force first, then those before it. */
  plans: readonly [Plan, ...Plan[]];
  /** The records that the file holds: their kind, by the id of the first version. */
  included: ReadonlyMap<string, RecordKind>;
  /** What the items of the book are called. */
  itemNames: ReadonlyMap<string, string>;
  /** Items written down as used, by the change that used them. */
  usedAt: ReadonlyMap<string, readonly string[]>;
  /** The photos it holds, by their id: the record that tells of each. */
  photoRecords: ReadonlyMap<string, string>;
}

/** The name of a resource, made from ids: a second file of the same records has the same names. */
export function urlOf(ctx: Context, ...path: string[]): string {
  const name = [ctx.book, ...path].join('/');
  const url = ctx.urls.get(name) ?? `urn:uuid:${nameUuid(UUID_SPACE, name)}`;
  ctx.urls.set(name, url);
  return url;
}

export const identifierOf = (url: string): Identifier => ({ system: URI, value: url });
export const refTo = (ctx: Context, ...path: string[]): Reference => ({ reference: urlOf(ctx, ...path) });

/** The names of what comes from one record. @param id of its first version. */
export const recordUrl = (ctx: Context, id: string, ...part: string[]): string => urlOf(ctx, 'record', id, ...part);
export const recordRef = (ctx: Context, id: string, ...part: string[]): Reference => refTo(ctx, 'record', id, ...part);

/** References to records of some kinds, as far as the file holds them. */
export const knownRefs = (ctx: Context, ids: readonly (string | undefined)[], kinds: readonly RecordKind[]): Reference[] =>
  ids.flatMap((id) => {
    const kind = id === undefined ? undefined : ctx.included.get(id);
    return id !== undefined && kind && kinds.includes(kind) ? [recordRef(ctx, id)] : [];
  });

export const patientRef = (ctx: Context): Reference => refTo(ctx, 'patient');

const TEST_DATA = { system: 'http://terminology.hl7.org/CodeSystem/v3-ActReason', code: 'HTEST' };

/** The mark of test data on the sample, whose invented data must never pass for a person's. */
export const sampleMark = (plan: Plan): { meta?: Meta } => (plan.sample ? { meta: { security: [TEST_DATA] } } : {});

/** A resource under its name. */
export function entryFor(ctx: Context, url: string, resource: FhirResource): BundleEntry {
  const { meta } = sampleMark(ctx.plans[0]);
  return { fullUrl: url, resource: meta ? ({ ...resource, meta: { ...resource.meta, ...meta } } as FhirResource) : resource };
}

/** Who wrote a record: the person, or a caregiver by name, of whom nothing else is told. */
export function writerOf(ctx: Context, { by }: Pick<LogRecord, 'by'>): Reference {
  if (by.who === 'patient') return patientRef(ctx);
  return { type: 'RelatedPerson', display: plainText(by.name) ?? ctx.words.say('log:by.caregiver') };
}

/** When a record was first written: what it is about. */
export const whenOf = ({ first }: Entry): string => zonedTime(first.at, first.zone);

/** When it was last changed. */
export const changedAt = ({ now }: Entry): string => zonedTime(now.at, now.zone);

/** A record as it stands; `amended` for a corrected one. */
export const statusOf = <Good extends string>(entry: Entry, good: Good): Good | 'amended' | 'entered-in-error' =>
  entry.voided ? 'entered-in-error' : entry.versions.length > 1 ? 'amended' : good;

/** The same where a resource has no word for a correction. */
export const withdrawnOr = <Good extends string>(entry: Entry, good: Good): Good | 'entered-in-error' =>
  entry.voided ? 'entered-in-error' : good;

/** What became of a record after it was written, as notes. */
export function notesOf(ctx: Context, entry: Entry): Annotation[] {
  const { now, versions, voided } = entry;
  const { say } = ctx.words;
  const notes: Annotation[] = [];
  if (versions.length > 1)
    notes.push({ authorReference: writerOf(ctx, now), time: changedAt(entry), text: say('handOver:file.corrected') });
  if (voided) {
    const why = plainText(voided.why);
    const text = why ? say('handOver:file.withdrawnWhy', { why }) : say('handOver:file.withdrawn');
    notes.push({ authorReference: writerOf(ctx, voided), time: zonedTime(voided.at, voided.zone), text });
  }
  return notes;
}

/** A text without control characters, which FHIR does not allow. */
export const withoutControls = (text: string): string => text.replace(/(?![\t\r\n])\p{Cc}/gu, '');

/** A person's own words as FHIR takes them; undefined when nothing is left. */
export function plainText(text: string | undefined): string | undefined {
  const plain = withoutControls(text ?? '');
  return plain.trim() === '' ? undefined : plain;
}

/** None or one, as a list. */
export const listOf = <Item>(item: Item | undefined): Item[] => (item === undefined ? [] : [item]);

/** A list under a name, or nothing when it is empty: FHIR knows no empty lists. */
export const listed = <Name extends string, Item>(name: Name, items: readonly Item[]): { [N in Name]?: Item[] } =>
  (items.length > 0 ? { [name]: [...items] } : {}) as { [N in Name]?: Item[] };

/** The plan a record was made under, if it is here. */
export const planOf = (ctx: Context, { plan }: Pick<LogRecord, 'plan'>): Plan | undefined =>
  ctx.plans.find((p) => p.id === plan?.id && p.revision === plan.revision);

/** A wound of the plan of that time, else as any plan here knows it. */
export const woundOf = (ctx: Context, record: Pick<LogRecord, 'plan'>, id: string): Wound | undefined =>
  [...listOf(planOf(ctx, record)), ...ctx.plans].flatMap((p) => p.wounds).find((w) => w.id === id);

/** The place of a wound, under the id that the clinic gave it. */
export function woundSite(ctx: Context, record: Pick<LogRecord, 'plan'>, id: string): CodeableConcept {
  const wound = woundOf(ctx, record, id);
  return { coding: [{ system: PLAN_IDS, code: id }], text: wound ? ctx.words.wound(wound) : ctx.words.say('log:otherWound') };
}

export const footSite = (ctx: Context, side: 'left' | 'right'): CodeableConcept => ({ text: ctx.words.say(`common:foot.${side}`) });
