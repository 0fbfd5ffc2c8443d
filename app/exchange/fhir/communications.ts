import type { Annotation, BundleEntry, Communication } from 'fhir/r4';
import type { AlertRecord, RecordOf } from '../../care/log/records.ts';
import type { Entry } from '../../care/log/timeline.ts';
import { own } from './codes.ts';
import {
  type Context,
  entryFor,
  identifierOf,
  knownRefs,
  listed,
  listOf,
  notesOf,
  patientRef,
  plainText,
  planOf,
  recordUrl,
  whenOf,
  withdrawnOr,
  writerOf,
} from './context.ts';

function communication(
  ctx: Context,
  entry: Entry,
  status: Communication['status'],
  more: Partial<Communication>,
  notes: Annotation[] = [],
) {
  const url = recordUrl(ctx, entry.first.id);
  return entryFor(ctx, url, {
    resourceType: 'Communication',
    identifier: [identifierOf(url)],
    status: withdrawnOr(entry, status),
    subject: patientRef(ctx),
    sent: whenOf(entry),
    ...more,
    ...listed('note', [...notes, ...notesOf(ctx, entry)]),
  });
}

/** FHIR names four, mild to grave: routine, urgent, asap, stat. */
const PRIORITIES = { callToday: 'urgent', callNow: 'asap', emergency: 'stat' } as const;

/** What the app told the person to do, and why. As it was told: an alert cannot be corrected. */
export function alertCommunication(ctx: Context, entry: Entry<AlertRecord>): BundleEntry {
  const { first } = entry;
  const reasons = [...new Set(first.fired.map((rule) => ctx.words.reason(rule)))];
  const title = ctx.words.say(`alert:title.${first.told}`);
  return communication(ctx, entry, 'completed', {
    category: [own('alert', ctx.words.say('handOver:file.alert'))],
    priority: PRIORITIES[first.told],
    ...listed('about', knownRefs(ctx, [first.from], ['check', 'change'])),
    recipient: [patientRef(ctx)],
    sender: { type: 'Device', display: ctx.words.say('common:app') },
    ...listed(
      'reasonCode',
      reasons.map((text) => ({ text })),
    ),
    payload: [{ contentString: title }],
  });
}

/** What was done about alerts. A call that nobody answered is one that did not come about. */
export function outcomeCommunication(ctx: Context, entry: Entry<RecordOf<'outcome'>>): BundleEntry {
  const { now } = entry;
  const text = ctx.words.say(`alert:outcome.${now.what}`);
  const said = listOf(plainText(now.said));
  const toClinic = now.what === 'reached' || now.what === 'couldNotReach';
  const clinic = planOf(ctx, now)?.clinic.name;
  return communication(ctx, entry, now.what === 'couldNotReach' ? 'not-done' : 'completed', {
    category: [own('outcome', ctx.words.say('handOver:file.outcomeOf'))],
    ...listed('inResponseTo', knownRefs(ctx, now.alerts, ['alert'])),
    sender: writerOf(ctx, entry.first),
    ...listed('recipient', toClinic && clinic ? [{ type: 'Organization', display: clinic }] : []),
    topic: own(`outcome:${now.what}`, text),
    payload: [text, ...said].map((contentString) => ({ contentString })),
  });
}

/** A note of the person's, or a question for the next visit; undefined when it is empty. */
export function noteCommunication(ctx: Context, entry: Entry<RecordOf<'note'>>): BundleEntry | undefined {
  const { now } = entry;
  const text = plainText(now.text);
  if (text === undefined) return undefined;
  const kind = now.forVisit ? own('question', ctx.words.say('handOver:file.question')) : own('note', ctx.words.say('log:kind.note'));
  return communication(ctx, entry, 'completed', {
    category: [kind],
    sender: writerOf(ctx, entry.first),
    payload: [{ contentString: text }],
  });
}

/** That the person was at the clinic. The clinic has the visit itself, so this is word of it and no second one. */
export function visitCommunication(ctx: Context, entry: Entry<RecordOf<'visit'>>): BundleEntry {
  const { now } = entry;
  const kind = ctx.words.say('log:kind.visit');
  return communication(ctx, entry, 'completed', {
    category: [own('visit', kind)],
    sender: writerOf(ctx, entry.first),
    payload: [kind, ...listOf(plainText(now.note))].map((contentString) => ({ contentString })),
  });
}
