import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Conflict, choicesOf, conflicts, entriesOf, keepAll, keepOne } from '../../../app/care/log/conflicts.ts';
import type { LogRecord, RecordOf } from '../../../app/care/log/records.ts';
import { alertStates, mergeLogs, standing, timeline } from '../../../app/care/log/timeline.ts';
import { ledger } from '../../../app/care/supplies/ledger.ts';
import { historiesArb } from './histories.ts';
import { alert, change, mustBeRecords, note, outcome, stamp, withdrawal } from './make.ts';

const [A, B] = [{ device: 'phone-1' }, { device: 'phone-2' }];
const stock = (id: string, at: string, movement: RecordOf<'stock'>['movement'], amount: number, more: Partial<RecordOf<'stock'>> = {}) =>
  ({ ...stamp(id, at), kind: 'stock', item: 'gauze', movement, amount, ...more }) as RecordOf<'stock'>;
const kinds = (records: readonly LogRecord[]): string[] => conflicts(records).map((c) => c.key);

/** Stamps as the judging phone gives them. */
function stamper(device = 'phone-1', at = '2031-03-20T09:00') {
  let count = 0;
  return () => ({ ...stamp(`judged-${device}-${++count}`, at), device });
}

describe('two counts of one item', () => {
  const first = stock('c1', '2031-03-04T09:00', 'counted', 10, A);
  test('from two phones within a day that differ are to be judged', () => {
    const [found] = conflicts([first, stock('c2', '2031-03-04T17:00', 'counted', 7, B)]);
    expect(found).toMatchObject({ kind: 'counted', item: 'gauze', key: 'counted:c1+c2' });
  });

  test('that what was used between them explains are none', () => {
    const used = stock('u', '2031-03-04T12:00', 'used', 3, A);
    expect(kinds([first, used, stock('c2', '2031-03-04T17:00', 'counted', 7, B)])).toEqual([]);
    expect(kinds([first, stock('c2', '2031-03-04T17:00', 'counted', 10, B)])).toEqual([]);
  });

  test('from one phone, of two items, or more than a day apart are none', () => {
    expect(kinds([first, stock('c2', '2031-03-04T17:00', 'counted', 7, A)])).toEqual([]);
    expect(kinds([first, stock('c2', '2031-03-04T17:00', 'counted', 7, { ...B, item: 'saline' })])).toEqual([]);
    expect(kinds([first, stock('c2', '2031-03-05T09:01', 'counted', 7, B)])).toEqual([]);
    expect(kinds([first, stock('c2', '2031-03-05T09:00', 'counted', 7, B)])).toHaveLength(1);
  });

  test('judged for one: the other is withdrawn and the stock is what the one says', () => {
    const log = [first, stock('c2', '2031-03-04T17:00', 'counted', 7, B)];
    const [found] = conflicts(log) as [Conflict];
    for (const [choice, amount] of [
      [0, 10],
      [1, 7],
    ] as const) {
      const after = [...log, ...keepOne(found, choicesOf(found)[choice] as LogRecord, log, stamper())];
      expect(kinds(after)).toEqual([]);
      expect(ledger(timeline(after), 'gauze').onHand).toBe(amount);
    }
  });
});

