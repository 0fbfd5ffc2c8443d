import { expect, test } from 'vitest';
import { isStale } from '../../../app/care/check/stale.ts';
import { localDay } from '../../../app/care/schedule/day.ts';

const ZONE = 'America/Chicago';
const stale = (startedAt: string, now: string, zone = ZONE) => isStale(startedAt, Date.parse(now), localDay(Date.parse(now), zone), zone);

test('a check left in the evening is old the next morning, in the person’s own zone', () => {
  expect(stale('2031-03-04T03:00:00Z', '2031-03-04T14:00:00Z')).toBe(true);
  // The same instants are one day in Auckland.
  expect(stale('2031-03-04T03:00:00Z', '2031-03-04T10:30:00Z', 'Pacific/Auckland')).toBe(false);
});

test('one that runs over midnight is still the same sitting, up to four hours', () => {
  expect(stale('2031-03-04T05:30:00Z', '2031-03-04T06:10:00Z')).toBe(false);
  expect(stale('2031-03-04T05:30:00Z', '2031-03-04T09:30:00Z')).toBe(false);
  expect(stale('2031-03-04T05:30:00Z', '2031-03-04T09:30:01Z')).toBe(true);
});

test('one of this morning is today’s however long it has been left', () => {
  expect(stale('2031-03-04T12:00:00Z', '2031-03-05T05:00:00Z')).toBe(false);
});

test('a clock that was set back makes none old, and neither does a date that is none', () => {
  expect(stale('2031-03-09T12:00:00Z', '2031-03-04T12:00:00Z')).toBe(false);
  expect(stale('', '2031-03-04T12:00:00Z')).toBe(false);
});
