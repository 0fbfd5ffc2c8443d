import { type Answers, toCelsius, toCelsiusDifference, toMgdl } from '../check/answers.ts';
import { hasOpenAnswers, LOW_TEMPERATURE_C } from '../check/applies.ts';
import { bandRank, GRAVE_UNWELL, QUESTIONS, type QuestionId, question } from '../check/questions.ts';
import { addDays, DAY_MS, daysBetween, HOUR_MS } from '../schedule/day.ts';
import type { Level } from './levels.ts';
import type { Limits } from './limits.ts';
import { byTime, type History, type Moment, type PastAlert, type PastCheck } from './past.ts';
import { isGrowing, isStalled } from './size.ts';

export { EMPTY_HISTORY, type History, type Moment, type PastAlert, type PastCheck, type PastMeasurement } from './past.ts';

/** How long the answers of an open wound stand on days without a change. */
export const OPEN_ANSWERS_STAND_MS = 24 * HOUR_MS;
/** An armpit reads lower: fever from 37.5 where the mouth has 38.0 [EV-FEV-01]. */
export const ARMPIT_FEVER_LOWER_C = 0.5;
/** …and raised from 37.2 where the mouth has 37.8 [EV-FEV-01]. */
const ARMPIT_RAISED_LOWER_C = 0.6;
const VERY_LOW_C = 35;

const notAfter =
  (now: Moment) =>
  (past: Moment): boolean =>
    past.at <= now.at;

/**
 * Everything the rules ask about, worked out once from the plan, the past, the
 * answers and the clock.
 *
 * In *lenient* mode every test for one exact code also holds for the graver
 * codes of the same question (and for `unsure`, where the milder end is what
 * the rule watches). `assess` uses it so that a rule raised by the plan never
 * leaves a graver answer with a lower level.
 */
export class Facts {
  readonly answers: Answers;
  /** Open checks as they were answered, oldest first; this one last, if the wound is open now. */
  private readonly openChecks: readonly PastCheck[];
  readonly signs: readonly string[];
  readonly fever: boolean;

  constructor(
    readonly limits: Limits,
    readonly history: History,
    given: Answers,
    readonly now: Moment,
    readonly lenient: boolean,
  ) {
    const past = history.checks.filter(notAfter(now)).sort(byTime);
    const pastOpen = past.filter((c) => hasOpenAnswers(c.answers));
    const latest = pastOpen.at(-1);
    const latestStands = latest !== undefined && now.at - latest.at <= OPEN_ANSWERS_STAND_MS;
    this.answers = latestStands ? { ...openAnswersOf(latest.answers), ...answered(given) } : given;
    this.openChecks = hasOpenAnswers(given) ? [...pastOpen, { ...now, answers: given }] : pastOpen;
    this.signs = this.localSigns();
    this.fever = this.reading('feverC', ARMPIT_FEVER_LOWER_C) || this.feels('yes');
  }

  /** The code answered, or undefined. */
  code(id: QuestionId): string | undefined {
    const answer = this.answers[id];
    if (typeof answer === 'string') return answer;
    if (id === 'warmth' && typeof answer === 'object' && 'pairs' in answer) return answer.feel;
    return undefined;
  }

  /** Whether a question has just this code (in lenient mode: or a graver one). */
  is(id: QuestionId, code: string): boolean {
    return this.lenient ? this.atLeast(id, code) : this.code(id) === code;
  }

  /** Whether a question has this code or a graver one. */
  atLeast(id: QuestionId, code: string): boolean {
    const given = this.code(id);
    return given !== undefined && given !== 'unsure' && rank(id, given) >= rank(id, code);
  }

  /** Whether a many-of question includes this code. */
  has(id: 'unwell' | 'woundBed', code: string): boolean {
    return (this.answers[id] as readonly string[] | undefined)?.includes(code) ?? false;
  }

  /** `question:code` of what was answered, for reasons and known findings. */
  found(id: QuestionId): string {
    return `${id}:${this.code(id) ?? ''}`;
  }

  get grave(): readonly string[] {
    return GRAVE_UNWELL.filter((code) => this.has('unwell', code)).map((code) => `unwell:${code}`);
  }

