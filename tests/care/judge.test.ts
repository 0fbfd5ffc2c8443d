import { describe, expect, test } from 'vitest';
import { type Answers, mildestAnswers } from '../../app/care/check/answers.ts';
import { asksForCall, judge, judgeStanding, needsNewAlert, type Setting } from '../../app/care/escalation/judge.ts';
import { answersForWound } from '../../app/care/log/history.ts';
import { type Judgement, type LogRecord, readRecords } from '../../app/care/log/records.ts';
import { timeline } from '../../app/care/log/timeline.ts';
import type { Plan, Wound } from '../../app/care/plan/plan.ts';
import { localDay } from '../../app/care/schedule/day.ts';
import { alert, change, check, mustBeRecords, outcome } from './log/make.ts';
import { demoPlan, mustRead, twoWoundPlan, woundOf } from './plan/plans.ts';

const ZONE = 'America/Chicago';
/** Tuesday 4 March 2031, 10:00 in Chicago: the clinic is open. */
const OPEN = '2031-03-04T16:00:00Z';
/** Friday 7 March 2031, 15:00 in Chicago: closed since 13:00 until Monday. */
const WEEKEND = '2031-03-07T21:00:00Z';

function settingAt(time: string, plan: Plan, records: LogRecord[] = []): Setting {
  const at = Date.parse(time);
  return { plan, entries: timeline(mustBeRecords(records)), emergencyNumber: '911', now: { at, day: localDay(at, ZONE) } };
}

/** A clinic without an out-of-hours phone. */
function withoutNightPhone(plan: Plan): Plan {
  const { outOfHoursPhone: _none, ...clinic } = plan.clinic;
  return mustRead({ ...plan, clinic });
}

const EVERY: Answers = (({ drainageAmount: _a, drainageColour: _b, odour: _c, redness: _d, woundBed: _e, edge: _f, ...rest }) => rest)(
  mildestAnswers(),
);
const answersOf = (plan: Plan, own: Record<string, Answers>): Map<Wound, Answers> =>
  new Map(plan.wounds.map((w) => [w, { ...EVERY, ...own[w.id] }]));

const rulesOf = (j: Judgement): string[] => j.fired.map((r) => r.rule);

