import type { BundleEntry, CodeableConcept, Observation, ObservationComponent, Reference } from 'fhir/r4';
import type { Answers, GlucoseAnswer, WarmthPair } from '../../care/check/answers.ts';
import type { ChangeRecord, CheckRecord, LogRecord, RecordOf } from '../../care/log/records.ts';
import type { Entry } from '../../care/log/timeline.ts';
import type { Plan, Side, Wound } from '../../care/plan/plan.ts';
import {
  absent,
  CODED_LOOKS,
  type CodeName,
  category,
  loinc,
  NOT_SURE,
  own,
  ownCoding,
  quantity,
  TEMPERATURE_SIGNS,
  UNKNOWN,
} from './codes.ts';
import {
  type Context,
  changedAt,
  entryFor,
  footSite,
  identifierOf,
  knownRefs,
  listed,
  listOf,
  notesOf,
  patientRef,
  plainText,
  recordRef,
  recordUrl,
  statusOf,
  urlOf,
  whenOf,
  woundOf,
  woundSite,
  writerOf,
} from './context.ts';

type Own = Pick<Observation, 'code'> & Partial<Observation>;

function observation(ctx: Context, entry: Entry, path: readonly string[], more: Own): BundleEntry {
  const url = recordUrl(ctx, entry.first.id, ...path);
  return entryFor(ctx, url, {
    resourceType: 'Observation',
    identifier: [identifierOf(url)],
    status: statusOf(entry, 'final'),
    subject: patientRef(ctx),
    effectiveDateTime: whenOf(entry),
    issued: changedAt(entry),
    performer: [writerOf(ctx, entry.first)],
    ...more,
    ...listed('note', notesOf(ctx, entry)),
  });
}

/** What was seen or measured, where, and what it was part of. */
interface Seen {
  entry: Entry;
  answers: Answers;
  /** Told apart from other parts of the same record. */
  part: readonly string[];
  site?: CodeableConcept;
  side?: Side | undefined;
  dry: boolean;
  from: Pick<Observation, 'derivedFrom' | 'partOf'>;
}

/**
 * The answers of a check that are measured, coded in LOINC, or pain. The other
 * answers stand in the filled-in form alone.
 */
export function checkObservations(ctx: Context, entry: Entry<CheckRecord>): BundleEntry[] {
  const { person, feet, wounds } = entry.now;
  const from = { derivedFrom: [recordRef(ctx, entry.first.id)] };
  const sides = (['left', 'right'] as const).filter((side) => feet[side]);
  return [
    ...observationsOf(ctx, { entry, answers: person, part: ['person'], dry: false, from }),
    ...sides.flatMap((side) =>
      observationsOf(ctx, { entry, answers: feet[side] ?? {}, part: [side], site: footSite(ctx, side), side, dry: false, from }),
    ),
    ...Object.entries(wounds).flatMap(([id, answers]) =>
      observationsOf(ctx, { entry, answers, part: ['wound', id], ...atWound(ctx, entry.now, id), from }),
    ),
  ];
}

/** The same for the look during a change. */
export function lookObservations(ctx: Context, entry: Entry<ChangeRecord>): BundleEntry[] {
  const { answers = {}, wound } = entry.now;
  const from = { partOf: [recordRef(ctx, entry.first.id)], derivedFrom: [recordRef(ctx, entry.first.id, 'look')] };
  return observationsOf(ctx, { entry, answers, part: ['seen'], ...atWound(ctx, entry.now, wound), from });
}

function atWound(ctx: Context, record: LogRecord, id: string): Pick<Seen, 'site' | 'side' | 'dry'> & { site: CodeableConcept } {
  const wound = woundOf(ctx, record, id);
  return { site: woundSite(ctx, record, id), side: wound?.side, dry: wound?.keepDry ?? false };
}

