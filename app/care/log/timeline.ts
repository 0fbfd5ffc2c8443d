import type { AlertRecord, LogRecord, RecordKind, RecordOf } from './records.ts';

/** A record as it now stands, with its past. */
export interface Entry<R extends LogRecord = LogRecord> {
  /** The record as corrected last, by a correction that was not itself withdrawn. Its `id` is that of the correction. */
  now: R;
  /** The first version; every reference to the record uses its id. */
  first: R;
  /** All versions, oldest first. */
  versions: readonly R[];
  /** The withdrawal, if it was withdrawn. */
  voided: RecordOf<'void'> | undefined;
}

/** Order in time; ids break ties so that every device sees one order. */
export function byTime(a: LogRecord, b: LogRecord): number {
  return Date.parse(a.at) - Date.parse(b.at) || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);
}

/**
 * Which of two records of one id stands. Only a damaged or forged copy brings
 * two contents under one id; the newer one is kept, and the same one everywhere.
 */
export function oneOfTwo(a: LogRecord, b: LogRecord): LogRecord {
  const newer = Date.parse(a.at) - Date.parse(b.at);
  return newer > 0 || (newer === 0 && JSON.stringify(a) < JSON.stringify(b)) ? a : b;
}

/** The union of two logs by id, in time order. Any order of merging, any number of times, gives the same. */
export function mergeLogs(a: readonly LogRecord[], b: readonly LogRecord[]): LogRecord[] {
  const byId = new Map<string, LogRecord>();
  for (const record of [...a, ...b]) {
    const other = byId.get(record.id);
    byId.set(record.id, other ? oneOfTwo(record, other) : record);
  }
  return [...byId.values()].sort(byTime);
}

/** The id of the record at the beginning of a chain of corrections. Records that correct each other in a ring each stand alone. */
function firstOf(record: LogRecord, byId: ReadonlyMap<string, LogRecord>): string {
  const seen = new Set([record.id]);
  let first = record;
  for (;;) {
    const before = first.amends === undefined ? undefined : byId.get(first.amends);
    if (!before) return first.id;
    if (seen.has(before.id)) return record.id;
    seen.add(before.id);
    first = before;
  }
}

/**
 * Every record as it stands, in the order the first versions were made.
 * Corrections are folded in, withdrawals are marked. A correction that was
 * itself withdrawn does not count. A correction of a record that is not here
 * stands as an entry of its own, so nothing is hidden.
 */
export function timeline(records: readonly LogRecord[]): Entry[] {
  const sorted = [...records].sort(byTime);
  const byId = new Map(sorted.filter((r) => r.kind !== 'void').map((r) => [r.id, r]));
  const voids = new Map<string, RecordOf<'void'>>();
  const versions = new Map<string, LogRecord[]>();
  for (const record of sorted) {
    if (record.kind === 'void') {
      if (!voids.has(record.target)) voids.set(record.target, record);
      continue;
    }
    const key = firstOf(record, byId);
    const chain = versions.get(key);
    if (chain) chain.push(record);
    else versions.set(key, [record]);
  }
  const entries: Entry[] = [];
  for (const [key, chain] of versions) {
    // A clock set back may put a correction before its original; the original still comes first.
    const first = chain.find((r) => r.id === key) ?? (chain[0] as LogRecord);
    const later = chain.filter((r) => r !== first && r.kind === first.kind);
    const strangers = chain.filter((r) => r !== first && r.kind !== first.kind);
    const now = later.findLast((r) => !voids.has(r.id)) ?? first;
    entries.push({ first, versions: [first, ...later], now, voided: voids.get(key) });
    for (const odd of strangers) entries.push({ first: odd, versions: [odd], now: odd, voided: voids.get(odd.id) });
  }
  return entries.sort((a, b) => byTime(a.first, b.first));
}

/** Standing entries of one kind: corrected, and not withdrawn. */
export function standing<K extends RecordKind>(entries: readonly Entry[], kind: K): Entry<RecordOf<K>>[] {
  return entries.filter((e) => e.first.kind === kind && !e.voided) as Entry<RecordOf<K>>[];
}

/** One standing record of a kind as it is now, by the id of its first version. */
export function standingOne<K extends RecordKind>(entries: readonly Entry[], kind: K, id: string | undefined): RecordOf<K> | undefined {
  return standing(entries, kind).find((e) => e.first.id === id)?.now;
}

/** An alert with what was recorded about it, latest last. */
export interface AlertState {
  alert: AlertRecord;
  outcomes: readonly RecordOf<'outcome'>[];
  /** Reached or in hospital: nothing more to do. A failed call keeps it open. */
  closed: boolean;
}

/** All alerts that were not withdrawn, oldest first, as they were raised: nothing may correct an alert to a milder one. */
export function alertStates(entries: readonly Entry[]): AlertState[] {
  const outcomes = standing(entries, 'outcome').map((e) => e.now);
  return standing(entries, 'alert').map((e) => {
    const own = outcomes.filter((o) => o.alerts.includes(e.first.id));
    return { alert: e.first, outcomes: own, closed: own.some((o) => o.what !== 'couldNotReach') };
  });
}

/** Alerts nobody has answered yet, gravest first, then newest. */
export function openAlerts(entries: readonly Entry[]): AlertState[] {
  const order = ['emergency', 'callNow', 'callToday'];
  return alertStates(entries)
    .filter((s) => !s.closed)
    .sort((a, b) => order.indexOf(a.alert.told) - order.indexOf(b.alert.told) || byTime(b.alert, a.alert));
}
