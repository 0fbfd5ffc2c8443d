import demo from '../../../assets/demo/plan.json';
import { addDays, type LocalDay } from '../../care/schedule/day.ts';

/** The demo plan with its days counted from today, so that it is never out of date. */
export function demoPlan(today: LocalDay): string {
  const { plan } = structuredClone(demo);
  plan.issued = addDays(today, -2);
  plan.reviewBy = addDays(today, 12);
  plan.nextVisit.day = addDays(today, 12);
  for (const wound of plan.wounds) if (wound.baseline) wound.baseline.day = addDays(today, -2);
  return JSON.stringify({ ...demo, plan });
}