describe('one judgement of several wounds', () => {
  const plan = twoWoundPlan();

  test('all is mild: carry on, no reasons', () => {
    expect(judge(settingAt(OPEN, plan), answersOf(plan, {}))).toEqual({ level: 'carryOn', told: 'carryOn', fired: [], quieted: [] });
  });

  test('the gravest wound decides the level', () => {
    const j = judge(settingAt(OPEN, plan), answersOf(plan, { w1: { pain: 'more' }, w2: { footColour: 'paleOrBlueAndCold' } }));
    expect(j.level).toBe('emergency');
    expect(j.fired[0]).toMatchObject({ rule: 'foot-cold-pale', wounds: ['w2'] });
  });

  test('an answer about the whole person is one reason and concerns all wounds', () => {
    const fever: Answers = { temperature: { value: 38.4, unit: 'Cel' } };
    const j = judge(settingAt(OPEN, plan), answersOf(plan, { w1: fever, w2: fever }));
    expect(rulesOf(j)).toEqual(['fever']);
    expect(j.fired[0]).not.toHaveProperty('wounds');
  });

  test('the same sign at both wounds is one reason, at one wound it names that wound', () => {
    const both = judge(settingAt(OPEN, plan), answersOf(plan, { w1: { pain: 'more' }, w2: { pain: 'more' } }));
    expect(both.fired).toMatchObject([{ rule: 'one-sign' }]);
    expect(both.fired[0]?.wounds).toBeUndefined();
    const one = judge(settingAt(OPEN, plan), answersOf(plan, { w2: { pain: 'more' } }));
    expect(one.fired).toMatchObject([{ rule: 'one-sign', wounds: ['w2'] }]);
  });

  test('the same rule on different findings is two reasons, each with its wound', () => {
    const j = judge(settingAt(OPEN, plan), answersOf(plan, { w1: { pain: 'more' }, w2: { swelling: 'new' } }));
    expect(j.fired).toMatchObject([
      { rule: 'one-sign', findings: ['pain:more'], wounds: ['w1'] },
      { rule: 'one-sign', findings: ['swelling:new'], wounds: ['w2'] },
    ]);
  });

  test('one sign at each of two wounds on two feet are not two signs of one wound', () => {
    const j = judge(settingAt(OPEN, plan), answersOf(plan, { w1: { pain: 'more' }, w2: { swelling: 'new' } }));
    expect(j.level).toBe('callToday');
  });

  test('a look at one wound names it, for it says nothing of the other', () => {
    const w1 = woundOf(plan, 'w1');
    const j = judge(
      settingAt(OPEN, plan),
      new Map([[w1, { ...EVERY, ...mildestAnswers(), drainageAmount: 'light', edge: 'newBlisterOrSore' }]]),
    );
    expect(j.fired).toMatchObject([{ rule: 'new-sore', wounds: ['w1'] }]);
  });

  test('reasons stand gravest first', () => {
    const j = judge(
      settingAt(OPEN, plan),
      answersOf(plan, { w1: { bleeding: 'soakedThenStopped' }, w2: { bleeding: 'willNotStop', swelling: 'unsure' } }),
    );
    expect(j.fired.map((r) => r.level)).toEqual(['emergency', 'callNow', 'callToday']);
  });

  test('a required answer missing for one wound leaves the check unfinished', () => {
    const answers = answersOf(plan, {});
    answers.set(woundOf(plan, 'w2'), { ...EVERY, dressing: undefined } as Answers);
    expect(judge(settingAt(OPEN, plan), answers).level).toBe('unfinished');
  });

  test('what the clinic knows of one wound is quiet there, logged, and loud at the other', () => {
    const known = mustRead({ ...plan, wounds: plan.wounds.map((w) => (w.id === 'w1' ? { ...w, known: ['swelling:new'] } : w)) });
    const j = judge(settingAt(OPEN, known), answersOf(known, { w1: { swelling: 'new' }, w2: { swelling: 'new' } }));
    expect(j.fired).toMatchObject([{ rule: 'one-sign', wounds: ['w2'] }]);
    expect(j.quieted).toMatchObject([{ rule: 'one-sign', wounds: ['w1'] }]);
  });

  test('a judgement of a written check uses each foot’s own answers', () => {
    const made = check('c', '2031-03-04T16:00', {
      person: { unwell: ['none'], temperature: { value: 36.8, unit: 'Cel' }, offloading: 'always' },
      feet: { left: { ...mild('foot') }, right: { ...mild('foot'), footColour: 'newBlack' } },
      wounds: { w1: mild('wound'), w2: mild('wound') },
    });
    const j = judge(settingAt(OPEN, plan), new Map(plan.wounds.map((w) => [w, answersForWound(made, w)])));
    expect(j.fired).toMatchObject([{ rule: 'new-black', wounds: ['w2'] }]);
  });

  test('a judgement can be stored: it passes the schema of a check', () => {
    const answers = answersOf(plan, {
      w1: { pain: 'more', swelling: 'unsure' },
      w2: { footColour: 'darkerPatch', bleeding: 'willNotStop' },
    });
    const made = check('c', undefined, { judgement: judge(settingAt(OPEN, plan), answers) });
    expect(readRecords([made])).toEqual({ records: [made], unreadable: [] });
  });

  test('without its own past, the record being judged does not count as seen twice', () => {
    const single = demoPlan();
    const records = [
      change('d0', '2031-03-03T16:00'),
      check('c', '2031-03-04T15:00', { wounds: { w1: { dressing: 'markedThrough', bleeding: 'none' } } }),
    ];
    const answers = answersOf(single, { w1: { dressing: 'markedThrough' } });
    expect(rulesOf(judge(settingAt(OPEN, single, records), answers))).toContain('overwhelmed');
    expect(rulesOf(judge(settingAt(OPEN, single, records), answers, ['c']))).toEqual([]);
  });

  test('a correction of an older check is judged as of its own time', () => {
    const single = demoPlan();
    const setting = settingAt('2031-04-20T16:00:00Z', single);
    expect(rulesOf(judge(setting, answersOf(single, {})))).toEqual(['plan-out-of-date']);
    const then = settingAt(OPEN, single).now;
    expect(rulesOf(judge({ ...setting, asOf: then }, answersOf(single, {})))).toEqual([]);
  });
});

function mild(scope: 'foot' | 'wound'): Answers {
  return scope === 'foot'
    ? { footColour: 'usual', pain: 'usual', warmth: 'same', swelling: 'usual' }
    : { dressing: 'dryInPlace', bleeding: 'none' };
}

describe('the level as it is told at this hour', () => {
  const plan = withoutNightPhone(demoPlan());
  const oneSign = (p: Plan) => answersOf(p, { w1: { pain: 'more' } });

  test('open: a call today is a call today', () => {
    expect(judge(settingAt(OPEN, plan), oneSign(plan))).toMatchObject({ level: 'callToday', told: 'callToday' });
  });

  test('closed over the weekend and no other phone: a call today is told as a call now', () => {
    expect(judge(settingAt(WEEKEND, plan), oneSign(plan))).toMatchObject({ level: 'callToday', told: 'callNow' });
  });

  test('closed, but the clinic opens within 24 hours: it can wait for that', () => {
    expect(judge(settingAt('2031-03-05T03:00:00Z', plan), oneSign(plan))).toMatchObject({ told: 'callToday' });
  });

  test('closed with an out-of-hours phone: a call today is a call today', () => {
    expect(judge(settingAt(WEEKEND, demoPlan()), oneSign(demoPlan()))).toMatchObject({ told: 'callToday' });
  });

  test('no hour makes a mention or an emergency anything else', () => {
    const soggy = new Map([[woundOf(plan), { ...mildestAnswers(), drainageAmount: 'light', edge: 'whiteSoggy' } as Answers]]);
    expect(judge(settingAt(WEEKEND, plan), soggy)).toMatchObject({ level: 'mention', told: 'mention' });
    expect(judge(settingAt(WEEKEND, plan), answersOf(plan, { w1: { bleeding: 'willNotStop' } }))).toMatchObject({ told: 'emergency' });
  });
});

