import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { LogRecord } from '../../../app/care/log/records.ts';
import { mergeLogs, timeline } from '../../../app/care/log/timeline.ts';
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
