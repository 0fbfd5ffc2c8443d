import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Answers } from '../../../app/care/check/answers.ts';
import { BANDS, type Band, type Code, question } from '../../../app/care/check/questions.ts';
import { drainageOf } from '../../../app/care/drainage/drainage.ts';
import { CHANGE_PATHS, type ChangeRecord, type LogRecord, STEP_STATES } from '../../../app/care/log/records.ts';
import { timeline } from '../../../app/care/log/timeline.ts';
import { HOUR_MS } from '../../../app/care/schedule/day.ts';
import { anyMeasurement } from '../healing/make-sizes.ts';
import { change, check, mustBeRecords, stamp } from '../log/make.ts';
import { twoWoundPlan } from '../plan/plans.ts';
import { changed, LATER, PLAN } from './log.ts';

/** Any log of changes, checks, weighings, sizes, corrections and withdrawals that the schema lets pass. */

const optional = <T>(arb: fc.Arbitrary<T>) => fc.option(arb, { nil: undefined });
const code = (id: 'dressing' | 'edge') => fc.constantFrom(...question(id).codes, 'unsure') as fc.Arbitrary<never>;
const dressing = code('dressing');
const wound = fc.constantFrom('w1', 'w1', 'w1', 'w2', 'w9', 'toString');
const answers = fc.record({
  drainageAmount: optional(fc.constantFrom(...BANDS, 'unsure')),
  edge: optional(code('edge')),
  dressing: optional(dressing),
});
const planRef = fc.constantFrom(PLAN, PLAN, PLAN, { id: PLAN.id, revision: 7 }, null).map((p) => p && { id: p.id, revision: p.revision });
const START = Date.parse('2031-03-03T00:00:00Z');

const one = (id: string): fc.Arbitrary<LogRecord> =>
  fc.oneof(
    { weight: 5, arbitrary: changeArb(id) },
    { weight: 3, arbitrary: checkArb(id) },
    { weight: 1, arbitrary: weighingArb(id) },
    { weight: 1, arbitrary: anyMeasurement(id) },
    { weight: 1, arbitrary: fc.constantFrom('r0', 'r1', 'r2').map((target): LogRecord => ({ ...stamp(id), kind: 'void', target })) },
  );

const place = fc.integer({ min: 0, max: 400 }).map((h) => {
  const at = new Date(START + h * HOUR_MS).toISOString();
  return { at, day: at.slice(0, 10) as never };
});
const amends = (id: string) => optional(fc.constantFrom('r0', 'r1', 'r2').filter((other) => other !== id));

const changeArb = (id: string): fc.Arbitrary<LogRecord> =>
  fc
    .record({
      place,
      wound,
      plan: planRef,
      answers: optional(answers),
      band: optional(fc.constantFrom(...BANDS)),
      path: fc.constantFrom(...CHANGE_PATHS),
      stopped: optional(fc.boolean()),
      check: optional(fc.constantFrom('r0', 'r1', 'r2', 'gone')),
      steps: fc.array(
        fc.record({
          step: fc.constantFrom('remove', 'primary', 'secondary', 'dryDressing' as const),
          state: fc.constantFrom(...STEP_STATES),
        }),
      ),
      amends: amends(id),
    })
    .map(({ place: where, answers: given, ...more }): LogRecord => {
      const { band: _, answers: __, ...plain } = change(id);
      const clean = Object.fromEntries(Object.entries({ ...more, answers: given && without(given) }).filter(([, v]) => v !== undefined));
      return { ...plain, ...where, startedAt: where.at, ...clean } as LogRecord;
    });
const without = (given: object): Answers => Object.fromEntries(Object.entries(given).filter(([, v]) => v !== undefined)) as Answers;

const checkArb = (id: string): fc.Arbitrary<LogRecord> =>
  fc.record({ place, wound, dressing, amends: amends(id) }).map(
    ({ place: where, wound: own, dressing: seen, amends: of }): LogRecord => ({
      ...check(id, undefined, { wounds: { [own]: { dressing: seen } } }),
      ...where,
      ...(of === undefined ? {} : { amends: of }),
    }),
  );

