import { describe, expect, it } from 'vitest';
import { type Answers, mildestAnswers } from '../../../app/care/check/answers.ts';
import { assess } from '../../../app/care/escalation/assess.ts';
import { EMPTY_HISTORY, type History } from '../../../app/care/escalation/facts.ts';
import type { Level } from '../../../app/care/escalation/levels.ts';
import { DEFAULT_LIMITS, type Limits } from '../../../app/care/escalation/limits.ts';
import { TABLE_RULE_IDS } from '../../../app/care/escalation/rule-levels.ts';
import { RULES } from '../../../app/care/escalation/rules.ts';
import { hoursBefore, NOW } from './arbitraries.ts';

/**
 * The specification's table, row by row: the level and the sources it gives, answers for which the rule
 * fires, and the findings it must name (what a known finding would have to cover to quiet it).
 */
interface Row {
  level: Level;
  source: readonly string[];
  answers?: Partial<Answers>;
  limits?: Partial<Limits>;
  history?: Partial<History>;
  findings: readonly string[];
}

const WARM: Answers['warmth'] = { pairs: [{ site: 'heel', woundSide: 33.3, otherSide: 31 }] };
const before = (hours: number, ...list: Partial<Answers>[]): Partial<History> => ({
  checks: list.map((own, i) => ({ ...hoursBefore(hours * (i + 1)), answers: { ...mildestAnswers(), ...own } })),
});
const sizes = (...list: [number, number][]): Partial<History> => ({
  measurements: list.map(([daysAgo, areaMm2]) => ({ ...hoursBefore(24 * daysAgo), areaMm2 })),
});
const SIRS = ['EV-INF-03', 'EV-INF-04', 'EV-INF-05'];
const LIMB = ['EV-INF-13', 'EV-INF-14'];
const degrees = (value: number, again?: number): Partial<Answers> => ({ temperature: { value, unit: 'Cel', ...(again && { again }) } });
const sugar = (value: number): Partial<Answers> => ({ glucose: { value, unit: 'mg/dL' } });

