import { formatDay, formatTime, inARow } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { type ChartPoint, inOrder, runsOf } from './points.ts';
import type { ChartData, ChartSeries } from './shape.ts';

const within = (data: ChartData, series: ChartSeries): ChartPoint[] =>
  inOrder(series.points.filter((p) => p.day >= data.from && p.day <= data.to));

/** Whether there is anything to show between the first and the last day, a missing answer included. */
export const hasPoints = (data: ChartData): boolean => data.series.some((s) => within(data, s).length > 0);

const period = (data: ChartData) => ({ from: formatDay(data.from, 'short'), to: formatDay(data.to, 'short') });

/** That there is nothing, and in which time. */
export const nothingText = (data: ChartData): string => t('chart:nothing', period(data));

/** First, last, lowest and highest of points in order. */
function courseText(points: readonly ChartPoint[]): string {
  const valued = runsOf(points, Number.POSITIVE_INFINITY).flat();
  const [first, last] = [valued[0], valued.at(-1)];
  const missing = points.length - valued.length;
  const without = missing > 0 ? [t('chart:missing', { count: missing })] : [];
  if (!first || !last) return without.join(' ');
  const on = (p: ChartPoint) => formatDay(p.day, 'short');
  if (valued.length === 1) return [t('chart:one', { first: first.said, firstDay: on(first) }), ...without].join(' ');
  const low = valued.reduce((a, b) => ((b.value ?? 0) < (a.value ?? 0) ? b : a));
  const high = valued.reduce((a, b) => ((b.value ?? 0) > (a.value ?? 0) ? b : a));
  return [
    t('chart:values', { count: valued.length }),
    t('chart:firstLast', { first: first.said, firstDay: on(first), last: last.said, lastDay: on(last) }),
    t('chart:lowHigh', { low: low.said, lowDay: on(low), high: high.said, highDay: on(high) }),
    ...without,
  ].join(' ');
}

/**
 * The chart in words, for who cannot see it: each series by itself, for what
 * was measured in different ways is not compared.
 */
export function chartWords(data: ChartData): string {
  const drawn = data.series.map((s) => ({ s, points: within(data, s) })).filter(({ points }) => points.length > 0);
  const seen = (data.bands ?? []).filter((b) => b.from <= data.to && b.to >= data.from);
  const ranges = data.bandName ? [...new Set(seen.map((b) => t('chart:of', { name: data.bandName, course: b.said })))] : [];
  const beside = [...ranges, ...(data.limits ?? []).map((l) => l.name)];
  return [
    t('chart:period', period(data)),
    ...drawn.map(({ s, points }) => (s.name ? t('chart:of', { name: s.name, course: courseText(points) }) : courseText(points))),
    ...(beside.length > 0 ? [t('chart:beside', { names: inARow(beside, ';') })] : []),
  ].join(' ');
}

/** One row of the table. */
export interface ChartRow {
  key: string;
  when: string;
  said: string;
  name: string | undefined;
  note: string | undefined;
}

/** The points of all series, newest first; the time stands with those that share a day. */
export function rowsOf(data: ChartData): ChartRow[] {
  const all = data.series.flatMap((s) => within(data, s).map((p) => ({ ...p, name: s.name, series: s.key })));
  const perDay = new Map<string, number>();
  for (const { day } of all) perDay.set(day, (perDay.get(day) ?? 0) + 1);
  return inOrder(all)
    .reverse()
    .map((p) => {
      const day = formatDay(p.day, 'short');
      const when = (perDay.get(p.day) ?? 0) > 1 ? t('chart:dayAt', { day, time: formatTime(p.at, p.zone) }) : day;
      return { key: `${p.series} ${p.key}`, when, said: p.said, name: p.name, note: p.note };
    });
}
