import fc from 'fast-check';
import { type Answers, mildestAnswers, type TemperatureAnswer, type WarmthAnswer } from '../../../app/care/check/answers.ts';
import { missingAnswers } from '../../../app/care/check/applies.ts';
import { BANDS, QUESTIONS, type QuestionId, question } from '../../../app/care/check/questions.ts';
import type { History, Moment, PastAlert, PastCheck, PastMeasurement } from '../../../app/care/escalation/facts.ts';
import { LEVELS, type Level, rankOf } from '../../../app/care/escalation/levels.ts';
import {
  DEFAULT_LIMITS,
  DEFAULT_THRESHOLDS,
  type Limits,
  STRICTEST_THRESHOLDS,
  type Thresholds,
} from '../../../app/care/escalation/limits.ts';
import { RULES } from '../../../app/care/escalation/rules.ts';
import { addDays, DAY_MS, HOUR_MS, type LocalDay } from '../../../app/care/schedule/day.ts';

/** Random plans, pasts and answers for the properties of the escalation rules. */

/** One judgement's whole input. */
export interface Situation {
  limits: Limits;
  history: History;
  answers: Answers;
  now: Moment;
}

export const OPEN_IDS: readonly QuestionId[] = QUESTIONS.filter((q) => q.when === 'open').map((q) => q.id);
/** Questions with answer codes (temperature's feeling among them), that is all but glucose and the note. */
export const CODED_IDS: readonly QuestionId[] = QUESTIONS.filter((q) => q.codes.length > 0).map((q) => q.id);

/** All findings a plan can name as `question:code`, the mildest codes left out. */
export const NAMEABLE: readonly string[] = QUESTIONS.flatMap((q) => q.codes.slice(1).map((code) => `${q.id}:${code}`));

/**
 * A list of known findings without a gap: with a finding, every milder one of the same question is
 * known too. A gap would make the milder answer the louder one, which property 1 forbids.
 */
export function withoutGaps(known: readonly string[]): string[] {
  const all = known.flatMap((finding) => {
    const [id, code] = finding.split(':') as [QuestionId, string];
    const codes: readonly string[] = question(id).codes;
    return codes.slice(1, codes.indexOf(code) + 1).map((c) => `${id}:${c}`);
  });
  return [...new Set(all)];
}

/** 2031-03-04 09:00 UTC; every random past lies before it. */
export const NOW: Moment = { at: Date.UTC(2031, 2, 4, 9), day: '2031-03-04' as LocalDay };

/** The moment a number of hours before `NOW`, with the UTC calendar day. */
export function hoursBefore(hours: number, now: Moment = NOW): Moment {
  const at = now.at - Math.round(hours * HOUR_MS);
  return { at, day: new Date(at).toISOString().slice(0, 10) as LocalDay };
}

const threshold = (key: keyof Thresholds): fc.Arbitrary<number> => {
  const low = STRICTEST_THRESHOLDS[key];
  const high = DEFAULT_THRESHOLDS[key];
  return fc.oneof(
    { weight: 2, arbitrary: fc.constant(high) },
    { weight: 1, arbitrary: fc.integer({ min: 0, max: 10 }).map((n) => Number((low + ((high - low) * n) / 10).toFixed(2))) },
  );
};

export const thresholdsArb: fc.Arbitrary<Thresholds> = fc.record({
  feverC: threshold('feverC'),
  raisedC: threshold('raisedC'),
  warmthDifferenceC: threshold('warmthDifferenceC'),
  glucoseHighMgdl: threshold('glucoseHighMgdl'),
  glucoseHighIllMgdl: threshold('glucoseHighIllMgdl'),
  growthShare: threshold('growthShare'),
});

/** Raises of one to four rules, never below the table. */
export const raiseArb: fc.Arbitrary<Record<string, Level>> = fc
  .uniqueArray(fc.tuple(fc.constantFrom(...RULES), fc.constantFrom(...LEVELS)), { maxLength: 4, selector: ([rule]) => rule.id })
  .map((list) => Object.fromEntries(list.filter(([rule, level]) => rankOf(level) >= rankOf(rule.level)).map(([rule, l]) => [rule.id, l])));

