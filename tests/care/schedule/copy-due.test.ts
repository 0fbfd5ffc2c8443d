import { describe, expect, test } from 'vitest';
import { isCopyDue } from '../../../app/care/schedule/copy-due.ts';
import type { LocalDay } from '../../../app/care/schedule/day.ts';

const day = (text: string) => text as LocalDay;
const copies = { every: 14, first: day('2031-03-01'), last: undefined, later: undefined };

describe('the reminder of a copy', () => {
  test('is silent in the first week of records and without any', () => {
    expect(isCopyDue(copies, day('2031-03-07'))).toBe(false);
    expect(isCopyDue(copies, day('2031-03-08'))).toBe(true);
    expect(isCopyDue({ ...copies, first: undefined }, day('2031-06-01'))).toBe(false);
  });

  test('comes so many days after the last copy', () => {
    const kept = { ...copies, last: day('2031-03-10') };
    expect(isCopyDue(kept, day('2031-03-23'))).toBe(false);
    expect(isCopyDue(kept, day('2031-03-24'))).toBe(true);
    expect(isCopyDue({ ...kept, every: 7 }, day('2031-03-17'))).toBe(true);
  });

  test('never comes when it was turned off, nor before the day it was put off to', () => {
    expect(isCopyDue({ ...copies, every: 0 }, day('2032-03-01'))).toBe(false);
    expect(isCopyDue({ ...copies, later: day('2031-04-01') }, day('2031-03-31'))).toBe(false);
    expect(isCopyDue({ ...copies, later: day('2031-04-01') }, day('2031-04-01'))).toBe(true);
  });
});
