import { addDays, type LocalDay } from '../care/schedule/day.ts';

const plans = import.meta.glob<{ default: typeof import('../../assets/demo/plan.json') }>('../../assets/demo/plan*.json');

/** The demo plan in a language that has one, with its days counted from today, so that it is never out of date. */
export async function demoPlan(today: LocalDay, language: string): Promise<string> {
  const load = plans[`../../assets/demo/plan.${language}.json`] ?? plans['../../assets/demo/plan.json'];
  if (!load) throw new Error('the demo plan is missing');
  const demo = (await load()).default;
  const { plan } = structuredClone(demo);
  plan.issued = addDays(today, -2);
  plan.reviewBy = addDays(today, 12);
  plan.nextVisit.day = addDays(today, 12);
  for (const wound of plan.wounds) wound.baseline.day = addDays(today, -2);
  return JSON.stringify({ ...demo, plan });
}
