import type { Comparison } from '../healing/compare.ts';
import { healingOf } from '../healing/healing.ts';
import type { MilestoneStanding } from '../healing/milestones.ts';
import { type WoundSize, withArea } from '../healing/sizes.ts';
import { type AreaPoint, areaSeries } from '../log/series.ts';
import { type Scope, woundOf } from './scope.ts';

/** The size of one wound, as far as the appointment asks for it. */
export interface SizePart {
  /** The first size there is, of whatever time, and the last one up to the end of the period. */
  first: WoundSize | undefined;
  last: WoundSize | undefined;
  /** Sizes taken in the period, in order. */
  inPeriod: WoundSize[];
  /** First against last, with the share that is gone; undefined with fewer than two areas. */
  sinceFirst: Comparison | undefined;
  milestones: readonly MilestoneStanding[];
  /** Every area from the first one to the end of the period, for a chart. */
  points: AreaPoint[];
}

/** Size of one wound at the end of the period. It begins where the plan in force says, as it does for the rules. */
export function sizePart(scope: Scope, wound: string): SizePart {
  const { entries, end, period } = scope;
  const { sizes, sinceFirst, milestones } = healingOf(entries, woundOf(scope, wound) ?? { id: wound }, { at: end, day: period.to });
  const areas = withArea(sizes);
  return {
    first: areas[0] ?? sizes[0],
    last: areas.at(-1) ?? sizes.at(-1),
    inPeriod: sizes.filter((s) => s.day >= period.from),
    sinceFirst,
    milestones,
    points: areaSeries(entries, wound, [...scope.earlierPlans, scope.plan]).filter((p) => p.day <= period.to),
  };
}
