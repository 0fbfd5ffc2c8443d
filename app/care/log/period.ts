import type { LocalDay } from '../schedule/day.ts';
import type { LogRecord } from './records.ts';
import { type Entry, openAlerts, timeline } from './timeline.ts';

/** The records that one record refers to by id. */
function namedBy(record: LogRecord): readonly string[] {
  const own = [record.amends];
  if (record.kind === 'void') own.push(record.target);
  if (record.kind === 'outcome') own.push(...record.alerts);
  if (record.kind === 'alert') own.push(record.from);
  if (record.kind === 'change') own.push(record.check);
  if (record.kind === 'stock' || record.kind === 'weighing') own.push(record.change);
  return own.filter((id) => id !== undefined);
}

/** The records of which one refers to another as its correction, withdrawal or outcome. */
const speaksOf = (record: LogRecord): readonly string[] =>
  record.kind === 'void' ? [record.target] : record.kind === 'outcome' ? record.alerts : record.amends === undefined ? [] : [record.amends];

/**
 * The part of a log from a day on, such that it can be read alone: with it come
 * the older records that it refers to, alerts that nobody has answered however
 * old they are, and of all of these the corrections, withdrawals and outcomes.
 * In the order they came in.
 * @param besides older entries that are wanted too, with their corrections and
 *   withdrawals, but without what they refer to.
 */
export function recordsSince(records: readonly LogRecord[], from: LocalDay, besides: readonly Entry[] = []): LogRecord[] {
  const byId = new Map(records.map((r) => [r.id, r]));
  const open = openAlerts(timeline(records)).map((s) => s.alert);
  const kept = new Set<LogRecord>();
  const take = (start: readonly LogRecord[]): void => {
    const waiting = [...start];
    for (let record = waiting.pop(); record; record = waiting.pop()) {
      if (kept.has(record)) continue;
      kept.add(record);
      for (const id of namedBy(record)) {
        const named = byId.get(id);
        if (named) waiting.push(named);
      }
    }
  };
  take([...records.filter((r) => r.day >= from), ...open]);
  for (const { versions, voided } of besides) for (const record of voided ? [...versions, voided] : versions) kept.add(record);
  for (let before = -1; before !== kept.size; ) {
    before = kept.size;
    const ids = new Set([...kept].map((r) => r.id));
    take(records.filter((r) => !kept.has(r) && speaksOf(r).some((id) => ids.has(id))));
  }
  return records.filter((r) => kept.has(r));
}
