import { HOUR_MS } from '../schedule/day.ts';
import { itemsMoved, ledger } from '../supplies/ledger.ts';
import { usedRecordsOf } from '../supplies/uses.ts';
import type { AlertRecord, LogRecord, RecordOf } from './records.ts';
import { alertStates, type Entry, standing, timeline } from './timeline.ts';

/**
 * What two devices wrote that does not go together, for a person to judge.
 * Every entry stays in the log whatever is found here.
 *
 * Records do not say what their writer had seen, and clocks differ, so this
 * goes by one thing that cannot be wrong: as long as the last word on two
 * entries comes from two devices, nobody has judged them together. Judging
 * writes ordinary records (`keepOne`, `keepAll`) after which one device has the
 * last word on all of them, or one is left. Where two people judge the same
 * thing the opposite way before they meet, both entries are withdrawn: the
 * alert is then open again, the change due again, which errs to the safe side.
 */
export type Conflict =
  /** Two counts of one item within a day, which what came and went between them does not explain. */
  | { kind: 'counted'; key: string; item: string; entries: readonly Entry<RecordOf<'stock'>>[] }
  /** One alert with different outcomes. */
  | { kind: 'answered'; key: string; alert: AlertRecord; entries: readonly Entry<RecordOf<'outcome'>>[] }
  /** One wound with two changes within an hour: most likely one change, entered twice. */
  | { kind: 'changed'; key: string; wound: string; entries: readonly Entry<RecordOf<'change'>>[] }
  /** One record corrected on two devices in different ways. */
  | { kind: 'corrected'; key: string; entry: Entry; versions: readonly LogRecord[] };

/** Our own limits: two counts further apart are news of two days, two changes further apart are two changes. */
const COUNTS_WITHIN_MS = 24 * HOUR_MS;
const CHANGES_WITHIN_MS = HOUR_MS;

const timeOf = (e: Entry): number => Date.parse(e.first.at);
const fromTwo = (a: Entry, b: Entry): boolean => a.now.device !== b.now.device;
const keyOf = (kind: Conflict['kind'], ids: readonly string[]): string => `${kind}:${[...ids].sort().join('+')}`;
const firstIds = (entries: readonly Entry[]): string[] => entries.map((e) => e.first.id);

/** Neighbours in a list that two devices wrote close in time. */
function closePairs<R extends LogRecord>(entries: readonly Entry<R>[], withinMs: number): [Entry<R>, Entry<R>][] {
  return entries.slice(1).flatMap((later, i): [Entry<R>, Entry<R>][] => {
    const earlier = entries[i] as Entry<R>;
    return fromTwo(earlier, later) && timeOf(later) - timeOf(earlier) <= withinMs ? [[earlier, later]] : [];
  });
}

/**
 * Everything that waits for a person's judgement, oldest first.
 * @param records a whole log, or one that goes back at least a day before the time in question.
 */
export function conflicts(records: readonly LogRecord[]): Conflict[] {
  const entries = timeline(records);
  const withdrawn = new Set(records.flatMap((r) => (r.kind === 'void' ? [r.target] : [])));
  const found = [...countedTwice(entries), ...answeredTwice(entries), ...changedTwice(entries), ...correctedTwice(entries, withdrawn)];
  const began = (c: Conflict): number => Math.min(...entriesOf(c).map(timeOf));
  return found.sort((a, b) => began(a) - began(b) || (a.key < b.key ? -1 : 1));
}

/** The entries that a conflict is about, in time order. */
export const entriesOf = (conflict: Conflict): readonly Entry[] => (conflict.kind === 'corrected' ? [conflict.entry] : conflict.entries);

/** What a person chooses from: the entries, or the corrections of the one entry. */
export const choicesOf = (conflict: Conflict): readonly LogRecord[] =>
  conflict.kind === 'corrected' ? conflict.versions : conflict.entries.map((e) => e.now);

/** The part of a record that every kind has; a new one for each record. */
export type NewStamp = () => Pick<LogRecord, 'id' | 'at' | 'day' | 'zone' | 'by' | 'device' | 'plan'>;

/**
 * The records that say one choice is right and the others are not: the others
 * are withdrawn, with what a withdrawn change used, or corrected where they
 * are right about something else.
 * @param chosen one of `choicesOf`.
 * @param records the whole log.
 */
