import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { LogRecord } from '../../../app/care/log/records.ts';
import { timeline } from '../../../app/care/log/timeline.ts';
import type { Plan } from '../../../app/care/plan/plan.ts';
import { type LogFinding, type LogFindingId, logFindings } from '../../../app/care/visit/log-findings.ts';
import { type VisitInput, visitSummary } from '../../../app/care/visit/summary.ts';
import { change, check, measurement, stamp } from '../log/make.ts';
import { demoPlan, mustRead, twoWoundPlan } from '../plan/plans.ts';
import { exampleInput } from './example.ts';
import { dayArb, historyArb, NOW } from './histories.ts';

const findingsOf = (input: VisitInput): LogFinding[] => logFindings(input, visitSummary(input));
const of = <Id extends LogFindingId>(found: readonly LogFinding[], id: Id) =>
  found.filter((f) => f.id === id) as unknown as LogFinding<Id>[];
const march = (...days: number[]) => days.map((d) => `2031-03-${String(d).padStart(2, '0')}`);

describe('the hand-worked example', () => {
  // Its days and figures are worked out on paper in hand-worked.test.ts.
  const found = findingsOf(exampleInput());

  test('says what stands against the plan, gravest first, each with the days it rests on', () => {
    expect(found.map((f) => [f.id, f.days])).toEqual([
      ['alertOpen', march(2)],
      ['alertOpen', march(9)],
      ['fever', march(8, 14)],
      ['raised', march(7)],
      ['above', march(9, 11)],
      ['below', march(4)],
      // Late on 7 and 15, none on 6 and 13, one due since 17.
      ['late', march(6, 7, 13, 15, 17)],
      ['early', march(5)],
      ['supply', march(18)],
      ['question', march(6)],
      ['question', march(12)],
      ['mention', march(7)],
      ['mention', march(7, 15)],
      ['mention', march(11)],
    ]);
  });

  test('with figures: two of seven looks above, two late and two missed, one early because it was marked through', () => {
    expect(of(found, 'above')[0]).toMatchObject({ wound: 'w1', times: 2, looks: 7 });
    expect(of(found, 'late')[0]).toMatchObject({ late: 2, missed: 2, overdueSince: '2031-03-17' });
    expect(of(found, 'early')[0]?.reasons).toEqual([{ why: 'markedThrough', times: 1 }]);
    // No next visit is in the plan, so ten days on, as long as a delivery takes: 18 + 10 = 28. Foam lasts longer.
    expect(of(found, 'supply').map((f) => [f.line.item, f.until])).toEqual([['hydrogel', '2031-03-28']]);
  });
});

const input = (records: LogRecord[], now: string, plan: Plan = demoPlan()): VisitInput => ({
  plan,
  earlierPlans: [],
  entries: timeline(records),
  now: Date.parse(now),
  zone: 'UTC',
});

describe('drainage that outgrew the dressing', () => {
  const soggy = (id: string, at: string, edge: 'usual' | 'whiteSoggy') =>
    change(id, at, { answers: { drainageAmount: 'light', edge }, check: `c${id}` });
  const log = (...edges: ('usual' | 'whiteSoggy')[]) =>
    edges.flatMap((edge, i) => {
      const day = `2031-03-0${4 + 2 * i}`;
      return [check(`cd${i}`, `${day}T09:00`), soggy(`d${i}`, `${day}T10:00`, edge)];
    });

  test('a soggy edge at two changes in a row is one finding with both days', () => {
    const found = findingsOf(input(log('usual', 'whiteSoggy', 'whiteSoggy'), '2031-03-08T15:00:00Z'));
    expect(of(found, 'tooWet')).toEqual([{ id: 'tooWet', days: march(6, 8), wound: 'w1', reasons: ['soggyEdge'] }]);
  });

  test('once is chance, and a change that fits ends it', () => {
    for (const edges of [['usual', 'usual', 'whiteSoggy'] as const, ['whiteSoggy', 'whiteSoggy', 'usual'] as const])
      expect(of(findingsOf(input(log(...edges), '2031-03-08T15:00:00Z')), 'tooWet')).toEqual([]);
  });
});

describe('a size that does not get smaller', () => {
  test('less than half gone at four weeks names the sizes it rests on', () => {
    // First of the plan 2 March, 22 × 16 = 352; the 30th is day 28: 20 × 15 = 300, 14.8 % gone.
    const log = [measurement('m', '2031-03-30T10:00', 20, 15)];
    const [finding, ...more] = of(findingsOf(input(log, '2031-03-31T10:00:00Z')), 'size');
    expect(more).toEqual([]);
    expect(finding).toMatchObject({ wound: 'w1', days: march(2, 30), review: { why: 'milestone', mixed: true } });
    expect(
      finding && 'milestone' in finding.review && [finding.review.milestone.weeks, Math.round(finding.review.on.reductionPct ?? 0)],
    ).toEqual([4, 15]);
  });

  test('larger than at first at two measurements; half gone gives none', () => {
    const larger = [measurement('a', '2031-03-09T10:00', 26, 18), measurement('b', '2031-03-16T10:00', 27, 18)];
    expect(of(findingsOf(input(larger, '2031-03-17T10:00:00Z')), 'size').map((f) => f.review.why)).toEqual(['larger']);
    const half = [measurement('c', '2031-03-30T10:00', 14, 12)];
    expect(of(findingsOf(input(half, '2031-03-31T10:00:00Z')), 'size')).toEqual([]);
  });
});

describe('supplies', () => {
  const counted = (amount: number): LogRecord => ({
    ...stamp('s', '2031-03-04T12:00'),
    kind: 'stock',
    item: 'foam',
    movement: 'counted',
    amount,
  });
  const foam = (amount: number, nextVisit?: string) => {
    const { nextVisit: _, ...plan } = demoPlan();
    const own = nextVisit === undefined ? plan : { ...plan, nextVisit: { day: nextVisit, time: '10:00' } };
    const log = [check('c', '2031-03-04T09:00'), change('d', '2031-03-04T10:00', { check: 'c' }), counted(amount)];
    return of(findingsOf(input(log, '2031-03-04T15:00:00Z', mustRead(own))), 'supply').map((f) => [f.line.item, f.until]);
  };

  test('must last to the next visit that is written down', () => {
    // A change every two days, one foam each: 5 last for those of 6, 8, 10, 12 and 14 March.
    expect(foam(5, '2031-03-10')).toEqual([]);
    expect(foam(5, '2031-03-20')).toEqual([['foam', '2031-03-20']]);
  });

  test('must last as long as a delivery takes where no visit is to come', () => {
    // Nine last to 22 March even if some changes come early.
    expect(foam(9)).toEqual([]);
    expect(foam(3)).toEqual([['foam', '2031-03-14']]);
  });
});

test('of any log every finding rests on at least one day, none of them after the end', () => {
  const plan = mustRead({ ...twoWoundPlan(), revision: 2 });
  fc.assert(
    fc.property(historyArb, dayArb, dayArb, (records, from, to) => {
      const any = { plan, earlierPlans: [twoWoundPlan()], entries: timeline(records), from, to, now: NOW, zone: 'UTC' };
      const summary = visitSummary(any);
      for (const { id, days } of logFindings(any, summary)) {
        expect(days.length, id).toBeGreaterThan(0);
        expect([...new Set(days)].sort()).toEqual(days);
        // A wrong clock may date an alert ahead, and no alert is hidden.
        if (id !== 'alertOpen') for (const day of days) expect(day <= summary.period.to, id).toBe(true);
      }
    }),
    { numRuns: 40 },
  );
});
