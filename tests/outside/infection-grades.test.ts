import { describe, expect, it } from 'vitest';
import { type Answers, mildestAnswers } from '../../app/care/check/answers.ts';
import { assess } from '../../app/care/escalation/assess.ts';
import { EMPTY_HISTORY, type Moment } from '../../app/care/escalation/facts.ts';
import { isAtLeast, type Level } from '../../app/care/escalation/levels.ts';
import { DEFAULT_LIMITS } from '../../app/care/escalation/limits.ts';
import type { LocalDay } from '../../app/care/schedule/day.ts';

/**
 * Published grades of diabetic foot infection and published lists of what must be referred at once, as
 * a person at home could see them, and the least level each must give. Grades that need a pulse count, a
 * breathing rate or a blood test are left to the clinic.
 */

const NOW: Moment = { at: Date.UTC(2031, 2, 4, 9), day: '2031-03-04' as LocalDay };
const outcome = (answers: Partial<Answers>) => assess(DEFAULT_LIMITS, EMPTY_HISTORY, { ...mildestAnswers(), ...answers }, NOW);

interface Row {
  finding: string;
  answers: Partial<Answers>;
  least: Level;
}
const rows = (source: string, list: readonly Row[]): void => {
  describe(source, () => {
    it.each(list)('$finding: at least $least', ({ answers, least }) => {
      const { level, fired } = outcome(answers);
      expect(level !== 'unfinished' && isAtLeast(level, least), `${level}: ${fired.map((f) => f.rule).join(', ')}`).toBe(true);
    });
  });
};

const FEVER: Partial<Answers> = { temperature: { value: 38.1, unit: 'Cel' } };

// [EV-INF-01] IDSA 2012 (Clin Infect Dis 54:e132), table 1; IWGDF/IDSA 2023 repeats the list (2023 wording from memory).
const FIVE_SIGNS: readonly [string, Partial<Answers>][] = [
  ['swelling or induration', { swelling: 'new' }],
  ['erythema over 0.5 cm', { redness: 'wide' }],
  ['tenderness or pain', { pain: 'more' }],
  ['warmth', { warmth: 'warmer' }],
  ['pus', { drainageColour: 'cloudyThick' }],
];
const pairs = FIVE_SIGNS.flatMap(([a, x], i) =>
  FIVE_SIGNS.slice(i + 1).map(([b, y]) => ({ finding: `${a} and ${b}`, answers: { ...x, ...y } })),
);

rows(
  'infected: two or more of five signs [EV-INF-01, IDSA 2012; IWGDF/IDSA 2023]',
  pairs.map((p) => ({ ...p, least: 'callNow' as const })),
);

rows('one sign is not yet infection, but an active foot problem: within one working day [EV-INF-01 IDSA 2012; EV-INF-11 NICE NG19]', [
  ...FIVE_SIGNS.map(([finding, answers]) => ({ finding, answers, least: 'callToday' as const })),
]);

describe('not infected [EV-INF-01, IDSA 2012]', () => {
  it('no sign at all: carry on', () => {
    expect(outcome({}).level).toBe('carryOn');
  });

  it('erythema of up to 0.5 cm is no sign', () => {
    expect(outcome({ redness: 'rim' }).fired).toEqual([]);
  });
});

rows('moderate: erythema of 2 cm or more, or deeper tissue [EV-INF-04, IDSA 2012; IWGDF 2019 and 2023 for “2 cm or more”, from memory]', [
  { finding: 'erythema of 2 cm or more', answers: { redness: 'spreading' }, least: 'callNow' },
  { finding: 'streaks', answers: { redness: 'streaks' }, least: 'callNow' },
  { finding: 'deeper tissue', answers: { woundBed: ['deeper'] }, least: 'callNow' },
]);