  /** Newly black tissue, wherever it was seen. */
  get newBlack(): readonly string[] {
    return [
      ...(this.is('footColour', 'newBlack') ? [this.found('footColour')] : []),
      ...(this.has('woundBed', 'newBlack') ? ['woundBed:newBlack'] : []),
    ];
  }

  get deep(): readonly string[] {
    return ['deeper', 'boneOrTendon'].filter((code) => this.has('woundBed', code)).map((code) => `woundBed:${code}`);
  }

  get newOdour(): boolean {
    return this.is('odour', 'newOrStronger');
  }

  /** Every reading of the thermometer, °C. */
  get readingsC(): readonly number[] {
    const t = this.answers.temperature;
    if (t === undefined || !('value' in t)) return [];
    return [t.value, ...(t.again === undefined ? [] : [t.again])].map((value) => toCelsius(value, t.unit));
  }

  private inArmpit(): boolean {
    const t = this.answers.temperature;
    return t !== undefined && 'value' in t && t.site === 'armpit';
  }

  private reading(which: 'feverC' | 'raisedC', lowerInArmpit: number): boolean {
    const from = this.limits.thresholds[which] - (this.inArmpit() ? lowerInArmpit : 0);
    // Rounded, because 38.0 − 0.5 must be 37.5 and not a hair off.
    return this.readingsC.some((c) => c >= Number(from.toFixed(2)));
  }

  feels(word: 'unsure' | 'yes'): boolean {
    const t = this.answers.temperature;
    return t !== undefined && 'feelsFeverish' in t && t.feelsFeverish === word;
  }

  get raised(): boolean {
    return this.reading('raisedC', ARMPIT_RAISED_LOWER_C) && (this.lenient || !this.fever);
  }

  get lowTwice(): boolean {
    const c = this.readingsC;
    if (this.lenient && this.veryLow) return true;
    return c.length >= 2 && c.every((value) => value < LOW_TEMPERATURE_C);
  }

  get veryLow(): boolean {
    return this.readingsC.some((c) => c < VERY_LOW_C);
  }

  /** Names of the places where the wound side is warmer by more than the threshold. */
  private warmSites(answers: Answers): string[] {
    const w = answers.warmth;
    if (w === undefined || typeof w === 'string') return [];
    const limit = this.limits.thresholds.warmthDifferenceC;
    return w.pairs.filter((p) => toCelsiusDifference(p.woundSide - p.otherSide, p.unit ?? 'Cel') > limit).map((p) => p.site);
  }

  get warmPlaces(): readonly string[] {
    return this.warmSites(this.answers);
  }

  /** Checks of the calendar day before today. */
  private get yesterday(): readonly PastCheck[] {
    const day = addDays(this.now.day, -1);
    return this.history.checks.filter((c) => c.day === day);
  }

  /** Places that were warm yesterday and are warm today. */
  get warmTwoDays(): readonly string[] {
    if (this.warmPlaces.length === 0) return [];
    const before = new Set(this.yesterday.flatMap((c) => this.warmSites(c.answers)));
    return this.warmPlaces.filter((site) => before.has(site));
  }

  /** Warm by measurement alone: nothing the hand felt, no other sign, and not yesterday. */
  get warmOnlyOnce(): boolean {
    return this.lenient ? this.warmPlaces.length > 0 : this.oneWarmReading;
  }

  /** The only sign is a measured difference, and it is of today: `one-sign` does not count it. */
  get oneWarmReading(): boolean {
    return this.warmTwoDays.length === 0 && this.signs.length === 1 && this.signs[0] === 'warmth:measured';
  }

  /** Local signs of infection that stand now [EV-INF-01, IDSA 2012 and IWGDF/IDSA 2023], each once. */
  private localSigns(): string[] {
    const swelling = this.atLeast('swelling', 'new') ? 'swelling:new' : this.signFrom('warmth', 'hotAndSwollen');
    const five = [
      swelling,
      this.signFrom('redness', 'wide'),
      this.signFrom('pain', 'more'),
      this.warmthSign(),
      this.signFrom('drainageColour', 'cloudyThick'),
    ];
    return this.withExtraSigns(five.filter((sign) => sign !== undefined));
  }

  /** What was answered, if it is this code or a graver one. */
  private signFrom(id: QuestionId, code: string): string | undefined {
    return this.atLeast(id, code) ? this.found(id) : undefined;
  }

