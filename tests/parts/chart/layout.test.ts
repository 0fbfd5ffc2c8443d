import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { addDays } from '../../../app/care/schedule/day.ts';
import { layoutChart, outermost } from '../../../app/parts/chart/layout.ts';
import type { ChartData, ChartFrame, ChartLayout } from '../../../app/parts/chart/shape.ts';
import { guessWidth } from '../../../app/parts/chart/ticks.ts';
import { chartOf, FROM, point, pointsArb } from './make.ts';

const frame = (widthPx = 350, emPx = 20): ChartFrame => ({
  widthPx,
  emPx,
  sayDay: (day, style) => (style === 'day' ? day.slice(5) : day.slice(0, 7)),
  sayValue: String,
  widthOf: guessWidth,
});
const lay = (data: ChartData, widthPx?: number, emPx?: number) => layoutChart(data, frame(widthPx, emPx));
const daily = (count: number, value = (i: number): number | undefined => 10 + (i % 7)) =>
  Array.from({ length: count }, (_, i) => point(i, value(i)));

const framesArb = fc.tuple(fc.integer({ min: 240, max: 900 }), fc.integer({ min: 14, max: 44 }));
const dataArb: fc.Arbitrary<ChartData> = fc
  .record({
    a: pointsArb,
    b: pointsArb,
    days: fc.integer({ min: 1, max: 501 }),
    gapDays: fc.integer({ min: 1, max: 30 }),
    named: fc.boolean(),
    limit: fc.option(fc.integer({ min: -20, max: 300 }), { nil: undefined }),
    band: fc.option(fc.record({ from: fc.nat(600), days: fc.nat(600), low: fc.nat(100) }), { nil: undefined }),
    unit: fc.boolean(),
  })
  .map(({ a, b, days, gapDays, named, limit, band, unit }) =>
    chartOf(a, days, {
      gapDays,
      series: [
        { key: 'a', look: 'disc', name: named ? 'ruler' : undefined, points: a },
        { key: 'b', look: 'ring', name: 'traced on a photo', points: b },
      ],
      ...(limit === undefined ? {} : { limits: [{ value: limit, name: `limit ${limit}` }] }),
      ...(band
        ? {
            bands: [
              { from: addDays(FROM, band.from), to: addDays(FROM, band.from + band.days), low: band.low, high: band.low + 20, said: '' },
            ],
          }
        : {}),
      bandName: 'expected',
      ...(unit ? { unit: 'cm²' } : {}),
    }),
  );

/** Every place that a layout draws at. */
function spotsOf(l: ChartLayout) {
  return [
    ...l.series.flatMap((s) => [
      ...s.lines.flat(),
      ...s.marks,
      ...s.bars.flatMap((b) => [
        { x: b.x, y: b.top },
        { x: b.x, y: b.bottom },
      ]),
    ]),
    ...l.missing,
    ...l.limits.map(({ y }) => ({ x: l.plot.x, y })),
    ...l.bands.flatMap((b) => [
      { x: b.x, y: b.y },
      { x: b.x + b.width, y: b.y + b.height },
    ]),
  ];
}

