import { describe, expect, test } from 'vitest';
import type { LogRecord } from '../../app/care/log/records.ts';
import { timeline } from '../../app/care/log/timeline.ts';
import { entriesWithin, type Period } from '../../app/exchange/period.ts';
import { alert, note, outcome, withdrawal } from '../care/log/make.ts';

const within = (records: LogRecord[], from?: string, to?: string): string[] =>
  entriesWithin(timeline(records), { from, to } as Period).map((e) => e.first.id);

describe('the days an export is about', () => {
  const days = [note('n1', '2031-03-01T09:00'), note('n2', '2031-03-02T09:00'), note('n3', '2031-03-03T09:00')];

  test('both ends belong to it, and an end that is missing leaves it open', () => {
    expect(within(days, '2031-03-02', '2031-03-02')).toEqual(['n2']);
    expect(within(days, '2031-03-02')).toEqual(['n2', 'n3']);
    expect(within(days, undefined, '2031-03-02')).toEqual(['n1', 'n2']);
    expect(within(days)).toEqual(['n1', 'n2', 'n3']);
  });

  test('a correction made later stays with the day it is about', () => {
    const later = note('n2b', '2031-03-09T09:00', 'corrected', { amends: 'n2' });
    expect(within([...days, later], '2031-03-02', '2031-03-02')).toEqual(['n2']);
    expect(within([...days, later], '2031-03-09')).toEqual([]);
  });

  test('an older alert comes with the outcome that answers it, but not with one that was withdrawn', () => {
    const told = [alert('a1', '2031-02-20T09:00'), alert('a2', '2031-02-21T09:00'), outcome('o1', ['a1'], 'reached', '2031-03-02T09:00')];
    expect(within(told, '2031-03-01')).toEqual(['a1', 'o1']);
    expect(within([...told, withdrawal('x', 'o1', '2031-03-02T10:00')], '2031-03-01')).toEqual(['o1']);
  });
});
