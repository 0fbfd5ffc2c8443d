import fc from 'fast-check';
import { type Answers, mildestAnswers } from '../../../app/care/check/answers.ts';
import { BANDS, bandRank } from '../../../app/care/check/questions.ts';
import type { Assessment, assess } from '../../../app/care/escalation/assess.ts';
import { isAtLeast, LEVELS, type Outcome, rankOf } from '../../../app/care/escalation/levels.ts';
import { DEFAULT_THRESHOLDS, type Limits, STRICTEST_THRESHOLDS } from '../../../app/care/escalation/limits.ts';
import { RULES } from '../../../app/care/escalation/rules.ts';
import { addDays } from '../../../app/care/schedule/day.ts';
import { CODED_IDS, gappySituationArb, movedBy, NAMEABLE, NOW, type Situation, situationArb } from './arbitraries.ts';
import { withOneSignMore, worseAnswers } from './worse.ts';

/** Anything that judges a check; the guard tests put a broken one in the place of `assess`. */
export type Judge = typeof assess;

const judged = (judge: Judge, s: Situation): Assessment => judge(s.limits, s.history, s.answers, s.now);

/** A level's rank; `unfinished` stands between carry on and mention. */
export const rankOfOutcome = (o: Outcome): number => (o === 'unfinished' ? 0.5 : rankOf(o));

const atLeastAsGrave = (graver: Assessment, milder: Assessment, what: () => string): void => {
  if (rankOfOutcome(graver.level) < rankOfOutcome(milder.level)) throw new Error(`${milder.level} fell to ${graver.level}: ${what()}`);
};

const difference = (before: Answers, after: Answers): string =>
  Object.keys({ ...before, ...after })
    .filter((k) => JSON.stringify(before[k as 'pain']) !== JSON.stringify(after[k as 'pain']))
    .map((k) => `${k} ${JSON.stringify(before[k as 'pain'])} → ${JSON.stringify(after[k as 'pain'])}`)
    .join(', ');

/** Property 1: making one answer worse never lowers the level. */
export const worseNeverLowers = (judge: Judge) =>
  fc.property(situationArb, (s) => {
    const before = judged(judge, s);
    for (const answers of worseAnswers(s.answers, s.limits)) {
      atLeastAsGrave(judged(judge, { ...s, answers }), before, () => difference(s.answers, answers));
    }
  });

/** Property 2: adding a sign never lowers the level. */
export const oneSignMoreNeverLowers = (judge: Judge) =>
  fc.property(situationArb, (s) => {
    const before = judged(judge, s);
    for (const answers of withOneSignMore(s.answers, s.limits)) {
      atLeastAsGrave(judged(judge, { ...s, answers }), before, () => difference(s.answers, answers));
    }
  });

/** Property 3: `unsure` never gives less than the mildest answer. */
export const unsureIsNoAllClear = (judge: Judge) =>
  fc.property(situationArb, (s) => {
    const mild = mildestAnswers();
    for (const id of CODED_IDS) {
      if (s.answers[id] === undefined) continue;
      const many = id === 'unwell' || id === 'woundBed';
      const milds: unknown[] = id === 'temperature' ? [mild.temperature, { feelsFeverish: 'no' }] : [mild[id]];
      const unsure: unknown = id === 'temperature' ? { feelsFeverish: 'unsure' } : many ? ['unsure'] : 'unsure';
      const doubted = judged(judge, { ...s, answers: { ...s.answers, [id]: unsure } as Answers });
      for (const value of milds) {
        atLeastAsGrave(doubted, judged(judge, { ...s, answers: { ...s.answers, [id]: value } as Answers }), () => `${id} unsure`);
      }
    }
  });

const higherRaises = (limits: Limits): Limits[] =>
  RULES.flatMap((rule) =>
    LEVELS.slice(rankOf(limits.raise[rule.id] ?? rule.level) + 1).map((level) => ({
      ...limits,
      raise: { ...limits.raise, [rule.id]: level },
    })),
  );