describe('the layout of a chart', () => {
  test('any chart in any room: everything is a number and lies within the plot', () => {
    fc.assert(
      fc.property(dataArb, framesArb, (data, [width, em]) => {
        const l = lay(data, width, em);
        expect([l.width, l.height, l.plot.width, l.plot.height].every((n) => Number.isFinite(n) && n > 0)).toBe(true);
        for (const { x, y } of spotsOf(l)) {
          // Two series of bars stand beside each other, half a bar's room out of their days.
          expect(x).toBeGreaterThanOrEqual(l.plot.x - 4);
          expect(x).toBeLessThanOrEqual(l.plot.x + l.plot.width + 4);
          expect(y).toBeGreaterThanOrEqual(l.plot.y - 0.01);
          expect(y).toBeLessThanOrEqual(l.plot.y + l.plot.height + 0.01);
        }
      }),
    );
  });

  test('any chart: names cover no mark, no line’s end, no other name, and none is lost', () => {
    fc.assert(
      fc.property(dataArb, framesArb, (data, [width, em]) => {
        const l = lay(data, width, em);
        const box = (t: { x: number; y: number; text: string }) => ({
          x: t.x,
          end: t.x + guessWidth(t.text, l.namePx),
          y: t.y - 0.6 * l.namePx,
          low: t.y + 0.6 * l.namePx,
        });
        const boxes = l.labels.map(box);
        for (const b of boxes) {
          expect(b.x).toBeGreaterThanOrEqual(l.plot.x - 0.01);
          expect(b.end).toBeLessThanOrEqual(l.plot.x + l.plot.width + 0.01);
          for (const { x, y } of l.series.flatMap((s) => [...s.marks, ...s.lines.flat()])) {
            expect(x > b.x && x < b.end && y > b.y && y < b.low).toBe(false);
          }
        }
        boxes.forEach((b, i) => {
          for (const c of boxes.slice(i + 1)) expect(b.x < c.end && c.x < b.end && b.y < c.low && c.y < b.low).toBe(false);
        });
        const drawn = l.series.filter((s) => s.marks.length + s.bars.length > 0).map((s) => s.key);
        const named = data.series.filter((s) => s.name && drawn.includes(s.key)).map((s) => s.name);
        const wanted = [...named, ...(data.limits ?? []).map((x) => x.name), ...(l.bands.length > 0 ? ['expected'] : [])];
        expect([...l.labels, ...l.under].map((t) => t.text).sort()).toEqual([...wanted].sort());
      }),
    );
  });

  test('any chart: a point outside the days shown changes nothing', () => {
    fc.assert(
      fc.property(dataArb, framesArb, (data, [width, em]) => {
        const inside = data.series.map((s) => ({ ...s, points: s.points.filter((p) => p.day >= data.from && p.day <= data.to) }));
        expect(lay({ ...data, series: inside }, width, em)).toEqual(lay(data, width, em));
      }),
    );
  });

  test('nothing, one, three and four hundred points', () => {
    const none = lay(chartOf([], 14));
    expect(none.series[0]).toMatchObject({ lines: [], marks: [], bars: [] });
    const one = lay(chartOf([point(5, 2)], 14));
    expect(one.series[0]?.marks).toHaveLength(1);
    expect(one.series[0]?.lines).toEqual([]);
    const three = lay(chartOf(daily(3), 14));
    expect(three.series[0]?.marks).toHaveLength(3);
    expect(three.series[0]?.lines.map((l) => l.length)).toEqual([3]);
    const many = lay(chartOf(daily(400), 400));
    expect(many.crowd).toBe('bars');
    expect(many.barDays).toBe(14);
    expect(many.series[0]?.bars.length).toBe(Math.ceil(400 / 14));
    expect(many.series[0]?.marks).toEqual([]);
    // Bars are joined by no line, so none is said to stop.
    const paused = lay(
      chartOf(
        daily(400).filter((_, i) => i < 100 || i > 150),
        400,
      ),
    );
    expect([paused.crowd, paused.broken]).toEqual(['bars', false]);
  });

  test('no two marks or bars of a series run into each other, however many points there are', () => {
    for (const count of [1, 3, 14, 40, 91, 200, 400, 1200]) {
      const l = lay(chartOf(daily(count), count));
      const drawn = l.series[0];
      const xs = l.crowd === 'bars' ? drawn?.bars.map((b) => b.x) : l.crowd === 'marks' ? drawn?.marks.map((m) => m.x) : [];
      const room = l.crowd === 'bars' ? 4 : 0.8 * l.markPx;
      (xs ?? []).slice(1).forEach((x, i) => {
        expect(x - (xs?.[i] ?? 0), `${count} points`).toBeGreaterThanOrEqual(room - 0.01);
      });
    }
  });

  test('where only a line has room, its first, last, lowest and highest point and every lone one keep their marks', () => {
    const points = daily(91, (i) => (i === 30 ? 40 : i === 60 ? 1 : i > 70 && i < 77 ? undefined : 10 + (i % 3)));
    const l = lay(chartOf([...points.slice(0, 80), point(85, 12)], 91));
    expect(l.crowd).toBe('line');
    expect(l.series[0]?.marks).toHaveLength(4);
    expect(l.series[0]?.lines.map((line) => line.length)).toEqual([71, 3]);
    expect(l.broken).toBe(true);
  });

  test('steps keep every mark, slim where they are many, and sit on their rows', () => {
    const rows = ['none', 'a little', 'some', 'a lot'];
    const l = lay(
      chartOf(
        daily(60, (i) => i % 4),
        60,
        { rows },
      ),
    );
    expect(l.crowd).toBe('line');
    expect(l.series[0]?.marks).toHaveLength(60);
    expect(l.slimPx).toBeGreaterThanOrEqual(2);
    expect(l.slimPx).toBeLessThan(l.plot.width / 60);
    expect(new Set(l.series[0]?.marks.map((m) => m.y)).size).toBe(4);
    expect(l.yTicks.map((t) => t.y)).toEqual([...new Set(l.yTicks.map((t) => t.y))].sort((a, b) => b - a));
    expect(lay(chartOf(daily(4), 14, { rows: ['a', 'b'] })).slimPx).toBe(0);
  });

  test('series that were measured in different ways share no line', () => {
    const l = lay(
      chartOf([], 14, {
        gapDays: 30,
        series: [
          { key: 'ruler', look: 'disc', points: [point(0, 4), point(7, 3)] },
          { key: 'trace', look: 'diamond', points: [point(3, 5), point(10, 2)] },
        ],
      }),
    );
    expect(l.series.map((s) => s.lines.map((line) => line.length))).toEqual([[2], [2]]);
    expect(new Set(l.series.map((s) => s.look)).size).toBe(2);
  });

  test('bars of two series stand beside each other', () => {
    const l = lay(
      chartOf([], 400, {
        series: [
          { key: 'a', look: 'disc', points: daily(400) },
          { key: 'b', look: 'ring', points: daily(400) },
        ],
      }),
    );
    const xs = l.series.flatMap((s) => s.bars.map((b) => b.x)).sort((a, b) => a - b);
    xs.slice(1).forEach((x, i) => {
      expect(x - (xs[i] ?? 0)).toBeGreaterThanOrEqual(5);
    });
  });

  test('a missing value stands on the axis, where marks have room; it is not drawn as nought', () => {
    const l = lay(chartOf([point(0, 2), point(1, undefined), point(2, 4)], 14));
    expect(l.missing.map((m) => m.y)).toEqual([l.plot.y + l.plot.height]);
    expect(l.series[0]?.marks).toHaveLength(2);
    expect(l.series[0]?.lines).toEqual([]);
    expect(l.broken).toBe(false);
    expect(lay(chartOf([...daily(90), point(90, undefined)], 91)).missing).toEqual([]);
  });

  test('an axis from zero is true to proportion: half as much is half as high', () => {
    const l = lay(chartOf([point(0, 4), point(7, 2)], 14, { fromZero: true }));
    const floor = l.plot.y + l.plot.height;
    const [four, two] = (l.series[0]?.marks ?? []).map((m) => floor - m.y);
    expect(two).toBeCloseTo((four ?? 0) / 2);
  });

  test('a band covers its days and, on steps, the rows of its ends whole', () => {
    const rows = ['none', 'a little', 'some', 'a lot'];
    const bands = [{ from: addDays(FROM, -9), to: addDays(FROM, 6), low: 1, high: 2, said: '' }];
    const l = lay(chartOf([point(0, 1)], 14, { rows, bands }));
    expect(l.bands).toHaveLength(1);
    expect(l.bands[0]?.x).toBeCloseTo(l.plot.x);
    expect(l.bands[0]?.width).toBeCloseTo(l.plot.width / 2);
    expect(l.bands[0]?.height).toBeCloseTo(l.plot.height / 2);
    const past = [{ from: addDays(FROM, -9), to: addDays(FROM, -1), low: 1, high: 2, said: '' }];
    expect(lay(chartOf([point(0, 1)], 14, { rows, bands: past })).bands).toEqual([]);
  });

  test('a limit is always within sight', () => {
    const l = lay(chartOf([point(0, 0.4)], 14, { limits: [{ value: 2.2, name: 'limit' }] }));
    expect(l.limits[0]?.y).toBeGreaterThan(l.plot.y - 0.01);
    expect(Number(l.yTicks.at(-1)?.text)).toBeGreaterThanOrEqual(2.2);
  });

  test('long words of the value axis move into the plot rather than take its room', () => {
    const rows = ['as it always was before', 'more than it was before'];
    const narrow = lay(chartOf(daily(5), 14, { rows }), 320, 40);
    expect(narrow.yInside).toBe(true);
    expect(narrow.plot.width).toBeGreaterThan(0.8 * 320);
    expect(lay(chartOf(daily(5), 14, { rows }), 860, 20).yInside).toBe(false);
  });
});

describe('the points that are marked in any case', () => {
  test('first, last, lowest and highest, each once', () => {
    const points = [point(0, 3), point(1, 9), point(2, undefined), point(3, 1), point(4, 5)];
    expect(outermost(points).map((p) => p.value)).toEqual([3, 5, 1, 9]);
    expect(outermost([point(0, 3)])).toHaveLength(1);
    expect(outermost([point(0, undefined)])).toEqual([]);
  });
});