describe('one alert answered twice', () => {
  const raised = alert('a', '2031-03-04T09:00', A);
  test('with two outcomes from two phones is to be judged', () => {
    const log = [
      raised,
      outcome('o1', ['a'], 'reached', '2031-03-04T09:30', A),
      outcome('o2', ['a'], 'couldNotReach', '2031-03-04T09:20', B),
    ];
    expect(conflicts(log)).toMatchObject([
      { kind: 'answered', alert: { id: 'a' }, entries: [{ first: { id: 'o2' } }, { first: { id: 'o1' } }] },
    ]);
  });

  test('with the same outcome, or from one phone as the day goes on, is not', () => {
    expect(
      kinds([raised, outcome('o1', ['a'], 'reached', '2031-03-04T09:30', A), outcome('o2', ['a'], 'reached', '2031-03-04T09:40', B)]),
    ).toEqual([]);
    expect(
      kinds([raised, outcome('o1', ['a'], 'couldNotReach', '2031-03-04T09:30', B), outcome('o2', ['a'], 'reached', '2031-03-04T10:00', B)]),
    ).toEqual([]);
  });

  test('judged for "could not reach": the alert is open again', () => {
    const log = [
      raised,
      outcome('o1', ['a'], 'reached', '2031-03-04T09:30', A),
      outcome('o2', ['a'], 'couldNotReach', '2031-03-04T09:20', B),
    ];
    const [found] = conflicts(log) as [Conflict];
    const after = [...log, ...keepOne(found, choicesOf(found)[0] as LogRecord, log, stamper())];
    expect(alertStates(timeline(after))[0]).toMatchObject({ closed: false, outcomes: [{ what: 'couldNotReach' }] });
    expect(kinds(after)).toEqual([]);
  });

  test('an outcome that also answered another alert goes on answering that one', () => {
    const log = [
      raised,
      alert('b', '2031-03-04T09:05', A),
      outcome('o1', ['a'], 'couldNotReach', '2031-03-04T09:10', A),
      outcome('o2', ['a', 'b'], 'reached', '2031-03-04T09:20', B),
    ];
    const [found] = conflicts(log) as [Conflict];
    const after = [...log, ...keepOne(found, choicesOf(found)[0] as LogRecord, log, stamper())];
    expect(alertStates(timeline(after)).map((s) => [s.alert.id, s.closed])).toEqual([
      ['a', false],
      ['b', true],
    ]);
    expect(kinds(after)).toEqual([]);
  });

  test('judged as both right: both stay, and nothing is left to judge', () => {
    const log = [
      raised,
      outcome('o1', ['a'], 'reached', '2031-03-04T09:30', A),
      outcome('o2', ['a'], 'wentToHospital', '2031-03-04T12:20', B),
    ];
    const [found] = conflicts(log) as [Exclude<Conflict, { kind: 'corrected' }>];
    const after = [...log, ...keepAll(found, stamper('phone-3'))];
    expect(kinds(after)).toEqual([]);
    expect(alertStates(timeline(after))[0]?.outcomes.map((o) => o.what)).toEqual(['reached', 'wentToHospital']);
  });
});

describe('one change entered on both phones', () => {
  const first = change('d1', '2031-03-04T09:00', A);
  const second = change('d2', '2031-03-04T09:50', B);
  const used = [
    stock('d2-0', '2031-03-04T09:50', 'used', 2, { ...B, change: 'd2' }),
    stock('d1-0', '2031-03-04T09:00', 'used', 2, { ...A, change: 'd1' }),
  ];

  test('within an hour is to be judged; later, of another wound, or broken off it is not', () => {
    expect(kinds([first, second])).toEqual(['changed:d1+d2']);
    expect(kinds([first, change('d2', '2031-03-04T10:01', B)])).toEqual([]);
    expect(kinds([first, { ...second, wound: 'w2' }])).toEqual([]);
    expect(kinds([first, { ...second, stopped: true }])).toEqual([]);
    expect(kinds([first, { ...second, ...A }])).toEqual([]);
  });

  test('judged as one change: the other is withdrawn with what it used', () => {
    const log = [first, second, ...used];
    const [found] = conflicts(log) as [Conflict];
    const after = timeline([...log, ...keepOne(found, first, log, stamper())]);
    expect(standing(after, 'change').map((e) => e.first.id)).toEqual(['d1']);
    expect(standing(after, 'stock').map((e) => e.first.id)).toEqual(['d1-0']);
  });
});

