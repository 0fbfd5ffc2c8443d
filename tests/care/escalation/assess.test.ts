import { describe, expect, it } from 'vitest';
import { type Answers, mildestAnswers } from '../../../app/care/check/answers.ts';
import { type Assessment, assess, assessStanding, gravestOutcome } from '../../../app/care/escalation/assess.ts';
import { EMPTY_HISTORY, type History } from '../../../app/care/escalation/facts.ts';
import { graver, gravest, isAtLeast, LEVELS } from '../../../app/care/escalation/levels.ts';
import { DEFAULT_LIMITS, DEFAULT_THRESHOLDS, type Limits } from '../../../app/care/escalation/limits.ts';
import { RULE_IDS } from '../../../app/care/escalation/rule-levels.ts';
import { RULES } from '../../../app/care/escalation/rules.ts';
import { areaOf } from '../../../app/care/escalation/size.ts';
import { hoursBefore, NOW, OPEN_IDS } from './arbitraries.ts';

/** What a case file cannot say: thresholds, extra signs, reasons and their wording, the level without a check. */

const judge = (answers: Partial<Answers>, limits: Partial<Limits> = {}, history: Partial<History> = {}): Assessment =>
  assess({ ...DEFAULT_LIMITS, ...limits }, { ...EMPTY_HISTORY, ...history }, { ...mildestAnswers(), ...answers }, NOW);
const rules = (found: Assessment): string[] => found.fired.map((f) => f.rule);
const reason = (found: Assessment, rule: string) => found.fired.find((f) => f.rule === rule);
const closed = (): Answers => {
  const answers = mildestAnswers();
  for (const id of OPEN_IDS) delete answers[id];
  return answers;
};
const WARM: Answers['warmth'] = { pairs: [{ site: 'heel', woundSide: 33.3, otherSide: 31 }] };

describe('thresholds that a plan tightens', () => {
  const thresholds = (own: Partial<Limits['thresholds']>): Partial<Limits> => ({ thresholds: { ...DEFAULT_THRESHOLDS, ...own } });

  it('[fever] from 37.6 °C on, and from 37.1 °C in the armpit, when the plan says 37.6', () => {
    const limits = thresholds({ feverC: 37.6 });
    expect(rules(judge({ temperature: { value: 37.5, unit: 'Cel' } }, limits))).toEqual([]);
    expect(rules(judge({ temperature: { value: 37.6, unit: 'Cel' } }, limits))).toEqual(['fever']);
    expect(rules(judge({ temperature: { value: 37, unit: 'Cel', site: 'armpit' } }, limits))).toEqual([]);
    expect(rules(judge({ temperature: { value: 37.1, unit: 'Cel', site: 'armpit' } }, limits))).toEqual(['fever']);
  });

  it('[raised-temperature] from 37.4 °C on, and from 36.8 °C in the armpit, when the plan says 37.4', () => {
    const limits = thresholds({ raisedC: 37.4 });
    expect(rules(judge({ temperature: { value: 37.3, unit: 'Cel' } }, limits))).toEqual([]);
    expect(rules(judge({ temperature: { value: 37.4, unit: 'Cel' } }, limits))).toEqual(['raised-temperature']);
    expect(rules(judge({ temperature: { value: 36.7, unit: 'Cel', site: 'armpit' } }, limits))).toEqual([]);
    expect(rules(judge({ temperature: { value: 36.8, unit: 'Cel', site: 'armpit' } }, limits))).toEqual(['raised-temperature']);
  });

  it('[warm-once] above 1.5 °C when the plan says 1.5', () => {
    const limits = thresholds({ warmthDifferenceC: 1.5 });
    const pair = (woundSide: number): Answers['warmth'] => ({ pairs: [{ site: 'heel', woundSide, otherSide: 31 }] });
    expect(rules(judge({ warmth: pair(32.5) }, limits))).toEqual([]);
    expect(rules(judge({ warmth: pair(32.6) }, limits))).toEqual(['warm-once']);
  });

  it('[glucose-high] above 250 when the plan says 250', () => {
    const limits = thresholds({ glucoseHighMgdl: 250 });
    expect(rules(judge({ glucose: { value: 250, unit: 'mg/dL' } }, limits))).toEqual([]);
    expect(rules(judge({ glucose: { value: 251, unit: 'mg/dL' } }, limits))).toEqual(['glucose-high']);
  });

  it('[glucose-high-ill] from 200 on when the plan says 200', () => {
    const limits = thresholds({ glucoseHighIllMgdl: 200 });
    expect(rules(judge({ pain: 'more', glucose: { value: 199, unit: 'mg/dL' } }, limits))).toEqual(['one-sign']);
    expect(rules(judge({ pain: 'more', glucose: { value: 200, unit: 'mg/dL' } }, limits))).toEqual(['glucose-high-ill', 'one-sign']);
  });

  it('[size-growing] above 10 % when the plan says 10 %', () => {
    const limits = thresholds({ growthShare: 0.1 });
    const grown = (areaMm2: number): Partial<History> => ({
      measurements: [
        { ...hoursBefore(20 * 24), areaMm2: 100 },
        { ...hoursBefore(12 * 24), areaMm2 },
        { ...hoursBefore(6 * 24), areaMm2 },
      ],
    });
    expect(rules(judge({}, limits, grown(110)))).toEqual([]);
    expect(rules(judge({}, limits, grown(111)))).toEqual(['size-growing']);
  });
});

