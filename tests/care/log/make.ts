import fc from 'fast-check';
import type { Answers } from '../../../app/care/check/answers.ts';
import {
  type AlertRecord,
  type ChangeRecord,
  type CheckRecord,
  type LogRecord,
  type RecordOf,
  readRecords,
} from '../../../app/care/log/records.ts';
import type { LocalDay } from '../../../app/care/schedule/day.ts';

/** Records of an invented log, all of one person with the demo plan. Times are UTC. */

type Base = Pick<LogRecord, 'id' | 'at' | 'day' | 'zone' | 'by' | 'device' | 'plan'>;

/** `2031-03-04T09:00` as a stamp in UTC. */
export const stamp = (id: string, at = '2031-03-04T09:00'): Base => ({
  id,
  at: `${at}:00.000Z`,
  day: at.slice(0, 10) as LocalDay,
  zone: 'UTC',
  by: { who: 'patient' },
  device: 'phone-1',
  plan: { id: 'alder-street-0417', revision: 1 },
});

const QUIET = { level: 'carryOn', told: 'carryOn', fired: [], quieted: [] } as const;

export const check = (id: string, at?: string, more: Partial<CheckRecord> = {}): CheckRecord => ({
  ...stamp(id, at),
  kind: 'check',
  person: { unwell: ['none'], temperature: { value: 36.8, unit: 'Cel' }, offloading: 'always' },
  feet: { left: { footColour: 'usual', pain: 'usual', warmth: 'same', swelling: 'usual' } },
  wounds: { w1: { dressing: 'dryInPlace', bleeding: 'none' } },
  judgement: { ...QUIET, fired: [], quieted: [] },
  ...more,
});

export const change = (id: string, at?: string, more: Partial<ChangeRecord> = {}): ChangeRecord => ({
  ...stamp(id, at),
  kind: 'change',
  wound: 'w1',
  startedAt: stamp(id, at).at,
  answers: { drainageAmount: 'light' } as Answers,
  band: 'light',
  path: 'recipe',
  steps: [{ step: 'remove', state: 'done' }],
  ...more,
});

export const alert = (id: string, at?: string, more: Partial<AlertRecord> = {}): AlertRecord => ({
  ...stamp(id, at),
  kind: 'alert',
  level: 'callToday',
  told: 'callToday',
  from: 'c1',
  fired: [{ rule: 'one-sign', level: 'callToday', findings: ['pain:more'] }],
  ...more,
});

export const outcome = (
  id: string,
  alerts: string[],
  what: RecordOf<'outcome'>['what'] = 'reached',
  at?: string,
  more: Partial<RecordOf<'outcome'>> = {},
): RecordOf<'outcome'> => ({ ...stamp(id, at), kind: 'outcome', alerts, what, ...more });

export const measurement = (id: string, at: string, lengthMm: number, widthMm: number, more: Partial<RecordOf<'measurement'>> = {}) =>
  ({ ...stamp(id, at), kind: 'measurement', wound: 'w1', method: 'ruler', lengthMm, widthMm, ...more }) as RecordOf<'measurement'>;

export const note = (id: string, at?: string, text = 'slept well', more: Partial<RecordOf<'note'>> = {}): RecordOf<'note'> => ({
  ...stamp(id, at),
  kind: 'note',
  text,
  ...more,
});

export const withdrawal = (id: string, target: string, at?: string): RecordOf<'void'> => ({ ...stamp(id, at), kind: 'void', target });

export const planAccepted = (id: string, at?: string): RecordOf<'planAccepted'> => ({
  ...stamp(id, at),
  kind: 'planAccepted',
  accepted: { id: 'alder-street-0417', revision: 1, clinic: 'Alder Street Foot Clinic' },
});

/** Records that a test takes for good ones must pass the schema they are stored under. */
export function mustBeRecords<R extends LogRecord>(records: readonly R[]): readonly R[] {
  const bad = readRecords(records).unreadable;
  if (bad.length > 0) throw new Error(`no record: ${JSON.stringify(bad)}`);
  return records;
}

/** Few ids and few times, so that corrections, ties and copies of one id are common. */
const ids = fc.constantFrom('a', 'b', 'c', 'd', 'e', 'f', 'g', 'h');
const times = fc.integer({ min: 0, max: 20 }).map((h) => `2031-03-04T${String(h).padStart(2, '0')}:00`);

/** Any small log: notes, corrections, withdrawals, checks, alerts and outcomes in any order. */
export const recordArb: fc.Arbitrary<LogRecord> = fc
  .record({ id: ids, at: times, kind: fc.nat(5), other: ids, text: fc.constantFrom('one', 'two', 'three'), amends: fc.boolean() })
  .map(({ id, at, kind, other, text, amends }): LogRecord => {
    const link = amends && other !== id ? { amends: other } : {};
    if (kind === 0) return note(id, at, text, link);
    if (kind === 1) return withdrawal(id, other, at);
    if (kind === 2) return alert(id, at);
    if (kind === 3) return outcome(id, [other], text === 'one' ? 'couldNotReach' : 'reached', at, link);
    if (kind === 4) return check(id, at, link);
    return change(id, at, { ...link, check: other });
  });

/** Logs as two phones could hold them: no id twice within one. */
export const logArb: fc.Arbitrary<LogRecord[]> = fc.uniqueArray(recordArb, { selector: (r) => r.id, maxLength: 8 });