describe('what stands without a check', () => {
  test('a change twice as late as its interval asks for a call and names its wound', () => {
    const plan = twoWoundPlan();
    const j = judgeStanding(settingAt(OPEN, plan, [change('d', '2031-02-27T16:00')]));
    expect(j).toMatchObject({ level: 'callToday', fired: [{ rule: 'change-overdue', wounds: ['w1'] }] });
  });

  test('a change broken off does not make up for it', () => {
    const records = [change('d', '2031-02-27T16:00'), change('e', '2031-03-04T15:00', { stopped: true })];
    expect(rulesOf(judgeStanding(settingAt(OPEN, demoPlan(), records)))).toEqual(['change-overdue']);
  });

  test('an alert left open for a day becomes a call now, once for all wounds', () => {
    const records = [alert('a', '2031-03-03T15:00')];
    const j = judgeStanding(settingAt(OPEN, twoWoundPlan(), records));
    expect(j).toMatchObject({ level: 'callNow', fired: [{ rule: 'unresolved' }] });
    expect(j.fired[0]?.wounds).toBeUndefined();
  });

  test('an answered alert leaves nothing', () => {
    const records = [alert('a', '2031-03-03T15:00'), outcome('o', ['a'], 'reached', '2031-03-03T16:00')];
    expect(judgeStanding(settingAt(OPEN, demoPlan(), records)).fired).toEqual([]);
  });

  test('no answers are asked for: a fresh book is quiet, never unfinished', () => {
    expect(judgeStanding(settingAt(OPEN, demoPlan()))).toEqual({ level: 'carryOn', told: 'carryOn', fired: [], quieted: [] });
  });
});

describe('whether a judgement needs an alert of its own', () => {
  const plan = demoPlan();
  const judged = (own: Answers, records: LogRecord[] = [], time = OPEN) =>
    judge(settingAt(time, plan, records), answersOf(plan, { w1: own }));
  const open = (part: Parameters<typeof alert>[2] = {}) => [alert('a', '2031-03-04T15:00', part)];

  test('a call does, when none is open', () => {
    expect(needsNewAlert(judged({ pain: 'more' }), [])).toBe(true);
  });

  test('carrying on, a mention and an unfinished check do not', () => {
    expect(needsNewAlert(judged({}), [])).toBe(false);
    expect(needsNewAlert({ level: 'mention', told: 'mention', fired: [], quieted: [] }, [])).toBe(false);
    expect(needsNewAlert({ level: 'unfinished', told: 'unfinished', fired: [], quieted: [] }, [])).toBe(false);
  });

  test('the same reason again, while its alert is open, does not', () => {
    expect(needsNewAlert(judged({ pain: 'more' }), open())).toBe(false);
  });

  test('a graver level does', () => {
    const graver = judged({ pain: 'severe' });
    expect(graver.told).toBe('callNow');
    expect(needsNewAlert(graver, open())).toBe(true);
  });

  test('another reason of the same level does', () => {
    expect(needsNewAlert(judged({ footColour: 'darkerPatch' }), open())).toBe(true);
  });

  test('a milder reason that no open alert names does', () => {
    const grave = open({ level: 'emergency', told: 'emergency', fired: [{ rule: 'sepsis-sign', level: 'emergency', findings: [] }] });
    expect(needsNewAlert(judged({ footColour: 'darkerPatch' }), grave)).toBe(true);
  });

  test('reasons spread over several open alerts are all known', () => {
    const fired = [{ rule: 'darker-patch', level: 'callToday' as const, findings: ['footColour:darkerPatch'] }];
    const both = [...open(), alert('b', '2031-03-04T15:30', { fired })];
    expect(needsNewAlert(judged({ footColour: 'darkerPatch', pain: 'more' }), both)).toBe(false);
  });

  test('the reminder of an alert that is still unanswered does not', () => {
    const late = [alert('a', '2031-03-02T15:00')];
    const j = judgeStanding(settingAt(OPEN, plan, late));
    expect(j.level).toBe('callNow');
    expect(needsNewAlert(j, late)).toBe(false);
  });

  test('a mild check after an unanswered alert raises no second one either', () => {
    const late = [alert('a', '2031-03-02T15:00')];
    const j = judged({}, late);
    expect(asksForCall(j)).toBe(true);
    expect(needsNewAlert(j, late)).toBe(false);
  });

  test('what was told as a call now for the hour’s sake is not raised again in opening hours', () => {
    const told = open({ level: 'callToday', told: 'callNow' });
    expect(needsNewAlert(judged({ pain: 'more' }), told)).toBe(false);
  });
});
