import * as z from 'zod/mini';
import { RECIPE_STEPS } from '../change/steps.ts';
import { ASKABLE } from '../check/applies.ts';
import { BANDS, type Band, bandRank, isFinding, question } from '../check/questions.ts';
import { FAMILY_IDS } from '../dressings/families.ts';
import { isAtLeast, LEVELS, type Level } from '../escalation/levels.ts';
import { DEFAULT_THRESHOLDS, STRICTEST_THRESHOLDS, type Thresholds } from '../escalation/limits.ts';
import { RULE_LEVELS, TABLE_RULE_IDS } from '../escalation/rule-levels.ts';
import { isLocalDay, isTimeZone, type LocalDay, WEEKDAYS } from '../schedule/day.ts';
import { faultsOf, type PlanFault } from './faults.ts';

export type { PlanFault };

/** Version of the plan's shape. A plan from a newer version is refused, never half read. */
export const PLAN_VERSION = 1;

const text = (most: number) => z.string().check(z.trim(), z.minLength(1, { error: 'empty' }), z.maxLength(most, { error: 'tooLong' }));
const id = z.string().check(z.regex(/^[A-Za-z0-9][A-Za-z0-9_-]{0,63}$/, { error: 'notAnId' }));
const day = z.string().check(z.refine(isLocalDay, { error: 'notADay' })) as unknown as z.ZodMiniType<LocalDay>;
const TIME = /^([01]\d|2[0-3]):[0-5]\d$/;
const CLOSING = /^(([01]\d|2[0-3]):[0-5]\d|24:00)$/;
const time = z.string().check(z.regex(TIME, { error: 'notATime' }));
const closing = z.string().check(z.regex(CLOSING, { error: 'notATime' }));
/** Digits with the usual separators; anything else could smuggle more than a number into a tel: link. */
const phone = z.string().check(z.regex(/^\+?[(0-9][0-9 ().-]{1,28}[0-9]$/, { error: 'notAPhone' }));
const emergencyNumber = z.string().check(z.regex(/^[0-9]{2,6}$/, { error: 'notAPhone' }));
const zone = z.string().check(z.refine(isTimeZone, { error: 'notAZone' }));
const sizeMm = z.number().check(z.positive({ error: 'outOfRange' }), z.maximum(600, { error: 'outOfRange' }));
const finding = z.string().check(z.refine(isFinding, { error: 'notAFinding' }));

/** A finding that can count as a sign: not a question's mildest answer, and none that is a number. */
const extraSign = finding.check(
  z.refine(
    (f) => {
      if (!isFinding(f)) return true;
      const [id, code] = f.split(':') as [string, string];
      return id !== 'temperature' && question(id).codes.indexOf(code) > 0;
    },
    { error: 'notAFinding' },
  ),
);

const unique = <T>(key: (item: T) => string) => z.refine<T[]>((list) => new Set(list.map(key)).size === list.length, { error: 'twice' });

export const clinicSchema = z.strictObject({
  name: text(80),
  phone,
  outOfHoursPhone: z.optional(phone),
  emergencyNumber: z.optional(emergencyNumber),
  /** Opening hours on the wall clock of `zone`; a day may stand twice (morning and afternoon). */
  hours: z
    .array(
      z.strictObject({ day: z.enum(WEEKDAYS), opens: time, closes: closing }).check(
        // A text that is no time is told as that, not as a wrong order too.
        z.refine((h) => !TIME.test(h.opens) || !CLOSING.test(h.closes) || h.opens < h.closes, {
          path: ['closes'],
          error: 'closesBeforeItOpens',
        }),
      ),
    )
    .check(z.maxLength(21)),
  closedDays: z.optional(z.array(day).check(z.maxLength(60))),
  zone,
});
export type Clinic = z.infer<typeof clinicSchema>;

const person = z.strictObject({
  id,
  callMe: text(40),
  language: z.string().check(z.regex(/^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$/, { error: 'notALanguage' })),
});

export const SITES = [
  'bigToe',
  'secondToe',
  'thirdToe',
  'fourthToe',
  'littleToe',
  'betweenToes',
  'ballInner',
  'ballMiddle',
  'ballOuter',
  'arch',
  'outerEdge',
  'heelUnder',
  'heelBack',
  'innerAnkle',
  'outerAnkle',
  'topOfFoot',
  'stump',
] as const;
export const SIDES = ['left', 'right'] as const;
export type Side = (typeof SIDES)[number];

export const FIXATIONS = ['none', 'tape', 'rollBandage', 'tubularBandage', 'adhesiveBorder'] as const;
export const CLEANSERS = ['saline', 'boiledWater', 'tapWater', 'povidoneIodine', 'none'] as const;
export const SKIN_PROTECTIONS = ['none', 'barrierFilm', 'barrierCream', 'zincPaste'] as const;
export const DEVICES = [
  'walkerBoot',
  'castShoe',
  'forefootShoe',
  'heelShoe',
  'surgicalShoe',
  'feltPadding',
  'insoles',
  'crutches',
  'wheelchair',
] as const;
export const DONTS = [
  'noAlcohol',
  'noPeroxide',
  'noIodineUnlessTold',
  'noOintmentOnBlack',
  'noSoaking',
  'noBarefoot',
  'noHeat',
  'noCutting',
  'noCornRemovers',
  'noSwap',
] as const;

const dressing = z.strictObject({
  family: z.enum(FAMILY_IDS),
  /** The name on the packet, as the clinic writes it. */
  name: z.optional(text(60)),
  widthMm: z.optional(sizeMm),
  heightMm: z.optional(sizeMm),
  /** Holds silver, which stains grey [EV-EXU-10, EV-PRA-07]. */
  silver: z.optional(z.boolean()),
  note: z.optional(text(200)),
});
export type Dressing = z.infer<typeof dressing>;

const interval = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('hours'),
    hours: z.int().check(z.minimum(4, { error: 'outOfRange' }), z.maximum(336, { error: 'outOfRange' })),
  }),
  z.strictObject({
    kind: z.literal('timesADay'),
    times: z.int().check(z.minimum(1, { error: 'outOfRange' }), z.maximum(4, { error: 'outOfRange' })),
  }),
  z.strictObject({
    kind: z.literal('weekdays'),
    days: z.array(z.enum(WEEKDAYS)).check(
      z.minLength(1, { error: 'empty' }),
      unique<string>((d) => d),
    ),
  }),
]);
export type Interval = z.infer<typeof interval>;

