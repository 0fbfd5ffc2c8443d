import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Answers } from '../../../app/care/check/answers.ts';
import { type Assessment, assess } from '../../../app/care/escalation/assess.ts';
import { gravest } from '../../../app/care/escalation/levels.ts';
import { DEFAULT_LIMITS, DEFAULT_THRESHOLDS } from '../../../app/care/escalation/limits.ts';
import { type Judge, PROPERTIES } from './properties.ts';

/** Each property is shown a judge that breaks it, and must say so. */

const holds = <T>(property: (judge: Judge) => fc.IProperty<T>, judge: Judge): boolean =>
  !fc.check(property(judge), { numRuns: 2000, seed: 20310304, endOnFailure: true }).failed;

/** A judge whose table lacks some rules. */
const without =
  (...gone: string[]): Judge =>
  (limits, history, answers, now) => {
    const found = assess(limits, history, answers, now);
    const fired = found.fired.filter((f) => !gone.includes(f.rule));
    const level = found.level === 'unfinished' ? found.level : gravest(fired.map((f) => f.level));
    return { ...found, fired, level };
  };

/** A judge that sees other answers than were given. */
const seeing =
  (change: (answers: Answers) => Answers): Judge =>
  (limits, history, answers, now) =>
    assess(limits, history, change(answers), now);

const { worseNeverLowers, oneSignMoreNeverLowers, unsureIsNoAllClear, stricterNeverLowers, neverBelowTheTable } = PROPERTIES;

describe('the properties can fail', () => {
  it('[property 1] a table without two-signs is caught: a second sign would silence one-sign', () => {
    expect(holds(worseNeverLowers, without('two-signs'))).toBe(false);
    expect(holds(oneSignMoreNeverLowers, without('two-signs'))).toBe(false);
  });

  it('[property 1] a table without fever is caught: 38.0 °C would give less than 37.9 °C', () => {
    expect(holds(worseNeverLowers, without('fever', 'fever-with-sign'))).toBe(false);
  });

  it('[property 1] a table without foot-pale-with-sign is caught: pale would give less than black', () => {
    expect(holds(worseNeverLowers, without('foot-pale-with-sign'))).toBe(false);
  });

  it('[property 1] a table without graver-than-raised is caught', () => {
    expect(holds(worseNeverLowers, without('graver-than-raised'))).toBe(false);
  });

  it('[property 2] a judge that reads grave signs as none is caught', () => {
    const blind = seeing((a) => (a.unwell?.includes('confusedOrDrowsy') ? { ...a, unwell: ['none'] } : a));
    expect(holds(oneSignMoreNeverLowers, blind)).toBe(false);
  });

  it('[property 3] a judge that passes over doubt is caught', () => {
    const careless: Judge = (limits, history, answers, now) =>
      answers.redness === 'unsure' ? { level: 'carryOn', fired: [], quieted: [], missing: [] } : assess(limits, history, answers, now);
    expect(holds(unsureIsNoAllClear, careless)).toBe(false);
  });

  it('[property 4] a judge that takes a raise for the new level, even a lower one, is caught', () => {
    const obedient: Judge = (limits, history, answers, now) => {
      const found = assess(limits, history, answers, now);
      return Object.keys(limits.raise).length > 0 ? { ...found, level: 'mention' } : found;
    };
    expect(holds(stricterNeverLowers, obedient)).toBe(false);
    expect(holds(neverBelowTheTable, obedient)).toBe(false);
  });

  it('[property 4] a judge that lets lower thresholds loosen is caught', () => {
    const upside: Judge = (limits, history, answers, now) => {
      const feverC = 2 * DEFAULT_THRESHOLDS.feverC - limits.thresholds.feverC;
      return assess({ ...limits, thresholds: { ...limits.thresholds, feverC } }, history, answers, now);
    };
    expect(holds(stricterNeverLowers, upside)).toBe(false);
    expect(holds(neverBelowTheTable, upside)).toBe(false);
  });

  it('[property 4] a judge for which any raise is a floor for everything is caught', () => {
    const eager: Judge = (limits, history, answers, now) => {
      const found = assess(limits, history, answers, now);
      return 'one-sign' in limits.raise && found.level === 'mention' ? { ...found, level: 'callToday' } : found;
    };
    expect(holds(PROPERTIES.repeatingTheTableChangesNothing, eager)).toBe(false);
  });

  it('a judge that quiets grave known findings is caught', () => {
    const deaf: Judge = (limits, history, answers, now) => {
      const found = assess(limits, history, answers, now);
      const fired = found.fired.filter((f) => f.findings.length === 0 || !f.findings.every((x) => limits.known.includes(x)));
      return { ...found, fired, level: gravest(fired.map((f) => f.level)) };
    };
    expect(holds(PROPERTIES.knownQuietsOnlyTheMild, deaf)).toBe(false);
  });

  it('[property 5] a judge that forgets one required question is caught', () => {
    const forgetful: Judge = (limits, history, answers, now) => assess(limits, history, { swelling: 'usual', ...answers }, now);
    expect(holds(PROPERTIES.missingNeverCarriesOn, forgetful)).toBe(false);
  });

  it('[property 6] a rule without a source, and a level without a rule, are caught', () => {
    const sourceless: Judge = (limits, history, answers, now) => {
      const found = assess(limits, history, answers, now);
      return { ...found, fired: found.fired.map((f) => (f.rule === 'one-sign' ? { ...f, source: [] } : f)) };
    };
    const mute: Judge = (limits, history, answers, now) => {
      const found: Assessment = assess(limits, history, answers, now);
      return { ...found, fired: found.fired.filter((f) => f.level !== 'callNow') };
    };
    expect(holds(PROPERTIES.levelsHaveReasons, sourceless)).toBe(false);
    expect(holds(PROPERTIES.levelsHaveReasons, mute)).toBe(false);
  });

  it('[property 8] a judge with a memory, and one that reads the calendar, are caught', () => {
    let runs = 0;
    const moody: Judge = (limits, history, answers, now) => {
      runs += 1;
      return assess(runs % 50 === 0 ? { ...limits, keepDry: !limits.keepDry } : limits, history, answers, now);
    };
    const sunday: Judge = (limits, history, answers, now) => assess(now.day.endsWith('1') ? DEFAULT_LIMITS : limits, history, answers, now);
    expect(holds(PROPERTIES.sameInputsSameResult, moody)).toBe(false);
    expect(holds(PROPERTIES.sameInputsSameResult, sunday)).toBe(false);
  });
});
