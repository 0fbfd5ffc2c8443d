import * as z from 'zod/mini';
import { STEPS } from '../change/steps.ts';
import { ANSWER_SCHEMAS, type Answers, answersSchema } from '../check/answers.ts';
import { BANDS, QUESTIONS, type QuestionScope } from '../check/questions.ts';
import { LEVELS } from '../escalation/levels.ts';
import { RULE_IDS } from '../escalation/rule-levels.ts';
import { isLocalDay, isTimeZone, type LocalDay } from '../schedule/day.ts';

/**
 * The log is append-only. A correction is a new record that `amends` an old
 * one, a withdrawal is a record of kind `void`; the old record stays. Two logs
 * merge as a union by id, in any order and any number of times.
 */

const id = z.string().check(z.regex(/^[A-Za-z0-9_-]{1,64}$/));
const instant = z.string().check(z.refine((t) => /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,3})?Z$/.test(t) && !Number.isNaN(Date.parse(t))));
const day = z.string().check(z.refine(isLocalDay)) as unknown as z.ZodMiniType<LocalDay>;
const words = z.string().check(z.maxLength(2000));

export const WHO = ['patient', 'caregiver'] as const;
export type Who = (typeof WHO)[number];

const base = {
  id,
  /** When it was entered, UTC. */
  at: instant,
  /** The calendar day where the person was, and the zone that makes it that day. */
  day,
  zone: z.string().check(z.refine(isTimeZone)),
  by: z.strictObject({ who: z.enum(WHO), name: z.optional(z.string().check(z.maxLength(40))) }),
  /** The device that made it. */
  device: id,
  /** The plan it was made under; null before there was one. */
  plan: z.nullable(z.strictObject({ id, revision: z.int() })),
  /** The record this one corrects; always the first of a chain of corrections. */
  amends: z.optional(id),
};

const firedRule = z.strictObject({
  rule: z.enum(RULE_IDS as unknown as [string, ...string[]]),
  level: z.enum(LEVELS),
  findings: z.array(z.string().check(z.maxLength(80))),
  variant: z.optional(z.string().check(z.maxLength(20))),
  params: z.optional(z.record(z.string(), z.union([z.string().check(z.maxLength(400)), z.number()]))),
  /** The wounds it fired for, where it did not fire for all of them. */
  wounds: z.optional(z.array(id)),
});
export type LoggedRule = z.infer<typeof firedRule>;

const judgement = z.strictObject({
  level: z.enum([...LEVELS, 'unfinished']),
  /** The level as it was told at that hour (a call today may have been a call now). */
  told: z.enum([...LEVELS, 'unfinished']),
  fired: z.array(firedRule).check(z.maxLength(60)),
  quieted: z.array(firedRule).check(z.maxLength(60)),
});
export type Judgement = z.infer<typeof judgement>;

const part = (scope: QuestionScope, when: readonly string[]) =>
  z.strictObject(
    Object.fromEntries(
      QUESTIONS.filter((q) => q.scope === scope && when.includes(q.when)).map((q) => [q.id, z.optional(ANSWER_SCHEMAS[q.id])]),
    ),
  ) as unknown as z.ZodMiniType<Answers>;

const check = z.strictObject({
  ...base,
  kind: z.literal('check'),
  person: part('person', ['every', 'plan']),
  feet: z.strictObject({ left: z.optional(part('foot', ['every'])), right: z.optional(part('foot', ['every'])) }),
  wounds: z.record(id, part('wound', ['every'])),
  judgement,
});

export const STEP_STATES = ['done', 'different', 'skipped'] as const;
export const CHANGE_PATHS = ['recipe', 'keepDry', 'coverAndCall'] as const;

const change = z.strictObject({
  ...base,
  kind: z.literal('change'),
  wound: id,
  /** The check whose answers belong to the same sitting. */
  check: z.optional(id),
  startedAt: instant,
  /** What was seen in the open wound; absent when it was covered before the look. */
  answers: z.optional(answersSchema),
  /** The recipe band that was followed. */
  band: z.optional(z.enum(BANDS)),
  path: z.enum(CHANGE_PATHS),
  /** Broken off before the wound was dressed again: it counts as a look, not as a change. */
  stopped: z.optional(z.boolean()),
  steps: z.array(z.strictObject({ step: z.enum(STEPS), state: z.enum(STEP_STATES), note: z.optional(words) })).check(z.maxLength(40)),
  judgement: z.optional(judgement),
  note: z.optional(words),
});

const alert = z.strictObject({
  ...base,
  kind: z.literal('alert'),
  level: z.enum(['callToday', 'callNow', 'emergency']),
  told: z.enum(['callToday', 'callNow', 'emergency']),
  /** The check or change that raised it. */
  from: id,
  fired: z.array(firedRule).check(z.maxLength(60)),
});

export const OUTCOMES = ['calledEmergency', 'reached', 'couldNotReach', 'wentToHospital'] as const;
export type OutcomeCode = (typeof OUTCOMES)[number];
const outcome = z.strictObject({
  ...base,
  kind: z.literal('outcome'),
  alerts: z.array(id).check(z.minLength(1), z.maxLength(50)),
  what: z.enum(OUTCOMES),
  said: z.optional(words),
});

