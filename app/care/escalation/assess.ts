import type { Answers } from '../check/answers.ts';
import { hasOpenAnswers, missingAnswers } from '../check/applies.ts';
import type { QuestionId } from '../check/questions.ts';
import { Facts, type History, type Moment } from './facts.ts';
import { graver, gravest, isAtLeast, type Level, type Outcome, rankOf } from './levels.ts';
import type { Limits } from './limits.ts';
import { GRAVER_THAN_RAISED, type RuleId, STANDING_RULES } from './rule-levels.ts';
import { type Firing, RULES, type Rule } from './rules.ts';

/** A rule that fired, ready to be shown as a reason. */
export interface FiredRule {
  rule: RuleId;
  level: Level;
  findings: readonly string[];
  variant?: string | undefined;
  params?: Readonly<Record<string, string | number>> | undefined;
  source: readonly string[];
}

export interface Assessment {
  level: Outcome;
  /** Gravest first; within a level in table order. */
  fired: readonly FiredRule[];
  /** Rules that the plan's known findings quieted. They are logged, never hidden. */
  quieted: readonly FiredRule[];
  /** Required questions without a complete answer. */
  missing: readonly QuestionId[];
}

/** A plan's known findings quiet these levels and no graver one. */
const QUIETABLE: readonly Level[] = ['mention', 'callToday'];

function levelOf(rule: Rule, firing: Firing, limits: Limits): Level {
  const raised = Object.hasOwn(limits.raise, rule.id) ? limits.raise[rule.id] : undefined;
  return graver(firing.level ?? rule.level, raised ?? 'carryOn');
}

function fire(rule: Rule, firing: Firing, limits: Limits): FiredRule {
  return {
    rule: rule.id as RuleId,
    level: levelOf(rule, firing, limits),
    findings: firing.findings,
    variant: firing.variant,
    params: firing.params,
    source: rule.source,
  };
}

/** A rule is quiet when all it rests on is known to the clinic and its level is one that may be quieted. */
function isKnown(fired: FiredRule, limits: Limits): boolean {
  return QUIETABLE.includes(fired.level) && fired.findings.length > 0 && fired.findings.every((f) => limits.known.includes(f));
}

/** Of the rules the plan raised, the gravest level a milder answer would have had. */
function raisedFloor(facts: Facts, rules: readonly Rule[]): FiredRule | undefined {
  const raised = rules.filter((rule) => Object.hasOwn(facts.limits.raise, rule.id));
  const all = raised.flatMap((rule) => {
    const firing = rule.when(facts);
    return firing ? [fire(rule, firing, facts.limits)] : [];
  });
  const level = gravest(all.map((r) => r.level));
  const first = all.find((r) => r.level === level);
  return first && { ...first, rule: GRAVER_THAN_RAISED, params: { rule: first.rule }, variant: undefined, source: ['cautious'] };
}

/**
 * The level of one wound's check: the gravest of the rules that fire.
 *
 * The specification's properties hold: a worse answer or one more sign never
 * lowers the level, a stricter plan never lowers it, and a missing required
 * answer never gives `carryOn`.
 *
 * @param limits what the plan says of this wound.
 * @param history this wound's past; order does not matter, later than `now` is ignored.
 * @param answers this check's answers for this wound; a missing key is unanswered.
 * @param now the clock and the person's calendar day.
 */
export function assess(limits: Limits, history: History, answers: Answers, now: Moment): Assessment {
  const missing = missingAnswers(answers, hasOpenAnswers(answers), limits.asks);
  return judge(limits, history, answers, now, missing, RULES);
}

/** The level that stands without a check: overdue changes, unanswered alerts, an outdated plan, size. */
export function assessStanding(limits: Limits, history: History, now: Moment): Assessment {
  const standing = RULES.filter((rule) => (STANDING_RULES as readonly string[]).includes(rule.id));
  return judge(limits, history, {}, now, [], standing);
}

function judge(
  limits: Limits,
  history: History,
  answers: Answers,
  now: Moment,
  missing: readonly QuestionId[],
  rules: readonly Rule[],
): Assessment {
  const facts = new Facts(limits, history, answers, now, false);
  const all: FiredRule[] = [];
  for (const rule of rules) {
    const firing = rule.when(facts);
    if (firing) all.push(fire(rule, firing, limits));
  }
  const quieted = all.filter((r) => isKnown(r, limits));
  const fired = all.filter((r) => !quieted.includes(r));

  if (Object.keys(limits.raise).length > 0) {
    const floor = raisedFloor(new Facts(limits, history, answers, now, true), rules);
    if (floor && !isKnown(floor, limits) && rankOf(floor.level) > rankOf(gravest(fired.map((r) => r.level)))) fired.push(floor);
  }
  fired.sort((a, b) => rankOf(b.level) - rankOf(a.level));
  return { level: conclude(fired, missing), fired, quieted, missing };
}

/** Time and the past may add a mention, but only answers can stand in for a missing answer. */
function conclude(fired: readonly FiredRule[], missing: readonly QuestionId[]): Outcome {
  const level = gravest(fired.map((r) => r.level));
  if (missing.length === 0 || isAtLeast(level, 'callToday')) return level;
  const fromAnswers = fired.filter((r) => !(STANDING_RULES as readonly string[]).includes(r.rule));
  return fromAnswers.length > 0 ? level : 'unfinished';
}

const outcomeRank = (o: Outcome): number => (o === 'unfinished' ? 0.5 : rankOf(o));

/** The assessments of several wounds as one: the gravest level, every reason. */
export function gravestOutcome(outcomes: readonly Outcome[]): Outcome {
  return outcomes.reduce<Outcome>((a, b) => (outcomeRank(b) > outcomeRank(a) ? b : a), 'carryOn');
}