describe('findings that a plan counts as signs', () => {
  it('[one-sign] [two-signs] a rim of redness counts when the plan says so, and with pain makes two', () => {
    const limits: Partial<Limits> = { alsoSigns: ['redness:rim'] };
    expect(reason(judge({ redness: 'rim' }, limits), 'one-sign')?.findings).toEqual(['redness:rim']);
    expect(rules(judge({ redness: 'rim', pain: 'more' }, limits))).toEqual(['two-signs']);
    expect(rules(judge({ redness: 'none', pain: 'more' }, limits))).toEqual(['one-sign']);
  });

  it('[two-signs] wide redness counts once though the plan names the rim too', () => {
    expect(rules(judge({ redness: 'wide' }, { alsoSigns: ['redness:rim', 'redness:wide'] }))).toEqual(['one-sign']);
  });

  it('[one-sign] a new smell as a sign also makes odour-new graver', () => {
    const found = judge({ odour: 'newOrStronger' }, { alsoSigns: ['odour:newOrStronger'] });
    expect(found.level).toBe('callNow');
    expect(rules(found)).toEqual(['odour-new', 'one-sign']);
  });

  it('[one-sign] a yellow bed as a sign: still a sign when the bed is deeper instead, for deeper is worse', () => {
    const limits: Partial<Limits> = { alsoSigns: ['woundBed:yellow'] };
    expect(reason(judge({ woundBed: ['red', 'yellow'] }, limits), 'one-sign')?.findings).toEqual(['woundBed:yellow']);
    expect(judge({ woundBed: ['yellow'], footColour: 'newBlack' }, limits).level).toBe('emergency');
    expect(judge({ woundBed: ['deeper'], footColour: 'newBlack' }, limits).level).toBe('emergency');
    expect(rules(judge({ woundBed: ['red'] }, limits))).toEqual([]);
    expect(rules(judge({ woundBed: ['unsure'] }, limits))).toEqual(['not-sure']);
  });

  it('[two-signs] vomiting as a sign makes two with pain', () => {
    expect(rules(judge({ unwell: ['vomiting'], pain: 'more' }, { alsoSigns: ['unwell:vomiting'] }))).toEqual([
      'keeps-vomiting',
      'two-signs',
    ]);
  });

  it('[two-signs] two codes of one question are one sign', () => {
    const limits: Partial<Limits> = { alsoSigns: ['woundBed:yellow', 'woundBed:newBlack'] };
    expect(rules(judge({ woundBed: ['yellow', 'newBlack'] }, limits))).not.toContain('two-signs');
  });

  it('[two-signs] a plan that names a sign of the table again does not count it twice', () => {
    for (const [alsoSigns, answers] of [
      [['pain:more'], { pain: 'more' }],
      [['swelling:new'], { swelling: 'new' }],
      [['warmth:warmer'], { warmth: 'warmer' }],
      [['drainageColour:green'], { drainageColour: 'green' }],
    ] as [string[], Partial<Answers>][]) {
      expect(rules(judge(answers, { alsoSigns }))).toEqual(['one-sign']);
    }
  });
});

