import { type Answers, mildestAnswers } from '../care/check/answers.ts';
import { QUESTIONS } from '../care/check/questions.ts';
import { assess } from '../care/escalation/assess.ts';
import { isAtLeast, type Level } from '../care/escalation/levels.ts';
import { EMPTY_HISTORY, type Moment } from '../care/escalation/past.ts';
import { CALL_LEVELS, type CallLevel } from '../care/plan/band-calls.ts';
import { limitsOf } from '../care/plan/limits-of.ts';
import type { Plan } from '../care/plan/plan.ts';

/**
 * Which single answers of the check ask for a call, by level, worked out with
 * the app's own rules on the plan itself, so that paper and phone agree. How
 * much the wound drains stands with the recipes and is left out.
 * @returns findings as `question:code`, in the order of the questions.
 */
export function callList(plan: Plan, now: Moment): Record<CallLevel, string[]> {
  const lists: Record<CallLevel, string[]> = { emergency: [], callNow: [], callToday: [] };
  for (const q of QUESTIONS) {
    if (!['oneOf', 'manyOf', 'warmth'].includes(q.kind) || q.id === 'drainageAmount') continue;
    if (q.when === 'plan' && !plan.asks.includes(q.id as never)) continue;
    for (const code of q.codes.slice(1)) {
      const level = levelOf(plan, { [q.id]: q.kind === 'manyOf' ? [code] : code } as Partial<Answers>, now);
      if (level) lists[level].push(`${q.id}:${code}`);
    }
  }
  return lists;
}

/** The gravest level of an answer over all wounds of the plan; undefined where it asks for no call. */
function levelOf(plan: Plan, part: Partial<Answers>, now: Moment): CallLevel | undefined {
  const levels = plan.wounds.map((wound) => {
    const limits = { ...limitsOf(plan, wound, undefined), reviewBy: undefined };
    const answers: Answers = { ...mildestAnswers(), drainageAmount: wound.expectedDrainage[0], ...part };
    // A band the plan calls for anyway says nothing about the answer itself.
    return assess({ ...limits, callBands: [] }, EMPTY_HISTORY, answers, now).level;
  });
  return CALL_LEVELS.find((level) => levels.some((l) => isCallAtLeast(l, level)));
}

const isCallAtLeast = (found: Level | 'unfinished', level: CallLevel): boolean => found !== 'unfinished' && isAtLeast(found, level);
