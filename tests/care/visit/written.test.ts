import { expect, test } from 'vitest';
import { timeline } from '../../../app/care/log/timeline.ts';
import { visitSummary } from '../../../app/care/visit/summary.ts';
import { check, withdrawal } from '../log/make.ts';
import { demoPlan } from '../plan/plans.ts';

test('what was written at the end of a check stands on the page for the visit, corrected and without what was withdrawn', () => {
  const noted = (id: string, at: string, note: string, more: object = {}) => check(id, at, { person: { unwell: ['none'], note }, ...more });
  const records = [
    noted('old', '2031-02-02T15:00', 'Before the visit before.'),
    noted('c1', '2031-03-04T15:00', ' Slept with the shoe off. '),
    noted('c2', '2031-03-05T15:00', 'Fell'),
    noted('c2b', '2031-03-05T16:00', 'Fell twice.', { amends: 'c2' }),
    noted('c3', '2031-03-06T15:00', 'Wrong person.'),
    withdrawal('v', 'c3', '2031-03-06T15:05'),
    noted('c4', '2031-03-07T15:00', '  '),
  ];
  const { written } = visitSummary({
    plan: demoPlan(),
    earlierPlans: [],
    entries: timeline(records),
    from: '2031-03-01' as never,
    to: '2031-03-08' as never,
    now: Date.parse('2031-03-08T15:00:00Z'),
    zone: 'UTC',
  });
  expect(written).toEqual([
    { id: 'c1', day: '2031-03-04', text: 'Slept with the shoe off.' },
    { id: 'c2', day: '2031-03-05', text: 'Fell twice.' },
  ]);
});
