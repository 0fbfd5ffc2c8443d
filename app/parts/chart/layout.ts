import { daysBetween } from '../../care/schedule/day.ts';
import { placeNames } from './names.ts';
import { BAR_PX, barDaysFor, barsOf, type ChartPoint, type Crowd, crowdOf, inOrder, placesInDays, runsOf } from './points.ts';
import type { Box, ChartData, ChartFrame, ChartLayout, ChartSeries, Spot } from './shape.ts';
import { dayTicks, niceTicks } from './ticks.ts';

/** Beyond this share of the width the words of the value axis move into the plot. */
const AXIS_MOST = 0.36;

/** Works out where everything on a chart goes. Pure: the same input gives the same picture. */
export function layoutChart(data: ChartData, frame: ChartFrame): ChartLayout {
  const { widthPx: width, emPx } = frame;
  const sizes = { tickPx: 0.74 * emPx, namePx: 0.8 * emPx, markPx: 0.5 * emPx };
  const { tickPx, markPx } = sizes;
  const days = Math.max(1, daysBetween(data.from, data.to) + 1);
  const series = data.series.map((s) => ({ ...s, points: inOrder(s.points.filter((p) => p.day >= data.from && p.day <= data.to)) }));
  const { plot, yInside, yTicks, yOf } = valueAxis(data, series, frame, sizes);
  const xOf = (place: number): number => plot.x + (place / days) * plot.width;
  const pxPerDay = plot.width / days;

  const places = series.map((s) => placesInDays(s.points, data.from).map(xOf));
  const crowds = places.map((xs) => crowdOf(xs, markPx));
  const crowd: Crowd = crowds.includes('bars') ? 'bars' : crowds.includes('line') ? 'line' : 'marks';
  // Series of one time stand beside each other, never on each other.
  const there = series.filter((s) => s.points.some((p) => p.value !== undefined)).map((s) => s.key);
  const barDays = crowd === 'bars' ? barDaysFor(pxPerDay, there.length) : 0;
  const drawn = series.map((s, i) => {
    const head = { key: s.key, look: s.look, name: s.name };
    if (crowd !== 'bars') return { ...head, ...linesOf(s, places[i] ?? [], data, yOf, crowd), bars: [] };
    const aside = BAR_PX * (there.indexOf(s.key) - (there.length - 1) / 2);
    const bars = barsOf(s.points, data.from, data.to, barDays);
    return { ...head, lines: [], marks: [], bars: bars.map((b) => ({ x: xOf(b.place) + aside, top: yOf(b.high), bottom: yOf(b.low) })) };
  });
  const missing = series.flatMap((s, i) =>
    s.points.flatMap((p, n) => (p.value === undefined ? [{ x: places[i]?.[n] ?? 0, y: plot.y + plot.height }] : [])),
  );
  const isSteps = data.rows !== undefined;
  const layout = {
    width,
    height: plot.y + plot.height + 2.1 * tickPx,
    plot,
    ...sizes,
    isSteps,
    slimPx: isSteps && crowd === 'line' ? Math.max(2, Math.min(0.4 * markPx, 0.6 * pxPerDay)) : 0,
    yTicks,
    yInside,
    // Clear of the slim marks on the line, which are as high as this.
    overLine: isSteps ? 1.2 * markPx : 0.25 * tickPx,
    xTicks: dayTicks(data.from, data.to, plot.width, tickPx, [plot.x, width - plot.x - plot.width], frame.sayDay, frame.widthOf).map(
      (t) => ({
        ...t,
        x: t.x + plot.x,
      }),
    ),
    unit: data.unit ? { x: 0, y: 0.8 * tickPx, text: data.unit } : undefined,
    bands: bandBoxes(data, days, xOf, yOf),
    limits: (data.limits ?? []).map((l) => ({ y: yOf(l.value) })),
    series: drawn.map(({ name: _, ...rest }) => rest),
    // Where marks have no room these have none either; the sentence and the table tell of them.
    missing: crowd === 'marks' ? missing : [],
    crowd,
    barDays,
    broken: crowd !== 'bars' && series.some((s) => pausesIn(s.points, data.gapDays)),
  };
  return { ...layout, ...placeNames(data, layout, drawn, frame.widthOf) };
}

interface Sizes {
  tickPx: number;
  namePx: number;
  markPx: number;
}

