import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { LogRecord } from '../../../app/care/log/records.ts';
import { timeline } from '../../../app/care/log/timeline.ts';
import { wornDressings } from '../../../app/care/log/worn.ts';
import { change, logArb, mustBeRecords, withdrawal } from './make.ts';

const entriesOf = (...records: LogRecord[]) => timeline(mustBeRecords(records));
const NOW = Date.parse('2031-03-10T00:00:00Z');
const worn = (...records: LogRecord[]) => wornDressings(entriesOf(...records), 'w1', NOW, 744).map((w) => [w.change, w.hours]);

describe('how long a dressing was on', () => {
  test('from the change that put it on to the one that took it off, the newest first', () => {
    expect(worn(change('a', '2031-03-04T09:00'), change('b', '2031-03-06T08:40'), change('c', '2031-03-07T20:10'))).toEqual([
      ['c', 36],
      ['b', 48],
    ]);
  });

  test('one change alone has taken off nothing that is known', () => {
    expect(worn(change('a'))).toEqual([]);
  });

  test('a change broken off, withdrawn, of another wound or of tomorrow takes nothing off', () => {
    expect(
      worn(
        change('a', '2031-03-04T09:00'),
        change('b', '2031-03-05T09:00', { stopped: true }),
        change('c', '2031-03-05T12:00', { wound: 'w2' }),
        change('d', '2031-03-05T15:00'),
        withdrawal('v', 'd', '2031-03-05T16:00'),
        change('e', '2031-03-06T09:00'),
        change('f', '2031-04-06T09:00'),
      ),
    ).toEqual([['e', 48]]);
  });

  test('a pause of more than the given hours is no dressing', () => {
    expect(worn(change('a', '2031-01-04T09:00'), change('b', '2031-03-06T09:00'))).toEqual([]);
  });

  test('any log: every time is within what was asked for, and no two dressings overlap', () => {
    fc.assert(
      fc.property(logArb, (records) => {
        const list = wornDressings(timeline(records), 'w1', NOW, 10);
        for (const w of list) {
          expect(w.hours).toBeGreaterThanOrEqual(1);
          expect(w.hours).toBeLessThanOrEqual(10);
          expect(w.on).toBeLessThanOrEqual(w.off);
        }
        list.slice(1).forEach((older, i) => {
          expect(older.off).toBeLessThanOrEqual(list[i]?.on ?? 0);
        });
      }),
    );
  });
});