const use = z.strictObject({
  item: id,
  amount: z.number().check(z.positive({ error: 'outOfRange' }), z.maximum(100, { error: 'outOfRange' })),
});

const recipe = z.strictObject({
  primary: z.optional(dressing),
  secondary: z.optional(dressing),
  fixation: z.enum(FIXATIONS),
  change: interval,
  cleanser: z.enum(CLEANSERS),
  /** Iodine only where the clinician marks it as prescribed [EV-PRA-06]. */
  iodinePrescribed: z.optional(z.boolean()),
  skinProtection: z.enum(SKIN_PROTECTIONS),
  steps: z.array(z.strictObject({ step: z.enum(RECIPE_STEPS), note: z.optional(text(240)) })).check(
    z.minLength(1, { error: 'empty' }),
    z.maxLength(20),
    unique<{ step: string }>((s) => s.step),
  ),
  uses: z.array(use).check(
    z.maxLength(20),
    unique<{ item: string }>((u) => u.item),
  ),
});
export type Recipe = z.infer<typeof recipe>;

/** Steps and dressings that would moisten or seal a wound that must stay dry [EV-PRA-01, EV-DRS-07]. */
const WET_STEPS: readonly string[] = ['clean', 'primary', 'protectSkin'];
const DRY_FAMILIES: readonly string[] = ['dryGauze', 'absorbentPad'];
function isDry(r: Recipe): boolean {
  const dressings = [r.primary, r.secondary].filter((d) => d !== undefined);
  return !r.steps.some((s) => WET_STEPS.includes(s.step)) && dressings.every((d) => DRY_FAMILIES.includes(d.family));
}

const band = z.union([z.strictObject({ recipe }), z.strictObject({ callUs: z.literal(true) })]);

