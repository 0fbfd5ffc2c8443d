import { type Entry, standing } from '../care/log/timeline.ts';
import type { Plan } from '../care/plan/plan.ts';

/** What the items of a book are called: by the newest plan that has them, else as the person named them. */
export function itemNames(plans: readonly Plan[], entries: readonly Entry[]): ReadonlyMap<string, string> {
  const own = standing(entries, 'ownItem').map((e): [string, string] => [e.now.item, e.now.name]);
  const planned = [...plans].reverse().flatMap((p) => p.supplies.map((s): [string, string] => [s.id, s.name]));
  return new Map([...own, ...planned]);
}
