import type { Answers } from './answers.ts';
import { toCelsius } from './answers.ts';
import { QUESTIONS, type Question, type QuestionId } from './questions.ts';

/** Questions a plan can switch on. `warmth` adds measured pairs to a question that is always asked. */
export const ASKABLE = ['warmth', 'offloading', 'glucose'] as const;

/**
 * Which questions a check asks, in order.
 * @param open whether the wound is uncovered at this check.
 * @param asks what the plan switches on.
 */
export function questionsFor(open: boolean, asks: readonly string[]): Question[] {
  return QUESTIONS.filter((q) => q.when === 'every' || (q.when === 'open' && open) || (q.when === 'plan' && asks.includes(q.id)));
}

/** Numbers and words may be left out; every other question that is asked must be answered. */
export const isOptional = (q: Question): boolean => q.kind === 'glucose' || q.kind === 'words';

/** Below this a reading is taken twice before it counts (escalation rule `low-temperature`). */
export const LOW_TEMPERATURE_C = 36;

/** A low reading needs a second one: alone it neither counts nor clears. */
export function needsSecondReading(answer: Answers['temperature']): boolean {
  return (
    answer !== undefined && 'value' in answer && answer.again === undefined && toCelsius(answer.value, answer.unit) < LOW_TEMPERATURE_C
  );
}

/** The required questions that have no complete answer yet. */
export function missingAnswers(answers: Answers, open: boolean, asks: readonly string[]): QuestionId[] {
  return questionsFor(open, asks)
    .filter((q) => !isOptional(q))
    .filter((q) => answers[q.id] === undefined || (q.id === 'temperature' && needsSecondReading(answers.temperature)))
    .map((q) => q.id);
}

const OPEN_IDS = QUESTIONS.filter((q) => q.when === 'open').map((q) => q.id);

/** Whether any question of an open wound is answered. */
export const hasOpenAnswers = (answers: Answers): boolean => OPEN_IDS.some((id) => answers[id] !== undefined);
