import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { recordsSince } from '../../../app/care/log/period.ts';
import { openAlerts, timeline } from '../../../app/care/log/timeline.ts';
import type { LocalDay } from '../../../app/care/schedule/day.ts';
import { alert, change, check, logArb, note, outcome, withdrawal } from './make.ts';

const ids = (list: readonly { id: string }[]): string[] => list.map((r) => r.id);
const since = (day: string) => day as LocalDay;

describe('the part of a log from a day on', () => {
  test('is what was written on that day and later', () => {
    const log = [note('a', '2031-03-01T09:00'), note('b', '2031-03-02T09:00'), note('c', '2031-03-03T09:00')];
    expect(ids(recordsSince(log, since('2031-03-02')))).toEqual(['b', 'c']);
    expect(recordsSince(log, since('2031-04-01'))).toEqual([]);
    expect(recordsSince(log, since('2031-01-01'))).toEqual(log);
  });

  test('brings what it speaks of: the check of a change, the first version of a correction', () => {
    const log = [
      check('k', '2031-02-28T23:50'),
      note('a', '2031-02-01T09:00'),
      change('d', '2031-03-01T00:10', { check: 'k' }),
      note('a2', '2031-03-02T09:00', 'x', { amends: 'a' }),
    ];
    expect(ids(recordsSince(log, since('2031-03-01')))).toEqual(['k', 'a', 'd', 'a2']);
  });

  test('brings older alerts that nobody has answered, however old, and leaves answered ones', () => {
    const log = [
      check('k', '2031-01-01T09:00'),
      alert('open', '2031-01-01T09:00', { from: 'k' }),
      alert('done', '2031-01-02T09:00', { from: 'x' }),
      outcome('o', ['done'], 'reached', '2031-01-02T10:00'),
    ];
    expect(ids(recordsSince(log, since('2031-03-01')))).toEqual(['k', 'open']);
  });

  test('never shows an older record without its correction, withdrawal or outcome', () => {
    const log = [
      check('k', '2031-02-01T09:00'),
      note('n', '2031-02-01T10:00'),
      alert('a', '2031-02-01T11:00', { from: 'k' }),
      outcome('try', ['a'], 'couldNotReach', '2031-02-01T12:00'),
      note('n2', '2031-02-02T10:00', 'y', { amends: 'n' }),
      withdrawal('v', 'n', '2031-02-03T10:00'),
      change('d', '2031-03-02T10:00', { check: 'k' }),
      note('n3', '2031-03-02T11:00', 'z', { amends: 'n' }),
    ];
    expect(ids(recordsSince(log, since('2031-03-01')))).toEqual(ids(log));
  });

  test('of any log: nothing made up, order kept, nothing of the period missing, and the same alerts open', () => {
    fc.assert(
      fc.property(logArb, fc.constantFrom('2031-03-03', '2031-03-04', '2031-03-05'), (log, day) => {
        const part = recordsSince(log, since(day));
        expect(log.filter((r) => part.includes(r))).toEqual(part);
        expect(log.filter((r) => r.day >= day).every((r) => part.includes(r))).toBe(true);
        expect(openAlerts(timeline(part)).map((s) => s.alert.id)).toEqual(openAlerts(timeline(log)).map((s) => s.alert.id));
      }),
      { numRuns: 1_000 },
    );
  });

  test('of a log over many days: each entry stands as it stands in the whole log', () => {
    const spread = fc.tuple(logArb, fc.array(fc.integer({ min: 1, max: 28 }), { minLength: 8, maxLength: 8 })).map(([log, days]) =>
      log.map((r, i) => ({
        ...r,
        day: `2031-03-${String(days[i] ?? 1).padStart(2, '0')}` as LocalDay,
        at: `2031-03-${String(days[i] ?? 1).padStart(2, '0')}${r.at.slice(10)}`,
      })),
    );
    fc.assert(
      fc.property(spread, fc.integer({ min: 1, max: 29 }), (log, day) => {
        const part = recordsSince(log, since(`2031-03-${String(day).padStart(2, '0')}`));
        const whole = new Map(timeline(log).map((e) => [e.first.id, e]));
        for (const entry of timeline(part)) expect(entry).toEqual(whole.get(entry.first.id));
      }),
      { numRuns: 1_000 },
    );
  });
});