export const knownArb: fc.Arbitrary<string[]> = fc.uniqueArray(fc.constantFrom(...NAMEABLE), { maxLength: 4 }).map(withoutGaps);

export const alsoSignsArb: fc.Arbitrary<string[]> = fc.uniqueArray(fc.constantFrom(...NAMEABLE), { minLength: 1, maxLength: 3 });

export const expectedDrainageArb: fc.Arbitrary<Limits['expectedDrainage']> = fc
  .tuple(fc.nat({ max: 3 }), fc.nat({ max: 3 }))
  .map(([a, b]) => [BANDS[Math.min(a, b)] ?? 'none', BANDS[Math.max(a, b)] ?? 'heavy'] as const);

/** Any plan that a clinic could write, as the rules see it. Most have only a few settings of their own. */
export const limitsArb: fc.Arbitrary<Limits> = fc
  .record({
    own: fc.subarray(['expectedDrainage', 'callBands', 'keepDry', 'known', 'alsoSigns', 'raise', 'reviewBy', 'thresholds'] as const, {
      maxLength: 4,
    }),
    all: fc.record({
      expectedDrainage: expectedDrainageArb,
      changeEveryHours: fc.constantFrom(8, 12, 24, 48, 72, 168),
      callBands: fc.subarray([...BANDS]),
      keepDry: fc.constant(true),
      known: knownArb,
      alsoSigns: alsoSignsArb,
      asks: fc.subarray(['warmth', 'offloading', 'glucose']),
      raise: raiseArb,
      reviewBy: fc.integer({ min: -20, max: 30 }).map((n) => addDays(NOW.day, n)),
      thresholds: thresholdsArb,
    }),
  })
  .map(({ own, all }): Limits => {
    const limits: Limits = {
      ...DEFAULT_LIMITS,
      changeEveryHours: all.changeEveryHours,
      asks: all.asks,
      ...Object.fromEntries(own.map((key) => [key, all[key]])),
    };
    // An amount the plan calls for and a heavier one it knows would be a gap as well.
    return limits.callBands.length === 0 ? limits : { ...limits, known: limits.known.filter((f) => !f.startsWith('drainageAmount:')) };
  });

const oneOf = (id: QuestionId): fc.Arbitrary<string> => fc.constantFrom<string>(...question(id).codes, 'unsure');

const manyOf = (id: 'unwell' | 'woundBed'): fc.Arbitrary<string[]> => {
  const codes: readonly string[] = question(id).codes;
  const mildest = codes[0] ?? '';
  const others = fc.uniqueArray(fc.constantFrom(...codes.slice(1), 'unsure'), { minLength: 1, maxLength: 3 });
  // `none` stands alone; a red bed may have other codes beside it.
  return id === 'unwell'
    ? others
    : fc.oneof(
        others,
        others.map((list) => [mildest, ...list]),
      );
};

/** Temperatures on both sides of every number of the table, °C. */
export const EDGES_C = [34.9, 35, 35.9, 36, 36.8, 37.1, 37.2, 37.4, 37.5, 37.7, 37.8, 37.9, 38, 39.5] as const;

/** A complete temperature: a single reading below 36.0 °C awaits its second and is left out. */
export const temperatureArb: fc.Arbitrary<TemperatureAnswer> = fc.oneof(
  {
    weight: 2,
    arbitrary: fc
      .record({
        value: fc.constantFrom(...EDGES_C),
        again: fc.option(fc.constantFrom(...EDGES_C), { nil: undefined }),
        site: fc.option(fc.constantFrom('mouth', 'ear', 'forehead', 'armpit', 'armpit'), { nil: undefined }),
      })
      .map(({ value, again, site }): TemperatureAnswer => {
        const second = again ?? (value < 36 ? value : undefined);
        return { value, unit: 'Cel', ...(second === undefined ? {} : { again: second }), ...(site === undefined ? {} : { site }) };
      }),
  },
  { weight: 1, arbitrary: fc.constantFrom('no', 'unsure', 'yes').map((feelsFeverish): TemperatureAnswer => ({ feelsFeverish })) },
);

