import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ANSWER_SCHEMAS, type Answers, answersSchema, mildestAnswers, NOTE_MAX } from '../../../app/care/check/answers.ts';
import {
  ASKABLE,
  hasOpenAnswers,
  isOptional,
  LOW_TEMPERATURE_C,
  missingAnswers,
  needsSecondReading,
  questionsFor,
} from '../../../app/care/check/applies.ts';
import {
  BANDS,
  bandRank,
  GRAVE_UNWELL,
  isFinding,
  QUESTION_IDS,
  QUESTIONS,
  type QuestionId,
  question,
} from '../../../app/care/check/questions.ts';
import { readAnswer } from '../../../app/care/check/read-answer.ts';
import { answersArb, OPEN_IDS } from '../escalation/arbitraries.ts';

const fits = (id: QuestionId, value: unknown): boolean => ANSWER_SCHEMAS[id].safeParse(value).success;

describe('the questions', () => {
  it('stand in the order of the specification, mildest code first', () => {
    expect(QUESTION_IDS).toEqual([
      'unwell',
      'temperature',
      'footColour',
      'pain',
      'warmth',
      'swelling',
      'dressing',
      'bleeding',
      'drainageAmount',
      'drainageColour',
      'odour',
      'redness',
      'woundBed',
      'edge',
      'offloading',
      'glucose',
      'note',
    ]);
    expect(question('redness').codes).toEqual(['none', 'rim', 'wide', 'spreading', 'streaks', 'fast']);
    expect(question('footColour').codes).toEqual(['usual', 'darkerPatch', 'newBlack', 'paleOrBlue', 'paleOrBlueAndCold']);
    expect(GRAVE_UNWELL).toEqual(['shakingChills', 'confusedOrDrowsy', 'fastBreathing', 'faint', 'mottledSkin', 'noUrine', 'worstEver']);
    expect(BANDS.map(bandRank)).toEqual([0, 1, 2, 3]);
  });

  it('refuses a question that does not exist', () => {
    for (const id of ['smell', '', 'toString', '__proto__']) expect(() => question(id)).toThrow(RangeError);
  });

  it('a finding is a question and one of its codes', () => {
    expect(QUESTIONS.flatMap((q) => q.codes.map((code) => isFinding(`${q.id}:${code}`))).every(Boolean)).toBe(true);
    for (const text of [
      'odour',
      'odour:',
      ':usual',
      'odour:foul',
      'odour:usual:',
      'odour:usual:more',
      'smell:usual',
      'glucose:low',
      'odour:unsure',
      '',
    ]) {
      expect(isFinding(text), text).toBe(false);
    }
  });
});

describe('the schema of an answer', () => {
  it('takes every code and unsure, and nothing else', () => {
    for (const q of QUESTIONS.filter((one) => one.kind === 'oneOf' || one.kind === 'warmth')) {
      for (const code of [...q.codes, 'unsure']) expect(fits(q.id, code), `${q.id}:${code}`).toBe(true);
      for (const odd of ['', 'Usual', 'toString', null, 0, [q.codes[0]], {}])
        expect(fits(q.id, odd), `${q.id} ${JSON.stringify(odd)}`).toBe(false);
    }
  });

  it('takes lists without repeats, and “none” only alone', () => {
    expect(fits('unwell', ['none'])).toBe(true);
    expect(fits('unwell', [...question('unwell').codes.slice(1), 'unsure'])).toBe(true);
    expect(fits('woundBed', ['red', 'yellow', 'newBlack'])).toBe(true);
    for (const odd of [[], ['none', 'faint'], ['faint', 'faint'], ['ill'], 'none', ['none', 'unsure']])
      expect(fits('unwell', odd)).toBe(false);
  });

  it('takes temperatures from 30 to 45 °C in either unit, and no others', () => {
    for (const value of [30, 36.8, 45]) expect(fits('temperature', { value, unit: 'Cel' })).toBe(true);
    for (const value of [29.9, 45.1, 98.6, -5, Number.NaN, Number.POSITIVE_INFINITY, '37'])
      expect(fits('temperature', { value, unit: 'Cel' })).toBe(false);
    for (const value of [86, 98.6, 113]) expect(fits('temperature', { value, unit: '[degF]' })).toBe(true);
    for (const value of [85.9, 113.1, 37]) expect(fits('temperature', { value, unit: '[degF]' })).toBe(false);
    expect(fits('temperature', { value: 35.5, unit: 'Cel', again: 35.6, site: 'armpit' })).toBe(true);
    for (const odd of [{ again: 20 }, { again: '35' }, { site: 'foot' }, { unit: 'K' }, { feelsFeverish: 'no' }]) {
      expect(fits('temperature', { value: 35.5, unit: 'Cel', ...odd })).toBe(false);
    }
    for (const feelsFeverish of ['no', 'unsure', 'yes']) expect(fits('temperature', { feelsFeverish })).toBe(true);
    for (const odd of [{ feelsFeverish: 'maybe' }, {}, 'unsure', 37, null]) expect(fits('temperature', odd)).toBe(false);
  });

  it('takes glucose from 20 to 800 mg/dL in either unit, and no others', () => {
    for (const value of [20, 104, 800]) expect(fits('glucose', { value, unit: 'mg/dL' })).toBe(true);
    for (const value of [5.8, 19, 801, Number.NaN]) expect(fits('glucose', { value, unit: 'mg/dL' })).toBe(false);
    for (const value of [1.2, 5.8, 44.4]) expect(fits('glucose', { value, unit: 'mmol/L' })).toBe(true);
    for (const value of [1, 104, 45]) expect(fits('glucose', { value, unit: 'mmol/L' })).toBe(false);
    for (const odd of ['unsure', 104, { value: 104 }, { value: 104, unit: 'g/L' }]) expect(fits('glucose', odd)).toBe(false);
  });

  it('takes measured pairs of skin temperatures, with or without what the hand feels', () => {
    const pair = { site: 'heel', woundSide: 33, otherSide: 31 };
    expect(fits('warmth', { pairs: [pair] })).toBe(true);
    expect(fits('warmth', { pairs: [pair], feel: 'unsure' })).toBe(true);
    expect(fits('warmth', { pairs: [{ ...pair, woundSide: 91, otherSide: 88, unit: '[degF]' }] })).toBe(true);
    for (const odd of [{ woundSide: 9.9 }, { otherSide: 45.1 }, { site: '' }, { site: 'x'.repeat(41) }, { woundSide: 91 }, { left: 3 }]) {
      expect(fits('warmth', { pairs: [{ ...pair, ...odd }] }), JSON.stringify(odd)).toBe(false);
    }
    for (const odd of [{ pairs: [] }, { pairs: Array(13).fill(pair) }, { feel: 'warmer' }, { pairs: [pair], feel: 'hot' }]) {
      expect(fits('warmth', odd)).toBe(false);
    }
  });

  it('takes a note up to its length', () => {
    expect(fits('note', '')).toBe(true);
    expect(fits('note', 'x'.repeat(NOTE_MAX))).toBe(true);
    expect(fits('note', 'x'.repeat(NOTE_MAX + 1))).toBe(false);
    expect(fits('note', 5)).toBe(false);
  });

  it('refuses questions it does not know, and takes every set of answers the tests make', () => {
    expect(answersSchema.safeParse({ pain: 'more', smell: 'none' }).success).toBe(false);
    expect(answersSchema.safeParse({}).success).toBe(true);
    expect(answersSchema.safeParse(mildestAnswers()).success).toBe(true);
    fc.assert(fc.property(answersArb, (answers) => answersSchema.safeParse(answers).success));
  });

  it('reads an answer from outside, or nothing', () => {
    expect(readAnswer('pain', 'more')).toBe('more');
    expect(readAnswer('pain', 'much')).toBeUndefined();
    expect(readAnswer('unwell', ['faint'])).toEqual(['faint']);
    expect(readAnswer('glucose', null)).toBeUndefined();
  });
});

