import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { LogRecord } from '../../../app/care/log/records.ts';
import { openAlerts, timeline } from '../../../app/care/log/timeline.ts';
import type { LocalDay } from '../../../app/care/schedule/day.ts';
import { ledger } from '../../../app/care/supplies/ledger.ts';
import { recordsForVisit } from '../../../app/care/visit/records-for-visit.ts';
import { visitSummary } from '../../../app/care/visit/summary.ts';
import { change, check, measurement, note, stamp } from '../log/make.ts';
import { mustRead, twoWoundPlan } from '../plan/plans.ts';
import { dayArb, historyArb, NOW } from './histories.ts';

const PLAN = mustRead({ ...twoWoundPlan(), revision: 2 });

const summaryOf = (records: readonly LogRecord[], from: LocalDay, to?: LocalDay) =>
  visitSummary({ plan: PLAN, earlierPlans: [twoWoundPlan()], entries: timeline(records), from, to, now: NOW, zone: 'UTC' });

const stock = (id: string, at: string, movement: 'received' | 'used' | 'counted', amount: number, expires?: string): LogRecord => ({
  ...stamp(id, at),
  kind: 'stock',
  item: 'foam',
  movement,
  amount,
  ...(expires && { expires: expires as LocalDay }),
});
const ids = (records: readonly LogRecord[]): string[] => records.map((r) => r.id);

describe('the part of a log that is handed over for some days', () => {
  test('says of those days, and of any part of them, exactly what the whole log says', () => {
    const days = fc.tuple(dayArb, dayArb, dayArb).map((list) => [...list].sort() as [LocalDay, LocalDay, LocalDay]);
    fc.assert(
      fc.property(historyArb, days, fc.boolean(), (records, [first, from, to], toNow) => {
        const part = recordsForVisit(records, first);
        expect(records.filter((r) => part.includes(r))).toEqual(part);
        const until = toNow ? undefined : to;
        expect(summaryOf(part, from, until)).toEqual(summaryOf(records, from, until));
        expect(openAlerts(timeline(part))).toEqual(openAlerts(timeline(records)));
      }),
      { numRuns: 40 },
    );
  });

  test('brings the stock so that the same pieces are at hand, whatever was counted, expired or corrected', () => {
    const movement = fc.tuple(
      dayArb,
      fc.constantFrom('received' as const, 'used' as const, 'counted' as const),
      fc.integer({ min: 0, max: 9 }),
      fc.option(fc.constantFrom('2031-03-20', '2031-06-20'), { nil: undefined }),
    );
    const edit = fc.tuple(fc.nat(), dayArb, fc.integer({ min: 0, max: 9 }));
    fc.assert(
      fc.property(fc.array(movement, { maxLength: 14 }), fc.array(edit, { maxLength: 3 }), dayArb, (moves, edits, from) => {
        const written = moves.map(([day, kind, amount, expires], i) =>
          stock(`s${i}`, `${day}T${10 + (i % 10)}:00`, kind, amount, kind === 'received' ? expires : undefined),
        );
        const corrections = edits.flatMap(([which, day, amount], i): LogRecord[] => {
          const of = written[which % Math.max(1, written.length)];
          return of ? [{ ...of, ...stamp(`e${i}`, `${day}T23:00`), amends: of.id, amount } as LogRecord] : [];
        });
        const log = [...written, ...corrections];
        const { lots, tracked, onHand } = ledger(timeline(recordsForVisit(log, from)), 'foam');
        const whole = ledger(timeline(log), 'foam');
        expect({ lots, tracked, onHand }).toEqual({ lots: whole.lots, tracked: whole.tracked, onHand: whole.onHand });
      }),
      { numRuns: 1_000 },
    );
  });

  test('leaves behind what no figure rests on', () => {
    const log = [
      note('first', '2031-02-01T08:00'),
      check('old', '2031-02-01T09:00'),
      change('older', '2031-02-01T10:00'),
      change('longAgo', '2031-02-03T10:00'),
      check('k', '2031-03-30T09:00'),
      change('last', '2031-03-30T10:00', { check: 'k' }),
      check('between', '2031-03-31T09:00'),
      check('now', '2031-04-02T09:00'),
    ];
    expect(ids(recordsForVisit(log, '2031-04-01' as LocalDay))).toEqual(['first', 'longAgo', 'k', 'last', 'between', 'now']);
  });

  test('brings every size, for the first one is the measure of the last', () => {
    const log = [measurement('m1', '2031-01-01T09:00', 22, 16), note('n', '2031-03-01T09:00')];
    expect(ids(recordsForVisit(log, '2031-03-01' as LocalDay))).toEqual(['m1', 'n']);
  });

  test('brings the stock from the last count on, unless pieces counted then have a last day of their own', () => {
    const first = note('first', '2031-01-01T08:00');
    const count = [stock('c', '2031-01-03T09:00', 'counted', 7), stock('d', '2031-01-04T09:00', 'used', 1)];
    const received = (expires?: string) => [
      stock('a', '2031-01-01T09:00', 'received', 10, expires),
      stock('b', '2031-01-02T09:00', 'used', 2),
    ];
    const march = '2031-03-01' as LocalDay;
    expect(ids(recordsForVisit([first, ...received(), ...count], march))).toEqual(['first', 'c', 'd']);
    expect(ids(recordsForVisit([first, ...received('2032-01-01'), ...count], march))).toEqual(['first', 'a', 'b', 'c', 'd']);
  });
});
