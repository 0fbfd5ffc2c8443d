import type { Plan, Side } from '../plan/plan.ts';
import type { Answers } from './answers.ts';
import { isOptional, questionsFor } from './applies.ts';
import type { Question, QuestionId } from './questions.ts';

/** One screen of a check: a question about the person, a foot or a wound. */
export interface CheckItem {
  /** Unique within a check, for instance `pain@left` or `dressing@w1`. */
  key: string;
  question: Question;
  side?: Side;
  wound?: string;
}

/** The questions of the daily check in order; shared ones are asked once. */
export function checkItems(plan: Plan): CheckItem[] {
  const sides = [...new Set(plan.wounds.map((w) => w.side))];
  return questionsFor(false, plan.asks).flatMap((question): CheckItem[] => {
    if (question.scope === 'foot') return sides.map((side) => ({ key: `${question.id}@${side}`, question, side }));
    if (question.scope === 'wound') return plan.wounds.map((w) => ({ key: `${question.id}@${w.id}`, question, side: w.side, wound: w.id }));
    return [{ key: question.id, question }];
  });
}

/** The questions of the look at one open wound. */
export function lookQuestions(): Question[] {
  return questionsFor(true, []).filter((q) => q.when === 'open');
}

/** Answers by item key, as a draft holds them. */
export type ItemAnswers = Record<string, unknown>;

/** Answers of a draft, sorted into the parts of a check record. */
export function sortAnswers(
  plan: Plan,
  given: ItemAnswers,
): { person: Answers; feet: Partial<Record<Side, Answers>>; wounds: Record<string, Answers> } {
  const person: Record<string, unknown> = {};
  const feet = new Map<string, Record<string, unknown>>();
  const wounds = new Map<string, Record<string, unknown>>();
  const put = (parts: Map<string, Record<string, unknown>>, part: string, id: QuestionId, answer: unknown): void => {
    parts.set(part, { ...parts.get(part), [id]: answer });
  };
  for (const { key, question, side, wound } of checkItems(plan)) {
    const answer = given[key];
    if (answer === undefined) continue;
    if (wound !== undefined) put(wounds, wound, question.id, answer);
    else if (side !== undefined) put(feet, side, question.id, answer);
    else person[question.id] = answer;
  }
  return { person, feet: Object.fromEntries(feet), wounds: Object.fromEntries(wounds) } as ReturnType<typeof sortAnswers>;
}

/** Whether every question that the plan asks has an answer; a check that a grave answer cut short has not. */
export function isWholeCheck(
  plan: Plan,
  parts: { person: Answers; feet: Partial<Record<Side, Answers>>; wounds: Record<string, Answers> },
): boolean {
  return checkItems(plan)
    .filter((item) => !isOptional(item.question))
    .every(({ question, side, wound }) => {
      const part = wound !== undefined ? parts.wounds[wound] : side !== undefined ? parts.feet[side] : parts.person;
      return part?.[question.id] !== undefined;
    });
}
