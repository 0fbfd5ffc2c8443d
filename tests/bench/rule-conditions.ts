import type { RuleProperties, TopLevelCondition } from 'json-rules-engine';
import type { Facts } from '../../app/care/escalation/facts.ts';
import type { Level } from '../../app/care/escalation/levels.ts';
import type { RuleId } from '../../app/care/escalation/rule-levels.ts';

/**
 * The rule table in the conditions of json-rules-engine, written out by hand
 * from `app/care/escalation/rules.ts`, row by row. No condition calls one of our
 * predicates: each is data, as one would write it for that engine. What a rule
 * asks of the past or of several answers at once (signs that stand, a fever, a
 * rising amount) is a fact here as it is there; `factsFor` hands those over.
 *
 * A rule with two levels is two rows. Left out is what no row of the table says:
 * known findings, rules that a plan raises, unanswered questions.
 */

/** What the engine is told of one check. `null` where there is no answer. */
export type EngineFacts = Record<string, string | number | boolean | readonly string[] | null>;

const CODES = ['footColour', 'pain', 'warmth', 'bleeding', 'drainageColour', 'redness', 'edge', 'offloading'] as const;

/** The facts of a check, as the engine takes them. */
export function factsFor(f: Facts): EngineFacts {
  return {
    ...Object.fromEntries(CODES.map((id) => [id, f.code(id) ?? null])),
    unwell: f.answers.unwell ?? [],
    woundBed: f.answers.woundBed ?? [],
    graveCount: f.grave.length,
    signCount: f.signs.length,
    newBlackCount: f.newBlack.length,
    deepCount: f.deep.length,
    newOdour: f.newOdour,
    fever: f.fever,
    raised: f.raised,
    lowTwice: f.lowTwice,
    veryLow: f.veryLow,
    feverishUnsure: f.feels('unsure'),
    warmTwoDaysCount: f.warmTwoDays.length,
    oneWarmReading: f.oneWarmReading,
    aboveExpected: f.aboveExpected,
    inCallBand: f.inCallBand,
    risingThrice: f.risingThrice,
    belowExpectedTwice: f.belowExpectedTwice,
    overwhelmedTwice: f.overwhelmedTwice,
    soggyTwice: f.soggyTwice,
    hardlyTwoDays: f.hardlyTwoDays,
    glucoseMgdl: f.glucoseMgdl ?? null,
    glucoseHighMgdl: f.limits.thresholds.glucoseHighMgdl,
    glucoseHighIllMgdl: f.limits.thresholds.glucoseHighIllMgdl,
    ill: f.ill,
    unsureCount: f.unsure.length,
    dryBreachedCount: f.dryBreached.length,
    changeOverdue: f.changeOverdue,
    sizeStalled: f.sizeStalled,
    sizeGrowing: f.sizeGrowing,
    unresolved: f.unresolved?.level ?? null,
    daysPastReview: f.daysPastReview,
  };
}

type Condition = Extract<TopLevelCondition, { all: unknown }>['all'][number];
const all = (...conditions: Condition[]): TopLevelCondition => ({ all: conditions });
const any = (...conditions: Condition[]): TopLevelCondition => ({ any: conditions });
const is = (fact: string, value: string | boolean = true): Condition => ({ fact, operator: 'equal', value });
const has = (fact: string, value: string): Condition => ({ fact, operator: 'contains', value });
const some = (fact: string): Condition => ({ fact, operator: 'greaterThan', value: 0 });
const below = (fact: string, value: number): Condition => ({ fact, operator: 'lessThan', value });
const atLeast = (fact: string, value: number | { fact: string }): Condition => ({ fact, operator: 'greaterThanInclusive', value });
const above = (fact: string, value: { fact: string }): Condition => ({ fact, operator: 'greaterThan', value });
const signOrOdour = any(some('signCount'), is('newOdour'));

