import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { mildestAnswers } from '../../../app/care/check/answers.ts';
import { type Case, historyOf, limitsOf, runCase, runCaseFile } from '../../../app/care/escalation/cases.ts';
import { DEFAULT_LIMITS } from '../../../app/care/escalation/limits.ts';
import { RULE_IDS } from '../../../app/care/escalation/rule-levels.ts';

const folder = new URL('../../cases/', import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith('.json'));
const read = (name: string): unknown => JSON.parse(readFileSync(new URL(name, folder), 'utf8'));
const all = files.flatMap((name) => read(name) as Case[]);

describe('the case files', () => {
  for (const name of files) {
    it(`${name}: every case comes out as written`, () => {
      const results = runCaseFile(read(name));
      expect(results.filter((r) => r.problems.length > 0)).toEqual([]);
      expect(results.length).toBeGreaterThan(0);
    });
  }

  it('hold at least 200 cases, each with its own name, a source and an expected level', () => {
    expect(all.length).toBeGreaterThanOrEqual(200);
    expect(new Set(all.map((c) => c.name)).size).toBe(all.length);
    expect(all.filter((c) => !c.source)).toEqual([]);
    expect(all.filter((c) => !c.expect.level && !c.expect.atLeast)).toEqual([]);
  });

  it('[property 7] show every rule firing and every rule staying silent', () => {
    const fires = new Set(all.flatMap((c) => c.expect.rules ?? []));
    const silent = new Set(all.flatMap((c) => c.expect.notRules ?? []));
    // A case file has no way to write "call us" bands; assess.test.ts shows plan-says-call both ways.
    expect(RULE_IDS.filter((id) => !fires.has(id))).toEqual(['plan-says-call']);
    expect(RULE_IDS.filter((id) => !silent.has(id))).toEqual([]);
  });

  it('reach every level and unfinished', () => {
    const levels = new Set(all.map((c) => c.expect.level));
    for (const level of ['carryOn', 'mention', 'callToday', 'callNow', 'emergency', 'unfinished'] as const) expect(levels).toContain(level);
  });

  it('fail when the expectation is turned round', () => {
    const wrong = all
      .filter((c) => c.expect.level)
      .map((c): Case => ({ ...c, expect: { level: c.expect.level === 'carryOn' ? 'callNow' : 'carryOn' } }));
    expect(wrong.filter((c) => runCase(c).length === 0)).toEqual([]);
    const silenced = all.filter((c) => c.expect.rules?.length).map((c): Case => ({ ...c, expect: { notRules: c.expect.rules } }));
    expect(silenced.filter((c) => runCase(c).length !== c.expect.notRules?.length)).toEqual([]);
  });
});