describe('amounts for which the plan says to call', () => {
  it('[plan-says-call] fires for that amount and stays silent for the others', () => {
    const limits: Partial<Limits> = { callBands: ['moderate'] };
    expect(reason(judge({ drainageAmount: 'moderate' }, limits), 'plan-says-call')).toMatchObject({
      level: 'callToday',
      findings: ['drainageAmount:moderate'],
    });
    expect(rules(judge({ drainageAmount: 'light' }, limits))).toEqual([]);
    expect(rules(judge({ drainageAmount: 'unsure' }, limits))).toEqual(['not-sure']);
  });

  it('[plan-says-call] raised to an emergency, not being sure of the amount is no less (property 3)', () => {
    const limits: Partial<Limits> = { callBands: ['none'], raise: { 'plan-says-call': 'emergency' } };
    expect(judge({ drainageAmount: 'none' }, limits).level).toBe('emergency');
    expect(judge({ drainageAmount: 'unsure' }, limits).level).toBe('emergency');
    expect(judge({ drainageAmount: 'light' }, limits).level).toBe('carryOn');
  });

  it('[plan-says-call] raised to an emergency, more drainage than the plan expects is no less (property 1)', () => {
    const limits: Partial<Limits> = {
      expectedDrainage: ['none', 'light'],
      callBands: ['moderate'],
      raise: { 'plan-says-call': 'emergency' },
    };
    expect(judge({ drainageAmount: 'heavy' }, limits).level).toBe('emergency');
    expect(judge({ drainageAmount: 'light' }, limits).level).toBe('carryOn');
    expect(judge({ drainageAmount: 'unsure' }, { ...limits, callBands: [] }).level).toBe('callToday');
  });
});

describe('a raised rule and the answers it does not reach', () => {
  const raised: Partial<Limits> = { expectedDrainage: ['none', 'light'], raise: { 'plan-says-call': 'emergency' } };

  it('[plan-says-call] a lighter amount than the one the plan calls for is not lifted', () => {
    expect(judge({ drainageAmount: 'moderate' }, { ...raised, callBands: ['heavy'] }).level).toBe('callToday');
  });

  it('[plan-says-call] an amount nobody looked at is not lifted', () => {
    expect(assess({ ...DEFAULT_LIMITS, ...raised, callBands: ['none'] }, EMPTY_HISTORY, closed(), NOW).level).toBe('carryOn');
  });

  it('[plan-says-call] of several such amounts the lightest is enough', () => {
    expect(judge({ drainageAmount: 'moderate' }, { ...raised, callBands: ['none', 'heavy'] }).level).toBe('emergency');
  });

  it('[drainage-below-plan] an amount within the range is not lifted', () => {
    const limits: Partial<Limits> = { expectedDrainage: ['light', 'moderate'], raise: { 'drainage-below-plan': 'callNow' } };
    const checks = [{ ...hoursBefore(48), answers: { ...mildestAnswers(), drainageAmount: 'none' as const } }];
    expect(judge({ drainageAmount: 'light' }, limits, { checks }).level).toBe('carryOn');
  });

  it('[graver-than-raised] of several raised rules the gravest counts, not the first of the table', () => {
    const found = judge({ footColour: 'paleOrBlue' }, { raise: { 'new-black': 'callNow', 'darker-patch': 'emergency' } });
    expect(found.level).toBe('emergency');
    expect(reason(found, 'graver-than-raised')?.params).toEqual({ rule: 'darker-patch' });
  });
});

