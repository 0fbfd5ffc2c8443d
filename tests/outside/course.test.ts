import fc from 'fast-check';
import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import regression from 'regression';
import { describe, expect, it } from 'vitest';
import { courseAt, courseOf, type FittedCourse, RANGE_SHARE } from '../../app/care/healing/course.ts';
import { tQuantile } from '../../app/care/healing/student.ts';
import { dayAt, traced } from '../care/healing/make-sizes.ts';

/** The fitted course and its ranges against independent libraries and tables. */

type Points = readonly (readonly [day: number, areaMm2: number])[];
function fitted(points: Points): FittedCourse {
  const course = courseOf(traced(points));
  if (course.kind !== 'fitted') throw new Error(`no course: ${JSON.stringify(course)}`);
  return course;
}
const startOf = (course: FittedCourse): number => courseAt(course, course.from)?.areaMm2 ?? Number.NaN;
const inWeeks = (points: Points): [number, number][] => points.map(([n, a]) => [n / 7, a]);
const PRECISE = { precision: 12 };

/** Weekly areas with some days off and a scatter, from a seed that fast-check draws. */
const noisy: fc.Arbitrary<Points> = fc
  .array(fc.record({ off: fc.integer({ min: 0, max: 3 }), scatter: fc.double({ min: -0.2, max: 0.2, noNaN: true }) }), {
    minLength: 5,
    maxLength: 20,
  })
  .chain((list) =>
    fc.tuple(fc.double({ min: 50, max: 3000, noNaN: true }), fc.double({ min: -0.1, max: 0.4, noNaN: true })).map(
      ([a0, k]): Points =>
        list.map(({ off, scatter }, i) => {
          const day = 7 * i + (i === 0 ? 0 : off);
          return [day, a0 * Math.exp((-k * day) / 7 + scatter)];
        }),
    ),
  );
/** The same without scatter. */
const exact: fc.Arbitrary<{ points: Points; a0: number; k: number }> = fc
  .record({
    a0: fc.double({ min: 50, max: 3000, noNaN: true }),
    k: fc.double({ min: -0.1, max: 0.4, noNaN: true }),
    n: fc.integer({ min: 5, max: 16 }),
  })
  .map(({ a0, k, n }) => ({ a0, k, points: Array.from({ length: n }, (_, i) => [7 * i, a0 * Math.exp(-k * i)] as const) }));

describe('a0·e^(−kt) by least squares on ln(area)', () => {
  it('is the straight line through ln(area) that the library regression 2.0 finds', () => {
    fc.assert(
      fc.property(noisy, (points) => {
        const course = fitted(points);
        const { equation } = regression.linear(
          inWeeks(points).map(([week, a]) => [week, Math.log(a)]),
          PRECISE,
        );
        expect(course.ratePerWeek.value).toBeCloseTo(-equation[0], 9);
        expect(Math.log(startOf(course))).toBeCloseTo(equation[1], 9);
      }),
    );
  });

  it('on exact exponential data is what the same library’s exponential fit finds, which weighs the points otherwise', () => {
    fc.assert(
      fc.property(exact, ({ points, a0, k }) => {
        const { equation } = regression.exponential(inWeeks(points), PRECISE);
        const course = fitted(points);
        expect(equation[0] / a0).toBeCloseTo(1, 6);
        expect(equation[1]).toBeCloseTo(-k, 6);
        expect(course.ratePerWeek.value).toBeCloseTo(-equation[1], 6);
        expect(startOf(course) / equation[0]).toBeCloseTo(1, 6);
      }),
    );
  });

  it('on exact exponential data is what Levenberg and Marquardt’s nonlinear fit finds (ml-levenberg-marquardt 5.1)', () => {
    fc.assert(
      fc.property(exact, ({ points }) => {
        const data = { x: inWeeks(points).map(([w]) => w), y: points.map(([, a]) => a) };
        const course = fitted(points);
        const fit = levenbergMarquardt(
          data,
          ([a = 0, k = 0]) =>
            (x) =>
              a * Math.exp(-k * x),
          {
            initialValues: [data.y[0] as number, 0.1],
            jacobianFunction:
              ([a = 0, k = 0]) =>
              (x) => [Math.exp(-k * x), -a * x * Math.exp(-k * x)],
            maxIterations: 500,
            errorTolerance: 1e-12,
          },
        );
        const [a0, k] = fit.parameterValues as [number, number];
        expect(course.ratePerWeek.value).toBeCloseTo(k, 5);
        expect(startOf(course) / a0).toBeCloseTo(1, 5);
      }),
      { numRuns: 100 },
    );
  });

  it('with scatter both lie within the stated range of each other nearly always', () => {
    let within = 0;
    let all = 0;
    fc.assert(
      fc.property(noisy, (points) => {
        const { low, high } = fitted(points).ratePerWeek;
        const k = -regression.exponential(inWeeks(points), PRECISE).equation[1];
        all += 1;
        if (low <= k && k <= high) within += 1;
      }),
    );
    expect(within / all).toBeGreaterThan(0.9);
  });
});