describe('the case runner', () => {
  const good = { name: 'all mild', expect: { level: 'carryOn' } };
  const problemsOf = (bad: unknown): string[] => {
    const [first, second] = runCaseFile([bad, good]);
    expect(second).toEqual({ name: 'all mild', problems: [] });
    return first?.problems ?? [];
  };

  it('says of a file that is no list that it is no list', () => {
    for (const content of [{}, null, 'cases', 3]) {
      expect(runCaseFile(content)).toEqual([{ name: '(file)', problems: ['a case file is a JSON list of cases'] }]);
    }
    expect(runCaseFile([])).toEqual([]);
  });

  it('names an unknown key, and the other cases still run', () => {
    expect(problemsOf({ ...good, name: 'odd', answer: {} })).toEqual([expect.stringContaining('(answer)')]);
    expect(problemsOf({ ...good, plan: { raises: {} } })).toEqual([expect.stringMatching(/^plan: .*\(raises\)$/)]);
    expect(problemsOf({ ...good, answers: { smell: 'none' } })).toEqual([expect.stringMatching(/^answers: .*\(smell\)$/)]);
    expect(problemsOf({ ...good, history: [{ at: '2031-03-01T09:00:00Z', measured: {} }] })).toEqual([
      expect.stringMatching(/^history\.0: .*\(measured\)$/),
    ]);
  });

  it('names the place of a wrong value with one problem', () => {
    const bad: [unknown, RegExp][] = [
      [{ ...good, answers: { pain: 'worse' } }, /^answers\.pain: /],
      [{ ...good, answers: { temperature: { value: 101.1, unit: 'Cel' } } }, /^answers\.temperature/],
      [{ ...good, answers: { glucose: { value: 5, unit: 'mg/dL' } } }, /^answers\.glucose\.value: implausible$/],
      [{ ...good, answers: { unwell: ['none', 'faint'] } }, /^answers\.unwell: noneAndMore$/],
      [{ ...good, answers: { woundBed: ['red', 'red'] } }, /^answers\.woundBed: twice$/],
      [{ ...good, unanswered: ['smell'] }, /^unanswered\.0: /],
      [{ ...good, now: '2031-03-04 09:00' }, /^now: a time is written 2031-03-04T09:00:00\+00:00$/],
      [{ ...good, now: '2031-02-30T09:00:00Z' }, /^now: a time is written/],
      [{ ...good, now: '2031-03-04T25:00:00Z' }, /^now: a time is written/],
      [{ ...good, plan: { reviewBy: '2031-02-30' } }, /^plan\.reviewBy: a day is written 2031-03-04$/],
      [{ ...good, plan: { expectedDrainage: ['heavy', 'light'] } }, /^plan\.expectedDrainage: /],
      [{ ...good, plan: { changeEveryHours: 0 } }, /^plan\.changeEveryHours: /],
      [{ ...good, plan: { known: ['odour'] } }, /^plan\.known\.0: a finding is written question:code$/],
      [{ ...good, plan: { known: ['odour:foul'] } }, /^plan\.known\.0: a finding is written question:code$/],
      [{ ...good, plan: { raise: { 'no-such-rule': 'callNow' } } }, /^plan\.raise/],
      [{ ...good, plan: { raise: { fever: 'panic' } } }, /^plan\.raise\.fever: /],
      [{ ...good, expect: {} }, /^expect: a case must expect something$/],
      [{ ...good, expect: { level: 'callLater' } }, /^expect\.level: /],
      [{ ...good, expect: { rules: ['fevers'] } }, /^expect\.rules\.0: /],
      [{ name: 'nothing expected' }, /^expect: /],
      [{ ...good, name: '' }, /^name: /],
      ['all mild', /^case: /],
      [null, /^case: /],
    ];
    for (const [content, shape] of bad) {
      const problems = problemsOf(content);
      expect(problems, JSON.stringify(content)).toEqual([expect.stringMatching(shape)]);
    }
  });

  it('numbers a case without a name', () => {
    expect(runCaseFile([good, { expect: 3 }])[1]?.name).toBe('case 2');
    expect(runCaseFile([null])[0]?.name).toBe('case 1');
  });

  it('refuses a plan that loosens the table and names the rule', () => {
    const loose = { ...good, plan: { raise: { fever: 'mention', 'one-sign': 'callToday' } } };
    expect(problemsOf(loose)).toEqual(['the plan may not lower fever below the table']);
    expect(problemsOf({ ...good, plan: { raise: { 'sepsis-sign': 'callNow' } } })).toHaveLength(1);
    expect(problemsOf({ ...good, plan: { raise: { fever: 'callNow' } } })).toEqual([]);
  });

  it('says what was expected and what came out', () => {
    const name = 'x';
    expect(runCase({ name, answers: { pain: 'more' }, expect: { level: 'carryOn' } })).toEqual([
      'expected carryOn, got callToday (one-sign)',
    ]);
    expect(runCase({ name, expect: { level: 'callNow' } })).toEqual(['expected callNow, got carryOn (no rule fired)']);
    expect(runCase({ name, expect: { atLeast: 'mention' } })).toEqual(['expected at least mention, got carryOn (no rule fired)']);
    expect(runCase({ name, unanswered: ['pain'], expect: { atLeast: 'carryOn' } })).toEqual([
      'expected at least carryOn, got unfinished (no rule fired)',
    ]);
    expect(runCase({ name, answers: { pain: 'more' }, expect: { atLeast: 'callNow' } })).toEqual([
      'expected at least callNow, got callToday (one-sign)',
    ]);
    expect(runCase({ name, answers: { pain: 'more' }, expect: { atLeast: 'callToday' } })).toEqual([]);
    expect(runCase({ name, expect: { rules: ['fever'] } })).toEqual(['fever should have fired; fired: none']);
    expect(runCase({ name, answers: { pain: 'more' }, expect: { rules: ['fever'] } })).toEqual([
      'fever should have fired; fired: one-sign',
    ]);
    expect(runCase({ name, answers: { pain: 'more' }, expect: { notRules: ['one-sign'] } })).toEqual(['one-sign should not have fired']);
  });

  it('runs at 09:00 UTC on 4 March 2031 unless the case says otherwise', () => {
    const overdue = { name: 'x', history: [{ at: '2031-02-28T09:00:00+00:00', change: true }], expect: { rules: ['change-overdue'] } };
    expect(runCase(overdue)).toEqual([]);
    expect(runCase({ ...overdue, now: '2031-03-04T08:59:00Z' })).toHaveLength(1);
    expect(runCase({ ...overdue, now: '2031-03-04T10:59+02:00' })).toHaveLength(1);
    expect(runCase({ ...overdue, now: '2031-03-04T11:00:00.000+02:00' })).toEqual([]);
  });

  it('reads a past item as a check, a change, a measurement and an alert', () => {
    const at = '2031-03-01T09:00:00+13:00';
    const moment = { at: Date.UTC(2031, 1, 28, 20), day: '2031-03-01' };
    expect(historyOf([{ at, answers: { pain: 'more' } }])).toEqual({
      checks: [{ ...moment, answers: { ...mildestAnswers(), pain: 'more' } }],
      changes: [moment],
      measurements: [],
      alerts: [],
    });
    expect(historyOf([{ at, answers: {}, change: false }]).changes).toEqual([]);
    expect(
      historyOf([{ at, answers: {}, unanswered: ['drainageAmount', 'drainageColour', 'odour', 'redness', 'woundBed', 'edge'] }]).changes,
    ).toEqual([]);
    expect(historyOf([{ at, change: true }])).toMatchObject({ checks: [], changes: [moment] });
    expect(historyOf([{ at, measurement: { areaMm2: 5 }, alert: { level: 'callNow', outcome: null } }])).toEqual({
      checks: [],
      changes: [],
      measurements: [{ ...moment, areaMm2: 5 }],
      alerts: [{ ...moment, level: 'callNow', outcome: null }],
    });
  });

  it('lays the plan of a case over the plain plan', () => {
    expect(limitsOf()).toEqual({ ...DEFAULT_LIMITS, reviewBy: undefined });
    expect(
      limitsOf({ keepDry: true, clinicOpen: false, hasOutOfHours: true, known: ['pain:more'], raise: { fever: 'emergency' } }),
    ).toEqual({
      ...DEFAULT_LIMITS,
      keepDry: true,
      known: ['pain:more'],
      raise: { fever: 'emergency' },
      reviewBy: undefined,
    });
  });
});
