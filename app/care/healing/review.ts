import { isGrowing } from '../escalation/size.ts';
import { daysBetween } from '../schedule/day.ts';
import { type Comparison, compareSizes } from './compare.ts';
import { courseOf, type FittedCourse, trendOf } from './course.ts';
import type { MilestoneStanding } from './milestones.ts';
import { type WoundSize, withArea } from './sizes.ts';

/**
 * What in the sizes is a reason to ask the clinic for a review. A reason to ask
 * is no verdict on the wound: what it means is for the clinic to say.
 *
 * - `milestone`: less gone than hoped for at four or eight weeks (rule `size-stalled`).
 * - `larger`: larger than at first at two measurements (rule `size-growing`).
 * - `courseLarger`: the course of the last weeks says larger, its whole range does.
 * - `courseFlat`: the course of the last weeks does not show the wound getting smaller.
 */
export type ReviewReason =
  | { why: 'milestone'; milestone: MilestoneStanding; mixed: boolean; on: Comparison }
  | { why: 'larger'; mixed: boolean; on: Comparison }
  | { why: 'courseLarger' | 'courseFlat'; mixed: boolean; course: FittedCourse };

/**
 * How far back a course is looked at for a reason: eight weeks, as far as the
 * milestones reach (our judgement). A good beginning must not hide that nothing
 * has happened since.
 */
export const RECENT_DAYS = 56;

/**
 * Reasons to ask for a review, none when there are none. `mixed` says that the
 * sizes behind one were measured in different ways.
 * @param sizes oldest first. @param growthShare how much larger counts, as in the plan's limits.
 */
export function reviewReasons(sizes: readonly WoundSize[], milestones: readonly MilestoneStanding[], growthShare: number): ReviewReason[] {
  const areas = withArea(sizes);
  const [first, last] = [areas[0], areas.at(-1)];
  if (!first || !last) return [];
  const missed = milestones.flatMap((milestone): ReviewReason[] => {
    const { state, on } = milestone;
    return state === 'notMet' && on ? [{ why: 'milestone', milestone, mixed: on.mixed, on }] : [];
  });
  const whole = compareSizes(first, last);
  const larger: ReviewReason[] = isGrowing(areas, growthShare) ? [{ why: 'larger', mixed: whole.mixed, on: whole }] : [];
  const course = courseOf(areas.filter((s) => daysBetween(s.day, last.day) <= RECENT_DAYS));
  const trend = course.kind === 'fitted' ? trendOf(course.ratePerWeek) : 'smaller';
  if (course.kind !== 'fitted' || trend === 'smaller') return [...missed, ...larger];
  return [...missed, ...larger, { why: trend === 'larger' ? 'courseLarger' : 'courseFlat', mixed: course.mixed, course }];
}