describe('a raised rule looks at the past as it was', () => {
  const lastTime = (own: Partial<Answers>): Partial<History> => ({
    checks: [{ ...hoursBefore(48), answers: { ...mildestAnswers(), ...own } }],
  });

  it('[drainage-below-plan] an amount not known last time does not make two dry changes, whatever the plan raised', () => {
    const limits: Partial<Limits> = { expectedDrainage: ['light', 'moderate'], raise: { 'drainage-below-plan': 'mention' } };
    expect(judge({ drainageAmount: 'none' }, limits, lastTime({ drainageAmount: 'unsure' })).level).toBe('carryOn');
    expect(judge({ drainageAmount: 'none' }, limits, lastTime({ drainageAmount: 'none' })).level).toBe('mention');
  });

  it('[soggy-edge] a sore last time does not make two soggy changes, whatever the plan raised', () => {
    const limits: Partial<Limits> = { raise: { 'soggy-edge': 'mention' } };
    expect(judge({ edge: 'whiteSoggy' }, limits, lastTime({ edge: 'newBlisterOrSore' })).level).toBe('mention');
    expect(judge({ edge: 'whiteSoggy' }, limits, lastTime({ edge: 'whiteSoggy' })).level).toBe('callToday');
  });
});

describe('answers of a change that stand', () => {
  it('a question set to undefined is the same as one left out', () => {
    const history: Partial<History> = { checks: [{ ...hoursBefore(10), answers: { ...mildestAnswers(), redness: 'wide' } }] };
    const given: Answers = { ...closed(), pain: 'more' };
    const left = assess(DEFAULT_LIMITS, { ...EMPTY_HISTORY, ...history }, given, NOW);
    const blank = assess(DEFAULT_LIMITS, { ...EMPTY_HISTORY, ...history }, { ...given, redness: undefined }, NOW);
    expect(rules(left)).toEqual(['two-signs']);
    expect(blank).toEqual(left);
  });

  it('[drainage-above-plan] an amount of last week is not read into a look that has only begun', () => {
    const history: Partial<History> = { checks: [{ ...hoursBefore(120), answers: { ...mildestAnswers(), drainageAmount: 'heavy' } }] };
    const found = assess(DEFAULT_LIMITS, { ...EMPTY_HISTORY, ...history }, { ...closed(), odour: 'none' }, NOW);
    expect(found).toMatchObject({ level: 'unfinished', fired: [] });
  });

  it('[drainage-rising] a look that has only begun stands on the amounts of the changes before it', () => {
    const amounts = ['heavy', 'moderate', 'light', 'none'] as const;
    const checks = amounts.map((drainageAmount, i) => ({ ...hoursBefore(10 + 20 * i), answers: { ...mildestAnswers(), drainageAmount } }));
    const limits: Limits = { ...DEFAULT_LIMITS, expectedDrainage: ['none', 'heavy'] };
    const begun = assess(limits, { ...EMPTY_HISTORY, checks }, { ...closed(), odour: 'none' }, NOW);
    expect(rules(begun)).toEqual(['drainage-rising']);
    expect(reason(begun, 'drainage-rising')?.findings).toEqual(['drainageAmount:heavy']);
  });

  it('[soggy-edge] a change whose edge was not seen does not break two soggy ones running', () => {
    const { edge: _edge, ...unseen } = mildestAnswers();
    const checks = [
      { ...hoursBefore(50), answers: { ...mildestAnswers(), edge: 'whiteSoggy' as const } },
      { ...hoursBefore(30), answers: unseen },
    ];
    expect(judge({ edge: 'whiteSoggy' }, {}, { checks }).level).toBe('callToday');
  });
});

