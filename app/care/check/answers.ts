import * as z from 'zod/mini';
import { type Band, type Code, QUESTIONS, type QuestionId, question } from './questions.ts';

/** Where a thermometer was held. */
export const TEMPERATURE_SITES = ['mouth', 'ear', 'forehead', 'armpit'] as const;
/** UCUM codes for the two temperature units. */
export const TEMPERATURE_UNITS = ['Cel', '[degF]'] as const;
export type TemperatureUnit = (typeof TEMPERATURE_UNITS)[number];
export const GLUCOSE_UNITS = ['mg/dL', 'mmol/L'] as const;
export type GlucoseUnit = (typeof GLUCOSE_UNITS)[number];

/** A body temperature outside this range is a slip of the finger, not a reading. */
export const TEMPERATURE_RANGE_C = [30, 45] as const;
export const GLUCOSE_RANGE_MGDL = [20, 800] as const;
/** Skin of a foot: cooler than the body, never near freezing or boiling. */
export const SKIN_RANGE_C = [10, 45] as const;
export const NOTE_MAX = 2000;

/** mg/dL in one mmol/L of glucose, molar mass 180.156 g/mol [EV-INF-24]. */
export const MGDL_PER_MMOL = 18.016;

const roundTo = (value: number, places: number): number => Number(value.toFixed(places));

/** Degrees Celsius, rounded to 0.01 so that 100.4 °F is 38.00 and not 37.999… [EV-FEV-05]. */
export function toCelsius(value: number, unit: TemperatureUnit): number {
  return roundTo(unit === 'Cel' ? value : ((value - 32) * 5) / 9, 2);
}

/** A difference of temperatures in °C: ×5/9 without the 32 [EV-TMP-14], rounded to 0.01. */
export function toCelsiusDifference(value: number, unit: TemperatureUnit): number {
  return roundTo(unit === 'Cel' ? value : (value * 5) / 9, 2);
}

/**
 * Glucose in whole mg/dL, as a meter shows it, so that the published pairs of
 * cut-offs (240 mg/dL and 13.3 mmol/L, 54 and 3.0, 70 and 3.9) agree [EV-INF-24].
 */
export function toMgdl(value: number, unit: GlucoseUnit): number {
  return Math.round(unit === 'mg/dL' ? value : value * MGDL_PER_MMOL);
}

const within = (low: number, high: number) => (n: number) => Number.isFinite(n) && n >= low && n <= high;

const measuredTemperature = z
  .strictObject({
    value: z.number(),
    unit: z.enum(TEMPERATURE_UNITS),
    site: z.optional(z.enum(TEMPERATURE_SITES)),
    /** A second reading in the same unit. */
    again: z.optional(z.number()),
  })
  .check(
    z.refine((t) => within(...TEMPERATURE_RANGE_C)(toCelsius(t.value, t.unit)), { path: ['value'], error: 'implausible' }),
    z.refine((t) => t.again === undefined || within(...TEMPERATURE_RANGE_C)(toCelsius(t.again, t.unit)), {
      path: ['again'],
      error: 'implausible',
    }),
  );
const feltTemperature = z.strictObject({ feelsFeverish: z.enum(['no', 'unsure', 'yes']) });

const warmthCodes = z.enum([...(question('warmth').codes as ['same', 'warmer', 'hotAndSwollen']), 'unsure']);
const warmthPair = z
  .strictObject({
    /** Name of a pair of matching places on the two feet, never the wound itself [EV-TMP-13]. */
    site: z.string().check(z.minLength(1), z.maxLength(40)),
    woundSide: z.number(),
    otherSide: z.number(),
    unit: z.optional(z.enum(TEMPERATURE_UNITS)),
  })
  .check(
    z.refine((p) => within(...SKIN_RANGE_C)(toCelsius(p.woundSide, p.unit ?? 'Cel')), { path: ['woundSide'], error: 'implausible' }),
    z.refine((p) => within(...SKIN_RANGE_C)(toCelsius(p.otherSide, p.unit ?? 'Cel')), { path: ['otherSide'], error: 'implausible' }),
  );