const pairArb = fc
  .record({ site: fc.constantFrom('heel', 'ball', 'arch'), difference: fc.constantFrom(-3, 0, 1, 1.7, 2.2, 2.3, 4) })
  .map(({ site, difference }) => ({ site, woundSide: Number((31 + difference).toFixed(1)), otherSide: 31 }));

export const warmthArb: fc.Arbitrary<WarmthAnswer> = fc.oneof(
  oneOf('warmth').map((code) => code as WarmthAnswer),
  fc
    .record({
      pairs: fc.uniqueArray(pairArb, { minLength: 1, maxLength: 2, selector: (p) => p.site }),
      feel: fc.oneof(fc.constant('same'), oneOf('warmth')),
    })
    .map(({ pairs, feel }): WarmthAnswer => ({ pairs, feel: feel as 'same' })),
);

/** Glucose on both sides of every number of the table, mg/dL. */
export const EDGES_MGDL = [40, 53, 54, 69, 70, 120, 179, 180, 181, 239, 240, 300, 301, 420] as const;

const ANY_ANSWER: Readonly<Record<string, fc.Arbitrary<unknown>>> = {
  unwell: manyOf('unwell'),
  temperature: temperatureArb,
  warmth: warmthArb,
  woundBed: manyOf('woundBed'),
  glucose: fc.constantFrom(...EDGES_MGDL).map((value) => ({ value, unit: 'mg/dL' })),
};
const anyAnswer = (id: QuestionId): fc.Arbitrary<unknown> => ANY_ANSWER[id] ?? oneOf(id);
const ANSWERABLE: readonly QuestionId[] = [...CODED_IDS, 'glucose'];

/**
 * A check with every required question answered, the wound open three times in
 * four. Most checks are calm (up to three answers are not the mildest), for in
 * a crowd of grave answers a single wrong step goes unseen.
 */
export const answersArb: fc.Arbitrary<Answers> = fc
  .tuple(
    fc.oneof(
      { weight: 5, arbitrary: fc.subarray([...ANSWERABLE], { maxLength: 3 }) },
      { weight: 1, arbitrary: fc.subarray([...ANSWERABLE], { minLength: 6 }) },
    ),
    fc.integer({ min: 0, max: 3 }),
  )
  .chain(([ids, closed]) =>
    fc.record(Object.fromEntries(ids.map((id) => [id, anyAnswer(id)]))).map((own) => {
      const answers = { ...mildestAnswers(), ...own } as Answers;
      if (closed === 0) for (const id of OPEN_IDS) delete answers[id];
      return answers;
    }),
  );

/** The same with some questions left out; never complete. */
export const gappyAnswersArb = (limits: Limits): fc.Arbitrary<Answers> =>
  answersArb.chain((full) => {
    const asked = missingAnswers(
      {},
      OPEN_IDS.some((id) => full[id] !== undefined),
      limits.asks,
    );
    return fc.subarray([...asked], { minLength: 1 }).map((gone) => {
      const left: Answers = { ...full };
      for (const id of gone) delete left[id];
      return left;
    });
  });

const pastCheck: fc.Arbitrary<PastCheck> = fc
  .tuple(fc.oneof(fc.integer({ min: 1, max: 60 }), fc.constantFrom(23.9, 24, 24.1, 48, 72)), answersArb)
  .map(([hours, answers]) => ({ ...hoursBefore(hours), answers }));
