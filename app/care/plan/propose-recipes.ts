import type { RecipeStepId } from '../change/steps.ts';
import { BANDS, type Band, bandRank } from '../check/questions.ts';
import type { FamilyId } from '../dressings/families.ts';
import type { ClinicView, WoundSize } from './clinic-view.ts';
import type { DraftBand, DraftRecipe } from './draft.ts';
import { type PadSize, usualPadFor, usualSheetFor } from './margins.ts';
import type { Dressing, Interval } from './plan.ts';
import { proposeForBand } from './proposals.ts';

/** What a recipe uses beside dressings. */
export const BASIC_SUPPLIES = ['saline', 'swabs', 'gloves', 'barrierFilm', 'rollBandage'] as const;
export type BasicSupply = (typeof BASIC_SUPPLIES)[number];

/** A thing that a proposed recipe uses; the desk gives it its name in the person's language. */
export interface SupplyNeed {
  /** Id within the plan, for instance `foamBordered-100x100`. */
  id: string;
  kind: BasicSupply | 'dressing';
  family?: FamilyId | undefined;
  widthMm?: number | undefined;
  heightMm?: number | undefined;
}

/** Once a day. */
const DAILY: Interval = { kind: 'hours', hours: 24 };
/** Three times a week, as often as foam is usually changed at most [EV-LCD-08, from memory] and within two to three days of wear [EV-EXU-05]. */
const THREE_A_WEEK: Interval = { kind: 'weekdays', days: ['mon', 'wed', 'fri'] };
/** One to clean with and one to dress with [EV-PRO-03, MedlinePlus home dressing text]. */
const PAIRS_OF_GLOVES = 2;
/** To clean and to dry the skin (common practice). */
const SWABS = 4;

const sized = (family: FamilyId, size: PadSize | undefined): Dressing => ({ family, ...(size ?? {}) });

const dressingId = ({ family, widthMm, heightMm }: Dressing): string =>
  widthMm === undefined || heightMm === undefined ? family : `${family}-${widthMm}x${heightMm}`;

/** Gel, powder and rope have no width and height. */
const SHAPELESS: readonly FamilyId[] = ['hydrogel', 'collagenPowder', 'alginateRope', 'gellingFibreRope'];

/** A recipe for one amount of drainage out of the proposals; undefined where nothing is proposed. */
export function proposeRecipe(seen: ClinicView, band: Band, size: WoundSize | undefined): DraftRecipe | undefined {
  const proposals = proposeForBand(seen, band);
  const first = proposals.find((p) => p.layer === 'primary')?.family;
  const second = proposals.find((p) => p.layer === 'secondary')?.family;
  if (second === undefined) return undefined;
  const sheet = size && first && !SHAPELESS.includes(first) ? usualSheetFor(size) : undefined;
  const secondary = sized(second, size && usualPadFor(size));
  const primary = first && sized(first, sheet);
  const bordered = second === 'foamBordered';
  const wet = band !== 'none';
  const protects = wet && (seen.skinAround.includes('soggy') || band !== 'light');
  const dry = seen.dryGangrene;
  const cleans: RecipeStepId[] = dry ? [] : ['clean', 'dryAround', ...(protects ? (['protectSkin'] as const) : [])];
  const dresses: RecipeStepId[] = dry ? ['dryDressing'] : ['primary', 'secondary'];
  const uses = [
    ...[primary, secondary].flatMap((d) => (d ? [{ item: dressingId(d), amount: 1 }] : [])),
    ...(dry
      ? []
      : [
          { item: 'saline', amount: 1 },
          { item: 'swabs', amount: SWABS },
        ]),
    { item: 'gloves', amount: PAIRS_OF_GLOVES },
    ...(protects ? [{ item: 'barrierFilm', amount: 1 }] : []),
    ...(bordered ? [] : [{ item: 'rollBandage', amount: 1 }]),
  ];
  return {
    ...(primary ? { primary } : {}),
    secondary,
    fixation: bordered ? 'adhesiveBorder' : 'rollBandage',
    change: second === 'foam' || bordered ? THREE_A_WEEK : DAILY,
    cleanser: dry ? 'none' : 'saline',
    skinProtection: protects ? 'barrierFilm' : 'none',
    steps: ['freshGloves', ...cleans, ...dresses, 'fix', 'throwAway', 'washHandsAgain'].map((step) => ({ step: step as RecipeStepId })),
    uses,
  };
}

/** The amount found and the amounts beside it; none while it is not known. */
function coveredBands(seen: ClinicView): readonly Band[] {
  if (seen.dryGangrene) return ['none'];
  if (seen.drainage === undefined) return [];
  const found = bandRank(seen.drainage);
  return BANDS.filter((b) => Math.abs(bandRank(b) - found) <= 1);
}

/**
 * Recipes for the amount of drainage found and for the amounts beside it, so
 * that the plan still fits when it changes; "call us" for all others, and for
 * all while the amount is not known. A dry gangrene that drains is a call.
 * @param size of the wound, for the sizes of pads; without it they stay open.
 */
export function proposeRecipes(seen: ClinicView, size?: WoundSize): Record<Band, DraftBand> {
  const covered = coveredBands(seen);
  const bandOf = (band: Band): DraftBand => {
    const recipe = covered.includes(band) ? proposeRecipe(seen, band, size) : undefined;
    return recipe ? { recipe } : { callUs: true };
  };
  return { none: bandOf('none'), light: bandOf('light'), moderate: bandOf('moderate'), heavy: bandOf('heavy') };
}

/** Everything that some bands use, each thing once, dressings first. */
export function suppliesFor(bands: readonly DraftBand[]): SupplyNeed[] {
  const needs = new Map<string, SupplyNeed>();
  const recipes = bands.flatMap((b) => ('recipe' in b ? [b.recipe] : []));
  for (const dressing of recipes.flatMap((r) => [r.primary, r.secondary])) {
    if (!dressing) continue;
    const { family, widthMm, heightMm } = dressing;
    const id = dressingId(dressing);
    needs.set(id, { id, kind: 'dressing', family, widthMm, heightMm });
  }
  const used = new Set(recipes.flatMap((r) => r.uses.map((u) => u.item)));
  for (const kind of BASIC_SUPPLIES) if (used.has(kind)) needs.set(kind, { id: kind, kind });
  return [...needs.values()];
}
