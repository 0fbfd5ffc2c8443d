import fc from 'fast-check';
import { type AreaSize, sizesOf, withArea } from '../../../app/care/healing/sizes.ts';
import { type LogRecord, MEASURE_METHODS, type RecordOf } from '../../../app/care/log/records.ts';
import { timeline } from '../../../app/care/log/timeline.ts';
import { addDays, DAY_MS, type LocalDay } from '../../../app/care/schedule/day.ts';
import { mustBeRecords, stamp } from '../log/make.ts';

/** Invented sizes of wound w1; day 0 is 2031-03-03. */

export const DAY_0 = '2031-03-03' as LocalDay;
export const dayAt = (n: number): LocalDay => addDays(DAY_0, n);
export const AFTER_ALL = Date.parse('2040-01-01T00:00:00Z');

type Measurement = RecordOf<'measurement'>;
export type Measured = Partial<Omit<Measurement, 'kind' | 'wound'>>;

/** A measurement at 09:00 UTC of a day, with nothing measured unless given. */
export const measuredOn = (n: number, measured: Measured): Measurement => ({
  ...stamp(`m${n}`, `${dayAt(n)}T09:00`),
  kind: 'measurement',
  wound: 'w1',
  method: 'ruler',
  ...measured,
});

/** Traced areas (mm²) by day, through the schema and the timeline as the app would read them. */
export const traced = (areas: readonly (readonly [day: number, areaMm2: number])[], more: Measured = {}): AreaSize[] =>
  sizesFrom(areas.map(([n, areaMm2]) => measuredOn(n, { method: 'trace', areaMm2, ...more })));

export const sizesFrom = (records: readonly LogRecord[]): AreaSize[] =>
  withArea(sizesOf(timeline(mustBeRecords(records)), { id: 'w1' }, AFTER_ALL));

/** One ellipse by its diameters in mm. */
export const ellipseOn = (n: number, lengthMm: number, widthMm: number, more: Measured = {}): AreaSize =>
  sizesFrom([measuredOn(n, { lengthMm, widthMm, ...more })])[0] as AreaSize;

/** Every size that the schema lets pass, the absurd ones too; days and instants need not agree. */
const mm = fc.oneof(fc.double({ min: 0.1, max: 400, noNaN: true }), fc.double({ min: Number.MIN_VALUE, max: 400, noNaN: true }));
const area = fc.oneof(
  fc.double({ min: 0, max: 160_000, noNaN: true }),
  fc.integer({ min: 0, max: 400 }),
  fc.constantFrom(0, Number.MIN_VALUE, 160_000),
);
const perimeter = fc.double({ min: Number.MIN_VALUE, max: 4000, noNaN: true });
const optional = <T>(arb: fc.Arbitrary<T>) => fc.option(arb, { nil: undefined });
const oddDays = fc.oneof(
  { weight: 8, arbitrary: fc.integer({ min: 0, max: 120 }).map(dayAt) },
  {
    weight: 1,
    arbitrary: fc.constantFrom('0100-01-01', '9999-12-31', '2031-02-28') as fc.Arbitrary<LocalDay>,
  },
);

export const anyMeasurement = (id: string): fc.Arbitrary<Measurement> =>
  fc
    .record({
      at: fc.integer({ min: 0, max: 120 * 24 }),
      day: optional(oddDays),
      method: fc.constantFrom(...MEASURE_METHODS),
      wound: fc.constantFrom('w1', 'w1', 'w1', 'w2'),
      sizes: fc.record({
        lengthMm: optional(mm),
        widthMm: optional(mm),
        depthMm: optional(mm),
        areaMm2: optional(area),
        perimeterMm: optional(perimeter),
      }),
      amends: optional(fc.constantFrom('r0', 'r1', 'r2')),
    })
    .map(({ at, day, method, wound, sizes, amends }): Measurement => {
      const when = new Date(Date.parse(`${DAY_0}T00:00:00Z`) + at * (DAY_MS / 24)).toISOString();
      return {
        ...stamp(id),
        at: when,
        day: day ?? (when.slice(0, 10) as LocalDay),
        kind: 'measurement',
        method,
        wound,
        ...sizes,
        ...(amends !== undefined && amends !== id ? { amends } : {}),
      };
    });

const anything: fc.Arbitrary<Measurement[]> = fc
  .integer({ min: 0, max: 14 })
  .chain((n) => fc.tuple(...Array.from({ length: n }, (_, i) => anyMeasurement(`r${i}`))));

/** About weekly measurements of a wound with a course of its own, by one method or by several. */
const plausible: fc.Arbitrary<Measurement[]> = fc
  .record({
    methods: fc.uniqueArray(fc.constantFrom(...MEASURE_METHODS), { minLength: 1, maxLength: 2 }),
    first: fc.double({ min: 5, max: 60, noNaN: true }),
    weekly: fc.double({ min: 0.75, max: 1.08, noNaN: true }),
    rounds: fc.array(
      fc.record({
        off: fc.integer({ min: -2, max: 2 }),
        scatter: fc.double({ min: 0.85, max: 1.15, noNaN: true }),
        pick: fc.nat({ max: 1 }),
        gone: fc.nat({ max: 60 }).map((n) => n === 0),
      }),
      { maxLength: 14 },
    ),
  })
  .map(({ methods, first, weekly, rounds }) =>
    rounds.map(({ off, scatter, pick, gone }, i): Measurement => {
      const lengthMm = Math.min(400, first * weekly ** i * scatter);
      const day = Math.max(0, 7 * i + off);
      const method = methods[pick % methods.length] ?? 'ruler';
      const size = gone ? { areaMm2: 0 } : method === 'trace' ? { areaMm2: 0.6 * lengthMm ** 2 } : { lengthMm, widthMm: 0.8 * lengthMm };
      return { ...measuredOn(day, { method, ...size }), id: `r${i}` };
    }),
  );

/** Any log of measurements, corrections and withdrawals, most of them such as a person could make; ids are r0, r1 … */
export const anySizeLog: fc.Arbitrary<LogRecord[]> = fc
  .oneof({ weight: 3, arbitrary: plausible }, { weight: 1, arbitrary: anything })
  .chain((measured) =>
    optional(fc.nat({ max: Math.max(0, measured.length - 1) })).map((target): LogRecord[] => [
      ...measured,
      ...(target === undefined ? [] : [{ ...stamp('v'), kind: 'void' as const, target: `r${target}` }]),
    ]),
  );
