import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type LogRecord, type RecordOf, readRecords, STOCK_MOVEMENTS } from '../../../app/care/log/records.ts';
import type { Entry } from '../../../app/care/log/timeline.ts';
import type { LocalDay } from '../../../app/care/schedule/day.ts';
import { isExpired, itemsMoved, ledger, type Movement, usableOn } from '../../../app/care/supplies/ledger.ts';
import { withdrawal } from '../log/make.ts';
import { entriesOf, stock } from './scenario.ts';

const day = (text: string): LocalDay => text as LocalDay;
const at = (hour: number): string => `2031-03-04T${String(hour).padStart(2, '0')}:00`;

describe('the book of an item', () => {
  it('adds what came, takes off what went', () => {
    const book = ledger(entriesOf(stock('received', 20), stock('used', 3), stock('wasted', 1)), 'foam');
    expect(book).toMatchObject({ received: 20, used: 3, wasted: 1, onHand: 16, difference: 0, unexplained: 0, tracked: true });
    expect(book.movements.map((m) => [m.before, m.after])).toEqual([
      [0, 20],
      [20, 17],
      [17, 16],
    ]);
  });

  it('a count sets the truth and its difference stays to be seen, missing or more', () => {
    const fewer = ledger(entriesOf(stock('received', 20), stock('counted', 17)), 'foam');
    expect(fewer).toMatchObject({ onHand: 17, difference: 3, unexplained: 0 });
    expect(fewer.movements[1]?.difference).toBe(3);
    const more = ledger(entriesOf(stock('received', 20), stock('counted', 25)), 'foam');
    expect(more).toMatchObject({ received: 20, onHand: 25, difference: -5 });
  });

  it('a count of an item never received is where its book begins', () => {
    expect(ledger(entriesOf(stock('counted', 8)), 'foam')).toMatchObject({ received: 0, onHand: 8, difference: -8, tracked: true });
  });

  it('more used than was there: the stock stays at nothing and the correction shows', () => {
    const book = ledger(entriesOf(stock('received', 2), stock('used', 5), stock('received', 10)), 'foam');
    expect(book).toMatchObject({ received: 12, used: 5, onHand: 10, difference: -3, unexplained: 3 });
    expect(book.movements[1]).toMatchObject({ before: 2, after: 0, difference: -3 });
  });

  it('before anybody has received or counted, use alone does not make it known', () => {
    expect(ledger(entriesOf(stock('used', 1)), 'foam')).toMatchObject({ tracked: false, onHand: 0, unexplained: 1 });
    expect(ledger([], 'foam')).toMatchObject({ tracked: false, onHand: 0, movements: [] });
  });

  it('a withdrawn movement does not count; a corrected one counts as corrected, at its first time', () => {
    const received = stock('received', 20, { when: at(8) });
    const used = stock('used', 5, { when: at(9) });
    const right = { ...stock('used', 2, { when: at(11) }), amends: used.id };
    const counted = stock('counted', 18, { when: at(10) });
    const book = ledger(entriesOf(received, used, counted, right), 'foam');
    expect(book).toMatchObject({ used: 2, onHand: 18, difference: 0 });
    expect(book.movements.map((m) => [m.movement, m.amended])).toEqual([
      ['received', false],
      ['used', true],
      ['counted', false],
    ]);
    expect(ledger(entriesOf(received, used, withdrawal('v', used.id, at(12))), 'foam')).toMatchObject({ used: 0, onHand: 20 });
  });

  it('parts of a piece add up: 0.1 and 0.2 are 0.3', () => {
    expect(ledger(entriesOf(stock('received', 0.3), stock('used', 0.1), stock('used', 0.2)), 'foam')).toMatchObject({
      onHand: 0,
      unexplained: 0,
    });
  });

  it('items are kept apart, and all that ever moved are known', () => {
    const entries = entriesOf(stock('received', 20), stock('received', 7, { item: 'gauze' }), stock('used', 1, { item: 'gauze' }));
    expect([ledger(entries, 'foam').onHand, ledger(entries, 'gauze').onHand]).toEqual([20, 6]);
    expect(itemsMoved(entries)).toEqual(['foam', 'gauze']);
  });
});

describe('dates on the packs', () => {
  const lots = (...movements: RecordOf<'stock'>[]) => ledger(entriesOf(...movements), 'foam').lots;

  it('the first to expire is used first, pieces without a date last', () => {
    const came = [
      stock('received', 5),
      stock('received', 5, { expires: day('2031-12-31') }),
      stock('received', 5, { expires: day('2031-06-30') }),
    ];
    expect(lots(...came)).toEqual([{ amount: 5, expires: '2031-06-30' }, { amount: 5, expires: '2031-12-31' }, { amount: 5 }]);
    expect(lots(...came, stock('used', 7))).toEqual([{ amount: 3, expires: '2031-12-31' }, { amount: 5 }]);
  });

  it('what has expired is not taken for a wound while there is other; it is what is thrown away first', () => {
    const came = [stock('received', 5, { expires: day('2031-03-01'), when: at(7) }), stock('received', 5, { when: at(7) })];
    expect(lots(...came, stock('used', 2))).toEqual([{ amount: 5, expires: '2031-03-01' }, { amount: 3 }]);
    expect(lots(...came, stock('wasted', 5))).toEqual([{ amount: 5 }]);
    expect(lots(...came, stock('counted', 5))).toEqual([{ amount: 5 }]);
  });

  it('the last day is a day of use; the day after is not', () => {
    const lot = { amount: 4, expires: day('2031-03-04') };
    expect([isExpired(lot, day('2031-03-04')), isExpired(lot, day('2031-03-05'))]).toEqual([false, true]);
    expect([usableOn([lot, { amount: 2 }], day('2031-03-04')), usableOn([lot, { amount: 2 }], day('2031-03-05'))]).toEqual([6, 2]);
  });
});

