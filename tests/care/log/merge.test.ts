import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { LogRecord } from '../../../app/care/log/records.ts';
import { alertStates, mergeLogs, oneOfTwo, timeline } from '../../../app/care/log/timeline.ts';
import { historiesArb } from './histories.ts';
import { check, logArb, note, outcome } from './make.ts';

const RUNS = { numRuns: 1_000 };

describe('merging two logs', () => {
  test('gives the same in either order', () => {
    fc.assert(
      fc.property(logArb, logArb, (a, b) => {
        expect(mergeLogs(a, b)).toEqual(mergeLogs(b, a));
      }),
      RUNS,
    );
  });

  test('gives the same however three are paired', () => {
    fc.assert(
      fc.property(logArb, logArb, logArb, (a, b, c) => {
        expect(mergeLogs(mergeLogs(a, b), c)).toEqual(mergeLogs(a, mergeLogs(b, c)));
      }),
      RUNS,
    );
  });

  test('twice is as good as once', () => {
    fc.assert(
      fc.property(logArb, logArb, (a, b) => {
        const once = mergeLogs(a, b);
        expect(mergeLogs(once, b)).toEqual(once);
        expect(mergeLogs(once, once)).toEqual(once);
        expect(mergeLogs(a, [])).toEqual(mergeLogs([], a));
      }),
      RUNS,
    );
  });

  test('loses no id, makes none up and keeps each once', () => {
    fc.assert(
      fc.property(logArb, logArb, (a, b) => {
        const merged = mergeLogs(a, b).map((r) => r.id);
        expect([...merged].sort()).toEqual([...new Set([...a, ...b].map((r) => r.id))].sort());
      }),
      RUNS,
    );
  });

  test('keeps every record as it was in one of the logs', () => {
    fc.assert(
      fc.property(logArb, logArb, (a, b) => {
        for (const record of mergeLogs(a, b)) expect([...a, ...b]).toContain(record);
      }),
    );
  });

  test('loses no content where no id means two things', () => {
    const tagged = (tag: string): fc.Arbitrary<LogRecord[]> => logArb.map((log) => log.map((r) => ({ ...r, id: `${r.id}${tag}` })));
    fc.assert(
      fc.property(tagged('x'), tagged('y'), (a, b) => {
        expect(new Set(mergeLogs(a, b))).toEqual(new Set([...a, ...b]));
      }),
    );
  });

  test('stands in time order', () => {
    fc.assert(
      fc.property(logArb, logArb, (a, b) => {
        const times = mergeLogs(a, b).map((r) => Date.parse(r.at));
        expect(times).toEqual([...times].sort((x, y) => x - y));
      }),
    );
  });

  test('leaves both logs as they were', () => {
    fc.assert(
      fc.property(logArb, logArb, (a, b) => {
        const before = structuredClone([a, b]);
        mergeLogs(a, b);
        expect([a, b]).toEqual(before);
      }),
    );
  });

  test('a correction made on one phone corrects the record made on the other', () => {
    const patient = [note('a', '2031-03-04T09:00', 'left'), check('c', '2031-03-04T09:10')];
    const caregiver = [note('a2', '2031-03-04T10:00', 'right', { amends: 'a' }), outcome('o', ['x'], 'reached', '2031-03-04T11:00')];
    const [entry] = timeline(mergeLogs(patient, caregiver));
    expect(entry?.now).toMatchObject({ text: 'right' });
  });
});

describe('logs of three phones with clocks days apart, corrections of one record on several sides, and withdrawals', () => {
  test('merge to the same in any order, in any pairs and any number of times', () => {
    fc.assert(
      fc.property(historiesArb, fc.shuffledSubarray([0, 1, 2, 0, 1, 2], { minLength: 6 }), (logs, order) => {
        const [a = [], b = [], c = []] = logs;
        const whole = mergeLogs(mergeLogs(a, b), c);
        expect(mergeLogs(a, mergeLogs(b, c))).toEqual(whole);
        expect(order.map((i) => logs[i] as LogRecord[]).reduce(mergeLogs)).toEqual(whole);
        expect(mergeLogs(whole, b)).toEqual(whole);
        expect(timeline(mergeLogs(c, mergeLogs(a, b)))).toEqual(timeline(whole));
      }),
      RUNS,
    );
  });

  test('lose nothing: each record of each phone is there once, as it was written', () => {
    fc.assert(
      fc.property(historiesArb, (logs) => {
        const whole = logs.reduce(mergeLogs);
        expect(whole.map((r) => r.id).sort()).toEqual([...new Set(logs.flat().map((r) => r.id))].sort());
        for (const record of logs.flat()) expect(whole).toContainEqual(record);
      }),
      RUNS,
    );
  });

  test('show the same state on every phone once all have met, whoever met whom first', () => {
    fc.assert(
      fc.property(historiesArb, fc.array(fc.tuple(fc.nat(2), fc.nat(2)), { maxLength: 12 }), (logs, meetings) => {
        const phones = logs.map((log) => [...log]);
        const meet = (to: number, from: number) => {
          phones[to] = mergeLogs(phones[to] as LogRecord[], phones[from] as LogRecord[]);
        };
        for (const [to, from] of meetings) meet(to, from);
        for (const [to, from] of [
          [0, 1],
          [0, 2],
          [1, 0],
          [2, 0],
        ] as const)
          meet(to, from);
        const states = phones.map((log) => alertStates(timeline(log)));
        expect(phones[1]).toEqual(phones[0]);
        expect(phones[2]).toEqual(phones[0]);
        expect(states[1]).toEqual(states[0]);
      }),
      RUNS,
    );
  });
});

describe('one id with two contents', () => {
  test('keeps the newer one, whichever log it came in, and the same one everywhere', () => {
    const [older, newer] = [note('a', '2031-03-04T09:00', 'zzz'), note('a', '2031-03-05T09:00', 'aaa')];
    expect(mergeLogs([older], [newer])).toEqual([newer]);
    expect(mergeLogs([newer], [older])).toEqual([newer]);
    const [one, two] = [note('a', '2031-03-04T09:00', 'one'), note('a', '2031-03-04T09:00', 'two')];
    expect(oneOfTwo(one, two)).toBe(oneOfTwo(two, one));
  });
});
