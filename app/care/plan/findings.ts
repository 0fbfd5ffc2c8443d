import { BANDS, type Band } from '../check/questions.ts';
import { usualMostOf } from '../dressings/families.ts';
import { isAtLeast } from '../escalation/levels.ts';
import { DEFAULT_THRESHOLDS, type Thresholds } from '../escalation/limits.ts';
import { RULES } from '../escalation/rules.ts';
import type { ClinicView } from './clinic-view.ts';
import { type DraftPlan, draftRecipe } from './draft.ts';
import { changesAWeek, coverOf, type FindingContext, notesOf, type RecipeFacts, recipesOf, sizeOf } from './finding-facts.ts';
import { type Desk, type FindingRule, type Firing, GRAVITIES, type Gravity, type Params } from './finding-rule.ts';
import { HARMFUL_WORDS, harmfulIn } from './harmful-words.ts';
import { leastPad, reaches } from './margins.ts';
import { knownIsComplete } from './plan.ts';
import { CLINIC_RULES, DATE_RULES, WOUND_RULES } from './plan-findings.ts';

export type { FindingContext } from './finding-facts.ts';
export { GRAVITIES, type Gravity } from './finding-rule.ts';

const WET_BANDS: readonly Band[] = ['moderate', 'heavy'];
const DRY_WOUND_STEPS: readonly string[] = ['clean', 'primary', 'protectSkin'];

const at = ({ wound, band }: RecipeFacts, more: Firing = {}): Firing => ({ wound: wound.id, band, ...more });
const inRecipes =
  (test: (facts: RecipeFacts) => readonly Firing[]) =>
  ({ recipes }: Desk): readonly Firing[] =>
    recipes.flatMap(test);
/** What moistens or seals in a recipe, as `kind:code`. A step that lays on what is named already is not named again. */
function moistIn({ recipe, layers, primary }: RecipeFacts): string[] {
  const moist = layers.filter((l) => !l.family.keepsDry);
  const protects = recipe.skinProtection !== 'none';
  const steps = recipe.steps.filter(
    ({ step }) =>
      DRY_WOUND_STEPS.includes(step) && !(step === 'protectSkin' && protects) && !(step === 'primary' && moist.some((l) => l === primary)),
  );
  return [
    ...moist.map((l) => `family:${l.family.id}`),
    ...(protects ? [`skinProtection:${recipe.skinProtection}`] : []),
    ...steps.map(({ step }) => `step:${step}`),
  ];
}
/** One firing with the family of a dressing of the recipe. */
const ofLayer = (facts: RecipeFacts, layer: RecipeFacts['primary'], variant?: string): readonly Firing[] =>
  layer ? [at(facts, { ...(variant === undefined ? {} : { variant }), params: { layer: layer.layer, family: layer.family.id } })] : [];