function observationsOf(ctx: Context, seen: Seen): BundleEntry[] {
  const { answers } = seen;
  return [
    ...temperatures(ctx, seen),
    ...(answers.pain === undefined ? [] : [coded(ctx, seen, 'pain', answers.pain)]),
    ...warmthPairs(ctx, seen),
    ...(answers.glucose === undefined ? [] : [glucose(ctx, seen, answers.glucose)]),
    ...CODED_LOOKS.flatMap((id) => {
      const given = answers[id];
      const codes = Array.isArray(given) ? given : listOf(given);
      return codes.map((code) => coded(ctx, seen, id, code));
    }),
  ];
}

/** Measured with a thermometer; the base profile for body temperatures of FHIR R4 applies. */
function temperatures(ctx: Context, { entry, answers, part, from }: Seen): BundleEntry[] {
  const given = answers.temperature;
  if (!given || !('value' in given)) return [];
  const { value, again, unit, site } = given;
  return [value, ...listOf(again)].map((reading, i) =>
    observation(ctx, entry, [...part, i === 0 ? 'temperature' : 'temperatureAgain'], {
      meta: { profile: ['http://hl7.org/fhir/StructureDefinition/bodytemp'] },
      ...from,
      category: category('vital-signs'),
      code: loinc('bodyTemperature', ctx.words.say('check:temperature.short')),
      valueQuantity: quantity(reading, unit, TEMPERATURE_SIGNS[unit]),
      ...(site ? { bodySite: { text: ctx.words.say(`check:temperature.site.${site}`) } } : {}),
    }),
  );
}

/** Two readings of a pair of matching places; which foot is which is told where the plan knows the foot with the wound. */
function warmthPairs(ctx: Context, { entry, answers, part, side, from }: Seen): BundleEntry[] {
  const given = answers.warmth;
  if (given === undefined || typeof given === 'string') return [];
  const { say } = ctx.words;
  const other = side && (side === 'left' ? 'right' : 'left');
  const reading = (pair: WarmthPair, i: number, which: 'woundSide' | 'otherSide', foot: Side | undefined): BundleEntry => {
    const unit = pair.unit ?? 'Cel';
    const where = foot ? say(`common:foot.${foot}`) : say(`check:warmth.${which}`);
    return observation(ctx, entry, [...part, 'warmth', String(i), which], {
      ...from,
      category: category('exam'),
      code: loinc('skinTemperature', say('check:warmth.short')),
      valueQuantity: quantity(pair[which], unit, TEMPERATURE_SIGNS[unit]),
      bodySite: { text: [where, plainText(pair.site)].filter(Boolean).join(', ') },
    });
  };
  return given.pairs.flatMap((pair, i) => [reading(pair, i, 'woundSide', side), reading(pair, i, 'otherSide', other)]);
}

function glucose(ctx: Context, { entry, part, from }: Seen, { value, unit }: GlucoseAnswer): BundleEntry {
  return observation(ctx, entry, [...part, 'glucose'], {
    ...from,
    category: category('laboratory'),
    code: loinc(unit, ctx.words.say('check:glucose.short')),
    valueQuantity: quantity(value, unit),
  });
}

/** One answer code; "not sure" is told as a value that the person was asked for and does not know. */
function coded(ctx: Context, { entry, part, site, dry, from }: Seen, id: (typeof CODED_LOOKS)[number] | 'pain', code: string): BundleEntry {
  const { words } = ctx;
  const text = words.answer(id, code, { dry });
  const short = words.say(`check:${id}.short`);
  return observation(ctx, entry, [...part, id, code], {
    ...from,
    category: category(id === 'pain' ? 'survey' : 'exam'),
    code: id === 'pain' ? own(id, short) : loinc(id, short),
    ...(code === 'unsure' ? { dataAbsentReason: absent(NOT_SURE, text) } : { valueCodeableConcept: own(`${id}:${code}`, text) }),
    ...(site ? { bodySite: site } : {}),
  });
}

