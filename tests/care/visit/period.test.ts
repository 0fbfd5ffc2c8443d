import { describe, expect, test } from 'vitest';
import type { LogRecord } from '../../../app/care/log/records.ts';
import { timeline } from '../../../app/care/log/timeline.ts';
import type { LocalDay } from '../../../app/care/schedule/day.ts';
import { type VisitInput, visitSummary } from '../../../app/care/visit/summary.ts';
import { alert, change, check, measurement, note, outcome, planAccepted, stamp, withdrawal } from '../log/make.ts';
import { demoPlan } from '../plan/plans.ts';

const NOW = Date.parse('2031-03-18T12:00:00Z');
const visit = (id: string, at: string): LogRecord => ({ ...stamp(id, at), kind: 'visit' });
const day = (d: number): LocalDay => `2031-03-${String(d).padStart(2, '0')}` as LocalDay;
const summary = (records: readonly LogRecord[], more: Partial<VisitInput> = {}) =>
  visitSummary({ plan: demoPlan(), earlierPlans: [], entries: timeline(records), now: NOW, zone: 'UTC', ...more });
const daily = (from: number, to: number): LogRecord[] =>
  Array.from({ length: to - from + 1 }, (_, i) => check(`c${from + i}`, `${day(from + i)}T09:00`));

describe('the period of a summary', () => {
  test('goes back to the acceptance of the plan in force while there was no visit', () => {
    const { period } = summary([planAccepted('p', '2031-03-02T08:00'), ...daily(2, 17)]);
    expect([period.from, period.to, period.days, period.since]).toEqual([day(2), day(18), 17, 'plan']);
  });

  test('the visit of today does not end it: the page still shows what led to the visit', () => {
    const records = [planAccepted('p', '2031-03-02T08:00'), visit('v1', '2031-03-05T10:00'), visit('v2', '2031-03-18T10:00')];
    expect(summary(records).period.from).toBe(day(5));
    expect(summary(records, { now: NOW + 86_400_000 }).period.from).toBe(day(18));
  });

  test('a withdrawn visit does not begin it', () => {
    const records = [planAccepted('p', '2031-03-02T08:00'), visit('v1', '2031-03-05T10:00'), withdrawal('x', 'v1', '2031-03-05T10:01')];
    expect(summary(records).period.from).toBe(day(2));
  });

  test('days before the log began are not missed checks', () => {
    const { period, checks } = summary([planAccepted('p', '2031-03-10T08:00'), ...daily(10, 17)], { from: '2030-12-18' as LocalDay });
    expect([period.from, period.asked, period.days]).toEqual([day(10), '2030-12-18', 9]);
    expect([checks.days, checks.done, checks.none]).toEqual([8, 8, []]);
  });

  test('it never ends after today, and ends that stand the wrong way round give one day', () => {
    expect(summary(daily(2, 17), { to: '2031-04-30' as LocalDay }).period.to).toBe(day(18));
    expect(summary(daily(2, 17), { from: day(12), to: day(10) }).period).toMatchObject({ from: day(10), to: day(10), days: 1 });
  });

  test('an empty log gives one day and no figure that was not measured', () => {
    const sum = summary([]);
    expect([sum.period.days, sum.period.since, sum.checks.days, sum.checks.todayOpen]).toEqual([1, 'log', 0, true]);
    expect([sum.temperature.highest, sum.wounds[0]?.size.sinceFirst, sum.supplies[0]?.left]).toEqual([undefined, undefined, undefined]);
    // The clinic's own first size is there all the same.
    expect(sum.wounds[0]?.size.first?.lengthMm).toBe(22);
  });

  test('one that ended in the past knows nothing of what came after, but for what was done about its alerts', () => {
    const records = [
      ...daily(2, 17),
      change('a', '2031-03-02T10:00'),
      alert('al', '2031-03-09T09:00'),
      outcome('o', ['al'], 'reached', '2031-03-11T09:00'),
      measurement('m', '2031-03-12T10:00', 10, 10),
    ];
    const sum = summary(records, { from: day(3), to: day(9) });
    expect([sum.checks.days, sum.checks.done, sum.checks.todayOpen]).toEqual([7, 7, false]);
    expect(sum.alerts).toMatchObject([{ open: false, answeredAfter: 2 * 24 * 60 }]);
    expect(sum.wounds[0]?.size.last?.lengthMm).toBe(22);
    // Due on 4, 6 and 8; the one of the 8th may still come on the 9th.
    expect(sum.wounds[0]?.changes.missed).toEqual([day(4), day(6)]);
    expect(sum.wounds[0]?.changes.overdueSince).toBeUndefined();
  });

  test('days of a month that is not loaded are unknown, not missed', () => {
    const sum = summary(daily(1, 17), { from: '2031-02-20' as LocalDay, monthsNotLoaded: ['2030-11', '2031-02'] });
    expect(sum.period.from).toBe('2031-02-20');
    expect([sum.checks.days, sum.checks.done, sum.checks.none]).toEqual([17, 17, []]);
    expect(sum.gaps.monthsNotLoaded).toEqual(['2031-02']);
  });
});