export function keepOne(conflict: Conflict, chosen: LogRecord, records: readonly LogRecord[], stamp: NewStamp): LogRecord[] {
  const withdraw = (target: string): LogRecord => ({ ...stamp(), kind: 'void', target });
  if (conflict.kind === 'corrected') {
    const anew = { ...chosen, ...stamp(), amends: conflict.entry.first.id } as LogRecord;
    return [anew, ...conflict.versions.map((v) => withdraw(v.id))];
  }
  const others = conflict.entries.filter((e) => e.now.id !== chosen.id);
  if (conflict.kind === 'answered') {
    return (others as Entry<RecordOf<'outcome'>>[]).map(({ first, now }) => {
      const alerts = now.alerts.filter((id) => id !== conflict.alert.id);
      return alerts.length > 0 ? { ...now, ...stamp(), alerts, amends: first.id } : withdraw(first.id);
    });
  }
  const entries = timeline(records);
  return others.flatMap(({ first }) => {
    const used = conflict.kind === 'changed' ? usedRecordsOf(entries, first.id).filter((e) => !e.voided) : [];
    return [withdraw(first.id), ...used.map((e) => withdraw(e.first.id))];
  });
}

/**
 * The records that say all choices are right: each is written again as it is,
 * so that one device has the last word on all of them. Of corrections only one
 * can be right.
 */
export function keepAll(conflict: Exclude<Conflict, { kind: 'corrected' }>, stamp: NewStamp): LogRecord[] {
  return conflict.entries.map(({ first, now }) => ({ ...now, ...stamp(), amends: first.id }) as LogRecord);
}

function countedTwice(entries: readonly Entry[]): Conflict[] {
  const stock = standing(entries, 'stock');
  return itemsMoved(entries).flatMap((item) => {
    const differences = new Map(ledger(entries, item).movements.map((m) => [m.id, m.difference]));
    const counts = stock.filter((e) => e.now.item === item && e.now.movement === 'counted');
    return closePairs(counts, COUNTS_WITHIN_MS)
      .filter(([, later]) => differences.get(later.first.id) !== 0)
      .map((pair) => ({ kind: 'counted' as const, key: keyOf('counted', firstIds(pair)), item, entries: pair }));
  });
}

function answeredTwice(entries: readonly Entry[]): Conflict[] {
  const outcomes = standing(entries, 'outcome');
  return alertStates(entries).flatMap(({ alert }) => {
    const own = outcomes.filter((e) => e.now.alerts.includes(alert.id));
    const differ = own.some((a) => own.some((b) => fromTwo(a, b) && a.now.what !== b.now.what));
    return differ ? [{ kind: 'answered' as const, key: keyOf('answered', [alert.id, ...firstIds(own)]), alert, entries: own }] : [];
  });
}

function changedTwice(entries: readonly Entry[]): Conflict[] {
  const changes = standing(entries, 'change').filter((e) => !e.now.stopped);
  return [...new Set(changes.map((e) => e.now.wound))].flatMap((wound) =>
    closePairs(
      changes.filter((e) => e.now.wound === wound),
      CHANGES_WITHIN_MS,
    ).map((pair) => ({ kind: 'changed' as const, key: keyOf('changed', firstIds(pair)), wound, entries: pair })),
  );
}

/** What a record says, without who says it, where and when. */
function saying(record: LogRecord): string {
  const { id: _id, at: _at, day: _day, zone: _zone, by: _by, device: _device, plan: _plan, amends: _amends, ...rest } = record;
  return JSON.stringify(rest);
}

function correctedTwice(entries: readonly Entry[], withdrawn: ReadonlySet<string>): Conflict[] {
  return entries.flatMap((entry) => {
    if (entry.voided) return [];
    const standing = entry.versions.slice(1).filter((v) => !withdrawn.has(v.id));
    // The last word of each device.
    const versions = [...new Map(standing.map((v) => [v.device, v])).values()];
    if (new Set(versions.map(saying)).size < 2) return [];
    const key = keyOf('corrected', [entry.first.id, ...versions.map((v) => v.id)]);
    return [{ kind: 'corrected' as const, key, entry, versions }];
  });
}