const lowerThresholds = (limits: Limits): Limits[] =>
  (Object.keys(DEFAULT_THRESHOLDS) as (keyof typeof DEFAULT_THRESHOLDS)[]).flatMap((key) => {
    const [low, now] = [STRICTEST_THRESHOLDS[key], limits.thresholds[key]];
    return [low, Number(((low + now) / 2).toFixed(2))]
      .filter((value) => value < now)
      .map((value) => ({ ...limits, thresholds: { ...limits.thresholds, [key]: value } }));
  });

/** Taking away a known finding takes away the worse ones of its question too, so that no gap arises. */
const fewerKnown = (limits: Limits): Limits[] =>
  limits.known.map((finding) => {
    const from = NAMEABLE.indexOf(finding);
    const id = finding.split(':')[0] ?? '';
    return { ...limits, known: limits.known.filter((f) => !f.startsWith(`${id}:`) || NAMEABLE.indexOf(f) < from) };
  });

const narrowerDrainage = (limits: Limits): Limits[] => {
  const [low, high] = limits.expectedDrainage;
  if (low === high) return [];
  return [
    { ...limits, expectedDrainage: [BANDS[bandRank(low) + 1] ?? high, high] },
    { ...limits, expectedDrainage: [low, BANDS[bandRank(high) - 1] ?? low] },
  ];
};

/** Every plan that differs in one point and is stricter there. */
export function stricter(limits: Limits): Limits[] {
  const moreSigns = NAMEABLE.filter((f) => !limits.alsoSigns.includes(f)).map((f) => ({ ...limits, alsoSigns: [...limits.alsoSigns, f] }));
  const moreCalls = BANDS.filter((b) => !limits.callBands.includes(b)).map((b) => ({ ...limits, callBands: [...limits.callBands, b] }));
  return [
    ...higherRaises(limits),
    ...lowerThresholds(limits),
    ...fewerKnown(limits),
    ...moreSigns,
    ...narrowerDrainage(limits),
    ...moreCalls,
    { ...limits, keepDry: true },
    { ...limits, reviewBy: addDays(limits.reviewBy ?? NOW.day, -9) },
  ];
}

/** Property 4, first half: a stricter plan never lowers the level. */
export const stricterNeverLowers = (judge: Judge) =>
  fc.property(situationArb, (s) => {
    const before = judged(judge, s);
    for (const limits of stricter(s.limits)) {
      atLeastAsGrave(judged(judge, { ...s, limits }), before, () => {
        const changed = Object.keys(limits).filter((k) => JSON.stringify(limits[k as 'raise']) !== JSON.stringify(s.limits[k as 'raise']));
        return changed.map((k) => `${k} ${JSON.stringify(s.limits[k as 'raise'])} → ${JSON.stringify(limits[k as 'raise'])}`).join(', ');
      });
    }
  });

/** Property 4, second half: no plan reaches below the table, `known` aside. */
export const neverBelowTheTable = (judge: Judge) =>
  fc.property(situationArb, (s) => {
    const own = { ...s, limits: { ...s.limits, known: [] } };
    const table = { ...own, limits: { ...own.limits, raise: {}, thresholds: DEFAULT_THRESHOLDS, alsoSigns: [] } };
    atLeastAsGrave(judged(judge, own), judged(judge, table), () => 'the plan fell below the table');
  });

/** Raising a rule to the level it has already changes nothing. */
export const repeatingTheTableChangesNothing = (judge: Judge) =>
  fc.property(situationArb, (s) => {
    const plain = { ...s, limits: { ...s.limits, raise: {} } };
    const raise = Object.fromEntries(RULES.map((r) => [r.id, r.level]));
    const a = judged(judge, plain);
    const b = judged(judge, { ...s, limits: { ...s.limits, raise } });
    if (JSON.stringify(a) !== JSON.stringify(b)) throw new Error(`${a.level} became ${b.level}`);
  });