const wound = z
  .strictObject({
    id,
    site: z.enum(SITES),
    side: z.enum(SIDES),
    label: z.optional(text(40)),
    keepDry: z.boolean(),
    baseline: z.optional(z.strictObject({ day, lengthMm: sizeMm, widthMm: sizeMm, depthMm: z.optional(sizeMm) })),
    expectedDrainage: z
      .tuple([z.enum(BANDS), z.enum(BANDS)])
      .check(z.refine(([low, high]) => bandRank(low) <= bandRank(high), { error: 'rangeBackwards' })),
    known: z.array(finding).check(
      z.maxLength(20),
      unique<string>((f) => f),
    ),
    bands: z.strictObject({ none: band, light: band, moderate: band, heavy: band }),
  })
  .check(
    z.refine(
      (w) =>
        !w.keepDry ||
        BANDS.every((b) => {
          const own = w.bands[b];
          return 'callUs' in own || isDry(own.recipe);
        }),
      { path: ['keepDry'], error: 'moistStepOnDryWound' },
    ),
    z.refine((w) => w.known.every((f) => knownIsComplete(f, w.known, w.expectedDrainage)), { path: ['known'], error: 'milderNotKnown' }),
  );
export type Wound = z.infer<typeof wound>;

/** Codes that may be quieted, mildest first, by question: to quiet one, the milder ones must be known as well. */
const QUIETABLE_IN_ORDER: Readonly<Record<string, readonly string[]>> = {
  dressing: ['markedThrough', 'leaking'],
  drainageColour: ['red', 'cloudyThick', 'green'],
  edge: ['whiteSoggy', 'newBlisterOrSore'],
  offloading: ['hardly', 'brokenOrHurts'],
};

/**
 * A known finding must not leave a milder sign of the same question loud: that
 * would give the worse answer the lower level (property 1 of the specification).
 */
export function knownIsComplete(known: string, all: readonly string[], expected: readonly [Band, Band]): boolean {
  const [id, code] = known.split(':') as [string, string];
  // An amount counts only above the range that the plan expects.
  const order = id === 'drainageAmount' ? BANDS.slice(bandRank(expected[1]) + 1) : (QUIETABLE_IN_ORDER[id] ?? []);
  return order.slice(0, Math.max(0, order.indexOf(code as Band))).every((milder) => all.includes(`${id}:${milder}`));
}

const supply = z.strictObject({
  id,
  name: text(80),
  family: z.optional(z.enum(FAMILY_IDS)),
  packOf: z.optional(z.int().check(z.positive({ error: 'outOfRange' }), z.maximum(1000, { error: 'outOfRange' }))),
});
export type Supply = z.infer<typeof supply>;

/** One optional level for each rule of the table, never below the rule's own. A strict object, because a record would pass over a key called `__proto__` in silence. */
const raisedRules = z.strictObject(
  Object.fromEntries(
    TABLE_RULE_IDS.map((id) => [
      id,
      z.optional(z.enum(LEVELS).check(z.refine((level) => isAtLeast(level, RULE_LEVELS[id]), { error: 'looser' }))),
    ]),
  ),
) as unknown as z.ZodMiniType<Partial<Record<string, Level>>>;
const threshold = (key: keyof Thresholds) =>
  z.optional(
    z
      .number()
      .check(z.maximum(DEFAULT_THRESHOLDS[key], { error: 'looser' }), z.minimum(STRICTEST_THRESHOLDS[key], { error: 'outOfRange' })),
  );

const escalation = z.strictObject({
  raise: z.optional(raisedRules),
  thresholds: z.optional(
    z.strictObject({
      feverC: threshold('feverC'),
      raisedC: threshold('raisedC'),
      warmthDifferenceC: threshold('warmthDifferenceC'),
      glucoseHighMgdl: threshold('glucoseHighMgdl'),
      glucoseHighIllMgdl: threshold('glucoseHighIllMgdl'),
      growthShare: threshold('growthShare'),
    }),
  ),
  alsoSigns: z.optional(z.array(extraSign).check(z.maxLength(12))),
});

