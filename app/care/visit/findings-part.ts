import type { Answers } from '../check/answers.ts';
import { mildestAnswers } from '../check/answers.ts';
import { QUESTIONS, type QuestionId, question } from '../check/questions.ts';
import type { LoggedRule } from '../log/records.ts';
import type { Plan, Side } from '../plan/plan.ts';
import type { LocalDay } from '../schedule/day.ts';
import { codeOf } from './answers-part.ts';
import type { CheckOf } from './checks-part.ts';
import { daysOnce, inPeriod, planOf, type Scope } from './scope.ts';

/** Something other than the mildest answer, with the days on which it was given. */
export interface Seen {
  /** `question:code`. */
  finding: string;
  side?: Side;
  wound?: string;
  days: LocalDay[];
  /** Marked as known to the clinic by the plan of the day, on every one of the days. */
  known: boolean;
}

/** A rule that asked for no call, only for a word at the next visit. */
export interface Mention {
  /** As it fired last. */
  rule: LoggedRule;
  days: LocalDay[];
}

/** Questions that have a part of their own; their answers stand here only where the clinic knows them. */
const OWN_PART: readonly QuestionId[] = ['temperature', 'pain', 'warmth', 'drainageAmount', 'offloading', 'glucose', 'note'];

interface Given {
  answers: Answers;
  plan: Plan;
  day: LocalDay;
  side?: Side;
  wound?: string;
}

/** Every set of answers of the period with what it is about. */
function givenIn(scope: Scope, checks: readonly CheckOf[]): Given[] {
  const ofChecks = checks.flatMap(({ now, plan, day }): Given[] => [
    { answers: now.person, plan, day },
    ...Object.entries(now.feet).flatMap(([side, answers]) => (answers ? [{ answers, plan, day, side: side as Side }] : [])),
    ...Object.entries(now.wounds).map(([wound, answers]) => ({ answers, plan, day, wound })),
  ]);
  const ofChanges = inPeriod(scope, 'change').flatMap(({ first, now }): Given[] =>
    now.answers ? [{ answers: now.answers, plan: planOf(scope, first), day: first.day, wound: now.wound }] : [],
  );
  return [...ofChecks, ...ofChanges];
}

/** The codes other than the mildest in an answer. */
function codesOf(answers: Answers, id: QuestionId): string[] {
  const answer = answers[id];
  const given = Array.isArray(answer) ? (answer as string[]) : [codeOf(answers, id)].filter((c) => c !== undefined);
  const mildest = mildestAnswers()[id];
  const mild = Array.isArray(mildest) ? (mildest as string[]) : [mildest];
  return given.filter((code) => !mild.includes(code));
}

/** Whether the plan marks a finding as known for the wound, for a wound of the foot, or for any. */
function isKnown({ plan, side, wound }: Given, finding: string): boolean {
  const about = plan.wounds.filter((w) => (wound !== undefined ? w.id === wound : side === undefined || w.side === side));
  return about.some((w) => w.known.includes(finding));
}

/** What one set of answers holds besides what has a part of its own. */
function findingsOf(given: Given): { finding: string; known: boolean }[] {
  return QUESTIONS.filter(({ id }) => id !== 'temperature' && id !== 'glucose' && id !== 'note')
    .flatMap(({ id }) => codesOf(given.answers, id).map((code) => ({ id, finding: `${id}:${code}` })))
    .map(({ id, finding }) => ({ id, finding, known: isKnown(given, finding) }))
    .filter(({ id, known }) => known || !OWN_PART.includes(id));
}

/** What was seen in the period besides what has a part of its own, in the order of the questions, mildest first. */
export function seenPart(scope: Scope, checks: readonly CheckOf[]): Seen[] {
  const found = new Map<string, Seen>();
  for (const given of givenIn(scope, checks)) {
    const { side, wound, day } = given;
    for (const { finding, known } of findingsOf(given)) {
      const key = JSON.stringify([finding, side, wound]);
      const before = found.get(key);
      found.set(key, {
        finding,
        ...(side && { side }),
        ...(wound !== undefined && { wound }),
        days: daysOnce([...(before?.days ?? []), day]),
        known: known && (before?.known ?? true),
      });
    }
  }
  return [...found.values()].sort((a, b) => orderOf(a.finding) - orderOf(b.finding));
}

function orderOf(finding: string): number {
  const [id, code] = finding.split(':') as [QuestionId, string];
  const at = question(id).codes.indexOf(code);
  return QUESTIONS.findIndex((q) => q.id === id) * 100 + (at < 0 ? 99 : at);
}

/** The rules that fired at the level `mention` in the period, each once, in the order they first did. */
export function mentionPart(scope: Scope, checks: readonly CheckOf[]): Mention[] {
  const fired = [
    ...checks.map((c) => ({ day: c.day, fired: c.now.judgement.fired })),
    ...inPeriod(scope, 'change').map((e) => ({ day: e.first.day, fired: e.now.judgement?.fired ?? [] })),
  ].sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
  const found = new Map<string, Mention>();
  for (const { day, fired: rules } of fired) {
    for (const rule of rules.filter((r) => r.level === 'mention')) {
      const key = JSON.stringify([rule.rule, rule.variant]);
      found.set(key, { rule, days: daysOnce([...(found.get(key)?.days ?? []), day]) });
    }
  }
  return [...found.values()];
}
