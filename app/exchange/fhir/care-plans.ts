import type { BundleEntry, CarePlanActivity, CarePlanActivityDetail, Timing } from 'fhir/r4';
import { type Interval, type Plan, type Recipe, recipeGroups, type Wound } from '../../care/plan/plan.ts';
import { instantOf, minutesOf } from '../../care/schedule/day.ts';
import { zonedTime } from '../zoned-time.ts';
import { own, PLAN_IDS } from './codes.ts';
import { type Context, entryFor, identifierOf, listed, listOf, patientRef, refTo, urlOf, woundSite } from './context.ts';

/** How often, as FHIR has it. */
export function timingOf(interval: Interval): Timing {
  if (interval.kind === 'timesADay') return { repeat: { frequency: interval.times, period: 1, periodUnit: 'd' } };
  if (interval.kind === 'weekdays') return { repeat: { frequency: 1, period: 1, periodUnit: 'd', dayOfWeek: interval.days } };
  const inDays = interval.hours % 24 === 0;
  return { repeat: { frequency: 1, period: inDays ? interval.hours / 24 : interval.hours, periodUnit: inDays ? 'd' : 'h' } };
}

/**
 * A plan as the clinic wrote it: what to put on by the amount found, how
 * often, what not to do, the shoe, the next visit. The clinic holds the plan
 * itself; this says under which version the person worked.
 * @param inFile all plans that the file holds.
 */
export function carePlan(ctx: Context, plan: Plan, inFile: readonly Plan[]): BundleEntry {
  const { say } = ctx.words;
  const current = plan === ctx.plans[0];
  const revision = String(plan.revision);
  const url = urlOf(ctx, 'plan', plan.id, revision);
  const before = inFile.find((p) => p.id === plan.id && p.revision === plan.revision - 1);
  const detail = (more: Omit<CarePlanActivityDetail, 'status'>): CarePlanActivity => ({
    detail: { status: current ? 'in-progress' : 'completed', ...more },
  });
  return entryFor(ctx, url, {
    resourceType: 'CarePlan',
    identifier: [identifierOf(url), { system: PLAN_IDS, value: `${plan.id}/${revision}` }],
    ...listed('replaces', before ? [refTo(ctx, 'plan', before.id, String(before.revision))] : []),
    status: current ? 'active' : 'completed',
    intent: 'plan',
    title: say('handOver:file.plan', { revision }),
    subject: patientRef(ctx),
    period: { start: plan.issued },
    created: plan.issued,
    author: { type: 'Organization', display: plan.clinic.name },
    activity: [
      ...plan.wounds.flatMap((wound) =>
        recipeGroups(wound).map(({ bands, recipe }) => detail(changeDetail(ctx, plan, wound, bands, recipe))),
      ),
      ...listOf(plan.device).map((device) =>
        detail({
          code: own(`device:${device.kind}`, say(`plan:deviceKind.${device.kind}`)),
          ...(device.note ? { description: device.note } : {}),
        }),
      ),
      ...listOf(plan.nextVisit).map(({ day, time }) => {
        const { zone } = plan.clinic;
        const start = zonedTime(new Date(instantOf(day, minutesOf(time), zone)).toISOString(), zone);
        return detail({ kind: 'Appointment', code: own('visit', say('log:kind.visit')), scheduledPeriod: { start } });
      }),
    ],
    // As notes, not as activities marked "do not perform": the words say "no" themselves, and twice no reads as yes.
    ...listed(
      'note',
      [
        ...plan.donts.map((id) => say(`plan:dont.${id}`)),
        ...plan.ownDonts,
        ...listOf(plan.reviewBy).map((reviewBy) => say('handOver:file.reviewBy', { day: reviewBy })),
      ].map((text) => ({ text })),
    ),
  });
}

/** What to do at some amounts of drainage on one wound: a recipe, or a call before anything else. */
function changeDetail(
  ctx: Context,
  plan: Plan,
  wound: Wound,
  bands: readonly string[],
  recipe: Recipe | undefined,
): Omit<CarePlanActivityDetail, 'status'> {
  const { say } = ctx.words;
  const amounts = bands.map((band) => ctx.words.answer('drainageAmount', band, { dry: wound.keepDry })).join('; ');
  const site = woundSite(ctx, { plan }, wound.id).text ?? wound.id;
  const lines = [
    `${site}. ${say('plan:whenDrainage', { amounts })}.`,
    ...(wound.keepDry ? [say('plan:keepDry')] : []),
    ...(recipe ? recipeLines(ctx, recipe) : [say('plan:callUs')]),
  ];
  return {
    code: own(recipe ? 'change' : 'callUs', recipe ? say('log:kind.change') : say('plan:callUs')),
    description: lines.join('\n'),
    ...(recipe ? { scheduledTiming: timingOf(recipe.change) } : {}),
  };
}

/** The layers, then the steps with what they are done with and the clinic's own words. */
function recipeLines({ words }: Context, recipe: Recipe): string[] {
  const layers = [recipe.primary, recipe.secondary].filter((d) => d !== undefined);
  const sentences = (...parts: (string | undefined)[]): string => parts.filter((part) => part !== undefined).join('. ');
  return [
    ...layers.map((d) => sentences(words.dressing(d), d.note)),
    ...recipe.steps.map(({ step, note }) => sentences(words.say(`change:step.${step}.title`), words.means(step, recipe), note)),
  ];
}