/** Millimetres as centimetres, without the noise of binary fractions. */
const cm = (mm: number): number => Number((mm / 10).toFixed(4));
const cm2 = (mm2: number): number => Number((mm2 / 100).toFixed(4));

type Size = Partial<Record<'lengthMm' | 'widthMm' | 'depthMm' | 'areaMm2' | 'perimeterMm', number | undefined>>;

/** The components of a size, or why there is none. A length and a width are not made into an area here. */
function sizeParts(ctx: Context, size: Size): Pick<Observation, 'component' | 'dataAbsentReason'> {
  const line = (name: CodeName, mm: number | undefined): ObservationComponent[] =>
    listOf(mm).map((value) => ({ code: loinc(name), valueQuantity: quantity(cm(value), 'cm') }));
  const component: ObservationComponent[] = [
    ...line('length', size.lengthMm),
    ...line('width', size.widthMm),
    ...line('depth', size.depthMm),
    ...listOf(size.areaMm2).map((value) => ({ code: loinc('area'), valueQuantity: quantity(cm2(value), 'cm2') })),
    ...listOf(size.perimeterMm).map((value) => ({
      code: own('perimeter', ctx.words.say('handOver:file.perimeter')),
      valueQuantity: quantity(cm(value), 'cm'),
    })),
  ];
  return component.length > 0 ? { component } : { dataAbsentReason: absent(UNKNOWN) };
}

/** A measured wound as the wound size panel. */
export function sizeObservation(ctx: Context, entry: Entry<RecordOf<'measurement'>>): BundleEntry {
  const { now } = entry;
  return observation(ctx, entry, [], {
    ...listed('derivedFrom', knownRefs(ctx, [ctx.photoRecords.get(now.photo ?? '')], ['photo'])),
    category: category('exam'),
    code: loinc('woundSize', ctx.words.say('log:kind.measurement')),
    bodySite: woundSite(ctx, now, now.wound),
    method: own(`method:${now.method}`, ctx.words.say(`handOver:file.method.${now.method}`)),
    ...sizeParts(ctx, now),
  });
}

/** The size that the clinic measured when it wrote the plan. */
export function baselineObservation(ctx: Context, plan: Plan, wound: Wound, performer: Reference): BundleEntry | undefined {
  const { baseline } = wound;
  if (!baseline) return undefined;
  const url = urlOf(ctx, 'plan', plan.id, 'baseline', wound.id, baseline.day);
  return entryFor(ctx, url, {
    resourceType: 'Observation',
    identifier: [identifierOf(url)],
    status: 'final',
    category: category('exam'),
    code: loinc('woundSize', ctx.words.say('log:kind.measurement')),
    subject: patientRef(ctx),
    effectiveDateTime: baseline.day,
    performer: [performer],
    bodySite: woundSite(ctx, { plan }, wound.id),
    method: own('method:clinic', ctx.words.say('handOver:file.method.clinic')),
    ...sizeParts(ctx, baseline),
  });
}

/** A dressing weighed dry and used. The difference is left to the reader, for it holds what dried up as well. */
export function weighingObservation(ctx: Context, entry: Entry<RecordOf<'weighing'>>): BundleEntry {
  const { now } = entry;
  const { say } = ctx.words;
  const part = (name: string, text: string, value: number, unit: string): ObservationComponent => ({
    code: { coding: [ownCoding(`weighing.${name}`)], text },
    valueQuantity: quantity(value, unit),
  });
  return observation(ctx, entry, [], {
    ...listed('partOf', knownRefs(ctx, [now.change], ['change'])),
    category: category('exam'),
    code: own('weighing', say('log:kind.weighing')),
    bodySite: woundSite(ctx, now, now.wound),
    component: [
      part('dry', say('handOver:file.dry'), now.dryG, 'g'),
      part('used', say('handOver:file.used'), now.usedG, 'g'),
      part('step', say('handOver:file.step'), now.stepG, 'g'),
      part('hours', say('handOver:file.hours'), now.hours, 'h'),
    ],
  });
}