describe('the level that stands without a check', () => {
  const standing = (limits: Partial<Limits>, history: Partial<History>): Assessment =>
    assessStanding({ ...DEFAULT_LIMITS, ...limits }, { ...EMPTY_HISTORY, ...history }, NOW);

  it('is carry on with nothing behind it, and asks for no answers', () => {
    expect(standing({}, {})).toEqual({ level: 'carryOn', fired: [], quieted: [], missing: [] });
  });

  it('[change-overdue] [unresolved] [plan-out-of-date] [size-stalled] [size-growing] speaks without answers', () => {
    const found = standing(
      { reviewBy: hoursBefore(48).day },
      {
        changes: [hoursBefore(96)],
        alerts: [{ ...hoursBefore(25), level: 'callToday', outcome: null }],
        measurements: [
          { ...hoursBefore(40 * 24), areaMm2: 100 },
          { ...hoursBefore(12 * 24), areaMm2: 130 },
          { ...hoursBefore(6 * 24), areaMm2: 130 },
        ],
      },
    );
    expect(found.level).toBe('callNow');
    expect(rules(found)).toEqual(['unresolved', 'change-overdue', 'size-growing', 'size-stalled', 'plan-out-of-date']);
  });

  it('[graver-than-raised] does not bring back answers of a check, however the plan raised their rules', () => {
    const history: Partial<History> = {
      checks: [{ ...hoursBefore(2), answers: { ...mildestAnswers(), odour: 'newOrStronger', edge: 'whiteSoggy' } }],
      changes: [hoursBefore(2)],
    };
    expect(standing({ raise: { 'odour-new': 'emergency', 'soggy-edge': 'callNow' } }, history)).toMatchObject({
      level: 'carryOn',
      fired: [],
    });
  });

  it('[plan-out-of-date] raised by the plan stands at the raised level', () => {
    expect(standing({ reviewBy: hoursBefore(48).day, raise: { 'plan-out-of-date': 'callNow' } }, {}).level).toBe('callNow');
  });
});

describe('choices where the specification is silent', () => {
  it('[warm-once] a check that was entered for another day does not count as yesterday', () => {
    const history: Partial<History> = { checks: [{ ...hoursBefore(24), day: NOW.day, answers: { ...mildestAnswers(), warmth: WARM } }] };
    expect(rules(judge({ warmth: WARM }, {}, history))).toEqual(['warm-once']);
  });

  it('[offloading-off] a broken device yesterday and hardly any wear today are two bad days', () => {
    const history: Partial<History> = { checks: [{ ...hoursBefore(24), answers: { ...mildestAnswers(), offloading: 'brokenOrHurts' } }] };
    expect(rules(judge({ offloading: 'hardly' }, {}, history))).toEqual(['offloading-off']);
  });

  it('[overwhelmed] with no earlier change known, a marked dressing counts as early', () => {
    const history: Partial<History> = { checks: [{ ...hoursBefore(20), answers: { ...mildestAnswers(), dressing: 'leaking' } }] };
    expect(rules(judge({ dressing: 'leaking' }, {}, history))).toEqual(['overwhelmed']);
  });

  it('[size-stalled] the newest measurement of the window counts, and a later one can make up for it', () => {
    const sizes = (...list: [number, number][]): Partial<History> => ({
      measurements: list.map(([daysAgo, areaMm2]) => ({ ...hoursBefore(daysAgo * 24), areaMm2 })),
    });
    expect(rules(judge({}, {}, sizes([60, 100], [33, 70], [28, 45])))).toEqual([]);
    expect(rules(judge({}, {}, sizes([60, 100], [33, 45], [28, 70])))).toEqual(['size-stalled']);
    expect(rules(judge({}, {}, sizes([60, 100], [28, 70], [10, 50])))).toEqual([]);
    expect(rules(judge({}, {}, sizes([60, 100], [28, 70], [10, 51])))).toEqual(['size-stalled']);
  });

  it('[size-stalled] [size-growing] a first area of nothing can be compared with nothing', () => {
    const measurements = [40, 12, 6].map((days, i) => ({ ...hoursBefore(days * 24), areaMm2: i * 100 }));
    expect(rules(judge({}, {}, { measurements }))).toEqual([]);
  });

  it('[size-growing] a wound that has shrunk back is no longer growing', () => {
    const measurements = [
      { ...hoursBefore(40 * 24), areaMm2: 100 },
      { ...hoursBefore(20 * 24), areaMm2: 130 },
      { ...hoursBefore(14 * 24), areaMm2: 130 },
      { ...hoursBefore(2 * 24), areaMm2: 90 },
    ];
    expect(rules(judge({}, {}, { measurements }))).not.toContain('size-growing');
  });

  it('later records than the clock are not looked at', () => {
    const later = hoursBefore(-5);
    const history: Partial<History> = {
      measurements: [
        { ...hoursBefore(20 * 24), areaMm2: 100 },
        { ...hoursBefore(12 * 24), areaMm2: 150 },
        { ...later, areaMm2: 150 },
      ],
      changes: [hoursBefore(100), later],
      checks: [{ ...later, answers: { ...mildestAnswers(), dressing: 'leaking' } }],
      alerts: [{ ...later, level: 'callNow', outcome: null }],
    };
    expect(rules(judge({ dressing: 'leaking' }, {}, history))).toEqual(['change-overdue']);
  });
});