describe('what the schema refuses', () => {
  const refused = (more: object): boolean => readRecords([{ ...stock('received', 1), ...more }]).unreadable.length === 1;
  it('negative, endless and no numbers; dates and changes where they do not belong', () => {
    expect([-1, -0.001, Number.NaN, Number.POSITIVE_INFINITY, 100_001, '3', null].map((amount) => refused({ amount }))).toEqual(
      Array(7).fill(true),
    );
    expect(refused({ movement: 'used', expires: '2031-03-04' })).toBe(true);
    expect(refused({ change: 'c1' })).toBe(true);
    expect(refused({ expires: '2031-02-30' })).toBe(true);
    expect(refused({ item: '../x' })).toBe(true);
    expect(refused({ amount: 0 })).toBe(false);
  });
});

describe('always', () => {
  /** Any log of one item: any order, corrections and withdrawals of any earlier movement, dates on some packs. */
  const logArb: fc.Arbitrary<LogRecord[]> = fc
    .array(
      fc.record({
        movement: fc.constantFrom(...STOCK_MOVEMENTS),
        quarters: fc.integer({ min: 0, max: 120 }),
        expires: fc.option(fc.constantFrom('2031-02-01', '2031-03-04', '2031-05-01').map(day), { nil: undefined }),
        hour: fc.integer({ min: 0, max: 23 }),
        what: fc.constantFrom('new', 'new', 'new', 'amend', 'void'),
        target: fc.nat(100),
      }),
      { maxLength: 25 },
    )
    .map((steps) => {
      const made: LogRecord[] = [];
      for (const { movement, quarters, expires, hour, what, target } of steps) {
        const movements = made.filter((r): r is RecordOf<'stock'> => r.kind === 'stock' && r.amends === undefined);
        const other = movements[target % Math.max(1, movements.length)];
        if (what === 'void' && other) {
          made.push(withdrawal(`v${made.length}`, other.id, at(hour)));
          continue;
        }
        const dated = movement === 'received' && expires ? { expires } : {};
        const record = stock(movement, quarters / 4, { when: at(hour), ...dated });
        made.push(what === 'amend' && other ? { ...record, amends: other.id } : record);
      }
      return made;
    });

  function holdsTogether(m: Movement, before: number): void {
    expect(m.before).toBe(before);
    const change = { received: m.amount, used: -m.amount, wasted: -m.amount, counted: 0 }[m.movement];
    const lacking = { received: 0, used: 1, wasted: 1, counted: 0 }[m.movement] * Math.max(0, m.amount - m.before);
    expect(m.after).toBeCloseTo(m.before + change - m.difference, 6);
    expect(m.difference).toBeCloseTo(m.movement === 'counted' ? m.before - m.amount : -lacking, 6);
  }

  const book = (entries: readonly Entry[]) => ledger(entries, 'foam');

  it('received = used + wasted + on hand + difference; nothing on hand is below zero; every correction is on a line', () => {
    fc.assert(
      fc.property(logArb, (records) => {
        const b = book(entriesOf(...records));
        expect(b.received).toBeCloseTo(b.used + b.wasted + b.onHand + b.difference, 6);
        expect(b.onHand).toBeGreaterThanOrEqual(0);
        expect(b.lots.every((l) => l.amount > 0)).toBe(true);
        expect(b.lots.reduce((sum, l) => sum + l.amount, 0)).toBeCloseTo(b.onHand, 6);
        expect(b.movements.reduce((sum, m) => sum + m.difference, 0)).toBeCloseTo(b.difference, 6);
        for (const [i, m] of b.movements.entries()) holdsTogether(m, b.movements[i - 1]?.after ?? 0);
      }),
      { numRuns: 1500 },
    );
  });

  it('the sums are those of the movements that stand, told apart by a plain count', () => {
    fc.assert(
      fc.property(logArb, (records) => {
        const b = book(entriesOf(...records));
        const gone = new Set(records.flatMap((r) => (r.kind === 'void' ? [r.target] : [])));
        const firsts = records.filter((r): r is RecordOf<'stock'> => r.kind === 'stock' && r.amends === undefined && !gone.has(r.id));
        expect(b.movements.map((m) => m.id).sort()).toEqual(firsts.map((r) => r.id).sort());
        for (const kind of ['received', 'used', 'wasted'] as const) {
          const sum = b.movements.filter((m) => m.movement === kind).reduce((s, m) => s + m.amount, 0);
          expect(b[kind]).toBeCloseTo(sum, 6);
        }
      }),
    );
  });

  it('the order in which records were written down does not matter', () => {
    fc.assert(
      fc.property(logArb, (records) => {
        expect(book(entriesOf(...[...records].reverse()))).toEqual(book(entriesOf(...records)));
      }),
    );
  });
});
