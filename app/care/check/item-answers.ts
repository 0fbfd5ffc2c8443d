import type { Plan } from '../plan/plan.ts';
import { checkItems, type ItemAnswers, type sortAnswers } from './items.ts';

/** The answers of a check by item key, as a draft holds them: the way back from `sortAnswers`. */
export function itemAnswers(plan: Plan, { person, feet, wounds }: ReturnType<typeof sortAnswers>): ItemAnswers {
  return Object.fromEntries(
    checkItems(plan).flatMap(({ key, question, side, wound }) => {
      const part = wound !== undefined ? wounds[wound] : side !== undefined ? feet[side] : person;
      const answer = part?.[question.id];
      return answer === undefined ? [] : [[key, answer]];
    }),
  );
}