export const MEASURE_METHODS = ['ruler', 'clinic', 'trace'] as const;
export type MeasureMethod = (typeof MEASURE_METHODS)[number];
/** What stood beside the wound in a photo to give it a scale. */
export const PHOTO_SCALES = ['code', 'card'] as const;
export type PhotoScale = (typeof PHOTO_SCALES)[number];
const sizeMm = z.number().check(z.positive(), z.maximum(400));
/** A place in a picture as shares of its width and height. */
const share = z.number().check(z.minimum(0), z.maximum(1));
const measurement = z.strictObject({
  ...base,
  kind: z.literal('measurement'),
  wound: id,
  method: z.enum(MEASURE_METHODS),
  lengthMm: z.optional(sizeMm),
  widthMm: z.optional(sizeMm),
  depthMm: z.optional(sizeMm),
  areaMm2: z.optional(z.number().check(z.nonnegative(), z.maximum(160_000))),
  /** For a traced edge: its length, the photo it was traced on, and where it ran there. */
  perimeterMm: z.optional(z.number().check(z.positive(), z.maximum(4000))),
  photo: z.optional(id),
  scale: z.optional(z.enum(PHOTO_SCALES)),
  outline: z.optional(z.array(z.tuple([share, share])).check(z.minLength(3), z.maxLength(600))),
});

/** A photo of a wound; its bytes are in the photo store under `photo`. Withdrawn when the bytes are deleted. */
const photo = z.strictObject({
  ...base,
  kind: z.literal('photo'),
  wound: id,
  photo: id,
  widthPx: z.int().check(z.positive(), z.maximum(20_000)),
  heightPx: z.int().check(z.positive(), z.maximum(20_000)),
});

const grams = z.number().check(z.nonnegative(), z.maximum(5000));
/** A dressing weighed dry and used. All layers that were on the wound, or the same ones dry. */
const weighing = z.strictObject({
  ...base,
  kind: z.literal('weighing'),
  wound: id,
  /** The change that took the used dressing off. */
  change: z.optional(id),
  dryG: grams,
  usedG: grams,
  /** The smallest step that the scale shows. */
  stepG: z.number().check(z.positive(), z.maximum(100)),
  /** How long the dressing was on. */
  hours: z.number().check(z.positive(), z.maximum(24 * 31)),
});

const planAccepted = z.strictObject({
  ...base,
  kind: z.literal('planAccepted'),
  accepted: z.strictObject({ id, revision: z.int(), clinic: z.string().check(z.maxLength(80)) }),
});

const note = z.strictObject({
  ...base,
  kind: z.literal('note'),
  text: words,
  /** A question for the next visit. */
  forVisit: z.optional(z.boolean()),
});

/** The person was at the clinic that day: the next summary begins there. */
const visit = z.strictObject({ ...base, kind: z.literal('visit'), note: z.optional(words) });

const itemId = z.string().check(z.regex(/^[A-Za-z0-9][A-Za-z0-9_-]{0,63}$/));
export const STOCK_MOVEMENTS = ['received', 'used', 'wasted', 'counted'] as const;
export type StockMovement = (typeof STOCK_MOVEMENTS)[number];
/** A movement of stock. `counted` says how much there really is; the others say how much came or went. */
const stock = z
  .strictObject({
    ...base,
    kind: z.literal('stock'),
    item: itemId,
    movement: z.enum(STOCK_MOVEMENTS),
    /** In single pieces, never packs. */
    amount: z.number().check(z.nonnegative(), z.maximum(100_000)),
    /** The last day these pieces may be used; only for `received`. */
    expires: z.optional(day),
    /** The change that used them; only for `used`. */
    change: z.optional(id),
    note: z.optional(words),
  })
  .check(
    z.refine((s) => s.expires === undefined || s.movement === 'received', { path: ['expires'] }),
    z.refine((s) => s.change === undefined || s.movement === 'used', { path: ['change'] }),
  );

/** An item of the person's own, beside those of the plan. */
const ownItem = z.strictObject({
  ...base,
  kind: z.literal('ownItem'),
  item: itemId,
  name: z.string().check(z.trim(), z.minLength(1), z.maxLength(80)),
  packOf: z.optional(z.int().check(z.positive(), z.maximum(1000))),
});

const voided = z.strictObject({ ...base, kind: z.literal('void'), target: id, why: z.optional(words) });

export const recordSchema = z.discriminatedUnion('kind', [
  check,
  change,
  alert,
  outcome,
  measurement,
  photo,
  weighing,
  planAccepted,
  note,
  visit,
  stock,
  ownItem,
  voided,
]);
export type LogRecord = z.infer<typeof recordSchema>;
export type RecordKind = LogRecord['kind'];
export type RecordOf<K extends RecordKind> = Extract<LogRecord, { kind: K }>;
export type CheckRecord = RecordOf<'check'>;
export type ChangeRecord = RecordOf<'change'>;
export type AlertRecord = RecordOf<'alert'>;

/** Kinds a person may amend; the others record what the app itself did. */
export const AMENDABLE: readonly RecordKind[] = ['check', 'change', 'outcome', 'measurement', 'weighing', 'note', 'stock', 'ownItem'];

export interface Reading {
  records: LogRecord[];
  /** What does not pass the schema, whole and unchanged. */
  unreadable: unknown[];
}

/** Sorts stored values into records and what cannot be read. Nothing is dropped. */
export function readRecords(values: readonly unknown[]): Reading {
  const reading: Reading = { records: [], unreadable: [] };
  for (const value of values) {
    const parsed = recordSchema.safeParse(value);
    if (parsed.success) reading.records.push(parsed.data);
    else reading.unreadable.push(value);
  }
  return reading;
}