describe('the ranges, against SciPy 1.17.1 (scipy.stats.linregress and t.ppf)', () => {
  const course = fitted([
    [0, 276.5],
    [7, 240.1],
    [15, 221.0],
    [21, 180.4],
    [28, 171.9],
    [36, 150.2],
  ]);

  it('of the rate', () => {
    expect(RANGE_SHARE).toBe(0.95);
    expect(course.ratePerWeek.value).toBeCloseTo(0.11923996106679066, 12);
    expect(course.ratePerWeek.low).toBeCloseTo(0.09443066266750617, 10);
    expect(course.ratePerWeek.high).toBeCloseTo(0.14404925946607516, 10);
    expect(course.line.sd).toBeCloseTo(0.038014418870017094, 12);
  });

  it.each([
    ['the first day', 0, 273.97194488823027, [253.79603780406032, 295.751766793889], undefined],
    ['the last', 36, 148.3822366938861, [137.3205342838273, 160.33500219838203], [130.1730173994167, 169.1386479789713]],
    ['a week on', 43, 131.7032997748965, undefined, [113.95493148522291, 152.21595893676223]],
  ] as const)('of the area on %s', (_name, n, area, curve, single) => {
    const point = courseAt(course, dayAt(n));
    expect(point?.areaMm2).toBeCloseTo(area, 8);
    for (const end of [0, 1] as const) {
      if (curve) expect(point?.course[end]).toBeCloseTo(curve[end], 6);
      if (single) expect(point?.single[end]).toBeCloseTo(single[end], 6);
    }
  });
});

describe('quantiles of Student’s t', () => {
  // Table of upper critical values, NIST/SEMATECH e-Handbook of Statistical Methods 1.3.6.7.2 (from memory; three decimals).
  it.each([
    [1, 3.078, 6.314, 12.706, 63.657],
    [2, 1.886, 2.92, 4.303, 9.925],
    [3, 1.638, 2.353, 3.182, 5.841],
    [4, 1.533, 2.132, 2.776, 4.604],
    [5, 1.476, 2.015, 2.571, 4.032],
    [10, 1.372, 1.812, 2.228, 3.169],
    [15, 1.341, 1.753, 2.131, 2.947],
    [30, 1.31, 1.697, 2.042, 2.75],
    [60, 1.296, 1.671, 2.0, 2.66],
  ])('with %d degrees of freedom as printed: %d, %d, %d, %d', (df, ...printed) => {
    expect([0.9, 0.95, 0.975, 0.995].map((p) => Number(tQuantile(p, df).toFixed(3)))).toEqual(printed);
  });

  // SciPy 1.17.1, scipy.stats.t.ppf(0.975, df).
  it.each([
    [1, 12.706204736174694],
    [2, 4.302652729749462],
    [3, 3.1824463052837078],
    [4, 2.7764451051977934],
    [7, 2.364624251592784],
    [15, 2.131449545559776],
    [30, 2.0422724563012378],
    [120, 1.9799304050824402],
  ])('with %d degrees of freedom to ten digits: %d', (df, value) => {
    expect(tQuantile(0.975, df) / value).toBeCloseTo(1, 10);
  });
});
