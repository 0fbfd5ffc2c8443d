import type { Band } from '../check/questions.ts';
import type { ChangeRecord, RecordOf } from '../log/records.ts';
import type { Entry } from '../log/timeline.ts';
import { likelyRecipe } from '../plan/likely-recipe.ts';
import type { Interval } from '../plan/plan.ts';
import { type Plan, recipeFor, type Wound } from '../plan/plan.ts';
import { meanGapHours } from '../schedule/due.ts';

/** Pieces of one item. */
export interface ItemUse {
  item: string;
  amount: number;
}

/** The `used` records written for a change, withdrawn ones too. `change` is the id of its first version. */
export function usedRecordsOf(entries: readonly Entry[], change: string): Entry<RecordOf<'stock'>>[] {
  return entries.filter(
    (e): e is Entry<RecordOf<'stock'>> => e.now.kind === 'stock' && e.now.movement === 'used' && e.now.change === change,
  );
}

/**
 * What a finished change used by its recipe, to be written as `used` records.
 *
 * Nothing for a change that was broken off, that only covered the wound, or
 * that has `used` records already; a record that was withdrawn counts as one,
 * because somebody decided so.
 * @param plan the plan in force at the change.
 */
export function usesOfChange(plan: Plan, change: ChangeRecord, entries: readonly Entry[] = []): ItemUse[] {
  const wound = plan.wounds.find((w) => w.id === change.wound);
  if (!wound || change.stopped || change.path === 'coverAndCall' || change.band === undefined) return [];
  if (usedRecordsOf(entries, change.amends ?? change.id).length > 0) return [];
  return recipeFor(wound, change.band)?.uses.map(({ item, amount }) => ({ item, amount })) ?? [];
}

/** What the next change of a wound will use, by the amount found last. */
export const usesOfNext = (wound: Wound, found: Band | undefined): readonly ItemUse[] => likelyRecipe(wound, found)?.recipe.uses ?? [];

/**
 * Changes to be supplied for a number of days: changes a week × days / 7,
 * rounded up [TH-15, EV-SUP-01; arithmetic, no published worked example].
 */
export function changesIn(interval: Interval, days: number): number {
  // The hair's breadth keeps 15.000000000000002 from becoming 16.
  return Math.ceil((days * 24) / meanGapHours(interval) - 1e-9);
}