const TABLE: Readonly<Record<(typeof RULES)[number]['id'], Row>> = {
  'sepsis-sign': {
    level: 'emergency',
    source: ['EV-INF-15', 'EV-INF-16', 'EV-INF-10'],
    answers: { unwell: ['faint'] },
    findings: ['unwell:faint'],
  },
  'keeps-vomiting': {
    level: 'callNow',
    source: ['EV-INF-15', 'EV-INF-16', 'EV-INF-06'],
    answers: { unwell: ['vomiting'] },
    findings: ['unwell:vomiting'],
  },
  fever: { level: 'callNow', source: ['EV-INF-10'], answers: degrees(38), findings: ['temperature:fever'] },
  'fever-with-sign': {
    level: 'emergency',
    source: ['EV-INF-10'],
    answers: { ...degrees(38), pain: 'more' },
    findings: ['temperature:fever'],
  },
  'raised-temperature': {
    level: 'callToday',
    source: ['EV-FEV-01', 'EV-FEV-02'],
    answers: degrees(37.9),
    findings: ['temperature:raised'],
  },
  'low-temperature': { level: 'callNow', source: SIRS, answers: degrees(35.9, 35.9), findings: ['temperature:low'] },
  'very-low-temperature': { level: 'emergency', source: SIRS, answers: degrees(34.9), findings: ['temperature:veryLow'] },
  'feverish-unsure': {
    level: 'callToday',
    source: ['cautious'],
    answers: { temperature: { feelsFeverish: 'unsure' } },
    findings: ['temperature:unsure'],
  },
  'foot-cold-pale': {
    level: 'emergency',
    source: LIMB,
    answers: { footColour: 'paleOrBlueAndCold' },
    findings: ['footColour:paleOrBlueAndCold'],
  },
  'foot-pale': { level: 'callNow', source: LIMB, answers: { footColour: 'paleOrBlue' }, findings: ['footColour:paleOrBlue'] },
  'foot-pale-severe-pain': {
    level: 'emergency',
    source: LIMB,
    answers: { footColour: 'paleOrBlue', pain: 'severe' },
    findings: ['footColour:paleOrBlue', 'pain:severe'],
  },
  // Beside the specification's table, for its property 1.
  'foot-pale-with-sign': {
    level: 'emergency',
    source: ['EV-INF-06', 'EV-INF-10', 'cautious'],
    answers: { footColour: 'paleOrBlue', swelling: 'new' },
    findings: ['footColour:paleOrBlue'],
  },
  'new-black': { level: 'callNow', source: ['EV-INF-10'], answers: { footColour: 'newBlack' }, findings: ['footColour:newBlack'] },
  'black-with-sign': {
    level: 'emergency',
    source: ['EV-INF-10'],
    answers: { woundBed: ['newBlack'], odour: 'newOrStronger' },
    findings: ['woundBed:newBlack'],
  },
  'darker-patch': {
    level: 'callToday',
    source: ['EV-INF-11'],
    answers: { footColour: 'darkerPatch' },
    findings: ['footColour:darkerPatch'],
  },
  'redness-fast': { level: 'emergency', source: ['EV-INF-10'], answers: { redness: 'fast' }, findings: ['redness:fast'] },
  'redness-streaks': { level: 'callNow', source: SIRS, answers: { redness: 'streaks' }, findings: ['redness:streaks'] },
  'redness-spreading': { level: 'callNow', source: SIRS, answers: { redness: 'spreading' }, findings: ['redness:spreading'] },
  deep: { level: 'callNow', source: [...SIRS, 'EV-INF-10'], answers: { woundBed: ['deeper'] }, findings: ['woundBed:deeper'] },
  'two-signs': {
    level: 'callNow',
    source: ['EV-INF-01'],
    answers: { pain: 'more', redness: 'wide' },
    findings: ['redness:wide', 'pain:more'],
  },
  'one-sign': { level: 'callToday', source: ['EV-INF-01', 'EV-INF-11'], answers: { pain: 'more' }, findings: ['pain:more'] },
  'odour-new': { level: 'callToday', source: ['EV-INF-01'], answers: { odour: 'newOrStronger' }, findings: ['odour:newOrStronger'] },
  'pain-severe': { level: 'callNow', source: ['EV-INF-11'], answers: { pain: 'severe' }, findings: ['pain:severe'] },
  'hot-swollen': {
    level: 'callNow',
    source: ['EV-TMP-12'],
    answers: { warmth: 'hotAndSwollen' },
    findings: ['warmth:hotAndSwollen'],
  },
  'warm-two-days': {
    level: 'callToday',
    source: ['EV-TMP-04'],
    answers: { warmth: WARM },
    history: before(24, { warmth: WARM }),
    findings: ['warmth:measured'],
  },
  'warm-once': { level: 'mention', source: ['EV-TMP-06'], answers: { warmth: WARM }, findings: ['warmth:measured'] },
  'bleeding-wont-stop': {
    level: 'emergency',
    source: ['practice'],
    answers: { bleeding: 'willNotStop' },
    findings: ['bleeding:willNotStop'],
  },
  'bleeding-soaked': {
    level: 'callNow',
    source: ['practice'],
    answers: { bleeding: 'soakedThenStopped' },
    findings: ['bleeding:soakedThenStopped'],
  },
  'drainage-above-plan': {
    level: 'callToday',
    source: ['EV-EXU-09'],
    answers: { drainageAmount: 'heavy' },
    findings: ['drainageAmount:heavy'],
  },
  // Beside the specification's table: the plan itself says to call.
  'plan-says-call': {
    level: 'callToday',
    source: ['practice'],
    answers: { drainageAmount: 'light' },
    limits: { callBands: ['light'] },
    findings: ['drainageAmount:light'],
  },
  'drainage-rising': {
    level: 'callToday',
    source: ['EV-EXU-09'],
    answers: { drainageAmount: 'heavy' },
    limits: { expectedDrainage: ['none', 'heavy'] },
    history: before(24, { drainageAmount: 'moderate' }, { drainageAmount: 'light' }, { drainageAmount: 'none' }),
    findings: ['drainageAmount:heavy'],
  },
  'drainage-below-plan': {
    level: 'mention',
    source: ['EV-PRA-03', 'EV-PRA-04'],
    answers: { drainageAmount: 'none' },
    limits: { expectedDrainage: ['light', 'moderate'] },
    history: before(48, { drainageAmount: 'none' }),
    findings: ['drainageAmount:none'],
  },
  overwhelmed: {
    level: 'callToday',
    source: ['EV-EXU-02', 'EV-EXU-05'],
    answers: { dressing: 'leaking' },
    history: before(20, { dressing: 'markedThrough' }),
    findings: ['dressing:leaking'],
  },
  'soggy-edge': {
    level: 'mention',
    source: ['EV-PRA-03', 'EV-PRA-04'],
    answers: { edge: 'whiteSoggy' },
    findings: ['edge:whiteSoggy'],
  },
  'new-sore': {
    level: 'callToday',
    source: ['EV-INF-11'],
    answers: { edge: 'newBlisterOrSore' },
    findings: ['edge:newBlisterOrSore'],
  },
  'offloading-broken': {
    level: 'callToday',
    source: ['practice'],
    answers: { offloading: 'brokenOrHurts' },
    findings: ['offloading:brokenOrHurts'],
  },
  'offloading-off': {
    level: 'mention',
    source: ['practice'],
    answers: { offloading: 'hardly' },
    history: before(24, { offloading: 'hardly' }),
    findings: ['offloading:hardly'],
  },
  'glucose-very-low': { level: 'callNow', source: ['EV-INF-19'], answers: sugar(53), findings: ['glucose:veryLow'] },
  'glucose-low': { level: 'mention', source: ['EV-INF-19'], answers: sugar(69), findings: ['glucose:low'] },
  'glucose-high-ill': {
    level: 'callNow',
    source: ['EV-INF-21'],
    answers: { ...sugar(240), pain: 'more' },
    findings: ['glucose:high'],
  },
  'glucose-high': { level: 'callToday', source: ['practice'], answers: sugar(301), findings: ['glucose:high'] },
  'not-sure': { level: 'callToday', source: ['cautious'], answers: { odour: 'unsure' }, findings: ['odour:unsure'] },
  'keep-dry-breached': {
    level: 'callNow',
    source: ['EV-PRA-01', 'EV-INF-10'],
    answers: { redness: 'rim' },
    limits: { keepDry: true },
    findings: ['redness:rim'],
  },
  'change-overdue': { level: 'callToday', source: ['practice'], history: { changes: [hoursBefore(96)] }, findings: [] },
  'size-stalled': {
    level: 'mention',
    source: ['EV-HEA-02', 'EV-HEA-03', 'EV-HEA-04'],
    history: sizes([40, 100], [12, 60]),
    findings: [],
  },
  'size-growing': { level: 'callToday', source: ['EV-HEA-01'], history: sizes([20, 100], [10, 130], [5, 130]), findings: [] },
  unresolved: {
    level: 'callNow',
    source: ['cautious'],
    history: { alerts: [{ ...hoursBefore(24), level: 'callToday', outcome: null }] },
    findings: [],
  },
  'plan-out-of-date': { level: 'mention', source: ['practice'], limits: { reviewBy: hoursBefore(24).day }, findings: [] },
};

