import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { BANDS } from '../../../app/care/check/questions.ts';
import { type LogRecord, readRecords } from '../../../app/care/log/records.ts';
import { timeline } from '../../../app/care/log/timeline.ts';
import type { LocalDay } from '../../../app/care/schedule/day.ts';
import type { CodePart } from '../../../app/care/visit/answers-part.ts';
import { type VisitSummary, visitSummary } from '../../../app/care/visit/summary.ts';
import { stamp } from '../log/make.ts';
import { mustRead, twoWoundPlan } from '../plan/plans.ts';
import { correctionOf, dayArb, historyArb, NOW, plainArb } from './histories.ts';

const PLAN = mustRead({ ...twoWoundPlan(), revision: 2 });
const EARLIER = [twoWoundPlan()];
// Each summary walks through 200 courses of the supplies, so fewer runs than elsewhere.
const RUNS = { numRuns: 40 };

const summaryOf = (records: readonly LogRecord[], from?: LocalDay, to?: LocalDay): VisitSummary =>
  visitSummary({ plan: PLAN, earlierPlans: EARLIER, entries: timeline(records), from, to, now: NOW, zone: 'UTC' });

const choiceArb = fc.tuple(fc.option(dayArb, { nil: undefined }), fc.option(dayArb, { nil: undefined }));
const daysIn = (part: CodePart): number => part.answers.reduce((sum, a) => sum + a.days.length, 0) + part.noAnswer;

describe('whatever the log', () => {
  test('a summary can be made of any period, in either order of its ends', () => {
    fc.assert(
      fc.property(historyArb, choiceArb, (records, [from, to]) => {
        expect(readRecords(records).unreadable).toEqual([]);
        const { period } = summaryOf(records, from, to);
        expect(period.from <= period.to).toBe(true);
        expect(period.to <= '2031-05-20').toBe(true);
        expect(period.days).toBeGreaterThanOrEqual(1);
      }),
      RUNS,
    );
  });

  test('its counts add up', () => {
    fc.assert(
      fc.property(historyArb, choiceArb, (records, [from, to]) => {
        const sum = summaryOf(records, from, to);
        const { days } = sum.checks;
        expect(sum.checks.done + sum.checks.cutShort.length + sum.checks.none.length).toBe(days);
        expect(days + (sum.checks.todayOpen ? 1 : 0)).toBe(sum.period.days);
        expect(sum.temperature.measuredDays + sum.temperature.notMeasured).toBe(days);
        expect(sum.glucose.measuredDays + sum.glucose.notMeasured).toBe(days);
        for (const part of [sum.offloading, ...sum.feet.flatMap((f) => [f.pain, f.warmth.felt])]) expect(daysIn(part)).toBe(days);
        for (const { changes, drainage } of sum.wounds) {
          expect(changes.onTime + changes.early.length + changes.late.length + changes.first + changes.unscheduled).toBe(changes.done);
          expect(drainage.rows.length).toBe(changes.done + changes.stopped.length);
          const counted = [...BANDS, 'unsure' as const, 'notSeen' as const].map((key) => drainage.counts[key]);
          expect(counted.reduce((a, b) => a + b)).toBe(drainage.rows.length);
          const within = drainage.rows.filter((r) => r.place === 'within').length;
          const unknown = drainage.rows.filter((r) => r.place === 'unknown').length;
          expect(drainage.above + drainage.below + within + unknown).toBe(drainage.rows.length);
        }
        for (const a of sum.alerts) expect(a.open).toBe(!a.answers.some((o) => o.what !== 'couldNotReach'));
      }),
      RUNS,
    );
  });

  test('a withdrawn record counts nowhere: the summary is that of a log without it', () => {
    fc.assert(
      fc.property(plainArb, fc.nat(), choiceArb, (records, which, [from, to]) => {
        const target = records[which % Math.max(1, records.length)];
        fc.pre(target !== undefined);
        const voided: LogRecord = { ...stamp('v', '2031-05-20T14:00'), kind: 'void', target: target?.id ?? '' };
        expect(summaryOf([...records, voided], from, to)).toEqual(
          summaryOf(
            records.filter((r) => r !== target),
            from,
            to,
          ),
        );
      }),
      RUNS,
    );
  });

  test('a corrected record counts once, with the corrected value and at its own time', () => {
    fc.assert(
      fc.property(plainArb, fc.nat(), fc.nat(), choiceArb, (records, which, like, [from, to]) => {
        const first = records[which % Math.max(1, records.length)];
        fc.pre(first !== undefined);
        const [correction] = first ? correctionOf(records, first, like, 'e', '2031-05-20T14:00') : [];
        fc.pre(first !== undefined && correction !== undefined);
        const { id, at, day, zone, by, device, plan } = first as LogRecord;
        const { amends: _, ...said } = correction as LogRecord;
        const asIfRight = { ...said, id, at, day, zone, by, device, plan } as LogRecord;
        expect(summaryOf([...records, correction as LogRecord], from, to)).toEqual(
          summaryOf(
            records.map((r) => (r === first ? asIfRight : r)),
            from,
            to,
          ),
        );
      }),
      RUNS,
    );
  });

  test('two phones that merged their logs see one summary', () => {
    fc.assert(
      fc.property(historyArb, (records) => {
        expect(summaryOf([...records].reverse())).toEqual(summaryOf(records));
      }),
      RUNS,
    );
  });
});