const ROWS: readonly [id: RuleId, level: Level, conditions: TopLevelCondition][] = [
  ['sepsis-sign', 'emergency', all(some('graveCount'))],
  ['keeps-vomiting', 'callNow', all(has('unwell', 'vomiting'))],
  ['fever', 'callNow', all(is('fever'))],
  [
    'fever-with-sign',
    'emergency',
    all(is('fever'), any(some('signCount'), is('newOdour'), has('woundBed', 'newBlack'), some('deepCount'))),
  ],
  ['raised-temperature', 'callToday', all(is('raised'))],
  ['low-temperature', 'callNow', all(is('lowTwice'))],
  ['very-low-temperature', 'emergency', all(is('veryLow'))],
  ['feverish-unsure', 'callToday', all(is('feverishUnsure'))],

  ['foot-cold-pale', 'emergency', all(is('footColour', 'paleOrBlueAndCold'))],
  ['foot-pale', 'callNow', all(is('footColour', 'paleOrBlue'))],
  ['foot-pale-severe-pain', 'emergency', all(is('footColour', 'paleOrBlue'), is('pain', 'severe'))],
  ['foot-pale-with-sign', 'emergency', all(is('footColour', 'paleOrBlue'), signOrOdour)],
  ['new-black', 'callNow', all(some('newBlackCount'))],
  ['black-with-sign', 'emergency', all(some('newBlackCount'), signOrOdour)],
  ['darker-patch', 'callToday', all(is('footColour', 'darkerPatch'))],

  ['redness-fast', 'emergency', all(is('redness', 'fast'))],
  ['redness-streaks', 'callNow', all(is('redness', 'streaks'))],
  ['redness-spreading', 'callNow', all(is('redness', 'spreading'))],
  ['deep', 'callNow', all(some('deepCount'))],
  ['two-signs', 'callNow', all(atLeast('signCount', 2))],
  ['one-sign', 'callToday', all({ fact: 'signCount', operator: 'equal', value: 1 }, is('oneWarmReading', false))],
  ['odour-new', 'callToday', all(is('newOdour'))],
  ['odour-new', 'callNow', all(is('newOdour'), some('signCount'))],
  ['pain-severe', 'callNow', all(is('pain', 'severe'))],
  ['hot-swollen', 'callNow', all(is('warmth', 'hotAndSwollen'))],
  ['warm-two-days', 'callToday', all(some('warmTwoDaysCount'))],
  ['warm-once', 'mention', all(is('oneWarmReading'))],

  ['bleeding-wont-stop', 'emergency', all(is('bleeding', 'willNotStop'))],
  ['bleeding-soaked', 'callNow', all(is('bleeding', 'soakedThenStopped'))],
  ['bleeding-soaked', 'callToday', all(is('drainageColour', 'red'))],
  ['drainage-above-plan', 'callToday', all(is('aboveExpected'))],
  ['plan-says-call', 'callToday', all(is('inCallBand'))],
  ['drainage-rising', 'callToday', all(is('risingThrice'))],
  ['drainage-below-plan', 'mention', all(is('belowExpectedTwice'))],
  ['overwhelmed', 'callToday', all(is('overwhelmedTwice'))],
  ['soggy-edge', 'mention', all(is('edge', 'whiteSoggy'))],
  ['soggy-edge', 'callToday', all(is('edge', 'whiteSoggy'), is('soggyTwice'))],
  ['new-sore', 'callToday', all(is('edge', 'newBlisterOrSore'))],

  ['offloading-broken', 'callToday', all(is('offloading', 'brokenOrHurts'))],
  ['offloading-off', 'mention', all(is('hardlyTwoDays'))],
  ['glucose-very-low', 'callNow', all(below('glucoseMgdl', 54))],
  ['glucose-very-low', 'emergency', all(below('glucoseMgdl', 54), any(has('unwell', 'confusedOrDrowsy'), has('unwell', 'faint')))],
  ['glucose-low', 'mention', all(below('glucoseMgdl', 70))],
  ['glucose-high-ill', 'callNow', all(atLeast('glucoseMgdl', { fact: 'glucoseHighIllMgdl' }), is('ill'))],
  ['glucose-high', 'callToday', all(above('glucoseMgdl', { fact: 'glucoseHighMgdl' }))],

  ['not-sure', 'callToday', all(some('unsureCount'))],
  ['keep-dry-breached', 'callNow', all(some('dryBreachedCount'))],
  ['change-overdue', 'callToday', all(is('changeOverdue'))],
  ['size-stalled', 'mention', all(is('sizeStalled'))],
  ['size-growing', 'callToday', all(is('sizeGrowing'))],
  ['unresolved', 'callNow', any(is('unresolved', 'callToday'), is('unresolved', 'callNow'))],
  ['unresolved', 'emergency', all(is('unresolved', 'emergency'))],
  ['plan-out-of-date', 'mention', all(some('daysPastReview'))],
  ['plan-out-of-date', 'callToday', all(atLeast('daysPastReview', 14))],
];

/** The table as the engine takes it. The event of a rule carries its id and level. */
export const ENGINE_RULES: readonly RuleProperties[] = ROWS.map(([id, level, conditions]) => ({
  name: `${id} ${level}`,
  conditions,
  event: { type: id, params: { level } },
}));