describe('records of this very moment', () => {
  it('[change-overdue] a change made now is a change', () => {
    expect(rules(judge({}, {}, { changes: [hoursBefore(100), hoursBefore(0)] }))).toEqual([]);
  });

  it('[overwhelmed] the look that is being judged, or one entered later, is not the look before it', () => {
    for (const hours of [0, -5]) {
      const checks = [{ ...hoursBefore(hours), answers: { ...mildestAnswers(), dressing: 'leaking' as const } }];
      expect(rules(judge({ dressing: 'leaking' }, {}, { checks, changes: [hoursBefore(10)] }))).toEqual([]);
    }
  });

  it('[size-stalled] a measurement entered later is not looked at', () => {
    const measurements = [
      { ...hoursBefore(28 * 24), areaMm2: 100 },
      { ...hoursBefore(-5), areaMm2: 90 },
    ];
    expect(rules(judge({}, {}, { measurements }))).toEqual([]);
  });
});

describe('reasons, ready to be worded', () => {
  it('[two-signs] names every sign and their number', () => {
    expect(reason(judge({ pain: 'more', redness: 'spreading', swelling: 'new' }), 'two-signs')).toMatchObject({
      findings: ['swelling:new', 'redness:spreading', 'pain:more'],
      params: { count: 3 },
    });
    expect(reason(judge({ warmth: 'hotAndSwollen' }), 'two-signs')?.findings).toEqual(['warmth:hotAndSwollen', 'warmth:hotAndSwollen']);
    expect(reason(judge({ warmth: WARM, drainageColour: 'green' }), 'two-signs')?.findings).toEqual([
      'warmth:measured',
      'drainageColour:green',
    ]);
  });

  it('[sepsis-sign] [deep] [new-black] name each code that was chosen', () => {
    expect(reason(judge({ unwell: ['vomiting', 'faint', 'noUrine'] }), 'sepsis-sign')?.findings).toEqual([
      'unwell:faint',
      'unwell:noUrine',
    ]);
    expect(reason(judge({ woundBed: ['boneOrTendon', 'deeper'] }), 'deep')?.findings).toEqual(['woundBed:deeper', 'woundBed:boneOrTendon']);
    expect(reason(judge({ woundBed: ['newBlack'], footColour: 'newBlack' }), 'new-black')?.findings).toEqual([
      'footColour:newBlack',
      'woundBed:newBlack',
    ]);
  });

  it('[not-sure] names every question in doubt', () => {
    const found = judge({ unwell: ['unsure'], woundBed: ['unsure'], pain: 'unsure', temperature: { feelsFeverish: 'unsure' } });
    expect(reason(found, 'not-sure')).toMatchObject({
      findings: ['unwell:unsure', 'temperature:unsure', 'pain:unsure', 'woundBed:unsure'],
      params: { questions: 'unwell,temperature,pain,woundBed' },
    });
  });

  it('[not-sure] the word unsure in a note is no doubt', () => {
    expect(judge({ note: 'unsure' }).level).toBe('carryOn');
  });

  it('[warm-once] [warm-two-days] name the places', () => {
    const two: Answers['warmth'] = {
      pairs: [
        { site: 'heel', woundSide: 34, otherSide: 31 },
        { site: 'ball', woundSide: 34, otherSide: 31 },
        { site: 'arch', woundSide: 31, otherSide: 31 },
      ],
    };
    expect(reason(judge({ warmth: two }), 'warm-once')?.params).toEqual({ places: 'heel, ball' });
    const yesterday = { checks: [{ ...hoursBefore(24), answers: { ...mildestAnswers(), warmth: two } }] };
    expect(reason(judge({ warmth: two }, {}, yesterday), 'warm-two-days')?.params).toEqual({ places: 'heel, ball' });
  });

  it('[keep-dry-breached] names what was wet, smelled or red', () => {
    const found = judge({ drainageAmount: 'light', odour: 'newOrStronger', redness: 'rim' }, { keepDry: true });
    expect(reason(found, 'keep-dry-breached')?.findings).toEqual(['drainageAmount:light', 'odour:newOrStronger', 'redness:rim']);
  });

  it('[bleeding-soaked] [soggy-edge] [plan-out-of-date] [unresolved] say which wording fits', () => {
    expect(reason(judge({ drainageColour: 'red' }), 'bleeding-soaked')).toMatchObject({
      variant: 'colour',
      findings: ['drainageColour:red'],
    });
    expect(reason(judge({ bleeding: 'soakedThenStopped' }), 'bleeding-soaked')).toMatchObject({
      variant: undefined,
      findings: ['bleeding:soakedThenStopped'],
    });
    const soggy = { checks: [{ ...hoursBefore(48), answers: { ...mildestAnswers(), edge: 'whiteSoggy' as const } }] };
    expect(reason(judge({ edge: 'whiteSoggy' }), 'soggy-edge')?.variant).toBeUndefined();
    expect(reason(judge({ edge: 'whiteSoggy' }, {}, soggy), 'soggy-edge')?.variant).toBe('twice');
    expect(reason(judge({}, { reviewBy: hoursBefore(24).day }), 'plan-out-of-date')?.variant).toBeUndefined();
    expect(reason(judge({}, { reviewBy: hoursBefore(14 * 24).day }), 'plan-out-of-date')?.variant).toBe('long');
    const alert = (level: 'callToday' | 'callNow' | 'emergency') => ({ alerts: [{ ...hoursBefore(30), level, outcome: null }] });
    expect(reason(judge({}, {}, alert('callToday')), 'unresolved')?.variant).toBeUndefined();
    expect(reason(judge({}, {}, alert('callNow')), 'unresolved')?.variant).toBe('department');
    expect(reason(judge({}, {}, alert('emergency')), 'unresolved')?.variant).toBe('emergency');
  });

  it('[unresolved] the gravest of several unanswered alerts decides', () => {
    const alerts = (['callToday', 'emergency', 'callNow'] as const).map((level) => ({ ...hoursBefore(30), level, outcome: null }));
    expect(judge({}, {}, { alerts }).level).toBe('emergency');
    expect(reason(judge({}, {}, { alerts: alerts.filter((a) => a.level !== 'emergency') }), 'unresolved')?.variant).toBe('department');
  });

  it('[graver-than-raised] names the rule that the plan raised and what was found', () => {
    const found = judge({ redness: 'fast' }, { raise: { 'redness-spreading': 'emergency', 'redness-streaks': 'emergency' } });
    expect(rules(found)).toEqual(['redness-fast', 'one-sign']);
    const streaks = judge({ redness: 'streaks' }, { raise: { 'redness-spreading': 'emergency' } });
    expect(reason(streaks, 'graver-than-raised')).toMatchObject({
      level: 'emergency',
      params: { rule: 'redness-spreading' },
      findings: ['redness:streaks'],
      source: ['cautious'],
      variant: undefined,
    });
  });

  it('the reasons that a known finding quiets are kept apart, not lost', () => {
    const found = judge({ pain: 'more', edge: 'whiteSoggy' }, { known: ['pain:more'] });
    expect(rules(found)).toEqual(['soggy-edge']);
    expect(found.quieted.map((f) => [f.rule, f.level])).toEqual([['one-sign', 'callToday']]);
  });

  it('a reason that rests on two findings is quiet only when both are known', () => {
    const limits: Partial<Limits> = { keepDry: false, known: ['pain:unsure'] };
    expect(judge({ pain: 'unsure', odour: 'unsure' }, limits).level).toBe('callToday');
  });

  it('reasons stand gravest first, and in the order of the table within a level', () => {
    const found = judge({ edge: 'newBlisterOrSore', odour: 'newOrStronger', pain: 'severe', footColour: 'darkerPatch' });
    expect(rules(found)).toEqual(['odour-new', 'pain-severe', 'darker-patch', 'one-sign', 'new-sore']);
  });

  it('what is missing is named in the order of the questions', () => {
    const { pain: _pain, edge: _edge, ...left } = mildestAnswers();
    expect(assess(DEFAULT_LIMITS, EMPTY_HISTORY, left, NOW).missing).toEqual(['pain', 'edge']);
  });
});

