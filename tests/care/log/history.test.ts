import { describe, expect, test } from 'vitest';
import type { Answers } from '../../../app/care/check/answers.ts';
import { assessStanding } from '../../../app/care/escalation/assess.ts';
import { DEFAULT_LIMITS } from '../../../app/care/escalation/limits.ts';
import { answersForWound, historyOf, lastChange, lastFound } from '../../../app/care/log/history.ts';
import type { LogRecord } from '../../../app/care/log/records.ts';
import { timeline } from '../../../app/care/log/timeline.ts';
import type { LocalDay } from '../../../app/care/schedule/day.ts';
import { demoPlan, twoWoundPlan, woundOf } from '../plan/plans.ts';
import { alert, change, check, measurement, mustBeRecords, outcome, withdrawal } from './make.ts';

const plan = twoWoundPlan();
const w1 = woundOf(plan, 'w1');
const w2 = woundOf(plan, 'w2');
const entriesOf = (...records: LogRecord[]) => timeline(mustBeRecords(records));
const at = (text: string): number => Date.parse(`${text}:00Z`);

const T9 = '2031-03-04T09:00';
const T10 = '2031-03-04T10:00';
const T11 = '2031-03-04T11:00';

describe('a check as it concerns one wound', () => {
  const both = check('c', T9, {
    person: { unwell: ['vomiting'] },
    feet: { left: { pain: 'more' }, right: { pain: 'severe' } },
    wounds: { w1: { dressing: 'loose' }, w2: { dressing: 'leaking' } },
  });

  test('has the shared answers, its own foot’s and its own', () => {
    expect(answersForWound(both, w1)).toEqual({ unwell: ['vomiting'], pain: 'more', dressing: 'loose' });
    expect(answersForWound(both, w2)).toEqual({ unwell: ['vomiting'], pain: 'severe', dressing: 'leaking' });
  });

  test('has no answers of another foot or wound when its own are missing', () => {
    const left = check('c', T9, { person: {}, feet: { left: { pain: 'more' } }, wounds: { w1: { dressing: 'loose' } } });
    expect(answersForWound(left, w2)).toEqual({});
  });

  test('a wound with a name of an object’s inner part gets nothing from it', () => {
    expect(answersForWound(check('c', T9, { person: {}, feet: {} }), { id: 'constructor', side: 'left' })).toEqual({});
  });
});

describe('the past of a wound', () => {
  test('a change and the check of its sitting are one look, not two', () => {
    const entries = entriesOf(
      check('c', T9, { wounds: { w1: { dressing: 'markedThrough' } } }),
      change('d', T10, { check: 'c', answers: { drainageAmount: 'moderate' } }),
    );
    const { checks } = historyOf(entries, w1);
    expect(checks).toHaveLength(1);
    expect(checks[0]).toMatchObject({ at: at(T10), answers: { dressing: 'markedThrough', drainageAmount: 'moderate', pain: 'usual' } });
  });

  test('for the other wound the check stands by itself', () => {
    const entries = entriesOf(check('c', T9, { wounds: { w2: { dressing: 'loose' } } }), change('d', T10, { check: 'c' }));
    const { checks, changes } = historyOf(entries, w2);
    expect(checks.map((c) => c.at)).toEqual([at(T9)]);
    expect(checks[0]?.answers.drainageAmount).toBeUndefined();
    expect(changes).toEqual([]);
  });

  test('a change whose check is not here, or was withdrawn, keeps its own answers', () => {
    const own = { answers: { drainageAmount: 'light' } };
    expect(historyOf(entriesOf(change('d', T10, { check: 'gone' })), w1).checks).toMatchObject([own]);
    const withdrawn = entriesOf(check('c', T9), change('d', T10, { check: 'c' }), withdrawal('v', 'c', T11));
    expect(historyOf(withdrawn, w1).checks).toEqual([{ at: at(T10), day: '2031-03-04', ...own }]);
  });

  test('a change that was withdrawn gives its check back', () => {
    const entries = entriesOf(check('c', T9), change('d', T10, { check: 'c' }), withdrawal('v', 'd', T11));
    const { checks, changes } = historyOf(entries, w1);
    expect(checks.map((c) => c.at)).toEqual([at(T9)]);
    expect(changes).toEqual([]);
  });

  test('a correction counts with its new answers at the old time', () => {
    const entries = entriesOf(change('d', T9), change('d2', T11, { amends: 'd', answers: { drainageAmount: 'heavy' } }));
    const { checks, changes } = historyOf(entries, w1);
    expect(checks).toEqual([{ at: at(T9), day: '2031-03-04', answers: { drainageAmount: 'heavy' } }]);
    expect(changes).toEqual([{ at: at(T9), day: '2031-03-04' }]);
  });

  test('a change broken off counts as a look, not as a change', () => {
    const entries = entriesOf(change('d', T9), change('e', T11, { stopped: true, answers: { drainageAmount: 'moderate' } }));
    expect(historyOf(entries, w1).changes.map((c) => c.at)).toEqual([at(T9)]);
    expect(historyOf(entries, w1).checks).toHaveLength(2);
    expect(lastChange(entries, 'w1')).toBe(at(T9));
    expect(lastFound(entries, 'w1')).toBe('moderate');
  });

  test('what is being judged is no past', () => {
    const entries = entriesOf(check('c', T9), change('d', T10));
    expect(historyOf(entries, w1, ['c', 'd'])).toMatchObject({ checks: [], changes: [] });
  });

  test('measurements begin with the clinic’s own and hold only this wound’s', () => {
    const entries = entriesOf(measurement('m1', T9, 20, 15), measurement('m2', T10, 9, 9, { wound: 'w2' }), measurement('m3', T11, 0.1, 1));
    expect(historyOf(entries, w1).measurements).toMatchObject([
      { day: '2031-03-02', lengthMm: 22, widthMm: 16 },
      { lengthMm: 20, widthMm: 15 },
      { lengthMm: 0.1 },
    ]);
    expect(historyOf(entries, w2).measurements).toMatchObject([{ lengthMm: 9 }]);
  });
});

