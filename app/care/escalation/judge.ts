import type { Answers } from '../check/answers.ts';
import { historyOf, lastFound } from '../log/history.ts';
import type { AlertRecord, Judgement, LoggedRule } from '../log/records.ts';
import type { Entry } from '../log/timeline.ts';
import { limitsOf } from '../plan/limits-of.ts';
import type { Plan, Wound } from '../plan/plan.ts';
import { AHEAD_MS, DAY_MS } from '../schedule/day.ts';
import { type Assessment, assess, assessStanding, type FiredRule, gravestOutcome } from './assess.ts';
import type { History, Moment } from './facts.ts';
import { gravest, isAtLeast, type Level, rankOf } from './levels.ts';
import { STANDING_RULES } from './rule-levels.ts';
import { whoToCall } from './who-to-call.ts';

/** What a judgement rests on besides the answers. */
export interface Setting {
  plan: Plan;
  /** The log's entries as they stand. */
  entries: readonly Entry[];
  /** The number to call in an emergency: the plan's, else the region's. */
  emergencyNumber: string;
  now: Moment;
  /** The moment the answers are about, where that is not now: a correction of an older check. */
  asOf?: Moment | undefined;
}

/**
 * The judgement of a check or a look, over one or more wounds: the gravest
 * level, every reason once, and the level as it must be told at this hour.
 * @param answers each wound's answers, shared ones included.
 * @param without ids of records that are being judged now and are not past.
 */
export function judge(setting: Setting, answers: ReadonlyMap<Wound, Answers>, without: readonly string[] = []): Judgement {
  return combine(
    setting,
    [...answers].map(([wound, own]) => ({
      wound,
      found: assess(limits(setting, wound), historyOf(setting.entries, wound, without), own, setting.asOf ?? setting.now),
    })),
  );
}

/** The judgement that stands without a check: overdue changes, unanswered alerts, an outdated plan, size. */
export function judgeStanding(setting: Setting): Judgement {
  return combine(
    setting,
    setting.plan.wounds.map((wound) => ({
      wound,
      found: assessStanding(limits(setting, wound), waited(historyOf(setting.entries, wound), setting.now.at), setting.now),
    })),
  );
}

/** How long an alert dated ahead by a wrong clock has waited nobody knows: it counts as the longest that the rule waits (cautious). */
const waited = (history: History, now: number): History => ({
  ...history,
  alerts: history.alerts.map((a) => (a.at > now + AHEAD_MS ? { ...a, at: now - DAY_MS } : a)),
});

const limits = ({ plan, entries, now }: Setting, wound: Wound) => limitsOf(plan, wound, lastFound(entries, wound.id, now.at));

function combine(setting: Setting, found: readonly { wound: Wound; found: Assessment }[]): Judgement {
  const level = gravestOutcome(found.map((f) => f.found.level));
  const { told } = whoToCall(setting.plan.clinic, setting.emergencyNumber, level, setting.now.at);
  const all = setting.plan.wounds.length;
  const rulesOf = (which: 'fired' | 'quieted') =>
    mergeRules(
      found.flatMap((f) => f.found[which].map((rule) => ({ rule, wound: f.wound.id }))),
      all,
    );
  return { level, told, fired: rulesOf('fired'), quieted: rulesOf('quieted') };
}

/** One line for each rule and what it rests on, with the wounds it concerns where that is not all of them. */
function mergeRules(rules: readonly { rule: FiredRule; wound: string }[], woundCount: number): LoggedRule[] {
  const merged = new Map<string, { logged: LoggedRule; wounds: string[] }>();
  for (const { rule, wound } of rules) {
    const { source: _source, variant, params, ...rest } = rule;
    const key = JSON.stringify([rule.rule, rule.level, variant, rule.findings]);
    const known = merged.get(key);
    if (known) known.wounds.push(wound);
    else {
      const logged: LoggedRule = {
        ...rest,
        findings: [...rule.findings],
        ...(variant ? { variant } : {}),
        ...(params ? { params: { ...params } } : {}),
      };
      merged.set(key, { logged, wounds: [wound] });
    }
  }
  return [...merged.values()]
    .map(({ logged, wounds }) => (wounds.length < woundCount ? { ...logged, wounds } : logged))
    .sort((a, b) => rankOf(b.level) - rankOf(a.level));
}

/** A judgement without what only time brought about: overdue changes, unanswered alerts, an outdated plan, size. */
export const byAnswers = (judgement: Judgement): Judgement => ({
  ...judgement,
  fired: judgement.fired.filter((r) => !(STANDING_RULES as readonly string[]).includes(r.rule)),
});

const CALLED: readonly string[] = ['callToday', 'callNow', 'emergency'];
/** Whether a judgement asks for a call. */
export const asksForCall = (j: Judgement): j is Judgement & { level: AlertRecord['level']; told: AlertRecord['told'] } =>
  CALLED.includes(j.level) && CALLED.includes(j.told);

/**
 * Whether a judgement needs an alert of its own: it is graver than any open
 * one, or rests on a rule that none of them names. A reminder of an alert
 * that is still unanswered is no new alert.
 */
export function needsNewAlert(judgement: Judgement, open: readonly Pick<AlertRecord, 'told' | 'fired'>[]): boolean {
  if (!asksForCall(judgement)) return false;
  const calls = judgement.fired.filter((r) => isAtLeast(r.level, 'callToday') && r.rule !== 'unresolved');
  if (calls.length === 0) return false;
  const gravestOpen = Math.max(-1, ...open.map((a) => rankOf(a.told)));
  const named = new Set(open.flatMap((a) => a.fired.map((r) => r.rule)));
  // Without the reminder the level may be milder; told at this hour it is no milder than it is.
  const level = gravest(calls.map((r) => r.level));
  const told = level === judgement.level ? (judgement.told as Level) : level;
  return rankOf(told) > gravestOpen || calls.some((r) => !named.has(r.rule));
}
