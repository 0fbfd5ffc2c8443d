import fc from 'fast-check';
import type { LogRecord } from '../../../app/care/log/records.ts';
import { type Entry, mergeLogs, timeline } from '../../../app/care/log/timeline.ts';
import { DAY_MS, type LocalDay } from '../../../app/care/schedule/day.ts';
import { alert, change, mustBeRecords, note, outcome, withdrawal } from './make.ts';

const PHONES = ['phone-1', 'phone-2', 'phone-3'] as const;
const START = Date.parse('2031-03-04T09:00:00Z');

const ACTS = ['meet', 'correct', 'withdraw', 'change', 'alert', 'answer', 'count', 'note'] as const;
interface Step {
  phone: number;
  act: (typeof ACTS)[number];
  /** Chance for this step: which record, which amount. */
  pick: number;
  minutes: number;
  /** The phone whose log is taken in. */
  other: number;
}

const stepArb: fc.Arbitrary<Step> = fc.record({
  phone: fc.nat(2),
  act: fc.constantFrom(...ACTS, 'meet', 'correct', 'correct', 'answer'),
  pick: fc.nat(1_000),
  minutes: fc.oneof(fc.nat(20), fc.nat(240)),
  other: fc.nat(2),
});

const oneOf = <T>(list: readonly T[], pick: number): T | undefined => list[pick % Math.max(1, list.length)];

/** A correction of what a phone knows. */
function correction({ first, now }: Entry, pick: number): LogRecord | undefined {
  const amends = first.id;
  if (now.kind === 'note') return { ...now, text: `note ${pick % 3}`, amends };
  if (now.kind === 'stock') return { ...now, amount: pick % 5, amends };
  return now.kind === 'outcome' ? { ...now, said: `said ${pick % 3}`, amends } : undefined;
}

/** What one phone writes, from what it knows; its stamp is put on afterwards. */
function written({ act, pick }: Step, known: readonly Entry[], id: string): LogRecord | undefined {
  const any = oneOf(known, pick);
  const raised = oneOf(
    known.filter((e) => e.first.kind === 'alert'),
    pick,
  );
  if (act === 'correct') return any && correction(any, pick);
  if (act === 'withdraw') return any && withdrawal(id, oneOf(any.versions, pick)?.id ?? '');
  if (act === 'change') return change(id);
  if (act === 'alert') return alert(id);
  if (act === 'answer') return raised && outcome(id, [raised.first.id], pick % 2 ? 'reached' : 'couldNotReach');
  const { text: _text, ...bare } = note(id);
  if (act === 'count') return { ...bare, kind: 'stock', item: 'gauze', movement: 'counted', amount: pick % 5 };
  return note(id, undefined, `note ${pick % 3}`);
}

/**
 * Logs as three phones write them: each with a clock of its own that may be
 * days off, each correcting and withdrawing what it knows of, and now and then
 * one takes in another's log.
 */
export const historiesArb: fc.Arbitrary<LogRecord[][]> = fc
  .tuple(
    fc.array(stepArb, { minLength: 4, maxLength: 30, size: 'max' }),
    fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 3, maxLength: 3 }),
    fc.boolean(),
  )
  .map(([steps, skews, areRight]) => {
    const logs: LogRecord[][] = [[], [], []];
    let now = START;
    for (const [count, step] of steps.entries()) {
      now += step.minutes * 60_000;
      const own = logs[step.phone] as LogRecord[];
      if (step.act === 'meet') {
        logs[step.phone] = mergeLogs(own, logs[step.other] as LogRecord[]);
        continue;
      }
      const id = `${PHONES[step.phone]}-${count}`;
      const at = new Date(now + (areRight ? 0 : (skews[step.phone] as number)) * DAY_MS).toISOString();
      const made = written(
        step,
        timeline(own).filter((e) => !e.voided),
        id,
      );
      if (made) own.push({ ...made, id, at, day: at.slice(0, 10) as LocalDay, device: PHONES[step.phone] as string });
    }
    for (const log of logs) mustBeRecords(log);
    return logs;
  });
