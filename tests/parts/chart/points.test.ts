import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { addDays, daysBetween, type LocalDay } from '../../../app/care/schedule/day.ts';
import { barDaysFor, barsOf, type ChartPoint, crowdOf, inOrder, placesInDays, runsOf } from '../../../app/parts/chart/points.ts';
import { FROM, point, pointsArb } from './make.ts';

const valuesOf = (runs: ChartPoint[][]): (number | undefined)[][] => runs.map((r) => r.map((p) => p.value));

describe('where points stand in time', () => {
  test('points of one day stand side by side within it, in their order', () => {
    const points = [point(0, 1), point(1, 1), point(1, 2), point(1, 3), point(4, 1)];
    expect(placesInDays(points, FROM)).toEqual([0.5, expect.closeTo(1 + 1 / 6), 1.5, expect.closeTo(1 + 5 / 6), 4.5]);
  });

  test('a later day comes later, even where a journey made its instant earlier', () => {
    const west = { ...point(1, 1), at: Date.parse('2031-01-03T06:00:00Z') };
    const east = { ...point(2, 2), at: Date.parse('2031-01-03T05:00:00Z') };
    expect(inOrder([east, west])).toEqual([west, east]);
  });

  test('any points: places are in order and each is within its own day', () => {
    fc.assert(
      fc.property(pointsArb, (points) => {
        const sorted = inOrder(points);
        const places = placesInDays(sorted, FROM);
        places.forEach((place, i) => {
          expect(Math.floor(place)).toBe(daysBetween(FROM, sorted[i]?.day as LocalDay));
          if (i > 0) expect(place).toBeGreaterThan(places[i - 1] ?? 0);
        });
      }),
    );
  });
});

describe('where a line breaks', () => {
  test('a pause of the stated days is joined, one day more is not', () => {
    expect(valuesOf(runsOf([point(0, 1), point(3, 2), point(7, 3)], 3))).toEqual([[1, 2], [3]]);
  });

  test('a missing value breaks it and is never filled in', () => {
    expect(valuesOf(runsOf([point(0, 1), point(1, undefined), point(2, 3)], 3))).toEqual([[1], [3]]);
  });

  test('nothing gives no line', () => {
    expect(runsOf([], 3)).toEqual([]);
    expect(runsOf([point(0, undefined)], 3)).toEqual([]);
  });

  test('any points: the runs hold every value once and in order, and break exactly at pauses and missing values', () => {
    fc.assert(
      fc.property(pointsArb, fc.integer({ min: 1, max: 10 }), (points, gapDays) => {
        const sorted = inOrder(points);
        const runs = runsOf(sorted, gapDays);
        expect(runs.flat()).toEqual(sorted.filter((p) => p.value !== undefined));
        const starts = new Set(runs.map((r) => r[0]));
        sorted.forEach((p, i) => {
          if (p.value === undefined) return;
          const before = sorted[i - 1];
          const apart = !before || before.value === undefined || daysBetween(before.day, p.day) > gapDays;
          expect(starts.has(p)).toBe(apart);
        });
      }),
    );
  });
});

describe('how many points there is room for', () => {
  const every = (px: number, count: number) => Array.from({ length: count }, (_, i) => i * px);

  test.each([
    [20, 14, 'marks'],
    [3.2, 91, 'line'],
    [0.8, 400, 'bars'],
    // Three points keep their marks wherever they are.
    [0.8, 3, 'marks'],
    [0, 0, 'marks'],
  ] as const)('points %f px apart, %i of them: %s', (px, count, crowd) => {
    expect(crowdOf(every(px, count), 10)).toBe(crowd);
  });

  test('bars stand for whole weeks, more of them the less room there is, and for as many series as there are', () => {
    expect([3, 0.8, 0.1, 0.0001].map((px) => barDaysFor(px))).toEqual([7, 14, 91, 1820]);
    expect(barDaysFor(0.8, 2)).toBe(28);
  });

  test('the oldest bar, shorter than the others, stands in the middle of the days it has', () => {
    const bars = barsOf([point(0, 5), point(1, 7), point(9, 1)], FROM, addDays(FROM, 9), 7);
    // Ten days: the last seven are one bar, the three before them another.
    expect(bars.map((b) => [b.place, b.low, b.high])).toEqual([
      [1.5, 5, 7],
      [6.5, 1, 1],
    ]);
  });

  test('any points: every value lies in one bar, no bar is empty, and the last bar ends with the last day', () => {
    const to = addDays(FROM, 500);
    fc.assert(
      fc.property(pointsArb, fc.constantFrom(7, 14, 28), (points, barDays) => {
        const bars = barsOf(points, FROM, to, barDays);
        const values = points.map((p) => p.value).filter((v) => v !== undefined);
        expect(bars.reduce((sum, b) => sum + b.count, 0)).toBe(values.length);
        if (values.length === 0) return;
        expect(Math.min(...bars.map((b) => b.low))).toBe(Math.min(...values));
        expect(Math.max(...bars.map((b) => b.high))).toBe(Math.max(...values));
        bars.slice(1).forEach((b, i) => {
          expect(b.place).toBeGreaterThan(bars[i]?.place ?? 0);
        });
        for (const p of points.filter((q) => q.value !== undefined)) {
          const place = daysBetween(FROM, p.day) + 0.5;
          expect(bars.some((b) => Math.abs(b.place - place) <= barDays / 2 && b.low <= (p.value ?? 0) && (p.value ?? 0) <= b.high)).toBe(
            true,
          );
        }
      }),
    );
  });
});