const found = (answers: Partial<Answers> = {}, limits: Partial<Limits> = {}, history: Partial<History> = {}) =>
  assess({ ...DEFAULT_LIMITS, ...limits }, { ...EMPTY_HISTORY, ...history }, { ...mildestAnswers(), ...answers }, NOW);

describe('the rule table against the specification, row by row', () => {
  it('has these rows and no others', () => {
    expect(RULES.map((r) => r.id).sort()).toEqual(Object.keys(TABLE).sort());
  });

  it.each(Object.entries(TABLE))('[%s] has its level, its sources and its findings', (id, row) => {
    const fired = found(row.answers, row.limits, row.history).fired.find((f) => f.rule === id);
    expect(fired).toMatchObject({ level: row.level, source: row.source, findings: row.findings });
  });

  it('[glucose-very-low] is itself an emergency when confused or faint, and only then', () => {
    const level = (unwell: Answers['unwell']) => found({ ...sugar(53), unwell }).fired.find((f) => f.rule === 'glucose-very-low')?.level;
    expect([level(['confusedOrDrowsy']), level(['faint'])]).toEqual(['emergency', 'emergency']);
    expect([level(['none']), level(['vomiting']), level(['noUrine'])]).toEqual(['callNow', 'callNow', 'callNow']);
  });

  it('[unresolved] rests on no finding, whatever the alert was', () => {
    for (const level of ['callToday', 'callNow', 'emergency'] as const) {
      const alerts = [{ ...hoursBefore(24), level, outcome: null }];
      expect(found({}, {}, { alerts }).fired).toMatchObject([{ rule: 'unresolved', findings: [] }]);
    }
  });

  it('[feverish-unsure] raised to an emergency: feeling feverish is an emergency too', () => {
    const raise = { 'feverish-unsure': 'emergency' } as const;
    expect(found({ temperature: { feelsFeverish: 'yes' } }, { raise }).level).toBe('emergency');
    expect(found({ temperature: { feelsFeverish: 'no' } }, { raise }).level).toBe('carryOn');
  });
});

it('every rule that has a level has its row, in the same order', () => {
  expect(RULES.map((r) => r.id)).toEqual(TABLE_RULE_IDS);
});
