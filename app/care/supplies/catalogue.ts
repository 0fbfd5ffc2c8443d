import { BANDS } from '../check/questions.ts';
import type { FamilyId } from '../dressings/families.ts';
import type { Entry } from '../log/timeline.ts';
import { type Plan, recipeFor } from '../plan/plan.ts';
import { itemsMoved, ledger } from './ledger.ts';

/** `plan`: of the plan in force. `own`: the person's. `older`: neither any more, but pieces are still there. */
export type ItemSource = 'plan' | 'own' | 'older';

export interface CatalogueItem {
  id: string;
  source: ItemSource;
  /** Absent only for an item of an older plan that is no longer at hand. */
  name?: string;
  family?: FamilyId;
  packOf?: number;
  /** A recipe of the plan in force uses it. */
  inRecipe: boolean;
}

/**
 * The items to show, each once: those that a recipe of the plan uses, other
 * items of the plan that have moved, the person's own, and items of older plans
 * of which pieces are still there.
 * @param older plans in force before, newest first, for the names of their items.
 */
export function catalogue(plan: Plan, entries: readonly Entry[], older: readonly Plan[] = []): CatalogueItem[] {
  const inRecipes = new Set(plan.wounds.flatMap((w) => BANDS.flatMap((b) => recipeFor(w, b)?.uses.map((u) => u.item) ?? [])));
  const moved = itemsMoved(entries);
  const planItems = plan.supplies
    .filter((s) => inRecipes.has(s.id) || moved.includes(s.id))
    .map((s): CatalogueItem => ({ ...s, source: 'plan', inRecipe: inRecipes.has(s.id) }) as CatalogueItem);
  const inPlan = new Set(plan.supplies.map((s) => s.id));
  const named = ownItems(entries).filter((o) => !inPlan.has(o.id));
  const own = named.filter((o) => !o.withdrawn);
  const shown = new Set([...inPlan, ...own.map((o) => o.id)]);
  const left = moved
    .filter((id) => !shown.has(id) && ledger(entries, id).onHand > 0)
    .map((id): CatalogueItem => {
      const known = older.flatMap((p) => p.supplies).find((s) => s.id === id) ?? named.find((o) => o.id === id);
      return { ...details(known), id, source: 'older', inRecipe: false };
    });
  return [...planItems, ...own.map((o): CatalogueItem => ({ ...details(o), id: o.id, source: 'own', inRecipe: false })), ...left];
}

type Known = { name: string; family?: FamilyId | undefined; packOf?: number | undefined };
function details(known: Known | undefined): Pick<CatalogueItem, 'name' | 'family' | 'packOf'> {
  if (!known) return {};
  return { name: known.name, ...(known.family && { family: known.family }), ...(known.packOf && { packOf: known.packOf }) };
}

interface OwnItem extends Known {
  id: string;
  withdrawn: boolean;
}

/** The person's own items, as described last; one that stands hides a withdrawn one of the same id. */
function ownItems(entries: readonly Entry[]): OwnItem[] {
  const items = new Map<string, OwnItem>();
  for (const { now, voided } of entries) {
    if (now.kind !== 'ownItem') continue;
    const known = items.get(now.item);
    if (known && !known.withdrawn && voided) continue;
    items.set(now.item, { id: now.item, name: now.name, packOf: now.packOf, withdrawn: voided !== undefined });
  }
  return [...items.values()];
}
