import { sizesOf } from '../healing/sizes.ts';
import type { Entry } from '../log/timeline.ts';
import type { Plan } from '../plan/plan.ts';
import type { PastOptions } from '../schedule/past-changes.ts';
import { type ChangeFit, type FitFinding, fitFinding, fitOf } from './fit.ts';
import { foundAtChanges } from './series.ts';
import { type Weighed, weighingsOf } from './weighing.ts';

/** All there is to say about the drainage of one wound. */
export interface Drainage {
  /** What was found at each change (`found`) and how its dressing had suited the wound, oldest first. */
  changes: readonly ChangeFit[];
  /** One line for the clinic's list where the newest changes say twice in a row that it does not fit. */
  finding: FitFinding | undefined;
  /** Weighed dressings, oldest first. */
  weighed: readonly Weighed[];
}

/**
 * The drainage of a wound over time.
 * @param now ms. @param zone the person's IANA time zone now.
 * @param options `older`: plans in force before. `since` (ms): leave out what was before.
 */
export function drainageOf(
  plan: Plan,
  entries: readonly Entry[],
  woundId: string,
  now: number,
  zone: string,
  options: PastOptions = {},
): Drainage {
  const changes = foundAtChanges(plan, entries, woundId, now, zone, options).map(fitOf);
  const sizes = sizesOf(entries, plan.wounds.find((w) => w.id === woundId) ?? { id: woundId }, now);
  const since = options.since ?? Number.NEGATIVE_INFINITY;
  return {
    changes,
    finding: fitFinding(changes),
    weighed: weighingsOf(entries, woundId, sizes, now).filter((w) => w.at >= since),
  };
}
