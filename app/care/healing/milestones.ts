import { MILESTONES, standingAt } from '../escalation/size.ts';
import { addDays, daysBetween, type LocalDay } from '../schedule/day.ts';
import { type Comparison, compareSizes } from './compare.ts';
import { type WoundSize, withArea } from './sizes.ts';

/**
 * - `notYetDue`: its window of days has not passed yet, and holds no measurement.
 * - `noMeasurement`: nothing to begin with, or no measurement in the window.
 */
export type MilestoneState = 'met' | 'notMet' | 'notYetDue' | 'noMeasurement';

export interface MilestoneStanding {
  /** Weeks after the first measurement, and the share of the first area that is to be gone by then. */
  weeks: number;
  share: number;
  state: MilestoneState;
  /** First and last of the days on which a measurement counts; undefined where nothing was measured yet. */
  dueBetween: { from: LocalDay; to: LocalDay } | undefined;
  /** First measurement against the one that the state rests on; with `met` and `notMet` only. */
  on: Comparison | undefined;
  /** Met only by a measurement after those days, which made up for the one in it. */
  late: boolean;
}

/**
 * How a wound stands to half gone at four weeks and nine tenths at eight
 * [EV-HEA-02 to -04]. Some state is `notMet` exactly when the rule
 * `size-stalled` fires. Of the people who meet the first, half still have an
 * open wound at twelve weeks (EV-HEA-04, Warriner 2011): no odds may be read
 * from it.
 * @param sizes oldest first.
 */
export function milestonesOf(sizes: readonly WoundSize[], today: LocalDay): MilestoneStanding[] {
  const areas = withArea(sizes);
  const first = areas[0];
  return MILESTONES.map((milestone) => {
    const { weeks, share, fromDay, toDay } = milestone;
    const standing = standingAt(areas, milestone);
    const dueBetween = first && { from: addDays(first.day, fromDay), to: addDays(first.day, toDay) };
    if (!first || !standing) {
      const isOver = !first || first.areaMm2 <= 0 || daysBetween(first.day, today) > toDay;
      return { weeks, share, state: isOver ? 'noMeasurement' : 'notYetDue', dueBetween, on: undefined, late: false };
    }
    const on = compareSizes(first, standing.on);
    return { weeks, share, state: standing.met ? 'met' : 'notMet', dueBetween, on, late: on.days > toDay };
  });
}