  /** Felt and measured warmth are one sign. A felt warmth that the clinic knows does not cover a place that was measured. */
  private warmthSign(): string | undefined {
    const felt = this.signFrom('warmth', 'warmer');
    const measured = this.warmPlaces.length > 0 ? 'warmth:measured' : undefined;
    return measured && felt && this.limits.known.includes(felt) ? measured : (felt ?? measured);
  }

  /** The signs, and those that the plan counts besides. */
  private withExtraSigns(five: readonly string[]): string[] {
    const signs = [...five];
    for (const finding of this.limits.alsoSigns) {
      const [id, code] = finding.split(':') as [QuestionId, string];
      const many = id === 'unwell' || id === 'woundBed';
      // A graver code instead of the named one is no less a sign (property 1).
      const stands = many ? question(id).codes.some((c) => rank(id, c) >= rank(id, code) && this.has(id, c)) : this.atLeast(id, code);
      if (stands && !signs.some((s) => s.startsWith(`${id}:`))) signs.push(many ? finding : this.found(id));
    }
    return signs;
  }

  /** What the latest changes found of one question, newest first; only while an answer to it stands. Each change counts once. */
  private lately(id: 'drainageAmount' | 'edge'): readonly string[] {
    if (this.answers[id] === undefined) return [];
    return this.openChecks
      .map((c) => c.answers[id])
      .filter((a) => a !== undefined)
      .reverse();
  }

  get amounts(): readonly string[] {
    return this.lately('drainageAmount');
  }

  get aboveExpected(): boolean {
    const now = this.amounts[0];
    return isBand(now) && bandRank(now) > bandRank(this.limits.expectedDrainage[1]);
  }

  /** The plan has no recipe for this amount (lenient: or for a lighter one while it is above the expected range, or it is not known). */
  get inCallBand(): boolean {
    const now = this.amounts[0];
    const call = this.limits.callBands;
    if (!isBand(now)) return this.lenient && now === 'unsure' && call.length > 0;
    return call.includes(now) || (this.lenient && this.aboveExpected && call.some((b) => bandRank(b) <= bandRank(now)));
  }

  /** Drier than expected at this change and the one before. */
  get belowExpectedTwice(): boolean {
    const below = (a: string | undefined): boolean => isBand(a) && bandRank(a) < bandRank(this.limits.expectedDrainage[0]);
    const [now, before] = this.amounts;
    return (below(now) || (this.lenient && now === 'unsure')) && below(before);
  }

  /** Risen at each of the last three changes, that is over four amounts. */
  get risingThrice(): boolean {
    const four = this.amounts.slice(0, 4);
    if (four.length < 4 || !four.every(isBand)) return false;
    const [d, c, b, a] = four.map(bandRank) as [number, number, number, number];
    return a < b && b < c && c < d;
  }

  get soggyNow(): boolean {
    return this.is('edge', 'whiteSoggy');
  }

  get soggyTwice(): boolean {
    return this.soggyNow && this.lately('edge')[1] === 'whiteSoggy';
  }

  /** The change before an instant, if any. */
  private changeBefore(at: number): number | undefined {
    const times = this.history.changes.map((c) => c.at).filter((t) => t < at);
    return times.length > 0 ? Math.max(...times) : undefined;
  }

  /** Marked through or leaking before the change was due; unknown due times count as early. */
  private overwhelmedAt(check: PastCheck): boolean {
    const state = check.answers.dressing;
    if (state !== 'markedThrough' && state !== 'leaking') return false;
    const last = this.changeBefore(check.at);
    return last === undefined || check.at < last + this.limits.changeEveryHours * HOUR_MS;
  }

  /**
   * Overwhelmed now, and so was either the last look or, whatever the looks since have shown, the
   * dressing before this one. The specification says "twice running" and not of what; a daily look at
   * the fresh dressing must not hide that two dressings in a row gave way (cautious).
   */
  get overwhelmedTwice(): boolean {
    if (!this.overwhelmedAt({ ...this.now, answers: this.answers })) return false;
    const looks = this.history.checks.filter((c) => c.at < this.now.at && c.answers.dressing !== undefined).sort(byTime);
    const worn = this.changeBefore(this.now.at);
    const wornBefore = worn === undefined ? undefined : this.changeBefore(worn);
    const ofDressingBefore = looks.filter((c) => worn !== undefined && c.at <= worn && c.at > (wornBefore ?? Number.NEGATIVE_INFINITY));
    return [...looks.slice(-1), ...ofDressingBefore].some((c) => this.overwhelmedAt(c));
  }

