import type { Answers, GlucoseUnit, TemperatureUnit } from '../check/answers.ts';
import { toCelsius, toCelsiusDifference } from '../check/answers.ts';
import { type QuestionId, question } from '../check/questions.ts';
import { EMPTY_HISTORY, Facts } from '../escalation/facts.ts';
import { GLUCOSE_LOW_MGDL } from '../escalation/limits.ts';
import type { Plan, Side } from '../plan/plan.ts';
import type { LocalDay } from '../schedule/day.ts';
import type { CheckOf } from './checks-part.ts';
import { daysOnce, limitsFor } from './scope.ts';

/** The days on which this was the gravest answer. */
export interface CodeDays {
  code: string;
  days: LocalDay[];
}

/** One question over the period: the days of all codes and those without an answer make up the days that count. */
export interface CodePart {
  /** Mildest first, only what was given. `unsure` stands after the mildest. */
  answers: CodeDays[];
  /** Days of the period without an answer to it. */
  noAnswer: number;
}

const rankOf = (id: QuestionId, code: string): number => (code === 'unsure' ? 0.5 : question(id).codes.indexOf(code));

/** @param days the days that count. @param given every answer with its day, in any order. */
export function codePart(
  id: QuestionId,
  days: readonly LocalDay[],
  given: readonly { day: LocalDay; code: string | undefined }[],
): CodePart {
  const gravest = new Map<LocalDay, string>();
  for (const { day, code } of given) {
    if (code === undefined) continue;
    const before = gravest.get(day);
    if (before === undefined || rankOf(id, code) > rankOf(id, before)) gravest.set(day, code);
  }
  const codes = [...new Set(gravest.values())].sort((a, b) => rankOf(id, a) - rankOf(id, b));
  return {
    answers: codes.map((code) => ({ code, days: daysOnce([...gravest].filter(([, c]) => c === code).map(([day]) => day)) })),
    noAnswer: days.filter((day) => !gravest.has(day)).length,
  };
}

/** What one set of answers comes to under a plan, without a past. */
const factsOf = (plan: Plan, side: Side | undefined, answers: Answers, day: LocalDay): Facts =>
  new Facts(limitsFor(plan, side), EMPTY_HISTORY, answers, { at: 0, day }, false);

export interface TemperaturePart {
  /** How often a thermometer was read, second readings included. */
  readings: number;
  measuredDays: number;
  /** Days that count without a reading. */
  notMeasured: number;
  /** As it was read, in the unit the person used. */
  highest: { value: number; unit: TemperatureUnit; site: 'mouth' | 'ear' | 'forehead' | 'armpit'; day: LocalDay } | undefined;
  /** Days with a reading that counts as fever, or as raised and no more, under the plan of that day. */
  feverDays: LocalDay[];
  raisedDays: LocalDay[];
  /** Days without a thermometer on which the person felt feverish, or could not say. */
  felt: LocalDay[];
  feltUnsure: LocalDay[];
  /** From where on the plan in force counts a reading as fever, °C; half a degree lower in the armpit. */
  limitC: number;
}

export function temperaturePart(plan: Plan, days: readonly LocalDay[], checks: readonly CheckOf[]): TemperaturePart {
  const readings = checks.flatMap(({ day, now }) => {
    const t = now.person.temperature;
    if (t === undefined || !('value' in t)) return [];
    const values = t.again === undefined ? [t.value] : [t.value, t.again];
    return values.map((value) => ({ value, unit: t.unit, site: t.site ?? 'mouth', day, celsius: toCelsius(value, t.unit) }));
  });
  const measured = new Set(readings.map((r) => r.day));
  const daysWhere = (holds: (facts: Facts) => boolean): LocalDay[] =>
    daysOnce(checks.filter((c) => holds(factsOf(c.plan, undefined, c.now.person, c.day))).map((c) => c.day));
  const isFever = (f: Facts): boolean => f.fever && f.readingsC.length > 0;
  const feverDays = daysWhere(isFever);
  const highest = readings.reduce<(typeof readings)[number] | undefined>((a, b) => (a && a.celsius >= b.celsius ? a : b), undefined);
  return {
    readings: readings.length,
    measuredDays: measured.size,
    notMeasured: days.filter((d) => !measured.has(d)).length,
    highest: highest && { value: highest.value, unit: highest.unit, site: highest.site, day: highest.day },
    feverDays,
    raisedDays: daysWhere((f) => f.raised).filter((d) => !feverDays.includes(d)),
    felt: daysWhere((f) => f.feels('yes')),
    feltUnsure: daysWhere((f) => f.feels('unsure')),
    limitC: limitsFor(plan).thresholds.feverC,
  };
}

