import { ANSWER_SCHEMAS } from './answers.ts';
import type { QuestionId } from './questions.ts';

/** An answer from outside, checked. @returns undefined when it does not fit the question. */
export function readAnswer(id: QuestionId, value: unknown): unknown {
  const parsed = ANSWER_SCHEMAS[id].safeParse(value);
  return parsed.success ? parsed.data : undefined;
}
