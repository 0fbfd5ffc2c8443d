import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assess } from '../../../app/care/escalation/assess.ts';
import { RULE_IDS } from '../../../app/care/escalation/rule-levels.ts';
import { type Situation, situationArb } from './arbitraries.ts';
import {
  knownQuietsOnlyTheMild,
  levelsHaveReasons,
  missingNeverCarriesOn,
  neverBelowTheTable,
  oneSignMoreNeverLowers,
  repeatingTheTableChangesNothing,
  sameInputsSameResult,
  stricterNeverLowers,
  unsureIsNoAllClear,
  worseNeverLowers,
} from './properties.ts';

describe('properties that hold for every plan and history', () => {
  it('[property 1] a worse answer never lowers the level', () => {
    fc.assert(worseNeverLowers(assess));
  });

  it('[property 2] one more sign never lowers the level', () => {
    fc.assert(oneSignMoreNeverLowers(assess));
  });

  it('[property 3] [not-sure] unsure never gives less than the mildest answer', () => {
    fc.assert(unsureIsNoAllClear(assess));
  });

  it('[property 4] a stricter plan never lowers the level', () => {
    fc.assert(stricterNeverLowers(assess));
  });

  it('[property 4] no plan reaches below the table, known findings aside', () => {
    fc.assert(neverBelowTheTable(assess));
  });

  it('[property 4] [graver-than-raised] a plan that repeats the levels of the table changes nothing', () => {
    fc.assert(repeatingTheTableChangesNothing(assess));
  });

  it('known findings never quiet a call now or an emergency, and hide no rule', () => {
    fc.assert(knownQuietsOnlyTheMild(assess));
  });

  it('[property 5] a missing required answer never gives carry on', () => {
    fc.assert(missingNeverCarriesOn(assess));
  });

  it('[property 6] every level above carry on has a reason of that level, and every reason a source', () => {
    fc.assert(levelsHaveReasons(assess));
  });

  it('[property 7] every rule fires for some random situations and stays silent for some', () => {
    const seen = fc.sample(situationArb, { numRuns: 6000, seed: 20310304 }).map((s: Situation) => {
      const found = assess(s.limits, s.history, s.answers, s.now);
      return new Set<string>([...found.fired, ...found.quieted].map((f) => f.rule));
    });
    const never = RULE_IDS.filter((id) => !seen.some((rules) => rules.has(id)));
    const always = RULE_IDS.filter((id) => seen.every((rules) => rules.has(id)));
    expect({ never, always }).toEqual({ never: [], always: [] });
  });

  it('[property 8] the same inputs give the same result, in any order of the past, on any date', () => {
    fc.assert(sameInputsSameResult(assess));
  });
});