/** The axis of values, and the room it leaves for the plot. */
function valueAxis(data: ChartData, series: readonly ChartSeries[], { widthPx: width, emPx, sayValue, widthOf }: ChartFrame, sizes: Sizes) {
  const { tickPx, markPx } = sizes;
  const height = Math.max(8.5 * emPx, Math.min(13 * emPx, width * 0.48), (data.rows?.length ?? 0) * 2.3 * emPx);
  const values = valuesOf(data, series);
  const steps = data.rows ? data.rows.map((_, i) => i) : niceTicks(Math.min(...values), Math.max(...values), height / (2.4 * tickPx));
  const words = steps.map((v) => data.rows?.[v] ?? sayValue(v));
  const wordsWidth = Math.max(...words.map((w) => widthOf(w, tickPx)));
  const yInside = wordsWidth + tickPx > AXIS_MOST * width;
  const left = yInside ? markPx : wordsWidth + 0.6 * tickPx;
  const plot: Box = { x: left, y: data.unit ? 1.9 * tickPx : 0.8 * tickPx, width: Math.max(1, width - left - 0.9 * tickPx), height };
  // A step has a row of its own; numbers fill the axis from end to end.
  const [low, high] = data.rows ? [-0.5, data.rows.length - 0.5] : [steps[0] ?? 0, steps.at(-1) ?? 1];
  const yOf = (value: number): number => plot.y + (1 - (value - low) / (high - low)) * height;
  const yTicks = steps.map((v, i) => ({ x: yInside ? plot.x : left - 0.6 * tickPx, y: yOf(v), text: words[i] ?? '' }));
  return { plot, yInside, yTicks, yOf };
}

function bandBoxes(data: ChartData, days: number, xOf: (place: number) => number, yOf: (value: number) => number): Box[] {
  // A step of an axis of steps is as high as its row.
  const half = data.rows ? 0.5 : 0;
  return (data.bands ?? []).flatMap((band) => {
    const from = Math.max(0, daysBetween(data.from, band.from));
    const to = Math.min(days, daysBetween(data.from, band.to) + 1);
    if (from >= to) return [];
    const [upper, lower] = [yOf(band.high + half), yOf(band.low - half)];
    return [{ x: xOf(from), y: upper, width: xOf(to) - xOf(from), height: lower - upper }];
  });
}

/** Every value that the axis must reach. */
function valuesOf(data: ChartData, series: readonly { points: readonly ChartPoint[] }[]): number[] {
  const values = [
    ...series.flatMap((s) => s.points.map((p) => p.value)).filter((v) => v !== undefined),
    ...(data.bands ?? []).flatMap((b) => [b.low, b.high]),
    ...(data.limits ?? []).map((l) => l.value),
    ...(data.fromZero ? [0] : []),
  ];
  return values.length > 0 ? values : [0, 1];
}

/** Whether a pause, rather than a missing value, keeps two neighbours apart. */
const pausesIn = (points: readonly ChartPoint[], gapDays: number): boolean =>
  points.some((p, i) => {
    const before = points[i - 1];
    return before !== undefined && daysBetween(before.day, p.day) > gapDays;
  });

/** The lines of a series and the marks on them. */
function linesOf(series: ChartSeries, xs: readonly number[], { gapDays, rows }: ChartData, yOf: (value: number) => number, crowd: Crowd) {
  const spots = new Map(series.points.map((p, i) => [p, { x: xs[i] ?? 0, y: yOf(p.value ?? 0) }]));
  const spotsOf = (points: readonly ChartPoint[]): Spot[] => points.map((p) => spots.get(p) as Spot);
  const runs = runsOf(series.points, gapDays);
  const valued = runs.flat();
  // Between two steps a line means nothing, so each of them keeps its mark, slim if need be.
  const isMarked = crowd === 'marks' || rows !== undefined;
  const some = () => [...new Set([...runs.filter((r) => r.length === 1).flat(), ...outermost(valued)])];
  return { lines: runs.filter((r) => r.length > 1).map(spotsOf), marks: spotsOf(isMarked ? valued : some()) };
}

/** The first, the last, the lowest and the highest. */
export function outermost<P extends Pick<ChartPoint, 'value'>>(points: readonly P[]): P[] {
  const valued = points.filter((p) => p.value !== undefined);
  const by = (isBetter: (a: number, b: number) => boolean): P[] =>
    valued.slice(0, 1).map((first) => valued.reduce((a, b) => (isBetter(b.value ?? 0, a.value ?? 0) ? b : a), first));
  return [...new Set([...valued.slice(0, 1), ...valued.slice(-1), ...by((a, b) => a < b), ...by((a, b) => a > b)])];
}