describe('known findings', () => {
  it('[warm-once] [warm-two-days] a warm foot the clinic knows does not cover a warm place that was measured', () => {
    const limits: Partial<Limits> = { known: ['warmth:warmer'] };
    const both: Answers['warmth'] = { ...WARM, feel: 'warmer' };
    expect(judge({ warmth: 'warmer' }, limits).level).toBe('carryOn');
    expect(rules(judge({ warmth: both }, limits))).toEqual(['warm-once']);
    const yesterday = { checks: [{ ...hoursBefore(24), answers: { ...mildestAnswers(), warmth: both } }] };
    expect(rules(judge({ warmth: both }, limits, yesterday))).toEqual(['one-sign', 'warm-two-days']);
    expect(rules(judge({ warmth: both }))).toEqual(['one-sign']);
  });
});

describe('levels', () => {
  it('the gravest of several outcomes wins, and unfinished stands between carry on and mention', () => {
    expect(gravestOutcome([])).toBe('carryOn');
    expect(gravestOutcome(['carryOn', 'unfinished'])).toBe('unfinished');
    expect(gravestOutcome(['mention', 'unfinished'])).toBe('mention');
    expect(gravestOutcome(['unfinished', 'callToday', 'mention'])).toBe('callToday');
    expect(gravestOutcome(['emergency', 'callNow'])).toBe('emergency');
  });

  it('stand mildest first', () => {
    expect(LEVELS).toEqual(['carryOn', 'mention', 'callToday', 'callNow', 'emergency']);
    expect(graver('mention', 'callNow')).toBe('callNow');
    expect(graver('callNow', 'mention')).toBe('callNow');
    expect(gravest([])).toBe('carryOn');
    expect(gravest(['mention', 'emergency', 'callToday'])).toBe('emergency');
    expect(isAtLeast('callNow', 'callNow')).toBe(true);
    expect(isAtLeast('callToday', 'callNow')).toBe(false);
  });
});

describe('the rule table', () => {
  it('has every rule once, with a source and a level above carry on', () => {
    expect(new Set(RULE_IDS).size).toBe(RULE_IDS.length);
    for (const rule of RULES) {
      expect(rule.source.length).toBeGreaterThan(0);
      expect(LEVELS.indexOf(rule.level)).toBeGreaterThan(0);
    }
  });

  it('an area is what was traced, else the ellipse, else unknown (EV-HEA-14, geometry: L × W × 0.785)', () => {
    expect(areaOf({ ...NOW, areaMm2: 50, lengthMm: 20, widthMm: 10 })).toBe(50);
    expect(areaOf({ ...NOW, lengthMm: 20, widthMm: 10 })).toBeCloseTo(157.08, 2);
    expect(areaOf({ ...NOW, lengthMm: 20 })).toBeUndefined();
    expect(areaOf({ ...NOW, widthMm: 20 })).toBeUndefined();
  });
});