/** Known findings quiet mention and callToday only: with or without them, graver levels are the same. */
export const knownQuietsOnlyTheMild = (judge: Judge) =>
  fc.property(situationArb, (s) => {
    const loud = judged(judge, { ...s, limits: { ...s.limits, known: [] } });
    const quiet = judged(judge, s);
    if (loud.level !== 'unfinished' && isAtLeast(loud.level, 'callNow') && quiet.level !== loud.level) {
      throw new Error(`${loud.level} fell to ${quiet.level}`);
    }
    const all = [...quiet.fired, ...quiet.quieted].map((f) => f.rule).filter((r) => r !== 'graver-than-raised');
    for (const f of loud.fired) {
      if (f.rule !== 'graver-than-raised' && !all.includes(f.rule)) throw new Error(`${f.rule} is hidden`);
    }
    if (quiet.quieted.some((f) => f.level !== 'mention' && f.level !== 'callToday')) throw new Error('a grave rule was quieted');
  });

/** Property 5: a missing required answer never yields `carryOn`. */
export const missingNeverCarriesOn = (judge: Judge) =>
  fc.property(gappySituationArb, (s) => {
    const found = judged(judge, s);
    if (found.level === 'carryOn') throw new Error(`carryOn with answers missing: ${JSON.stringify(s.answers)}`);
    if (found.missing.length === 0) throw new Error('nothing is called missing');
  });

/** Property 6: every level above `carryOn` names a rule, the gravest rule is the level, every rule names a source. */
export const levelsHaveReasons = (judge: Judge) =>
  fc.property(fc.oneof(situationArb, gappySituationArb), (s) => {
    const found = judged(judge, s);
    for (const f of found.fired) {
      if (f.source.length === 0 || !f.source.every((r) => /^(EV-[A-Z]{3}-\d{2}|practice|cautious)$/.test(r))) {
        throw new Error(`${f.rule} names no source: ${f.source.join(', ')}`);
      }
    }
    if (found.level === 'unfinished') return;
    const gravest = found.fired.reduce((rank, f) => Math.max(rank, rankOf(f.level)), 0);
    if (gravest !== rankOf(found.level)) throw new Error(`${found.level} without a rule of that level`);
    const ranks = found.fired.map((f) => rankOf(f.level));
    if (ranks.some((r, i) => i > 0 && r > (ranks[i - 1] ?? 4))) throw new Error('reasons are not gravest first');
  });

function frozen<T>(value: T): T {
  if (typeof value === 'object' && value !== null) {
    Object.values(value).forEach(frozen);
    Object.freeze(value);
  }
  return value;
}

/** Property 8: the same inputs always give the same result; the order of the past and the date do not matter, inputs stay untouched. */
export const sameInputsSameResult = (judge: Judge) =>
  fc.property(situationArb, fc.integer({ min: -400, max: 400 }), (given, days) => {
    const s = frozen(given);
    const first = JSON.stringify(judged(judge, s));
    if (JSON.stringify(judged(judge, s)) !== first) throw new Error('a second run differs');
    const turned = {
      checks: [...s.history.checks].reverse(),
      changes: [...s.history.changes].reverse(),
      measurements: s.history.measurements,
      alerts: [...s.history.alerts].reverse(),
    };
    const distinct = new Set(s.history.checks.map((c) => c.at)).size === s.history.checks.length;
    if (distinct && JSON.stringify(judged(judge, { ...s, history: turned })) !== first) throw new Error('the order of the past matters');
    if (JSON.stringify(judged(judge, movedBy(s, days))) !== first) throw new Error('the date matters');
  });

export const PROPERTIES = {
  worseNeverLowers,
  oneSignMoreNeverLowers,
  unsureIsNoAllClear,
  stricterNeverLowers,
  neverBelowTheTable,
  repeatingTheTableChangesNothing,
  knownQuietsOnlyTheMild,
  missingNeverCarriesOn,
  levelsHaveReasons,
  sameInputsSameResult,
} as const;
