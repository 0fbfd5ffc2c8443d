import { ellipseAreaMm2, equivalentRadiusMm } from '../healing/area.ts';
import { type AreaSize, type WoundSize, withArea } from '../healing/sizes.ts';
import type { Spread } from '../healing/spread.ts';
import type { RecordOf } from '../log/records.ts';
import { type Entry, standing } from '../log/timeline.ts';
import { AHEAD_MS, DAY_MS, type LocalDay } from '../schedule/day.ts';

/** Fluid from a weighed dressing; 1 g is about 1 mL. What evaporated is lost to the scale, so the true amount is this or more [EV-EXU-08]. */
export interface WeighedRate {
  kind: 'rate';
  /** g in 24 hours. */
  gPerDay: Spread;
  /** g per cm² of wound in 24 hours, with the size it rests on; undefined without a recent size that can be divided by. */
  gPerCm2Day: (Spread & { size: AreaSize }) | undefined;
}

export type WeighedResult =
  | WeighedRate
  /** The gain is no larger than what the steps of the scale alone can make: no number, only that it was less than this [EV-EXU-08]. */
  | { kind: 'belowWhatTheScaleSees'; lessThanGPerDay: number }
  /** The used dressing is lighter than the dry one by more than the scale's steps explain: weighed without a layer, or mistyped. */
  | { kind: 'lighterThanDry' }
  /** On for less than an hour: too short to make a day of (our judgement). */
  | { kind: 'tooShort' };

export interface Weighed {
  /** The id by which other records know the weighing, and the change that took the dressing off. */
  id: string;
  change: string | undefined;
  at: number;
  day: LocalDay;
  hours: number;
  /** Used less dry, g. */
  gainG: number;
  /** How far the gain may be off for the scale's steps alone, g. */
  uncertaintyG: number;
  result: WeighedResult;
}

/** A size this far off in time, before or after, still counts as that of the weighing: two weekly measurements (our judgement). */
export const SIZE_DAYS = 14;
/** How well the edge of a wound is known with a ruler or on a photo, mm all round (our judgement). */
export const EDGE_MM = 0.5;
const HOURS_LEAST = 1;
/** Readings are decimal fractions; a hair of rounding must not decide. */
const HAIR = 1e-9;

/**
 * How far the difference of two readings may be off, g. Each reading lies within
 * half a step of the weight, evenly (the usual model of a digital display; Guide
 * to the expression of uncertainty in measurement, JCGM 100:2008, F.2.2.1, from
 * memory), so the difference lies within one whole step. The whole range is
 * given, not a share of it: then a gain that is truly below one step is never
 * told as a number. Its standard uncertainty would be step/√6. What a scale is
 * off beyond its steps is not in it.
 */
export const uncertaintyG = (stepG: number): number => stepG / 2 + stepG / 2;

/** The areas in mm² that a size stands for when its edge may lie `EDGE_MM` further in or out. */
function areaSpread(size: AreaSize): Spread {
  const round = 2 * equivalentRadiusMm(size.areaMm2);
  const isEllipse = size.way === 'ellipse' && size.lengthMm !== undefined && size.widthMm !== undefined;
  const [length, width] = isEllipse ? [size.lengthMm as number, size.widthMm as number] : [round, round];
  const by = 2 * EDGE_MM;
  return {
    value: size.areaMm2,
    low: ellipseAreaMm2(Math.max(0, length - by), Math.max(0, width - by)),
    high: ellipseAreaMm2(length + by, width + by),
  };
}

/** The size measured nearest in time to an instant, if near enough. */
function sizeNear(sizes: readonly AreaSize[], at: number): AreaSize | undefined {
  const off = (s: AreaSize): number => Math.abs(s.at - at);
  const [nearest] = [...sizes].sort((a, b) => off(a) - off(b));
  return nearest && off(nearest) <= SIZE_DAYS * DAY_MS ? nearest : undefined;
}

function perArea(gPerDay: Spread, size: AreaSize | undefined): WeighedRate['gPerCm2Day'] {
  if (!size) return undefined;
  const area = areaSpread(size);
  // A wound as small as its own doubtful edge cannot be divided by.
  if (area.low <= 0) return undefined;
  const perCm2 = (g: number, mm2: number): number => g / (mm2 / 100);
  return {
    value: perCm2(gPerDay.value, area.value),
    low: perCm2(gPerDay.low, area.high),
    high: perCm2(gPerDay.high, area.low),
    size,
  };
}

/** What a weighing says about the drainage of a day. @param size of the wound about that time. */
export function weigh(w: Pick<RecordOf<'weighing'>, 'dryG' | 'usedG' | 'stepG' | 'hours'>, size: AreaSize | undefined): WeighedResult {
  const gain = w.usedG - w.dryG;
  const off = uncertaintyG(w.stepG);
  if (gain < -off - HAIR) return { kind: 'lighterThanDry' };
  if (w.hours < HOURS_LEAST) return { kind: 'tooShort' };
  const perDay = (g: number): number => (g * 24) / w.hours;
  if (gain <= off + HAIR) return { kind: 'belowWhatTheScaleSees', lessThanGPerDay: perDay(Math.max(0, gain) + off) };
  const gPerDay = { value: perDay(gain), low: perDay(gain - off), high: perDay(gain + off) };
  return { kind: 'rate', gPerDay, gPerCm2Day: perArea(gPerDay, size) };
}

/**
 * Every weighed dressing of a wound up to now, oldest first, as corrected last
 * and not withdrawn.
 * @param sizes of the wound, as `sizesOf` gives them. @param now ms.
 */
export function weighingsOf(entries: readonly Entry[], woundId: string, sizes: readonly WoundSize[], now: number): Weighed[] {
  const areas = withArea(sizes);
  return standing(entries, 'weighing')
    .filter((e) => e.now.wound === woundId && Date.parse(e.first.at) <= now + AHEAD_MS)
    .map(({ first, now: w }) => ({
      id: first.id,
      change: w.change,
      at: Date.parse(first.at),
      day: first.day,
      hours: w.hours,
      gainG: w.usedG - w.dryG,
      uncertaintyG: uncertaintyG(w.stepG),
      result: weigh(w, sizeNear(areas, Date.parse(first.at))),
    }));
}
