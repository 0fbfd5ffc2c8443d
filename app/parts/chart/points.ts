import { addDays, daysBetween, type LocalDay } from '../../care/schedule/day.ts';

/** One thing that was written down. */
export interface ChartPoint {
  /** Unique in its series. */
  key: string;
  day: LocalDay;
  /** ms since 1970, UTC; orders the points of one day. */
  at: number;
  zone: string;
  /** Undefined where it was asked and not answered: shown as missing, never guessed. */
  value: number | undefined;
  /** The value in words with its unit, or why there is none. */
  said: string;
  /** What else belongs in its row of the table. */
  note?: string | undefined;
}

type Dated = Pick<ChartPoint, 'day' | 'at'>;
type Valued = Dated & Pick<ChartPoint, 'value'>;

/** By day, then by instant: a journey across zones must not put a later day first. */
export const inOrder = <P extends Dated>(points: readonly P[]): P[] =>
  [...points].sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : a.at - b.at));

/**
 * Where points stand on a time axis, in days from the beginning of `from`.
 * Points of one day stand side by side in the width of that day, in their
 * order and evenly: the axis shows days, and no zone or clock change moves a
 * point into another one.
 * @param points in order.
 */
export function placesInDays(points: readonly Dated[], from: LocalDay): number[] {
  const counts = new Map<LocalDay, number>();
  for (const { day } of points) counts.set(day, (counts.get(day) ?? 0) + 1);
  const seen = new Map<LocalDay, number>();
  return points.map(({ day }) => {
    const nth = seen.get(day) ?? 0;
    seen.set(day, nth + 1);
    return daysBetween(from, day) + (nth + 0.5) / (counts.get(day) ?? 1);
  });
}

/**
 * The runs of points that a line may join: it stops at a point without a value
 * and at a pause of more than `gapDays` calendar days.
 * @param points in order.
 */
export function runsOf<P extends Valued>(points: readonly P[], gapDays: number): P[][] {
  const runs: P[][] = [];
  let last: P | undefined;
  for (const point of points) {
    const joins = last?.value !== undefined && point.value !== undefined && daysBetween(last.day, point.day) <= gapDays;
    if (point.value !== undefined) {
      if (joins) runs.at(-1)?.push(point);
      else runs.push([point]);
    }
    last = point;
  }
  return runs;
}

/** How close the points of a chart stand: each with its mark, a line with few marks, or bars over several days. */
export type Crowd = 'marks' | 'line' | 'bars';

/** Fewer points than these keep their marks however close they are. */
const FEW = 4;
/** Closer than this share of a mark, marks run into each other. */
const MARK_SHARE = 0.8;
/** Closer than this many px, even a line turns to a smear. */
const SMEAR_PX = 2.5;

/** How crowded places on an axis are. @param places px, ascending; judged by the middle one of the distances between neighbours. */
export function crowdOf(places: readonly number[], markPx: number): Crowd {
  if (places.length < FEW) return 'marks';
  const apart = places
    .slice(1)
    .map((x, i) => x - (places[i] ?? 0))
    .sort((a, b) => a - b);
  const middle = apart[Math.floor(apart.length / 2)] ?? 0;
  if (middle >= MARK_SHARE * markPx) return 'marks';
  return middle >= SMEAR_PX ? 'line' : 'bars';
}

/** Values of some days running, from the lowest to the highest. */
export interface Bar {
  /** Days from the beginning of the axis to the middle of the bar's days. */
  place: number;
  low: number;
  high: number;
  count: number;
}

const BAR_DAYS = [7, 14, 28, 91, 182, 364, 1820];
/** Distance from one bar to the next, at least. */
export const BAR_PX = 6;

/** For how many days one bar must stand so that the bars of so many series have room side by side. */
export const barDaysFor = (pxPerDay: number, seriesCount = 1): number =>
  BAR_DAYS.find((d) => d * pxPerDay >= BAR_PX * seriesCount) ?? (BAR_DAYS.at(-1) as number);

/** Bars of so many days each, counted back from `to` so that the last one is whole. Days without a value have no bar. */
export function barsOf(points: readonly Valued[], from: LocalDay, to: LocalDay, barDays: number): Bar[] {
  const bars = new Map<number, number[]>();
  for (const { day, value } of points) {
    if (value === undefined) continue;
    const back = Math.floor(daysBetween(day, to) / barDays);
    bars.set(back, [...(bars.get(back) ?? []), value]);
  }
  return [...bars]
    .sort(([a], [b]) => b - a)
    .map(([back, values]) => {
      const last = daysBetween(from, addDays(to, -back * barDays));
      // The oldest bar may have fewer days than the others.
      const first = Math.max(0, last - barDays + 1);
      return { place: (first + last + 1) / 2, low: Math.min(...values), high: Math.max(...values), count: values.length };
    });
}
