import { BANDS, type Band } from '../check/questions.ts';
import { type Family, type FamilyId, familyOf } from '../dressings/families.ts';
import type { LocalDay } from '../schedule/day.ts';
import { longestGapHours } from '../schedule/due.ts';
import { type ClinicView, type InfectionSign, signsIn, type WoundSize } from './clinic-view.ts';
import { type DraftPlan, type DraftRecipe, type DraftWound, draftRecipe } from './draft.ts';
import type { Dressing, Interval } from './plan.ts';

/** What the findings need beside the plan and the view. */
export interface FindingContext {
  today: LocalDay;
  /** How much of each supply is at the person's home, by supply id, in the unit of the recipes. A missing one is not known. */
  onHand?: Readonly<Record<string, number>> | undefined;
  /** Region of the desk's own language (ISO 3166-1 alpha-2): the best guess at that of the phone. */
  region?: string | undefined;
}

export type Layer = 'primary' | 'secondary';

/** One dressing of a recipe with what its family does. */
export interface LayerFacts {
  layer: Layer;
  dressing: Dressing;
  family: Family & { id: FamilyId };
}

/** One recipe with what the findings ask about it. */
export interface RecipeFacts {
  wound: DraftWound;
  /** Undefined where the clinician entered nothing about this wound yet. */
  view: ClinicView | undefined;
  band: Band;
  recipe: DraftRecipe;
  /** Primary before secondary. */
  layers: readonly LayerFacts[];
  primary: LayerFacts | undefined;
  secondary: LayerFacts | undefined;
  /** Marked in the plan or seen as dry gangrene. */
  staysDry: boolean;
  signs: readonly InfectionSign[];
  gapHours: number;
}

/** Changes in seven days. */
export function changesAWeek(interval: Interval): number {
  if (interval.kind === 'hours') return 168 / interval.hours;
  return interval.kind === 'timesADay' ? interval.times * 7 : interval.days.length;
}

const layerOf = (layer: Layer, dressing: Dressing | undefined): LayerFacts | undefined =>
  dressing && { layer, dressing, family: { ...familyOf(dressing.family), id: dressing.family } };

/** The measured size of a wound, where the plan has one. */
export const sizeOf = (wound: DraftWound): WoundSize | undefined => wound.baseline;

/** The dressing that covers the wound: the second layer, or a first that needs none. */
export function coverOf(facts: RecipeFacts): LayerFacts | undefined {
  return facts.secondary ?? (facts.primary?.family.needsSecondary ? undefined : facts.primary);
}

/** Every recipe of a draft, wound by wound, driest band first. */
export function recipesOf(draft: DraftPlan, seen: Readonly<Record<string, ClinicView>>): RecipeFacts[] {
  return draft.wounds.flatMap((wound) => {
    const view = Object.hasOwn(seen, wound.id) ? seen[wound.id] : undefined;
    return BANDS.flatMap((band): RecipeFacts[] => {
      const recipe = draftRecipe(wound, band);
      if (!recipe) return [];
      const primary = layerOf('primary', recipe.primary);
      const secondary = layerOf('secondary', recipe.secondary);
      return [
        {
          wound,
          view,
          band,
          recipe,
          layers: [primary, secondary].filter((l) => l !== undefined),
          primary,
          secondary,
          staysDry: wound.keepDry || view?.dryGangrene === true,
          signs: view ? signsIn(view) : [],
          gapHours: longestGapHours(recipe.change),
        },
      ];
    });
  });
}

/** Free words of a recipe that may speak of a product. A note on washing hands may well name an alcohol rub [EV-PRO-02, WHO 2009]. */
export function notesOf({ recipe, layers }: RecipeFacts): string[] {
  const ofSteps = recipe.steps.filter((s) => s.step !== 'washHandsAgain').map((s) => s.note);
  const ofDressings = layers.flatMap(({ dressing }) => [dressing.name, dressing.note]);
  return [...ofSteps, ...ofDressings].filter((text) => text !== undefined);
}