  get hardlyTwoDays(): boolean {
    const bad = (a: Answers): boolean => a.offloading === 'hardly' || a.offloading === 'brokenOrHurts';
    return this.is('offloading', 'hardly') && this.yesterday.some((c) => bad(c.answers));
  }

  /** Glucose in mg/dL: as written, or converted to whole mg/dL; a written 53.9 is never rounded up out of danger. */
  get glucoseMgdl(): number | undefined {
    const g = this.answers.glucose;
    if (g === undefined) return undefined;
    return g.unit === 'mg/dL' ? g.value : toMgdl(g.value, g.unit);
  }

  get ill(): boolean {
    return this.fever || this.has('unwell', 'vomiting') || this.signs.length > 0;
  }

  /** No change for twice the plan's interval. A phone that knows of no change at all cannot say. */
  get changeOverdue(): boolean {
    const times = this.history.changes.filter(notAfter(this.now)).map((c) => c.at);
    if (times.length === 0) return false;
    return this.now.at - Math.max(...times) >= 2 * this.limits.changeEveryHours * HOUR_MS;
  }

  get sizeStalled(): boolean {
    return isStalled(this.history.measurements.filter(notAfter(this.now)));
  }

  get sizeGrowing(): boolean {
    return isGrowing(this.history.measurements.filter(notAfter(this.now)), this.limits.thresholds.growthShare);
  }

  /** The gravest alert that nobody has answered for too long, if any. */
  get unresolved(): PastAlert | undefined {
    const wait: Partial<Record<Level, number>> = { callToday: DAY_MS, callNow: HOUR_MS / 2, emergency: HOUR_MS / 2 };
    const open = this.history.alerts.filter((a) => a.outcome === null || a.outcome === 'couldNotReach');
    const late = open.filter((a) => this.now.at - a.at >= (wait[a.level] ?? Number.POSITIVE_INFINITY));
    const order: Level[] = ['emergency', 'callNow', 'callToday'];
    return order.map((level) => late.find((a) => a.level === level)).find((a) => a !== undefined);
  }

  /** Days past the review date; 0 when not past or when there is none. */
  get daysPastReview(): number {
    const by = this.limits.reviewBy;
    return by === undefined ? 0 : Math.max(0, daysBetween(by, this.now.day));
  }

  /** Questions answered with `unsure`. */
  get unsure(): readonly string[] {
    return QUESTIONS.map((q) => q.id).filter((id) => {
      const answer = this.answers[id];
      if (Array.isArray(answer)) return (answer as string[]).includes('unsure');
      // Feeling feverish is the graver answer than not being sure of it (property 1, where the plan raised doubt).
      if (id === 'temperature') return this.feels('unsure') || (this.lenient && this.feels('yes'));
      return id !== 'note' && this.code(id) === 'unsure';
    });
  }

  /** A wound that must stay dry is wet, smells anew or is red. Not being sure of the amount or the redness counts. */
  get dryBreached(): readonly string[] {
    if (!this.limits.keepDry) return [];
    const not = (id: QuestionId, mild: string): boolean => this.code(id) !== undefined && this.code(id) !== mild;
    return [
      ...(not('drainageAmount', 'none') ? [this.found('drainageAmount')] : []),
      ...(this.newOdour ? [this.found('odour')] : []),
      ...(not('redness', 'none') ? [this.found('redness')] : []),
    ];
  }
}

const rank = (id: QuestionId, code: string): number => question(id).codes.indexOf(code);
const isBand = (a: string | undefined): a is 'none' | 'light' | 'moderate' | 'heavy' => a !== undefined && a !== 'unsure';

/** The questions that have an answer; one set to undefined is left out. */
const answered = (given: Answers): Answers => Object.fromEntries(Object.entries(given).filter(([, a]) => a !== undefined)) as Answers;

function openAnswersOf(answers: Answers): Answers {
  return Object.fromEntries(QUESTIONS.filter((q) => q.when === 'open').map((q) => [q.id, answers[q.id]])) as Answers;
}
