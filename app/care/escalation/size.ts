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
  area: number;
}

/** Measurements with an area, oldest first. */
function sizesOf(measurements: readonly PastMeasurement[]): Size[] {
  return [...measurements].sort(byTime).flatMap((m) => {
    const area = areaOf(m);
    return area === undefined ? [] : [{ day: m.day, area }];
  });
}

/** Areas are quotients of measured lengths; a hair's breadth of rounding must not decide. */
const HAIR = 1e-9;

/**
 * Whether the newest measurement in a window of days after the first shows
 * less than the wanted reduction, and no later one has made up for it.
 * @param share wanted reduction as a share of the first area [EV-HEA-02 to -04].
 */
function stalledIn(sizes: readonly Size[], fromDay: number, toDay: number, share: number): boolean {
  const [first, ...later] = sizes;
  if (!first || first.area <= 0) return false;
  const reached = (m: Size): boolean => 1 - m.area / first.area >= share - HAIR;
  const inWindow = later.filter((m) => {
    const days = daysBetween(first.day, m.day);
    return days >= fromDay && days <= toDay;
  });
  const newest = inWindow.at(-1);
  if (!newest || reached(newest)) return false;
  return !later.slice(later.indexOf(newest) + 1).some(reached);
}

/** Less than half gone at four weeks, or less than nine tenths at eight [EV-HEA-02, EV-HEA-03, EV-HEA-04]. */
export function isStalled(measurements: readonly PastMeasurement[]): boolean {
  const sizes = sizesOf(measurements);
  return stalledIn(sizes, 26, 35, 0.5) || stalledIn(sizes, 54, 63, 0.9);
}

/**
 * Whether the newest measurement and another at least five days before it are
 * both larger than the first by more than `share` [EV-HEA-01].
 */
export function isGrowing(measurements: readonly PastMeasurement[], share: number): boolean {
  const [first, ...later] = sizesOf(measurements);
  const newest = later.at(-1);
  if (!first || !newest || first.area <= 0) return false;
  const larger = (m: Size): boolean => m.area / first.area > 1 + share + HAIR;
  return larger(newest) && later.some((m) => larger(m) && daysBetween(m.day, newest.day) >= 5);
}
