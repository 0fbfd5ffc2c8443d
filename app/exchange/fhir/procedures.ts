import type { Annotation, BundleEntry, CodeableConcept } from 'fhir/r4';
import type { ChangeRecord, RecordOf } from '../../care/log/records.ts';
import type { Entry } from '../../care/log/timeline.ts';
import { recipeFor } from '../../care/plan/plan.ts';
import { zonedTime } from '../zoned-time.ts';
import { own, PLAN_IDS } from './codes.ts';
import {
  type Context,
  entryFor,
  identifierOf,
  listed,
  listOf,
  notesOf,
  patientRef,
  plainText,
  planOf,
  recordUrl,
  refTo,
  whenOf,
  withdrawnOr,
  woundOf,
  woundSite,
  writerOf,
} from './context.ts';

const item = (ctx: Context, id: string): CodeableConcept => ({
  coding: [{ system: PLAN_IDS, code: id }],
  text: plainText(ctx.itemNames.get(id)) ?? ctx.words.say('supplies:noName'),
});

/** A change of the dressing. */
export function changeProcedure(ctx: Context, entry: Entry<ChangeRecord>): BundleEntry {
  const { now, first } = entry;
  const { say } = ctx.words;
  const url = recordUrl(ctx, first.id);
  const plan = planOf(ctx, now);
  const path = now.stopped ? 'stopped' : now.path;
  const done = now.steps.filter((s) => s.state === 'done').length;
  return entryFor(ctx, url, {
    resourceType: 'Procedure',
    identifier: [identifierOf(url)],
    ...listed('basedOn', plan ? [refTo(ctx, 'plan', plan.id, String(plan.revision))] : []),
    status: withdrawnOr(entry, now.stopped ? 'stopped' : 'completed'),
    code: own('change', say(now.stopped ? 'log:kind.changeStopped' : 'log:kind.change')),
    subject: patientRef(ctx),
    performedPeriod: performed(entry),
    recorder: writerOf(ctx, first),
    performer: [{ actor: writerOf(ctx, first) }],
    bodySite: [woundSite(ctx, now, now.wound)],
    outcome: own(`path:${path}`, say('handOver:file.outcome', { path: say(`handOver:file.path.${path}`), done, count: now.steps.length })),
    ...listed('usedCode', usedCodes(ctx, entry)),
    ...listed('note', [...stepNotes(ctx, now), ...listOf(plainText(now.note)).map((text) => ({ text })), ...notesOf(ctx, entry)]),
  });
}

/** From the first step to the record. A clock that was set back in between leaves only the end known. */
function performed({ now, first }: Entry<ChangeRecord>): { start?: string; end: string } {
  const end = zonedTime(first.at, first.zone);
  return Date.parse(now.startedAt) <= Date.parse(first.at) ? { start: zonedTime(now.startedAt, first.zone), end } : { end };
}

/** The steps that were not done as planned, or that have words of their own. */
function stepNotes({ words: { say } }: Context, { steps }: ChangeRecord): Annotation[] {
  return steps.flatMap(({ step, state, note }) => {
    const said = plainText(note);
    if (state === 'done' && said === undefined) return [];
    const told = say('check:line', { question: say(`change:step.${step}.title`), answer: say(`log:state.${state}`) });
    return [{ text: said === undefined ? told : `${told}. ${said}` }];
  });
}

/**
 * What went on the wound: the pieces written down as used, else the dressings
 * of the recipe whose step was done. What was done another way is not guessed.
 */
function usedCodes(ctx: Context, { now, first }: Entry<ChangeRecord>): CodeableConcept[] {
  const used = ctx.usedAt.get(first.id);
  if (used) return used.map((id) => item(ctx, id));
  const wound = planOf(ctx, now) && woundOf(ctx, now, now.wound);
  const recipe = wound && now.band && now.path === 'recipe' ? recipeFor(wound, now.band) : undefined;
  const layers = (['primary', 'secondary'] as const).filter((layer) => now.steps.some((s) => s.step === layer && s.state === 'done'));
  return layers
    .flatMap((layer) => listOf(recipe?.[layer]))
    .map((dressing) => own(`family:${dressing.family}`, ctx.words.dressing(dressing)));
}

/** Supplies that came. What was used stands with the change; counts and waste are the household's own. */
export function delivery(ctx: Context, entry: Entry<RecordOf<'stock'>>): BundleEntry | undefined {
  const { now, first } = entry;
  if (now.movement !== 'received') return undefined;
  const url = recordUrl(ctx, first.id);
  return entryFor(ctx, url, {
    resourceType: 'SupplyDelivery',
    identifier: [identifierOf(url)],
    status: withdrawnOr(entry, 'completed'),
    patient: patientRef(ctx),
    suppliedItem: { quantity: { value: now.amount }, itemCodeableConcept: item(ctx, now.item) },
    occurrenceDateTime: whenOf(entry),
  });
}
