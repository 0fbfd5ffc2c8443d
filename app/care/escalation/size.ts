import { ellipseAreaMm2 } from '../healing/area.ts';
import { daysBetween, type LocalDay } from '../schedule/day.ts';
import { byTime, type PastMeasurement } from './past.ts';

/** Area in mm²: as traced, else of the ellipse with these diameters; undefined when neither is known. */
export function areaOf(m: PastMeasurement): number | undefined {
  if (m.areaMm2 !== undefined) return m.areaMm2;
  if (m.lengthMm !== undefined && m.widthMm !== undefined) return ellipseAreaMm2(m.lengthMm, m.widthMm);
  return undefined;
}

interface Size {
  day: LocalDay;
  areaMm2: number;
}

/** Measurements with an area, oldest first. */
function sizesOf(measurements: readonly PastMeasurement[]): Size[] {
  return [...measurements].sort(byTime).flatMap((m) => {
    const areaMm2 = areaOf(m);
    return areaMm2 === undefined ? [] : [{ day: m.day, areaMm2 }];
  });
}

/** Areas are quotients of measured lengths; a hair's breadth of rounding must not decide. */
const HAIR = 1e-9;

/** A reduction that a wound is held against, and the days after the first measurement on which it is looked for. */
export interface Milestone {
  weeks: number;
  /** Share of the first area that is to be gone. */
  share: number;
  fromDay: number;
  toDay: number;
}

/** Half gone at four weeks, nine tenths at eight [EV-HEA-02, EV-HEA-03, EV-HEA-04]. */
export const MILESTONES = [
  { weeks: 4, share: 0.5, fromDay: 26, toDay: 35 },
  { weeks: 8, share: 0.9, fromDay: 54, toDay: 63 },
] as const satisfies readonly Milestone[];

/**
 * How a wound stands to a milestone, by the newest measurement in its window of
 * days; a later one that shows the reduction makes up for it.
 * @param sizes oldest first.
 * @returns with the measurement it rests on; undefined where none lies in the window.
 */
export function standingAt<S extends Size>(sizes: readonly S[], { share, fromDay, toDay }: Milestone): { met: boolean; on: S } | undefined {
  const [first, ...later] = sizes;
  if (!first || first.areaMm2 <= 0) return undefined;
  const newest = later.findLastIndex((m) => {
    const days = daysBetween(first.day, m.day);
    return days >= fromDay && days <= toDay;
  });
  const inWindow = later[newest];
  if (!inWindow) return undefined;
  const reached = later.slice(newest).find((m) => 1 - m.areaMm2 / first.areaMm2 >= share - HAIR);
  return reached ? { met: true, on: reached } : { met: false, on: inWindow };
}

/** Less than half gone at four weeks, or less than nine tenths at eight. */
export function isStalled(measurements: readonly PastMeasurement[]): boolean {
  const sizes = sizesOf(measurements);
  return MILESTONES.some((milestone) => standingAt(sizes, milestone)?.met === false);
}

/**
 * Whether the newest measurement and another at least five days before it are
 * both larger than the first by more than `share` [EV-HEA-01].
 */
export function isGrowing(measurements: readonly PastMeasurement[], share: number): boolean {
  const [first, ...later] = sizesOf(measurements);
  const newest = later.at(-1);
  if (!first || !newest || first.areaMm2 <= 0) return false;
  const larger = (m: Size): boolean => m.areaMm2 / first.areaMm2 > 1 + share + HAIR;
  return larger(newest) && later.some((m) => larger(m) && daysBetween(m.day, newest.day) >= 5);
}
