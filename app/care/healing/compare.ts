import { daysBetween } from '../schedule/day.ts';
import { equivalentRadiusMm } from './area.ts';
import { type AreaSize, isMixed, SEEN_LEAST_MM2 } from './sizes.ts';

/**
 * Two sizes held against each other. Every rate is per week of seven days and
 * undefined where the two are of the same day or stand in the wrong order.
 */
export interface Comparison {
  from: AreaSize;
  to: AreaSize;
  /** Calendar days from one to the other. */
  days: number;
  /** They were measured in different ways: say so wherever a figure of it is shown; the phone's course page shows none. */
  mixed: boolean;
  /** Area reduction, 100·(A0 − At)/A0; negative where the wound is larger [EV-HEA-01]. Undefined where nothing was there to begin with. */
  reductionPct: number | undefined;
  /** ln(A0/At)/t, the rate of an exponential course through the two [EV-HEA-11]; positive where the wound is smaller. Undefined where one area is 0. */
  ratePerWeek: number | undefined;
  /** How far the edge moved inwards, ΔA over the mean of the two perimeters [EV-HEA-09, Gilman 1990, from memory]. */
  advanceMm: number | undefined;
  advanceMmPerWeek: number | undefined;
  /** How much shorter the radius of the circle with the same area became [EV-HEA-12, Zimny 2004]. */
  radiusLossMm: number;
  radiusLossMmPerWeek: number | undefined;
}

/**
 * How far the edge moved inwards, mm; negative where it moved outwards. For
 * circles this is the difference of the radii, exactly [WE-08].
 */
export function edgeAdvanceMm(from: AreaSize, to: AreaSize): number | undefined {
  if (from.perimeterMm === undefined || to.perimeterMm === undefined) return undefined;
  const mean = (from.perimeterMm + to.perimeterMm) / 2;
  return mean > 0 ? (from.areaMm2 - to.areaMm2) / mean : undefined;
}

/** Holds a size against an earlier one. */
export function compareSizes(from: AreaSize, to: AreaSize): Comparison {
  const days = daysBetween(from.day, to.day);
  const perWeek = (change: number | undefined): number | undefined => (change === undefined || days <= 0 ? undefined : change / (days / 7));
  const began = from.areaMm2 >= SEEN_LEAST_MM2;
  const advanceMm = edgeAdvanceMm(from, to);
  const radiusLossMm = equivalentRadiusMm(from.areaMm2) - equivalentRadiusMm(to.areaMm2);
  return {
    from,
    to,
    days,
    mixed: isMixed(from, to),
    reductionPct: began ? (100 * (from.areaMm2 - to.areaMm2)) / from.areaMm2 : undefined,
    ratePerWeek: began && to.areaMm2 >= SEEN_LEAST_MM2 ? perWeek(Math.log(from.areaMm2 / to.areaMm2)) : undefined,
    advanceMm,
    advanceMmPerWeek: perWeek(advanceMm),
    radiusLossMm,
    radiusLossMmPerWeek: perWeek(radiusLossMm),
  };
}
