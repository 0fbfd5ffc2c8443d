import type { SeriesPoint, WoundSeries } from '../../care/log/series.ts';
import { addDays, daysBetween, type LocalDay } from '../../care/schedule/day.ts';
import type { Span } from '../../parts/chart/wound-charts.ts';

/** The times a person can choose from, shortest first. */
export const PERIODS = ['twoWeeks', 'threeMonths', 'all'] as const;
export type Period = (typeof PERIODS)[number];

const DAYS = { twoWeeks: 14, threeMonths: 91 } as const;

/** Every point of a wound, in no order. */
export const allPoints = (series: WoundSeries): SeriesPoint[] => Object.values(series).flat();

/**
 * The days of a period, ending today. It does not begin before there was
 * anything to show, for an empty stretch would look like a pause; but it is
 * never shorter than two weeks.
 */
export function spanOf(period: Period, today: LocalDay, series: WoundSeries): Span {
  const shortest = addDays(today, 1 - DAYS.twoWeeks);
  const [first] = [shortest, ...allPoints(series).map((p) => p.day)].sort() as [LocalDay];
  const [, from] = [first, period === 'all' ? first : addDays(today, 1 - DAYS[period])].sort() as [LocalDay, LocalDay];
  return { from, to: today };
}

/** Points within some days. */
export const within = <P extends SeriesPoint>(points: readonly P[], { from, to }: Span): P[] =>
  points.filter((p) => p.day >= from && p.day <= to);

/** The last day before a span on which there was something. */
export const lastBefore = (points: readonly SeriesPoint[], { from }: Span): LocalDay | undefined =>
  points.findLast((p) => p.day < from)?.day;

/** How many points carry a day that has not come yet: a phone with a wrong clock wrote them. */
export const countAhead = (series: WoundSeries, today: LocalDay): number =>
  new Set(
    allPoints(series)
      .filter((p) => daysBetween(today, p.day) > 0)
      .map((p) => p.record ?? p.day),
  ).size;
