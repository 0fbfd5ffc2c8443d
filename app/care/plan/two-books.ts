import type { Plan } from './plan.ts';

/** The plans of one person's book on one device. */
export interface PlansOfBook {
  /** The plan in force. */
  plan: Plan;
  /** Plans that were in force there earlier. */
  earlierPlans: readonly Plan[];
}

/**
 * What becomes of the plan in force when another device's book comes in:
 * - `new`: there was none; the other's takes effect.
 * - `same`: both have the very same.
 * - `taken`: the other's is newer and takes effect; the one here becomes an earlier plan.
 * - `kept`: the one here is newer; the other's becomes an earlier plan.
 * - `conflict`: one version number with two contents. The one here stays, and the clinic must say.
 */
export type PlanOfTwo = 'new' | 'same' | 'taken' | 'kept' | 'conflict';

/**
 * Which of two plans in force stays in force. Of one plan the higher revision.
 * Of two different ones the one that replaced the other on one of the devices,
 * for a person decided that; where neither knew of the other, the one issued
 * later. Both devices come to the same answer, but for a `conflict`.
 */
export function planOfTwo(here: PlansOfBook | undefined, there: PlansOfBook): PlanOfTwo {
  if (!here) return 'new';
  const [own, other] = [here.plan, there.plan];
  if (JSON.stringify(own) === JSON.stringify(other)) return 'same';
  if (own.id === other.id) {
    if (own.revision === other.revision) return 'conflict';
    return other.revision > own.revision ? 'taken' : 'kept';
  }
  const replacedHere = here.earlierPlans.some((p) => p.id === other.id);
  const replacedThere = there.earlierPlans.some((p) => p.id === own.id);
  if (replacedHere !== replacedThere) return replacedThere ? 'taken' : 'kept';
  return other.issued > own.issued || (other.issued === own.issued && other.id > own.id) ? 'taken' : 'kept';
}
