import fc from 'fast-check';
import type { Answers } from '../../../app/care/check/answers.ts';
import { type QuestionId, question } from '../../../app/care/check/questions.ts';
import { AMENDABLE, type LogRecord } from '../../../app/care/log/records.ts';
import { addDays, type LocalDay } from '../../../app/care/schedule/day.ts';
import { alert, change, check, measurement, note, outcome, stamp } from '../log/make.ts';

/** The clock of the random logs, and the first day they may speak of. */
export const NOW = Date.parse('2031-05-20T15:00:00Z');
const FIRST = '2031-02-20' as LocalDay;
const LENGTH_DAYS = 90;

/** A day up to the clock's own and two beyond it, which only a wrong clock can have written. */
export const dayArb = fc.integer({ min: 0, max: LENGTH_DAYS + 2 }).map((n) => addDays(FIRST, n));
const timeArb = fc.tuple(dayArb, fc.integer({ min: 0, max: 23 })).map(([day, hour]) => `${day}T${String(hour).padStart(2, '0')}:00`);

const codeArb = (id: QuestionId) => fc.option(fc.constantFrom(...question(id).codes, 'unsure'), { nil: undefined });
const temperatureArb = fc.oneof(
  fc.record({
    value: fc.integer({ min: 340, max: 415 }).map((n) => n / 10),
    unit: fc.constant('Cel' as const),
    site: fc.constantFrom('mouth' as const, 'armpit' as const),
  }),
  fc.constantFrom('no' as const, 'unsure' as const, 'yes' as const).map((feelsFeverish) => ({ feelsFeverish })),
  fc.constant(undefined),
);
const given = (answers: Record<string, unknown>): Answers =>
  Object.fromEntries(Object.entries(answers).filter(([, a]) => a !== undefined)) as Answers;

const personArb = fc.record({ temperature: temperatureArb, offloading: codeArb('offloading'), unwell: fc.constant(['none']) }).map(given);
const footArb = fc.record({ pain: codeArb('pain'), warmth: codeArb('warmth'), footColour: codeArb('footColour') }).map(given);
const dressingArb = fc.record({ dressing: codeArb('dressing'), bleeding: codeArb('bleeding') }).map(given);
const lookArb = fc
  .record({ drainageAmount: codeArb('drainageAmount'), odour: codeArb('odour'), edge: codeArb('edge'), redness: codeArb('redness') })
  .map(given);
const woundArb = fc.constantFrom('w1', 'w2', 'gone');

/** A record without its id and its links. */
const bodyArb: fc.Arbitrary<(id: string, other: string) => LogRecord> = fc.oneof(
  fc.tuple(timeArb, personArb, footArb, footArb, dressingArb).map(
    ([at, person, left, right, w1]) =>
      (id: string) =>
        check(id, at, {
          person,
          feet: { left, right },
          wounds: { w1 },
          judgement: {
            level: 'mention',
            told: 'mention',
            fired: [{ rule: 'warm-once', level: 'mention', findings: ['warmth:measured'], params: { places: 'heel' } }],
            quieted: [],
          },
        }),
  ),
  fc.tuple(timeArb, woundArb, lookArb, fc.boolean()).map(
    ([at, wound, answers, stopped]) =>
      (id: string, other: string) =>
        change(id, at, { wound, answers, check: other, ...(stopped && { stopped }) }),
  ),
  timeArb.map((at) => (id: string) => alert(id, at)),
  fc.tuple(timeArb, fc.constantFrom('reached' as const, 'couldNotReach' as const)).map(
    ([at, what]) =>
      (id: string, other: string) =>
        outcome(id, [other], what, at),
  ),
  fc.tuple(timeArb, fc.integer({ min: 1, max: 60 }), fc.integer({ min: 1, max: 60 }), woundArb).map(
    ([at, length, width, wound]) =>
      (id: string) =>
        measurement(id, at, length, width, { wound }),
  ),
  fc.tuple(timeArb, fc.boolean()).map(
    ([at, forVisit]) =>
      (id: string) =>
        note(id, at, `note ${id}`, { forVisit }),
  ),
  timeArb.map(
    (at) =>
      (id: string): LogRecord => ({ ...stamp(id, at), kind: 'visit' }),
  ),
  fc.tuple(timeArb, fc.constantFrom('received' as const, 'used' as const, 'counted' as const, 'wasted' as const), fc.nat(20)).map(
    ([at, movement, amount]) =>
      (id: string): LogRecord => ({ ...stamp(id, at), kind: 'stock', item: 'foam', movement, amount }),
  ),
  fc.tuple(timeArb, woundArb).map(
    ([at, wound]) =>
      (id: string): LogRecord => ({ ...stamp(id, at), kind: 'photo', wound, photo: `bytes-${id}`, widthPx: 800, heightPx: 600 }),
  ),
  fc.tuple(timeArb, fc.integer({ min: 1, max: 3 })).map(
    ([at, revision]) =>
      (id: string): LogRecord => ({
        ...stamp(id, at),
        kind: 'planAccepted',
        accepted: { id: 'alder-street-0417', revision, clinic: 'Alder Street Foot Clinic' },
      }),
  ),
);

const idOf = (i: number): string => `r${i}`;

/** Records that stand by themselves: no corrections, no withdrawals. */
export const plainArb: fc.Arbitrary<LogRecord[]> = fc
  .array(fc.tuple(bodyArb, fc.nat(30)), { maxLength: 30 })
  .map((bodies) => bodies.map(([body, other], i) => body(idOf(i), idOf(other))));

/** Any log: some records corrected by another of their kind, some withdrawn. */
export const historyArb: fc.Arbitrary<LogRecord[]> = fc
  .tuple(plainArb, fc.array(fc.tuple(fc.nat(), fc.nat(), timeArb, fc.boolean()), { maxLength: 8 }))
  .map(([records, edits]) => [
    ...records,
    ...edits.flatMap(([target, like, at, voids], i): LogRecord[] => {
      const first = records[target % Math.max(1, records.length)];
      if (!first) return [];
      if (voids) return [{ ...stamp(`v${i}`, at), kind: 'void', target: first.id }];
      return correctionOf(records, first, like, `e${i}`, at);
    }),
  ]);

/** A correction of a record that takes over what another of its kind says. */
export function correctionOf(records: readonly LogRecord[], first: LogRecord, like: number, id: string, at: string): LogRecord[] {
  const others = records.filter((r) => r.kind === first.kind);
  const other = others[like % others.length];
  return other && AMENDABLE.includes(first.kind) ? [{ ...other, ...stamp(id, at), amends: first.id } as LogRecord] : [];
}