/** What the desk checks in a plan being written, the gravest kind of trouble with a wound first. */
export const FINDING_RULES = [
  {
    id: 'moist-on-keep-dry',
    gravity: 'stops',
    source: ['EV-PRA-01', 'EV-DRS-07'],
    // One for a recipe, with all in it that does not belong: it is rewritten as a whole.
    when: inRecipes((f) => {
      const items = f.staysDry ? moistIn(f) : [];
      return items.length > 0 ? [at(f, { params: { items: items.join() } })] : [];
    }),
  },
  {
    id: 'absorptive-on-dry',
    gravity: 'warns',
    source: ['EV-PRA-02', 'EV-DRS-06', 'EV-DRS-07'],
    when: inRecipes((f) => (f.band === 'none' && !f.staysDry && f.primary?.family.fluid === 'absorbs' ? ofLayer(f, f.primary) : [])),
  },
  {
    id: 'hydrogel-on-wet',
    gravity: 'warns',
    source: ['EV-PRA-02', 'EV-DRS-06', 'EV-LCD-04'],
    when: inRecipes((f) =>
      WET_BANDS.includes(f.band)
        ? ofLayer(
            f,
            f.layers.find((l) => l.family.fluid === 'adds'),
          )
        : [],
    ),
  },
  {
    id: 'collagen-alone-on-wet',
    gravity: 'warns',
    source: ['EV-PRA-03', 'EV-LCD-07'],
    when: inRecipes((f) => {
      const collagen = f.primary?.family.id.startsWith('collagen');
      return WET_BANDS.includes(f.band) && collagen && f.secondary?.family.fluid !== 'absorbs' ? ofLayer(f, f.primary) : [];
    }),
  },
  {
    id: 'hydrating-with-absorptive',
    gravity: 'warns',
    source: ['EV-LCD-17'],
    when: inRecipes((f) => {
      const adds = f.layers.find((l) => l.family.fluid === 'adds');
      const absorbs = f.layers.find((l) => l.family.fluid === 'absorbs');
      return adds && absorbs ? [at(f, { params: { family: adds.family.id, with: absorbs.family.id } })] : [];
    }),
  },
  {
    id: 'several-days-with-infection',
    gravity: 'warns',
    source: ['EV-PRA-05', 'EV-DRS-08'],
    variants: ['occlusive', 'foam', 'wear'],
    when: inRecipes((f) => {
      if (f.signs.length === 0) return [];
      const sealed = f.layers.find((l) => l.family.occlusive);
      if (sealed) return ofLayer(f, sealed, 'occlusive');
      const foam = f.layers.find((l) => l.family.id.startsWith('foam'));
      if (f.gapHours <= 24) return [];
      const hours = Math.round(f.gapHours);
      return foam
        ? [at(f, { variant: 'foam', params: { layer: foam.layer, family: foam.family.id, hours } })]
        : [at(f, { variant: 'wear', params: { hours } })];
    }),
  },
  {
    id: 'harmful-cleanser',
    gravity: 'stops',
    source: ['EV-PRA-06', 'EV-DRS-09'],
    when: inRecipes((f) => {
      const { cleanser } = f.recipe;
      return cleanser === 'alcohol' || cleanser === 'hydrogenPeroxide' ? [at(f, { params: { cleanser } })] : [];
    }),
  },
  {
    id: 'harmful-words',
    gravity: 'warns',
    source: ['EV-PRA-06', 'EV-DRS-09', 'EV-PRA-01'],
    variants: HARMFUL_WORDS,
    when: ({ draft, recipes }) => {
      const free = { alcohol: true, peroxide: true, iodine: true, ointment: draft.wounds.some((w) => w.keepDry) };
      const ofRecipes = recipes.flatMap((f) => {
        const matters = { ...free, iodine: f.recipe.iodinePrescribed !== true, ointment: f.staysDry };
        const kinds = new Set(notesOf(f).flatMap(harmfulIn));
        return [...kinds].filter((kind) => matters[kind]).map((variant) => at(f, { variant }));
      });
      const ofGreeting = harmfulIn(draft.greeting ?? '').filter((kind) => free[kind]);
      return [...ofRecipes, ...ofGreeting.map((variant) => ({ variant }))];
    },
  },
  {
    id: 'iodine-not-prescribed',
    gravity: 'stops',
    source: ['EV-PRA-06', 'EV-DRS-09'],
    when: inRecipes((f) => (f.recipe.cleanser === 'povidoneIodine' && f.recipe.iodinePrescribed !== true ? [at(f)] : [])),
  },
  {
    id: 'secondary-missing',
    gravity: 'stops',
    source: ['EV-PRA-05', 'practice'],
    when: inRecipes((f) => {
      const held = f.secondary !== undefined && f.secondary.family.layer !== 'primary';
      return f.primary?.family.needsSecondary && !held ? ofLayer(f, f.primary) : [];
    }),
  },
  {
    id: 'change-above-usual',
    gravity: 'tells',
    // CMS LCD L33831; which figures are from memory stands with the families.
    source: ['EV-LCD-01', 'EV-LCD-02', 'EV-LCD-03', 'EV-LCD-08', 'EV-LCD-11', 'EV-LCD-12', 'EV-LCD-13', 'EV-LCD-14', 'EV-LCD-15'],
    variants: ['read', 'fromMemory'],
    when: inRecipes((f) =>
      f.layers.flatMap(({ layer, family }) => {
        const bordered = f.recipe.fixation === 'adhesiveBorder' && coverOf(f)?.layer === layer;
        const most = usualMostOf(family.id, bordered);
        const perWeek = changesAWeek(f.recipe.change);
        // A week of seven days holds 3.5 of every other day, so times are compared without dividing.
        if (!most || perWeek * most.days <= most.times * 7) return [];
        const params = { layer, family: family.id, perWeek: Math.round(perWeek * 10) / 10, times: most.times, days: most.days };
        return [at(f, { variant: most.seen ? 'read' : 'fromMemory', params: { ...params, row: most.source } })];
      }),
    ),
  },
  {
    id: 'pad-too-small',
    gravity: 'tells',
    source: ['EV-LCD-05'],
    when: inRecipes((f) => {
      const size = sizeOf(f.wound);
      const { widthMm, heightMm } = coverOf(f)?.dressing ?? {};
      if (!size || widthMm === undefined || heightMm === undefined) return [];
      const least = leastPad(size);
      if (reaches({ widthMm, heightMm }, least)) return [];
      return [at(f, { params: { widthMm, heightMm, leastWidthMm: least.widthMm, leastHeightMm: least.heightMm } })];
    }),
  },
  {
    id: 'silver-without-signs',
    gravity: 'tells',
    source: ['EV-DRS-02', 'EV-PRA-07'],
    when: inRecipes((f) =>
      f.view && f.signs.length === 0
        ? ofLayer(
            f,
            f.layers.find((l) => l.dressing.silver),
          )
        : [],
    ),
  },
  {
    id: 'band-open',
    gravity: 'stops',
    source: ['practice'],
    variants: ['open', 'empty'],
    when: ({ draft }) =>
      draft.wounds.flatMap((wound) =>
        BANDS.flatMap((band): Firing[] => {
          if (wound.bands[band] === undefined) return [{ wound: wound.id, band, variant: 'open' }];
          const recipe = draftRecipe(wound, band);
          const covers = recipe?.primary ?? recipe?.secondary ?? recipe?.steps.find((s) => s.step === 'dryDressing');
          return recipe && (!covers || recipe.steps.length === 0) ? [{ wound: wound.id, band, variant: 'empty' }] : [];
        }),
      ),
  },
  ...WOUND_RULES,
  ...CLINIC_RULES,
  ...DATE_RULES,
  {
    id: 'loosens-escalation',
    gravity: 'stops',
    source: ['cautious'],
    variants: ['threshold', 'rule', 'known'],
    when: ({ draft }) => [
      ...Object.entries(draft.escalation.thresholds ?? {}).flatMap(([key, value]): Firing[] => {
        const most = Object.hasOwn(DEFAULT_THRESHOLDS, key) ? DEFAULT_THRESHOLDS[key as keyof Thresholds] : undefined;
        // Written so that what is no number counts as looser.
        if (value === undefined || most === undefined || value <= most) return [];
        return [{ variant: 'threshold', params: { field: `escalation.thresholds.${key}`, value, most } }];
      }),
      ...Object.entries(draft.escalation.raise ?? {}).flatMap(([id, level]): Firing[] => {
        const rule = RULES.find((r) => r.id === id);
        if (!rule || level === undefined || isAtLeast(level, rule.level)) return [];
        return [{ variant: 'rule', params: { field: `escalation.raise.${id}`, value: level, least: rule.level } }];
      }),
      // Knowing the graver colour without the milder one would give the worse answer the lower level.
      ...draft.wounds.flatMap((w) =>
        w.known
          .filter((f) => !knownIsComplete(f, w.known, w.expectedDrainage))
          .map((value) => ({ wound: w.id, variant: 'known', params: { field: 'known', value } })),
      ),
    ],
  },
] as const satisfies readonly FindingRule[];