describe('one record corrected on both phones', () => {
  const first = note('n', '2031-03-04T09:00', 'left', A);
  const here = note('n-a', '2031-03-04T10:00', 'right', { ...A, amends: 'n' });
  const there = note('n-b', '2031-03-04T10:30', 'both', { ...B, amends: 'n' });

  test('in different ways is to be judged; in the same way, or by one phone twice, it is not', () => {
    expect(conflicts([first, here, there])).toMatchObject([{ kind: 'corrected', versions: [{ id: 'n-a' }, { id: 'n-b' }] }]);
    expect(kinds([first, here, { ...there, text: 'right' }])).toEqual([]);
    expect(kinds([first, here, { ...there, ...A }])).toEqual([]);
    expect(kinds([first, here, there, withdrawal('v', 'n')])).toEqual([]);
  });

  test('judged: the one that is right stands, even where the other clock runs days ahead', () => {
    const ahead = { ...there, at: '2031-03-29T10:30:00.000Z' };
    const log = [first, here, ahead];
    const [found] = conflicts(log) as [Conflict];
    for (const chosen of [here, ahead]) {
      const after = [...log, ...keepOne(found, chosen, log, stamper())];
      expect(timeline(after)[0]?.now).toMatchObject({ text: chosen.text });
      expect(kinds(after)).toEqual([]);
    }
  });

  test('a later correction by the other phone is shown again, never hidden by the judgement', () => {
    const log = [first, here, there];
    const [found] = conflicts(log) as [Conflict];
    const judged = [...log, ...keepOne(found, here, log, stamper())];
    expect(kinds([...judged, note('n-c', '2031-03-21T09:00', 'neither', { ...B, amends: 'n' })])).toHaveLength(1);
  });
});

describe('any histories of three phones', () => {
  const merged = historiesArb.map((logs) => logs.reduce(mergeLogs));

  test('hold every kind of thing to judge, so that the tests below speak of something', () => {
    const kindsFound = fc.sample(merged, { numRuns: 1_000, seed: 20310304 }).flatMap((log) => conflicts(log).map((c) => c.kind));
    for (const kind of ['counted', 'answered', 'changed', 'corrected'])
      expect(kindsFound.filter((k) => k === kind).length).toBeGreaterThan(10);
  });

  test('show every phone the same things to judge, whatever came to it first', () => {
    fc.assert(
      fc.property(historiesArb, ([a = [], b = [], c = []]) => {
        const one = conflicts(mergeLogs(mergeLogs(a, b), c));
        expect(conflicts(mergeLogs(c, mergeLogs(b, a)))).toEqual(one);
        expect(conflicts([...a, ...b, ...c].filter((r, i, all) => all.findIndex((o) => o.id === r.id) === i))).toEqual(one);
      }),
    );
  });

  test('can be judged one by one until nothing is left, and nothing is erased', () => {
    fc.assert(
      fc.property(merged, fc.infiniteStream(fc.nat(5)), (start, choices) => {
        const next = stamper('phone-1');
        let log = start;
        const most = conflicts(start).length * 3 + 3;
        for (let round = 0; round < most; round++) {
          const [found] = conflicts(log);
          if (!found) break;
          const options = choicesOf(found);
          const choice = choices.next().value ?? 0;
          const all = found.kind !== 'corrected' && choice === 0;
          const made = all ? keepAll(found, next) : keepOne(found, options[choice % options.length] as LogRecord, log, next);
          mustBeRecords(made);
          log = mergeLogs(log, made);
          expect(conflicts(log).map((c) => c.key)).not.toContain(found.key);
        }
        expect(conflicts(log)).toEqual([]);
        for (const r of start) expect(log).toContain(r);
      }),
    );
  });

  test('with one phone alone there is nothing to judge', () => {
    fc.assert(
      fc.property(merged, (log) => {
        expect(conflicts(log.map((r) => ({ ...r, device: 'phone-1' })))).toEqual([]);
      }),
    );
  });

  test('each thing to judge names entries that stand', () => {
    fc.assert(
      fc.property(merged, (log) => {
        for (const c of conflicts(log)) {
          expect(choicesOf(c).length).toBeGreaterThan(1);
          for (const e of entriesOf(c)) expect(e.voided).toBeUndefined();
        }
      }),
    );
  });
});
