import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { BANDS } from '../../../app/care/check/questions.ts';
import { addDays, daysBetween, type LocalDay } from '../../../app/care/schedule/day.ts';
import type { DrainageRow } from '../../../app/care/visit/changes-part.ts';
import { spansOf } from '../../../app/care/visit/spans.ts';

const FIRST = '2031-03-03' as LocalDay;
const row = (n: number, amount: DrainageRow['amount'] = 'light', place: DrainageRow['place'] = 'within'): DrainageRow => {
  const day = addDays(FIRST, n);
  return {
    change: `c${n}`,
    day,
    at: `${day}T09:00:00Z`,
    zone: 'UTC',
    amount,
    colour: undefined,
    expected: undefined,
    place,
    dressed: true,
  };
};

describe('many changes put together by weeks', () => {
  test('three weeks of daily changes are three rows of a week', () => {
    const rows = Array.from({ length: 21 }, (_, n) => row(n, n < 7 ? 'light' : 'moderate', n === 20 ? 'above' : 'within'));
    expect(spansOf(rows, 16).map((s) => [s.from, s.to, s.counts.light, s.counts.moderate, s.above])).toEqual([
      ['2031-03-03', '2031-03-09', 7, 0, 0],
      ['2031-03-10', '2031-03-16', 0, 7, 0],
      ['2031-03-17', '2031-03-23', 0, 7, 1],
    ]);
  });

  test('a week without a change has no row', () => {
    expect(spansOf([row(0), row(15)], 16).map((s) => s.from)).toEqual(['2031-03-03', '2031-03-17']);
  });

  test('there are never more rows than asked for, and every look is in one', () => {
    const rowsArb = fc
      .array(fc.tuple(fc.nat(4000), fc.constantFrom(...BANDS, 'unsure' as const, undefined)), { maxLength: 60 })
      .map((list) => list.sort(([a], [b]) => a - b).map(([n, amount]) => row(n, amount)));
    fc.assert(
      fc.property(rowsArb, fc.integer({ min: 1, max: 30 }), (rows, most) => {
        const spans = spansOf(rows, most);
        expect(spans.length).toBeLessThanOrEqual(most);
        const counted = spans.flatMap((s) => Object.values(s.counts)).reduce((a, b) => a + b, 0);
        expect(counted).toBe(rows.length);
        for (const s of spans) expect((daysBetween(s.from, s.to) + 1) % 7).toBe(0);
      }),
    );
  });
});