const weighingArb = (id: string): fc.Arbitrary<LogRecord> => {
  const grams = fc.double({ min: 0, max: 5000, noNaN: true });
  const absurd = fc.record({
    dryG: grams,
    usedG: grams,
    stepG: fc.double({ min: Number.MIN_VALUE, max: 100, noNaN: true }),
    hours: fc.double({ min: Number.MIN_VALUE, max: 744, noNaN: true }),
  });
  const kitchen = fc.record({
    dryG: fc.integer({ min: 5, max: 20 }),
    usedG: fc.integer({ min: 0, max: 40 }),
    stepG: fc.constantFrom(0.1, 1, 5),
    hours: fc.integer({ min: 4, max: 100 }),
  });
  return fc
    .tuple(place, wound, fc.oneof(kitchen, absurd))
    .map(([where, own, w]): LogRecord => ({ ...stamp(id), ...where, kind: 'weighing', wound: own, ...w }));
};

const anything = fc.integer({ min: 0, max: 16 }).chain((n) => fc.tuple(...Array.from({ length: n }, (_, i) => one(`r${i}`))));

/** Mostly the usual, sometimes one of the others. */
const often = <T>(usual: T, ...others: NoInfer<T>[]): fc.Arbitrary<T> =>
  fc.oneof({ weight: 6, arbitrary: fc.constant(usual) }, { weight: 2, arbitrary: fc.constantFrom(usual, ...others) });
const habit = fc.record({
  amount: fc.constantFrom(...BANDS),
  edge: often<Code<'edge'>>('usual', 'whiteSoggy'),
  more: fc.constantFrom<Partial<ChangeRecord>>({}, {}, { band: 'light', path: 'recipe' }),
});
/** Changes every second day or so, as one person makes them under the plan: much the same each time. */
const plausible: fc.Arbitrary<LogRecord[]> = habit
  .chain((usual) =>
    fc.array(
      fc.record({
        gap: fc.constantFrom(2, 2, 1, 3),
        amount: often<Band | 'unsure'>(usual.amount, ...BANDS, 'unsure'),
        edge: often<Code<'edge'>>(usual.edge, 'usual', 'whiteSoggy', 'unsure'),
        dressing: often<Code<'dressing'>>('dryInPlace', 'markedThrough', 'leaking', 'wetFromOutside', 'loose', 'unsure'),
        more: often<Partial<ChangeRecord>>(usual.more, { stopped: true }),
      }),
      { maxLength: 9 },
    ),
  )
  .map((rounds) => {
    let day = 2;
    return rounds.map(({ gap, amount, edge, dressing: seen, more }, i) => {
      day += gap;
      return { ...changed(day, { drainageAmount: amount, edge, dressing: seen }, more), id: `r${i}` };
    });
  });
const anyLog: fc.Arbitrary<LogRecord[]> = fc.oneof({ weight: 2, arbitrary: plausible }, { weight: 1, arbitrary: anything });
const anyNow = fc.integer({ min: 0, max: 420 }).map((h) => START + h * HOUR_MS);
const plans = fc.constantFrom(PLAN, twoWoundPlan());
const zones = fc.constantFrom('UTC', 'America/Chicago', 'Pacific/Kiritimati');
const drainage = (log: readonly LogRecord[], now: number, id = 'w1', plan = PLAN, zone = 'UTC') =>
  drainageOf(plan, timeline(mustBeRecords(log)), id, now, zone, {});

