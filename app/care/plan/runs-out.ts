import { BANDS, bandRank } from '../check/questions.ts';
import { addDays, daysBetween, type LocalDay, weekdayOf } from '../schedule/day.ts';
import { type DraftWound, draftRecipe } from './draft.ts';
import type { Interval } from './plan.ts';

/** Nobody plans further ahead; it also keeps a slip of the year from counting for ever. */
const DAYS_MOST = 400;

/** Changes on the `nth` day from `today` on, if the first is done at the start of today. */
function changesOn(interval: Interval, today: LocalDay, nth: number): number {
  if (interval.kind === 'timesADay') return interval.times;
  if (interval.kind === 'weekdays') return interval.days.includes(weekdayOf(addDays(today, nth))) ? 1 : 0;
  const before = (hours: number): number => Math.ceil(hours / interval.hours);
  return before(24 * (nth + 1)) - before(24 * nth);
}

/** How much of an item one wound may have used by the end of each day: of the expected bands, the one that has used most by then. */
function usedBy(wound: DraftWound, item: string, today: LocalDay, days: number): number[] {
  const most = Array<number>(days).fill(0);
  const [low, high] = wound.expectedDrainage;
  for (const band of BANDS.slice(bandRank(low), bandRank(high) + 1)) {
    const recipe = draftRecipe(wound, band);
    const amount = recipe?.uses.find((u) => u.item === item)?.amount;
    if (!recipe || amount === undefined) continue;
    let used = 0;
    for (let nth = 0; nth < days; nth++) {
      used += amount * changesOn(recipe.change, today, nth);
      most[nth] = Math.max(most[nth] as number, used);
    }
  }
  return most;
}

/**
 * The first day on which an item would be short before the next visit.
 * @param onHand how much of it there is, in the unit of the recipes.
 * @param visit the day of the visit; on that day the clinic brings its own.
 * @returns undefined when it lasts.
 */
export function runsOutOn(
  wounds: readonly DraftWound[],
  item: string,
  onHand: number,
  today: LocalDay,
  visit: LocalDay,
): LocalDay | undefined {
  const days = Math.min(Math.max(daysBetween(today, visit), 0), DAYS_MOST);
  const used = wounds.map((wound) => usedBy(wound, item, today, days));
  for (let nth = 0; nth < days; nth++) {
    if (used.reduce((sum, own) => sum + (own[nth] as number), 0) > onHand) return addDays(today, nth);
  }
  return undefined;
}