rows(
  'severe: signs of the whole body, as far as a thermometer shows them [EV-INF-05, IDSA 2012: above 38 °C (100.4 °F) or below 36 °C (96.8 °F)]',
  [
    { finding: 'infected and 38.1 °C', answers: { swelling: 'new', pain: 'more', ...FEVER }, least: 'emergency' },
    {
      finding: 'infected and 100.5 °F',
      answers: { swelling: 'new', pain: 'more', temperature: { value: 100.5, unit: '[degF]' } },
      least: 'emergency',
    },
    {
      finding: 'infected and 35.9 °C',
      answers: { swelling: 'new', pain: 'more', temperature: { value: 35.9, unit: 'Cel', again: 35.9 } },
      least: 'callNow',
    },
    { finding: '35.9 °C alone', answers: { temperature: { value: 35.9, unit: 'Cel', again: 35.9 } }, least: 'callNow' },
    { finding: '96.7 °F alone', answers: { temperature: { value: 96.7, unit: '[degF]', again: 96.7 } }, least: 'callNow' },
    { finding: 'infected and fast breathing', answers: { swelling: 'new', pain: 'more', unwell: ['fastBreathing'] }, least: 'emergency' },
  ],
);

rows(
  'poor blood flow worsens any grade; confusion, vomiting or very high glucose may be the sign of the whole body [EV-INF-06, IDSA 2012 note]',
  [
    { finding: 'one sign and a pale or blue foot', answers: { pain: 'more', footColour: 'paleOrBlue' }, least: 'emergency' },
    { finding: 'one sign and a cold pale foot', answers: { pain: 'more', footColour: 'paleOrBlueAndCold' }, least: 'emergency' },
    { finding: 'one sign and confusion', answers: { pain: 'more', unwell: ['confusedOrDrowsy'] }, least: 'emergency' },
    { finding: 'one sign and vomiting', answers: { pain: 'more', unwell: ['vomiting'] }, least: 'callNow' },
    { finding: 'one sign and glucose of 320 mg/dL', answers: { pain: 'more', glucose: { value: 320, unit: 'mg/dL' } }, least: 'callNow' },
  ],
);

rows('bone infection is marked (O) on the grade [EV-INF-07, Senneville 2023, from memory]', [
  { finding: 'bone or tendon in view', answers: { woundBed: ['boneOrTendon'] }, least: 'callNow' },
  { finding: 'bone or tendon in view with fever', answers: { woundBed: ['boneOrTendon'], ...FEVER }, least: 'emergency' },
]);

rows('immediate referral: threat to limb or life [EV-INF-10, NICE NG19]', [
  { finding: 'ulcer with fever', answers: FEVER, least: 'callNow' },
  { finding: 'ulcer with fever and a sign of infection', answers: { ...FEVER, redness: 'wide' }, least: 'emergency' },
  { finding: 'ulcer with a sign of sepsis', answers: { unwell: ['shakingChills'] }, least: 'emergency' },
  { finding: 'ulcer with limb ischaemia', answers: { footColour: 'paleOrBlue' }, least: 'callNow' },
  { finding: 'suspected deep infection', answers: { woundBed: ['deeper'] }, least: 'callNow' },
  { finding: 'suspected bone infection', answers: { woundBed: ['boneOrTendon'] }, least: 'callNow' },
  { finding: 'gangrene on the foot', answers: { footColour: 'newBlack' }, least: 'callNow' },
  { finding: 'gangrene in the wound', answers: { woundBed: ['newBlack'] }, least: 'callNow' },
  { finding: 'gangrene with infection', answers: { woundBed: ['newBlack'], odour: 'newOrStronger' }, least: 'emergency' },
]);

rows('all other active foot problems: referred within one working day [EV-INF-11, NICE NG19]', [
  { finding: 'a new blister or sore', answers: { edge: 'newBlisterOrSore' }, least: 'callToday' },
  { finding: 'a darker patch', answers: { footColour: 'darkerPatch' }, least: 'callToday' },
  { finding: 'a new smell', answers: { odour: 'newOrStronger' }, least: 'callToday' },
  { finding: 'severe pain', answers: { pain: 'severe' }, least: 'callNow' },
]);

rows('abscess, gas or necrotising infection: urgent surgery [EV-INF-12, SVS/APMA/SVM 2016, recommendation 1.1]', [
  { finding: 'redness that grows within hours, blisters or crackles', answers: { redness: 'fast' }, least: 'emergency' },
]);