describe('which questions a check asks', () => {
  const ids = (open: boolean, asks: readonly string[]): string[] => questionsFor(open, asks).map((q) => q.id);

  it('every day: nine, with the open ones only at a change and the plan’s only when it asks', () => {
    const daily = ['unwell', 'temperature', 'footColour', 'pain', 'warmth', 'swelling', 'dressing', 'bleeding', 'note'];
    expect(ids(false, [])).toEqual(daily);
    expect(new Set(ids(true, []))).toEqual(new Set([...daily, ...OPEN_IDS]));
    expect(ids(false, ['glucose'])).toContain('glucose');
    expect(ids(true, ['offloading'])).toContain('offloading');
    expect(ids(true, ASKABLE)).toEqual([...QUESTION_IDS]);
    expect(ids(false, ['pain', 'odour'])).toEqual(daily);
  });

  it('only the numbers and the note may be left out', () => {
    expect(QUESTIONS.filter(isOptional).map((q) => q.id)).toEqual(['glucose', 'note']);
  });

  it('names what is missing, in order', () => {
    expect(missingAnswers(mildestAnswers(), true, ['offloading', 'glucose'])).toEqual([]);
    expect(missingAnswers({}, false, [])).toEqual([
      'unwell',
      'temperature',
      'footColour',
      'pain',
      'warmth',
      'swelling',
      'dressing',
      'bleeding',
    ]);
    expect(missingAnswers({}, true, ['offloading']).slice(-7)).toEqual([...OPEN_IDS, 'offloading']);
    expect(missingAnswers({ ...mildestAnswers(), offloading: undefined }, true, ['offloading'])).toEqual(['offloading']);
    expect(missingAnswers({ ...mildestAnswers(), offloading: undefined }, true, [])).toEqual([]);
  });

  it('a reading below 36.0 °C is complete only with its second', () => {
    const once = (value: number, unit: 'Cel' | '[degF]' = 'Cel'): Answers['temperature'] => ({ value, unit });
    expect(LOW_TEMPERATURE_C).toBe(36);
    expect([35.9, 36, 36.1].map((value) => needsSecondReading(once(value)))).toEqual([true, false, false]);
    expect([96.7, 96.8].map((value) => needsSecondReading(once(value, '[degF]')))).toEqual([true, false]);
    expect(needsSecondReading({ value: 35.9, unit: 'Cel', again: 36.4 })).toBe(false);
    expect(needsSecondReading({ feelsFeverish: 'unsure' })).toBe(false);
    expect(needsSecondReading(undefined)).toBe(false);
    expect(missingAnswers({ ...mildestAnswers(), temperature: once(35.9) }, true, [])).toEqual(['temperature']);
  });

  it('a check is open when any question of the open wound is answered', () => {
    expect(hasOpenAnswers(mildestAnswers())).toBe(true);
    for (const id of OPEN_IDS) expect(hasOpenAnswers({ [id]: mildestAnswers()[id] })).toBe(true);
    expect(hasOpenAnswers({ pain: 'severe', offloading: 'always', note: 'x' })).toBe(false);
    expect(hasOpenAnswers({ odour: undefined })).toBe(false);
    expect(hasOpenAnswers({})).toBe(false);
  });
});