describe('the drainage of a wound, for any log that the schema lets pass', () => {
  it('never throws, holds every change once and in order, and no number is endless', () => {
    fc.assert(
      fc.property(anyLog, anyNow, wound, plans, zones, (log, now, id, plan, zone) => {
        const { changes, weighed } = drainage(log, now, id, plan, zone);
        const ids = changes.map((c) => c.found.id);
        expect(new Set(ids).size).toBe(ids.length);
        const times = changes.map((c) => c.found.at);
        expect(times).toEqual([...times].sort((a, b) => a - b));
        expect(changes.every(({ found }) => found.wearHours === undefined || found.wearHours >= 0)).toBe(true);
        for (const { result } of weighed) {
          if (result.kind !== 'rate') continue;
          for (const { low, value, high } of [result.gPerDay, ...(result.gPerCm2Day ? [result.gPerCm2Day] : [])]) {
            expect(0 < low && low <= value && value <= high && Number.isFinite(high)).toBe(true);
          }
        }
      }),
      { numRuns: 600 },
    );
  });

  it('the random logs hold what the properties are about', () => {
    const seen = fc.sample(anyLog, 400).map((log) => drainage(log, LATER));
    const verdicts = seen.flatMap((d) => d.changes.map((c) => c.verdict));
    for (const verdict of ['fits', 'tooWet', 'tooDry', 'unknown']) expect(verdicts.filter((v) => v === verdict).length).toBeGreaterThan(20);
    const says = seen.map((d) => d.finding?.says);
    for (const say of ['tooWet', 'tooDry'] as const) expect(says.filter((x) => x === say).length).toBeGreaterThan(2);
    const weighed = seen.flatMap((d) => d.weighed.map((w) => w.result.kind));
    for (const kind of ['rate', 'belowWhatTheScaleSees', 'lighterThanDry']) expect(weighed).toContain(kind);
  });

  it('is the same in whatever order the records came', () => {
    const shuffled = anyLog.chain((log) => fc.tuple(fc.constant(log), fc.shuffledSubarray(log, { minLength: log.length })));
    fc.assert(
      fc.property(shuffled, anyNow, ([log, other], now) => {
        expect(drainage(other, now)).toEqual(drainage(log, now));
      }),
    );
  });

  it('says that a dressing fits only where everything was seen, and never with a reason against it', () => {
    fc.assert(
      fc.property(anyLog, anyNow, (log, now) => {
        for (const { verdict, reasons, found } of drainage(log, now).changes) {
          expect(verdict === 'tooWet' || verdict === 'tooDry' ? reasons.length > 0 : true).toBe(true);
          if (verdict !== 'fits') continue;
          expect(reasons).toEqual([]);
          expect(BANDS).toContain(found.amount);
          expect(found).toMatchObject({ soggyEdge: false, outside: { wetFromOutside: false, gaveWayEarly: false } });
          expect(found.worn).toBeDefined();
        }
      }),
      { numRuns: 600 },
    );
  });

  it('a line for the clinic rests on two changes or more that say the same, none of which fits', () => {
    fc.assert(
      fc.property(anyLog, anyNow, (log, now) => {
        const { changes, finding } = drainage(log, now);
        if (!finding) return;
        expect(finding.changes.length).toBeGreaterThanOrEqual(2);
        expect(finding.changes.every((c) => c.verdict === finding.says)).toBe(true);
        const [first, last] = [finding.changes[0], finding.changes.at(-1)].map((c) => changes.findIndex((x) => x.found.id === c?.found.id));
        const between = changes.slice(first, (last ?? 0) + 1).filter((c) => c.verdict !== 'unknown');
        expect(between).toEqual(finding.changes);
        expect(changes.slice((last ?? 0) + 1).every((c) => c.verdict === 'unknown')).toBe(true);
      }),
      { numRuns: 600 },
    );
  });

  it('a part of it is that part of the whole', () => {
    fc.assert(
      fc.property(anyLog, anyNow, anyNow, (log, now, since) => {
        const entries = timeline(mustBeRecords(log));
        const whole = drainageOf(PLAN, entries, 'w1', now, 'UTC', {});
        const part = drainageOf(PLAN, entries, 'w1', now, 'UTC', { since });
        expect(part.changes).toEqual(whole.changes.filter((c) => c.found.at >= since));
        expect(part.weighed).toEqual(whole.weighed.filter((w) => w.at >= since));
      }),
    );
  });
});