describe('what stands in it', () => {
  test('questions since the last visit, however short the period', () => {
    const records = [
      visit('v1', '2031-03-05T10:00'),
      note('q0', '2031-03-05T09:00', 'before', { forVisit: true }),
      note('q1', '2031-03-05T19:00', 'after', { forVisit: true }),
    ];
    expect(summary(records, { from: day(15) }).questions.map((q) => q.text)).toEqual(['after']);
  });

  test('an alert that clocks of two phones put after its answer has an answer and no time', () => {
    const records = [alert('al', '2031-03-09T09:00'), outcome('o', ['al'], 'reached', '2031-03-09T08:50')];
    expect(summary(records).alerts).toMatchObject([{ open: false, answeredAfter: undefined }]);
  });

  test('an alert dated ahead by a wrong clock is not hidden', () => {
    expect(summary([...daily(2, 17), alert('al', '2031-03-25T09:00')]).alerts).toMatchObject([{ id: 'al', open: true }]);
  });

  test('half gone at four weeks is told as it stood at the end of the period', () => {
    // The clinic's first size is of 2 March: 28 March to 6 April are its four weeks. 22 × 16 = 352; 11 × 16 = 176 is just half.
    const records = [...daily(2, 17), measurement('m', '2031-04-01T10:00', 11, 16)];
    const at = (to: string) =>
      summary(records, { now: Date.parse('2031-04-20T12:00:00Z'), from: day(3), to: to as LocalDay }).wounds[0]?.size.milestones[0]?.state;
    expect([at('2031-03-31'), at('2031-04-01'), at('2031-04-20')]).toEqual(['notYetDue', 'met', 'met']);
  });

  test('one photo of the period stands beside the last one before it', () => {
    const photo = (id: string, at: string): LogRecord => ({
      ...stamp(id, at),
      kind: 'photo',
      wound: 'w1',
      photo: id,
      widthPx: 8,
      heightPx: 6,
    });
    const records = [photo('p1', '2031-03-02T09:00'), photo('p2', '2031-03-04T09:00'), photo('p3', '2031-03-12T09:00')];
    const { photos } = summary(records, { from: day(10) }).wounds[0] ?? {};
    expect([photos?.count, photos?.first?.photo, photos?.latest?.photo]).toEqual([1, 'p2', 'p3']);
  });

  test('a wound that the plan no longer has is still spoken of where the period does', () => {
    const records = [change('a', '2031-03-10T10:00', { wound: 'healed' })];
    const sum = summary(records);
    expect(sum.wounds.map((w) => [w.id, w.wound?.id, w.changes.done])).toEqual([
      ['w1', 'w1', 0],
      ['healed', undefined, 1],
    ]);
  });
});