const measuredWarmth = z.strictObject({
  pairs: z.array(warmthPair).check(z.minLength(1), z.maxLength(12)),
  /** What the hand feels. A normal difference never overrules it. */
  feel: z.optional(warmthCodes),
});

const glucose = z
  .strictObject({ value: z.number(), unit: z.enum(GLUCOSE_UNITS) })
  .check(z.refine((g) => within(...GLUCOSE_RANGE_MGDL)(toMgdl(g.value, g.unit)), { path: ['value'], error: 'implausible' }));

const note = z.string().check(z.maxLength(NOTE_MAX));

const oneOf = (codes: readonly string[]) => z.enum([...codes, 'unsure'] as unknown as [string, ...string[]]);
const manyOf = (codes: readonly string[]) =>
  z
    .array(oneOf(codes))
    .check(z.minLength(1), z.maxLength(codes.length + 1))
    .check(z.refine((list) => new Set(list).size === list.length, { error: 'twice' }))
    .check(z.refine((list) => !list.includes('none') || list.length === 1, { error: 'noneAndMore' }));

function schemaFor(id: QuestionId): z.ZodMiniType {
  const q = question(id);
  if (q.kind === 'oneOf') return oneOf(q.codes);
  if (q.kind === 'manyOf') return manyOf(q.codes);
  if (q.kind === 'temperature') return z.union([measuredTemperature, feltTemperature]);
  if (q.kind === 'warmth') return z.union([warmthCodes, measuredWarmth]);
  if (q.kind === 'glucose') return glucose;
  return note;
}

/** The schema of one question's answer. */
export const ANSWER_SCHEMAS = Object.fromEntries(QUESTIONS.map((q) => [q.id, schemaFor(q.id)])) as Record<QuestionId, z.ZodMiniType>;

export type TemperatureAnswer = z.infer<typeof measuredTemperature> | z.infer<typeof feltTemperature>;
export type WarmthPair = z.infer<typeof warmthPair>;
export type WarmthAnswer = z.infer<typeof warmthCodes> | z.infer<typeof measuredWarmth>;
export type GlucoseAnswer = z.infer<typeof glucose>;

/** The answers of one check, for one wound. A question left out is unanswered. */
export interface Answers {
  unwell?: Code<'unwell'>[];
  temperature?: TemperatureAnswer;
  footColour?: Code<'footColour'>;
  pain?: Code<'pain'>;
  warmth?: WarmthAnswer;
  swelling?: Code<'swelling'>;
  dressing?: Code<'dressing'>;
  bleeding?: Code<'bleeding'>;
  drainageAmount?: Band | 'unsure';
  drainageColour?: Code<'drainageColour'>;
  odour?: Code<'odour'>;
  redness?: Code<'redness'>;
  woundBed?: Code<'woundBed'>[];
  edge?: Code<'edge'>;
  offloading?: Code<'offloading'>;
  glucose?: GlucoseAnswer;
  note?: string;
}

/** Schema of a (possibly partial) set of answers; unknown questions are refused. */
export const answersSchema = z.strictObject(
  Object.fromEntries(QUESTIONS.map((q) => [q.id, z.optional(ANSWER_SCHEMAS[q.id])])),
) as unknown as z.ZodMiniType<Answers>;

/** The mildest answer to every question that has one (numbers and words have none). */
export function mildestAnswers(): Answers {
  return {
    unwell: ['none'],
    temperature: { value: 36.8, unit: 'Cel' },
    footColour: 'usual',
    pain: 'usual',
    warmth: 'same',
    swelling: 'usual',
    dressing: 'dryInPlace',
    bleeding: 'none',
    drainageAmount: 'none',
    drainageColour: 'clear',
    odour: 'none',
    redness: 'none',
    woundBed: ['red'],
    edge: 'usual',
    offloading: 'always',
  };
}