/** Warmth of one foot against the other: as felt, and as measured at matching places. */
export interface WarmthPart {
  felt: CodePart;
  /** The plan asks to measure. */
  asked: boolean;
  measuredDays: number;
  /** The largest difference, wound side above the other, and the unit it was measured in. */
  highest: { site: string; differenceC: number; unit: TemperatureUnit; day: LocalDay } | undefined;
  /** Days on which a place was warmer than the plan of that day allows. */
  overDays: LocalDay[];
  limitC: number;
}

export function warmthPart(plan: Plan, days: readonly LocalDay[], checks: readonly CheckOf[], side: Side): WarmthPart {
  const pairs = checks.flatMap(({ day, now }) => {
    const warmth = now.feet[side]?.warmth;
    if (warmth === undefined || typeof warmth === 'string') return [];
    return warmth.pairs.map(({ site, woundSide, otherSide, unit = 'Cel' }) => ({
      site,
      differenceC: toCelsiusDifference(woundSide - otherSide, unit),
      unit,
      day,
    }));
  });
  const over = checks.filter((c) => factsOf(c.plan, side, c.now.feet[side] ?? {}, c.day).warmPlaces.length > 0);
  return {
    felt: codePart(
      'warmth',
      days,
      checks.map((c) => ({ day: c.day, code: codeOf(c.now.feet[side] ?? {}, 'warmth') })),
    ),
    asked: plan.asks.includes('warmth'),
    measuredDays: new Set(pairs.map((p) => p.day)).size,
    highest: pairs.reduce<(typeof pairs)[number] | undefined>((a, b) => (a && a.differenceC >= b.differenceC ? a : b), undefined),
    overDays: daysOnce(over.map((c) => c.day)),
    limitC: limitsFor(plan, side).thresholds.warmthDifferenceC,
  };
}

/** The code of a question with one code as its answer; of a measured warmth that of what the hand felt. */
export function codeOf(answers: Answers, id: QuestionId): string | undefined {
  const answer = answers[id];
  if (typeof answer === 'string') return answer;
  return id === 'warmth' && typeof answer === 'object' && 'pairs' in answer ? answer.feel : undefined;
}

export interface GlucosePart {
  asked: boolean;
  readings: number;
  measuredDays: number;
  notMeasured: number;
  lowest: { value: number; unit: GlucoseUnit; day: LocalDay } | undefined;
  highest: { value: number; unit: GlucoseUnit; day: LocalDay } | undefined;
  /** Days above the limit of the plan of that day. */
  highDays: LocalDay[];
  /** Days below 70 mg/dL. */
  lowDays: LocalDay[];
  limitMgdl: number;
}

export function glucosePart(plan: Plan, days: readonly LocalDay[], checks: readonly CheckOf[]): GlucosePart {
  const readings = checks.flatMap(({ day, now, plan: own }) => {
    const g = now.person.glucose;
    const mgdl = factsOf(own, undefined, now.person, day).glucoseMgdl;
    return g === undefined || mgdl === undefined
      ? []
      : [{ value: g.value, unit: g.unit, day, mgdl, limit: limitsFor(own).thresholds.glucoseHighMgdl }];
  });
  const shown = (r: (typeof readings)[number] | undefined) => r && { value: r.value, unit: r.unit, day: r.day };
  const inOrder = [...readings].sort((a, b) => a.mgdl - b.mgdl);
  const measured = new Set(readings.map((r) => r.day));
  return {
    asked: plan.asks.includes('glucose'),
    readings: readings.length,
    measuredDays: measured.size,
    notMeasured: days.filter((d) => !measured.has(d)).length,
    lowest: shown(inOrder[0]),
    highest: shown(inOrder.at(-1)),
    highDays: daysOnce(readings.filter((r) => r.mgdl > r.limit).map((r) => r.day)),
    lowDays: daysOnce(readings.filter((r) => r.mgdl < GLUCOSE_LOW_MGDL).map((r) => r.day)),
    limitMgdl: limitsFor(plan).thresholds.glucoseHighMgdl,
  };
}
