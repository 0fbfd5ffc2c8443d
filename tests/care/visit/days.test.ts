import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { timeline } from '../../../app/care/log/timeline.ts';
import { type VisitDay, visitDays } from '../../../app/care/visit/days.ts';
import { visitSummary } from '../../../app/care/visit/summary.ts';
import { change, check } from '../log/make.ts';
import { demoPlan, mustRead, twoWoundPlan } from '../plan/plans.ts';
import { exampleInput } from './example.ts';
import { dayArb, historyArb, NOW } from './histories.ts';

/** The example of `example.ts`; its days are worked out on paper in hand-worked.test.ts. */
const days = visitDays(exampleInput());
const march = (day: number): VisitDay => {
  const found = days.find((d) => d.day === `2031-03-${String(day).padStart(2, '0')}`);
  if (!found) throw new Error(`no ${day}`);
  return found;
};

describe('the hand-worked example, day by day', () => {
  test('every day of the period stands there once, in order, those without an entry too', () => {
    expect(days.map((d) => d.day)).toEqual(Array.from({ length: 16 }, (_, i) => `2031-03-${String(i + 3).padStart(2, '0')}`));
    expect(march(18)).toEqual({
      day: '2031-03-18',
      checks: [],
      changes: [],
      alerts: [],
      sizes: [],
      photos: 0,
      notes: [],
      visit: false,
      plans: [],
    });
  });

  test('checks: their level as told, cut short or whole, two of one day, none that was withdrawn', () => {
    expect(march(7).checks.map((c) => [c.told, c.whole])).toEqual([['mention', true]]);
    expect(march(8).checks.map((c) => c.whole)).toEqual([false]);
    expect(march(9).checks.map((c) => c.at.slice(11, 16))).toEqual(['09:00', '18:00']);
    expect(march(12).checks).toEqual([]);
  });

  test('temperatures as they were read, corrected on the day they are of', () => {
    expect(march(10).checks.map((c) => c.temperature)).toEqual([{ value: 37.1, unit: 'Cel' }]);
    expect(march(11).checks.map((c) => c.temperature)).toEqual([{ value: 35.9, unit: 'Cel', again: 36.2 }]);
    expect(march(16).checks.map((c) => c.temperature)).toEqual([{ feelsFeverish: 'no' }]);
  });

  test('changes with their timing, what was found and how it stands to the plan; one broken off has no timing', () => {
    const told = (day: number) =>
      march(day).changes.map((c) => [c.timing?.timing, c.timing?.why, c.timing?.daysLate, c.row.amount, c.row.place]);
    expect(told(5)).toEqual([['early', 'markedThrough', undefined, 'moderate', 'within']]);
    expect(told(9)).toEqual([['onTime', undefined, undefined, 'heavy', 'above']]);
    expect(told(12)).toEqual([[undefined, undefined, undefined, 'light', 'within']]);
    expect(told(15)).toEqual([['late', undefined, 2, 'none', 'within']]);
    expect(told(17)).toEqual([]);
  });

  test('an alert stands on its day with all that was done about it; sizes, photos, words, visit and plan on theirs', () => {
    expect(march(5).alerts.map((a) => [a.told, a.answers.map((o) => o.what)])).toEqual([['callToday', ['couldNotReach', 'reached']]]);
    expect(days.flatMap((d) => d.alerts).map((a) => a.id)).toEqual(['alert-1', 'alert-2', 'alert-3']);
    expect(march(9).sizes.map((s) => [s.wound, s.size.lengthMm])).toEqual([['w1', 20]]);
    expect([march(4).photos, march(16).photos]).toEqual([1, 0]);
    expect([march(6).notes, march(12).notes, march(13).notes].map((list) => list.map((n) => [n.of, n.text]))).toEqual([
      [['question', 'May I shower?']],
      [['question', 'Is the boot too tight?']],
      [['note', 'Slept badly. For nobody else to read.']],
    ]);
    expect([march(3).visit, march(4).visit]).toEqual([true, false]);
    expect(march(10).plans).toEqual([2]);
  });
});

test('words written within a check and a change are there too, and blank ones are not', () => {
  const log = [
    check('c', '2031-03-04T09:00', { person: { note: 'Slept well.' } }),
    change('d', '2031-03-04T10:00', { note: ' ' }),
    change('e', '2031-03-04T12:00', { note: 'Used the last gloves.' }),
  ];
  const [day] = visitDays({
    plan: demoPlan(),
    earlierPlans: [],
    entries: timeline(log),
    now: Date.parse('2031-03-04T15:00:00Z'),
    zone: 'UTC',
  });
  expect(day?.notes.map((n) => [n.of, n.text])).toEqual([
    ['check', 'Slept well.'],
    ['change', 'Used the last gloves.'],
  ]);
});

test('of any log the days hold what the summary counts, no more and no less', () => {
  const plan = mustRead({ ...twoWoundPlan(), revision: 2 });
  fc.assert(
    fc.property(historyArb, dayArb, dayArb, (records, from, to) => {
      const input = { plan, earlierPlans: [twoWoundPlan()], entries: timeline(records), from, to, now: NOW, zone: 'UTC' };
      const list = visitDays(input);
      const sum = visitSummary(input);
      expect(list.map((d) => d.day)).toHaveLength(sum.period.days);
      const rows = sum.wounds.flatMap((w) => w.drainage.rows.map((r) => r.change)).sort();
      expect(list.flatMap((d) => d.changes.map((c) => c.row.change)).sort()).toEqual(rows);
      expect(list.filter((d) => d.checks.some((c) => c.whole))).toHaveLength(sum.checks.done);
      expect(list.reduce((n, d) => n + d.photos, 0)).toBe(sum.wounds.reduce((n, w) => n + w.photos.count, 0));
      const within = sum.alerts.filter((a) => a.day >= sum.period.from && a.day <= sum.period.to).map((a) => a.id);
      expect(list.flatMap((d) => d.alerts.map((a) => a.id)).sort()).toEqual(within.sort());
    }),
    { numRuns: 40 },
  );
});
