import type { Band } from '../check/questions.ts';
import { CLEANSERS, type Plan, type PlanReading, type Recipe, readPlan, type Wound } from './plan.ts';

/**
 * What somebody may pick to clean a wound with. The last two do harm
 * [EV-PRA-06, common practice]; a draft can hold them, so that the finding can
 * say why not, a plan cannot.
 */
export const DRAFT_CLEANSERS = [...CLEANSERS, 'alcohol', 'hydrogenPeroxide'] as const;
export type DraftCleanser = (typeof DRAFT_CLEANSERS)[number];

export interface DraftRecipe extends Omit<Recipe, 'cleanser'> {
  cleanser: DraftCleanser;
}

export type DraftBand = { recipe: DraftRecipe } | { callUs: true };

/** A wound as it is being written: its place and a band may still be open. */
export interface DraftWound extends Omit<Wound, 'bands' | 'site' | 'side'> {
  site?: Wound['site'] | undefined;
  side?: Wound['side'] | undefined;
  bands: Partial<Record<Band, DraftBand>>;
}

/** A plan as it is being written. Every plan is a draft; a draft becomes a plan when `finishDraft` takes it. */
export interface DraftPlan extends Omit<Plan, 'wounds'> {
  wounds: DraftWound[];
}

/** The recipe a draft has for a band. */
export function draftRecipe(wound: DraftWound, band: Band): DraftRecipe | undefined {
  const own = wound.bands[band];
  return own && 'recipe' in own ? own.recipe : undefined;
}

/** Reads a draft as a plan, or tells every fault. Fields that are there but undefined count as absent. */
export const finishDraft = (draft: DraftPlan): PlanReading => readPlan(JSON.parse(JSON.stringify(draft)));

/** The next version of a plan, as a draft to work on. */
export function nextRevision(plan: Plan, issued: Plan['issued']): DraftPlan {
  return { ...structuredCopy(plan), revision: plan.revision + 1, issued };
}

const structuredCopy = (plan: Plan): Plan => JSON.parse(JSON.stringify(plan)) as Plan;
