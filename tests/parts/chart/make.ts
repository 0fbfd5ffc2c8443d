import fc from 'fast-check';
import { addDays, type LocalDay } from '../../../app/care/schedule/day.ts';
import type { ChartPoint } from '../../../app/parts/chart/points.ts';
import type { ChartData } from '../../../app/parts/chart/shape.ts';

/** The first day of the charts of these tests. */
export const FROM = '2031-01-01' as LocalDay;

let count = 0;

/** A value so many days after the first, or a missing one. */
export function point(dayIndex: number, value: number | undefined, more: Partial<ChartPoint> = {}): ChartPoint {
  const day = addDays(FROM, dayIndex);
  count += 1;
  return {
    key: `p${count}`,
    day,
    at: Date.parse(`${day}T09:00:00Z`) + count,
    zone: 'UTC',
    value,
    said: value === undefined ? 'not known' : `${value} g`,
    ...more,
  };
}

/** Points of the first 500 days, in no order, several of one day and some without a value among them. */
export const pointsArb: fc.Arbitrary<ChartPoint[]> = fc
  .array(fc.record({ dayIndex: fc.nat(500), value: fc.option(fc.integer({ min: -50, max: 400 }), { nil: undefined }) }), { maxLength: 60 })
  .map((list) => list.map(({ dayIndex, value }) => point(dayIndex, value)));

/** A plain chart of one series over so many days. */
export const chartOf = (points: readonly ChartPoint[], days: number, more: Partial<ChartData> = {}): ChartData => ({
  from: FROM,
  to: addDays(FROM, days - 1),
  gapDays: 3,
  series: [{ key: 'a', look: 'disc', points }],
  ...more,
});
