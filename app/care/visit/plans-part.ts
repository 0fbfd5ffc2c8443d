import { standing } from '../log/timeline.ts';
import type { LocalDay } from '../schedule/day.ts';
import type { Scope } from './scope.ts';

/** A version of a plan that was in force in the period. */
export interface PlanInForce {
  id: string;
  revision: number;
  clinic: string;
  /** The day it was accepted on this book's phone; undefined where the log does not say. */
  accepted: LocalDay | undefined;
  /** The day the clinic wrote it; undefined where that version is no longer at hand. */
  issued: LocalDay | undefined;
}

/** The plan versions in force in the period, oldest first: the last one accepted by its first day, and those accepted in it. */
export function plansPart({ plan, earlierPlans, entries, period }: Scope): PlanInForce[] {
  const issuedOf = (id: string, revision: number): LocalDay | undefined =>
    [plan, ...earlierPlans].find((p) => p.id === id && p.revision === revision)?.issued;
  const all = standing(entries, 'planAccepted').map(({ first: { accepted, day } }): PlanInForce => {
    const { id, revision, clinic } = accepted;
    return { id, revision, clinic, accepted: day, issued: issuedOf(id, revision) };
  });
  // The same version taken in once more changes nothing.
  const versions = all.filter((p, i) => p.id !== all[i - 1]?.id || p.revision !== all[i - 1]?.revision);
  const atStart = versions.findLastIndex((p) => (p.accepted as LocalDay) <= period.from);
  const inForce = versions.slice(Math.max(0, atStart));
  if (inForce.length > 0) return inForce;
  return [{ id: plan.id, revision: plan.revision, clinic: plan.clinic.name, accepted: undefined, issued: plan.issued }];
}