rows('acute limb ischaemia: the six Ps, time-critical [EV-INF-13, NHS Highland and RCEM Learning; EV-INF-14, RCEM]', [
  { finding: 'pallor and perishing cold', answers: { footColour: 'paleOrBlueAndCold' }, least: 'emergency' },
  { finding: 'pallor and pain', answers: { footColour: 'paleOrBlue', pain: 'severe' }, least: 'emergency' },
  { finding: 'pallor without pain, for neuropathy hides it', answers: { footColour: 'paleOrBlue' }, least: 'callNow' },
]);

rows('sepsis list for adults: the emergency number [EV-INF-15, UK Sepsis Trust list]', [
  { finding: 'slurred speech or confusion', answers: { unwell: ['confusedOrDrowsy'] }, least: 'emergency' },
  { finding: 'extreme shivering', answers: { unwell: ['shakingChills'] }, least: 'emergency' },
  { finding: 'no urine in a day', answers: { unwell: ['noUrine'] }, least: 'emergency' },
  { finding: 'severe breathlessness', answers: { unwell: ['fastBreathing'] }, least: 'emergency' },
  { finding: 'feels like dying', answers: { unwell: ['worstEver'] }, least: 'emergency' },
  { finding: 'mottled or discoloured skin', answers: { unwell: ['mottledSkin'] }, least: 'emergency' },
]);

rows('also on the list [EV-INF-16, patient.info with UK Sepsis Trust]', [
  { finding: 'very low temperature', answers: { temperature: { value: 34.5, unit: 'Cel' } }, least: 'emergency' },
  { finding: 'very high temperature', answers: { temperature: { value: 40, unit: 'Cel' } }, least: 'callNow' },
  { finding: 'very sleepy', answers: { unwell: ['confusedOrDrowsy'] }, least: 'emergency' },
  { finding: 'faint', answers: { unwell: ['faint'] }, least: 'emergency' },
  { finding: 'repeated vomiting', answers: { unwell: ['vomiting'] }, least: 'callNow' },
]);

rows('hot, swollen foot without feeling: Charcot until excluded [EV-TMP-12, IWGDF Charcot 2023; Am Fam Physician review]', [
  { finding: 'hot and swollen, no pain', answers: { warmth: 'hotAndSwollen', pain: 'usual' }, least: 'callNow' },
]);

describe('no fever does not mean no infection [EV-FEV-03, High 2009, Clin Infect Dis 48:149]', () => {
  it.each(pairs)('$finding at 36.4 °C, and without a thermometer: still call now', ({ answers }) => {
    expect(outcome({ ...answers, temperature: { value: 36.4, unit: 'Cel' } }).level).toBe('callNow');
    expect(outcome({ ...answers, temperature: { feelsFeverish: 'no' } }).level).toBe('callNow');
  });
});

rows('low glucose [EV-INF-19, ADA Standards: level 1 below 70 mg/dL (3.9), level 2 below 54 (3.0), level 3 needs another person]', [
  { finding: '69 mg/dL', answers: { glucose: { value: 69, unit: 'mg/dL' } }, least: 'mention' },
  { finding: '3.8 mmol/L', answers: { glucose: { value: 3.8, unit: 'mmol/L' } }, least: 'mention' },
  { finding: '53 mg/dL', answers: { glucose: { value: 53, unit: 'mg/dL' } }, least: 'callNow' },
  { finding: '2.9 mmol/L', answers: { glucose: { value: 2.9, unit: 'mmol/L' } }, least: 'callNow' },
  { finding: '53 mg/dL and drowsy', answers: { glucose: { value: 53, unit: 'mg/dL' }, unwell: ['confusedOrDrowsy'] }, least: 'emergency' },
]);

rows('sick day: call at 240 mg/dL when ill [EV-INF-21, ADA sick-day list, attribution from memory]', [
  { finding: '240 mg/dL and vomiting', answers: { glucose: { value: 240, unit: 'mg/dL' }, unwell: ['vomiting'] }, least: 'callNow' },
  { finding: '240 mg/dL and fever', answers: { glucose: { value: 240, unit: 'mg/dL' }, ...FEVER }, least: 'callNow' },
  {
    finding: '13.3 mmol/L and a sign of infection',
    answers: { glucose: { value: 13.3, unit: 'mmol/L' }, redness: 'wide' },
    least: 'callNow',
  },
]);
