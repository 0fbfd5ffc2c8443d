import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { addDays, daysBetween, type LocalDay } from '../../../app/care/schedule/day.ts';
import { dayTicks, guessWidth, niceStep, niceTicks } from '../../../app/parts/chart/ticks.ts';

const day = (text: string) => text as LocalDay;
const TO = day('2031-03-04');

/** Whether a number is 1, 2 or 5 times a power of ten. */
const isNice = (n: number): boolean => /^[125](\.0*)?e/.test(n.toExponential());

describe('steps of an axis of values', () => {
  test.each([
    [0.07, 0.1],
    [1, 1],
    [1.1, 2],
    [3, 5],
    [5.01, 10],
    [240, 500],
  ])('the nice step from %f on is %f', (atLeast, step) => {
    expect(niceStep(atLeast)).toBe(step);
  });

  test('tenths come out as tenths', () => {
    expect(niceTicks(36.2, 38, 5)).toEqual([36, 36.5, 37, 37.5, 38]);
    expect(niceTicks(0, 0.3, 4)).toEqual([0, 0.1, 0.2, 0.3]);
  });

  test('a single value has an axis around it', () => {
    const ticks = niceTicks(2, 2, 4);
    expect(Math.min(...ticks)).toBeLessThan(2);
    expect(Math.max(...ticks)).toBeGreaterThan(2);
  });

  test('any range: the ticks reach over it, are evenly spaced by a nice step and no more than asked for', () => {
    // As readings are: whole numbers, tenths, hundredths, and now and then something huge.
    const values = fc.tuple(fc.integer({ min: -2000, max: 2000 }), fc.constantFrom(0.01, 0.1, 1, 1000)).map(([n, unit]) => n * unit);
    fc.assert(
      fc.property(values, values, fc.integer({ min: 1, max: 12 }), (a, b, most) => {
        const [low, high] = a < b ? [a, b] : [b, a];
        fc.pre(high === low || high - low > 1e-6 * Math.max(1, Math.abs(low), Math.abs(high)));
        const ticks = niceTicks(low, high, most);
        const step = (ticks[1] ?? 0) - (ticks[0] ?? 0);
        expect(ticks.length).toBeGreaterThanOrEqual(2);
        expect(ticks.length).toBeLessThanOrEqual(Math.max(3, most));
        expect(isNice(Number(step.toPrecision(6)))).toBe(true);
        const hair = 1e-6 * step;
        expect(ticks[0]).toBeLessThanOrEqual(low + hair);
        expect(ticks.at(-1)).toBeGreaterThanOrEqual(high - hair);
        ticks.slice(1).forEach((t, i) => {
          expect(Math.abs(t - (ticks[i] ?? 0) - step)).toBeLessThan(hair);
        });
      }),
    );
  });

  test('the check for niceness can fail', () => {
    expect([0.1, 20, 5e-7, 3, 25].map(isNice)).toEqual([true, true, true, false, false]);
  });
});

describe('days under an axis of time', () => {
  const say = (d: LocalDay, style: 'day' | 'month') => (style === 'day' ? d.slice(5) : d.slice(0, 7));
  const ticks = (back: number, width: number, size = 15) => dayTicks(addDays(TO, -back), TO, width, size, [30, 10], say, guessWidth);

  test('two weeks on a phone show this day and the same weekday before', () => {
    expect(ticks(13, 150).map((t) => t.text)).toEqual(['02-25', '03-04']);
  });

  test('two weeks on a tablet show every other day', () => {
    expect(ticks(13, 700).map((t) => t.text)).toEqual(['02-20', '02-22', '02-24', '02-26', '02-28', '03-02', '03-04']);
  });

  test('more than half a year is told in months with their year, for a day could be meant twice', () => {
    const long = ticks(400, 700);
    expect(long.every((t) => /^\d{4}-\d\d$/.test(t.text))).toBe(true);
    expect(long.length).toBeGreaterThan(4);
    expect(long.every((t) => t.day.endsWith('-01'))).toBe(true);
  });

  test('where nothing fits, the last day stands alone', () => {
    expect(ticks(13, 40, 40).map((t) => t.day)).toEqual([TO]);
  });

  test('any period, width and size: texts are in order, do not touch and stay in the picture', () => {
    fc.assert(
      fc.property(fc.nat(4000), fc.integer({ min: 60, max: 900 }), fc.integer({ min: 10, max: 40 }), (back, width, size) => {
        const from = addDays(TO, -back);
        const found = dayTicks(from, TO, width, size, [30, 10], say, guessWidth);
        expect(found.length).toBeGreaterThan(0);
        const boxes = found.map((t) => ({ begin: t.x - guessWidth(t.text, size) / 2, end: t.x + guessWidth(t.text, size) / 2 }));
        boxes.slice(1).forEach((b, i) => {
          expect(b.begin).toBeGreaterThan(boxes[i]?.end ?? 0);
        });
        if (guessWidth('0000-00', size) < width) {
          expect(boxes[0]?.begin).toBeGreaterThanOrEqual(-30 - 1e-9);
          expect(boxes.at(-1)?.end).toBeLessThanOrEqual(width + 10 + 1e-9);
        }
        for (const t of found) {
          expect(daysBetween(from, t.day)).toBeGreaterThanOrEqual(0);
          expect(daysBetween(t.day, TO)).toBeGreaterThanOrEqual(0);
        }
      }),
    );
  });
});