const pastMeasurement: fc.Arbitrary<PastMeasurement> = fc
  .tuple(fc.integer({ min: 1, max: 70 }), fc.constantFrom(0, 50, 90, 100, 101, 119, 120, 121, 125, 150))
  .map(([days, areaMm2]) => ({ ...hoursBefore(days * 24), areaMm2 }));
const pastAlert: fc.Arbitrary<PastAlert> = fc
  .tuple(
    fc.constantFrom(0.1, 0.5, 1, 23.9, 24, 100),
    fc.constantFrom<Level>('mention', 'callToday', 'callNow', 'emergency'),
    fc.constantFrom(null, 'couldNotReach', 'reached', 'reached', 'wentToHospital'),
  )
  .map(([hours, level, outcome]) => ({ ...hoursBefore(hours), level, outcome }));

/** Changes one after another, whose dressings, edges or amounts tell a story of their own. */
const runOfChanges: fc.Arbitrary<PastCheck[]> = fc
  .tuple(
    fc.constantFrom<Answers[]>(
      (['moderate', 'light', 'none'] as const).map((drainageAmount) => ({ drainageAmount })),
      [{ drainageAmount: 'none' }, { drainageAmount: 'none' }],
      [{ dressing: 'leaking' }, { dressing: 'markedThrough' }],
      [{ edge: 'whiteSoggy' }],
      [{ offloading: 'hardly' }],
      [{ warmth: { pairs: [{ site: 'heel', woundSide: 35, otherSide: 31 }], feel: 'same' } }],
    ),
    fc.constantFrom(10, 12, 20, 24, 30),
  )
  .map(([story, hours]) => story.map((own, i) => ({ ...hoursBefore((i + 1) * hours), answers: { ...mildestAnswers(), ...own } })));

/** Any past, in any order: checks, their changes, measurements and alerts. Many people have little of one. */
export const historyArb: fc.Arbitrary<History> = fc
  .record({
    checks: fc.oneof(fc.constant<PastCheck[]>([]), fc.array(pastCheck, { maxLength: 4 }), runOfChanges),
    more: fc.array(fc.integer({ min: 1, max: 200 }), { maxLength: 2 }),
    measurements: fc.oneof(fc.constant<PastMeasurement[]>([]), fc.array(pastMeasurement, { maxLength: 4 })),
    alerts: fc.oneof(
      { weight: 4, arbitrary: fc.constant<PastAlert[]>([]) },
      { weight: 1, arbitrary: fc.array(pastAlert, { maxLength: 2 }) },
    ),
  })
  .map(({ checks, more, measurements, alerts }) => ({
    checks,
    changes: [
      ...checks.filter((c) => c.answers.edge !== undefined).map(({ at, day }) => ({ at, day })),
      ...more.map((hours) => hoursBefore(hours)),
    ],
    measurements,
    alerts,
  }));

/** A plan, a past and a complete check. */
export const situationArb: fc.Arbitrary<Situation> = fc.record({
  limits: limitsArb,
  history: historyArb,
  answers: answersArb,
  now: fc.constant(NOW),
});

/** A plan, a past and a check with required answers missing. */
export const gappySituationArb: fc.Arbitrary<Situation> = limitsArb.chain((limits) =>
  fc.record({ limits: fc.constant(limits), history: historyArb, answers: gappyAnswersArb(limits), now: fc.constant(NOW) }),
);

/** Moves a whole situation by a number of days, the review date with it. */
export function movedBy(s: Situation, days: number): Situation {
  const move = <M extends Moment>(m: M): M => ({ ...m, at: m.at + days * DAY_MS, day: addDays(m.day, days) });
  return {
    answers: s.answers,
    limits: { ...s.limits, reviewBy: s.limits.reviewBy && addDays(s.limits.reviewBy, days) },
    history: {
      checks: s.history.checks.map(move),
      changes: s.history.changes.map(move),
      measurements: s.history.measurements.map(move),
      alerts: s.history.alerts.map(move),
    },
    now: move(s.now),
  };
}

/** The mildest complete check. */
export const mildest = (): Answers => mildestAnswers();