describe('alerts in the past of a wound', () => {
  const alertsOf = (...records: LogRecord[]) => historyOf(entriesOf(...records), w1).alerts;

  test('an alert without an outcome has none; the level is the one that was told', () => {
    expect(alertsOf(alert('a', T9, { level: 'callToday', told: 'callNow' }))).toEqual([
      { at: at(T9), day: '2031-03-04', level: 'callNow', outcome: null },
    ]);
  });

  test('a failed call is kept as such', () => {
    expect(alertsOf(alert('a', T9), outcome('o', ['a'], 'couldNotReach', T10))).toMatchObject([{ outcome: 'couldNotReach' }]);
  });

  test('an alert that was closed stays closed when a failed call is written down later, by another phone for instance', () => {
    const records = [alert('a', T9), outcome('o1', ['a'], 'reached', T10), outcome('o2', ['a'], 'couldNotReach', T11)];
    expect(alertsOf(...records)).toMatchObject([{ outcome: 'reached' }]);
    const later = { at: at('2031-03-06T09:00'), day: '2031-03-06' as LocalDay };
    expect(assessStanding(DEFAULT_LIMITS, historyOf(entriesOf(...records), { ...w1, baseline: undefined }), later).fired).toEqual([]);
  });
});

describe('what was found and done last', () => {
  test('the amount found last, by the time it was made, unsure and missing passed over', () => {
    const found = (amount: Answers['drainageAmount'], when: string, id: string) =>
      change(id, when, { answers: amount ? { drainageAmount: amount } : {} });
    const entries = entriesOf(
      found('moderate', T10, 'b'),
      found('light', T9, 'a'),
      found('unsure', T11, 'c'),
      change('d', '2031-03-04T12:00', { answers: undefined }),
    );
    expect(lastFound(entries, 'w1')).toBe('moderate');
    expect(lastFound(entries, 'w2')).toBeUndefined();
  });

  test('nothing is known of a wound that was never dressed', () => {
    expect(lastChange(entriesOf(change('d', T9, { wound: 'w2' })), 'w1')).toBeUndefined();
    expect(lastChange([], 'w1')).toBeUndefined();
    expect(lastFound([], 'w1')).toBeUndefined();
  });

  test('the demo plan’s wound has the clinic’s first measurement and no other past', () => {
    expect(historyOf([], woundOf(demoPlan()))).toMatchObject({ checks: [], changes: [], alerts: [], measurements: [{ lengthMm: 22 }] });
  });
});