export const planSchema = z
  .strictObject({
    version: z.literal(PLAN_VERSION),
    id,
    /** Counts up by one with every new version of the same plan. */
    revision: z.int().check(z.positive({ error: 'outOfRange' }), z.maximum(100_000, { error: 'outOfRange' })),
    issued: day,
    clinic: clinicSchema,
    person,
    wounds: z.array(wound).check(
      z.minLength(1, { error: 'empty' }),
      z.maxLength(4, { error: 'tooMany' }),
      unique<{ id: string }>((w) => w.id),
    ),
    supplies: z.array(supply).check(
      z.maxLength(60),
      unique<{ id: string }>((s) => s.id),
    ),
    donts: z.array(z.enum(DONTS)).check(unique<string>((d) => d)),
    ownDonts: z.array(text(160)).check(z.maxLength(8)),
    device: z.optional(z.strictObject({ kind: z.enum(DEVICES), note: z.optional(text(200)) })),
    asks: z.array(z.enum(ASKABLE)).check(unique<string>((a) => a)),
    /** Names of matching places on both feet to measure; only with `warmth` in `asks`. */
    warmthSites: z.optional(
      z.array(text(40)).check(
        z.minLength(1),
        z.maxLength(8),
        unique<string>((s) => s),
      ),
    ),
    escalation,
    /** Changes of several wounds that fall due within this many hours are done in one sitting. */
    joinWithinHours: z.optional(z.int().check(z.minimum(0, { error: 'outOfRange' }), z.maximum(24, { error: 'outOfRange' }))),
    reviewBy: z.optional(day),
    nextVisit: z.optional(z.strictObject({ day, time })),
    greeting: z.optional(text(400)),
    /** A sample to try the app with: its clinic and phone numbers do not exist. */
    sample: z.optional(z.boolean()),
  })
  .check(
    z.refine((p) => p.wounds.every((w) => usesOf(w).every((u) => p.supplies.some((s) => s.id === u.item))), {
      path: ['supplies'],
      error: 'usesUnknownItem',
    }),
  );
/** A care plan as the clinic writes it. */
export type Plan = z.infer<typeof planSchema>;

function usesOf(w: { bands: Record<Band, z.infer<typeof band>> }): { item: string; amount: number }[] {
  return BANDS.flatMap((b) => {
    const own = w.bands[b];
    return 'recipe' in own ? own.recipe.uses : [];
  });
}

/** The wound's recipe for a drainage band, or undefined where the plan says "call us". */
export function recipeFor(wound: Wound, amount: Band): Recipe | undefined {
  const own = wound.bands[amount];
  return 'recipe' in own ? own.recipe : undefined;
}

/** The wound's drainage bands, those of one recipe together; no recipe where the plan says "call us". */
export function recipeGroups(wound: Wound): { bands: Band[]; recipe: Recipe | undefined }[] {
  const groups: { bands: Band[]; recipe: Recipe | undefined }[] = [];
  for (const band of BANDS) {
    const recipe = recipeFor(wound, band);
    const same = groups.find((g) => JSON.stringify(g.recipe) === JSON.stringify(recipe));
    if (same) same.bands.push(band);
    else groups.push({ bands: [band], recipe });
  }
  return groups;
}

export type PlanReading = { ok: true; plan: Plan } | { ok: false; faults: PlanFault[] };

/**
 * Reads a plan from parsed JSON of any origin.
 * @returns the plan, or every fault found; nothing is repaired or guessed.
 */
export function readPlan(content: unknown): PlanReading {
  const version = (content as { version?: unknown } | null | undefined)?.version;
  if (typeof version === 'number' && version > PLAN_VERSION) return { ok: false, faults: [{ path: ['version'], fault: 'newerVersion' }] };
  // The input tells a missing field from one of the wrong type.
  const parsed = planSchema.safeParse(content, { reportInput: true });
  if (parsed.success) return { ok: true, plan: parsed.data };
  return { ok: false, faults: faultsOf(parsed.error.issues) };
}

/** Codes of `question` that a clinic can mark as known; those that fire nothing are allowed, for the log. */
export const knownCodes = (id: string): readonly string[] => question(id).codes.slice(1);