export type FindingId = (typeof FINDING_RULES)[number]['id'];
export const FINDING_IDS: readonly FindingId[] = FINDING_RULES.map((r) => r.id);

const reasonOf = (id: FindingId, variant: string | undefined): string =>
  variant === undefined ? `finding.${id}` : `finding.${id}.${variant}`;

/** Every `reason` a finding can have, in the order of the table. */
export const FINDING_REASONS: readonly string[] = FINDING_RULES.flatMap(({ id, variants }: FindingRule & { id: FindingId }) =>
  (variants ?? [undefined]).map((variant) => reasonOf(id, variant)),
);

/** One thing to know about a plan before it is handed over. */
export interface Finding {
  id: FindingId;
  gravity: Gravity;
  /** The wound it is about; absent where it is about the whole plan. */
  wound?: string;
  band?: Band;
  variant?: string;
  /** Rows of the evidence table, `practice` or `cautious`. */
  source: readonly string[];
  /** Message key: `finding.<id>`, or `finding.<id>.<variant>` where there is a variant. */
  reason: string;
  /** Codes, ids, millimetres, hours, counts and days for the words. */
  params: Params;
}

/**
 * What is wrong with a plan or draft, or worth knowing, stopping findings
 * first, otherwise in the order of the table. It never changes the plan; the
 * clinician decides.
 * @param seen what the clinician entered, by wound id; a wound may be missing.
 */
export function findings(draft: DraftPlan, seen: Readonly<Record<string, ClinicView>>, context: FindingContext): Finding[] {
  const desk: Desk = { draft, recipes: recipesOf(draft, seen), context };
  const all = FINDING_RULES.flatMap(({ id, gravity, source, when }: FindingRule & { id: FindingId }) =>
    when(desk).map(
      ({ params = {}, ...where }): Finding => ({ id, gravity, ...where, source, reason: reasonOf(id, where.variant), params }),
    ),
  );
  return GRAVITIES.flatMap((gravity) => all.filter((f) => f.gravity === gravity));
}

/** Whether nothing stops the hand-over. */
export const mayHandOver = (found: readonly Finding[]): boolean => !found.some((f) => f.gravity === 'stops');
