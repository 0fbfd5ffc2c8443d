import { DEFAULT_THRESHOLDS } from '../escalation/limits.ts';
import type { Moment } from '../escalation/past.ts';
import type { Entry } from '../log/timeline.ts';
import type { Wound } from '../plan/plan.ts';
import { type Comparison, compareSizes } from './compare.ts';
import { type Course, courseOf } from './course.ts';
import { type MilestoneStanding, milestonesOf } from './milestones.ts';
import { type ReviewReason, reviewReasons } from './review.ts';
import { sizesOf, type WoundSize, withArea } from './sizes.ts';

/** All there is to say about the size of one wound. */
export interface Healing {
  /** Oldest first. */
  sizes: readonly WoundSize[];
  /** First area against the newest, and the one before the newest against it; undefined with fewer than two. */
  sinceFirst: Comparison | undefined;
  sinceLast: Comparison | undefined;
  course: Course;
  milestones: readonly MilestoneStanding[];
  /** Reasons to ask the clinic for a review. */
  review: readonly ReviewReason[];
}

/**
 * The size of a wound over time.
 * @param growthShare how much larger counts: `limitsOf(…).thresholds.growthShare`, else that of the rule table.
 */
export function healingOf(
  entries: readonly Entry[],
  wound: Pick<Wound, 'id' | 'baseline'>,
  now: Moment,
  growthShare: number = DEFAULT_THRESHOLDS.growthShare,
): Healing {
  const sizes = sizesOf(entries, wound, now.at);
  const areas = withArea(sizes);
  const [first, before, last] = [areas[0], areas.at(-2), areas.at(-1)];
  const milestones = milestonesOf(sizes, now.day);
  return {
    sizes,
    sinceFirst: first && last && before ? compareSizes(first, last) : undefined,
    sinceLast: before && last ? compareSizes(before, last) : undefined,
    course: courseOf(sizes),
    milestones,
    review: reviewReasons(sizes, milestones, growthShare),
  };
}
