import type { Box, ChartData, ChartLabel, ChartLayout, ChartName, KeyItem, SeriesLayout, Spot } from './shape.ts';
import type { WidthOf } from './ticks.ts';

const touch = (a: Box, b: Box): boolean => a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

const isWithin = (a: Box, b: Box): boolean =>
  a.x >= b.x && a.y >= b.y && a.x + a.width <= b.x + b.width + 0.01 && a.y + a.height <= b.y + b.height + 0.01;

/**
 * The first of some places for a label that lies within the plot and covers
 * nothing; undefined when there is none, and the label belongs under the chart.
 */
export const freePlace = (candidates: readonly Box[], plot: Box, taken: readonly Box[]): Box | undefined =>
  candidates.find((c) => isWithin(c, plot) && !taken.some((t) => touch(c, t)));

/** Boxes along a line, close enough together that no label slips between them. */
export function boxesAlong(line: readonly { x: number; y: number }[], halfPx: number): Box[] {
  const around = (x: number, y: number): Box => ({ x: x - halfPx, y: y - halfPx, width: 2 * halfPx, height: 2 * halfPx });
  return line.flatMap((p, i) => {
    const before = line[i - 1];
    if (!before) return [around(p.x, p.y)];
    const steps = Math.max(1, Math.ceil(Math.hypot(p.x - before.x, p.y - before.y) / (2 * halfPx)));
    return Array.from({ length: steps }, (_, n) => {
      const share = (n + 1) / steps;
      return around(before.x + (p.x - before.x) * share, before.y + (p.y - before.y) * share);
    });
  });
}

/** A series as it is drawn, with its name if it has one. */
export type Drawn = SeriesLayout & { name: string | undefined };

/** What a series covers, with some air around its marks. */
const coveredBy = (s: SeriesLayout, px: number, air: number): Box[] => [
  ...s.lines.flatMap((line) => boxesAlong(line, 0.35 * px)),
  ...s.marks.flatMap((spot) => boxesAlong([spot], air * px)),
  ...s.bars.flatMap(({ x, top, bottom }) =>
    boxesAlong(
      [
        { x, y: top },
        { x, y: bottom },
      ],
      0.3 * px,
    ),
  ),
];

/** A name keeps away from the marks of its own series by this share of its size, and further from those of others, or it would seem to be theirs. */
const AIR = { own: 0.4, others: 1.1 };

/** Names beside what they name, each where it covers nothing; the others go under the chart. */
export function placeNames(
  data: ChartData,
  chart: Pick<ChartLayout, 'plot' | 'namePx' | 'tickPx' | 'yInside' | 'yTicks' | 'overLine' | 'unit' | 'bands' | 'limits'>,
  drawn: readonly Drawn[],
  widthOf: WidthOf,
): { labels: ChartName[]; under: KeyItem[] } {
  const { plot, namePx, tickPx } = chart;
  const height = 1.25 * namePx;
  const room: Box = { ...plot, y: 0, height: plot.y + plot.height };
  const wordBox = (l: ChartLabel, y: number): Box => ({ x: l.x, y, width: widthOf(l.text, tickPx), height: 1.2 * tickPx });
  const written: Box[] = [
    ...(chart.yInside ? chart.yTicks.map((l) => wordBox(l, l.y - chart.overLine - tickPx)) : []),
    ...(chart.unit ? [wordBox(chart.unit, chart.unit.y - 0.6 * tickPx)] : []),
  ];
  const labels: ChartName[] = [];
  const under: KeyItem[] = [];
  const place = (item: KeyItem, spots: (width: number) => Spot[], own?: Drawn): void => {
    const width = widthOf(item.text, namePx, true);
    const candidates = spots(width).map((s) => ({ ...s, width, height }));
    const covered = drawn.flatMap((s) => coveredBy(s, namePx, s === own || !own ? AIR.own : AIR.others));
    const box = freePlace(candidates, room, [...covered, ...written]);
    if (!box) return void under.push(item);
    written.push(box);
    labels.push({ kind: item.kind, x: box.x, y: box.y + height / 2, text: item.text });
  };
  for (const s of drawn) {
    if (!s.name || s.marks.length + s.bars.length === 0) continue;
    place({ kind: 'series', look: s.look, text: s.name }, (width) => besideMarks(s, plot, width, height, 0.5 * namePx), s);
  }
  for (const [i, { name }] of (data.limits ?? []).entries()) {
    const y = chart.limits[i]?.y ?? 0;
    place({ kind: 'limit', text: name }, (width) =>
      alongBox(plot, width).flatMap((x) => [
        { x, y: y - height - 2 },
        { x, y: y + 2 },
      ]),
    );
  }
  // The widest stretch of the band carries its name.
  const widest = [...chart.bands].sort((a, b) => b.width - a.width)[0];
  if (data.bandName && widest) {
    place({ kind: 'band', text: data.bandName }, (width) =>
      alongBox(widest, width).flatMap((x) => [
        { x, y: widest.y + 2 },
        { x, y: widest.y + widest.height - height - 2 },
        { x, y: widest.y + (widest.height - height) / 2 },
      ]),
    );
  }
  return { labels, under };
}

/** Where a name of some width may begin along a box: at its end, at its beginning, in its middle. */
const alongBox = (box: Box, width: number): number[] => [box.x + box.width - width - 4, box.x + 4, box.x + (box.width - width) / 2];

/** Places around the marks or bars of a series, by the newest first: that is where the eye goes. */
function besideMarks(series: Drawn, plot: Box, width: number, height: number, clear: number): Spot[] {
  const spots = series.marks.length > 0 ? series.marks : series.bars.map((b) => ({ x: b.x, y: b.top }));
  return [...spots].reverse().flatMap(({ x, y }) => {
    const begin = Math.max(plot.x, Math.min(x - width / 2, plot.x + plot.width - width));
    return [
      { x: begin, y: y - clear - height },
      { x: begin, y: y + clear },
      { x: x - width - 1.5 * clear, y: y - height / 2 },
      { x: x + 1.5 * clear, y: y - height / 2 },
    ];
  });
}
