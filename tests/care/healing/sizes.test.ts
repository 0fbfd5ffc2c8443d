import { describe, expect, it } from 'vitest';
import { isMixed, sizesOf, withArea } from '../../../app/care/healing/sizes.ts';
import type { LogRecord } from '../../../app/care/log/records.ts';
import { timeline } from '../../../app/care/log/timeline.ts';
import { measurement, mustBeRecords, withdrawal } from '../log/make.ts';
import { AFTER_ALL, DAY_0, ellipseOn, measuredOn, traced } from './make-sizes.ts';

const WOUND = { id: 'w1', baseline: { day: DAY_0, lengthMm: 22, widthMm: 16, depthMm: 3 } };
const sizes = (records: readonly LogRecord[], now = AFTER_ALL, wound: Parameters<typeof sizesOf>[1] = WOUND) =>
  sizesOf(timeline(mustBeRecords(records)), wound, now);

describe('the sizes of a wound', () => {
  it('begin with the one in the plan, which the clinic measured', () => {
    expect(sizes([])).toMatchObject([
      { id: undefined, day: DAY_0, method: 'clinic', way: 'ellipse', lengthMm: 22, widthMm: 16, depthMm: 3 },
    ]);
    expect(sizes([])[0]?.areaMm2).toBeCloseTo(276.46, 2);
    expect(sizes([], AFTER_ALL, { id: 'w1' })).toEqual([]);
  });

  it('hold each measurement once, as corrected last, on the day it was made', () => {
    const corrected = { ...measurement('m2', '2031-03-12T09:00', 20, 15), amends: 'm1' };
    const seen = sizes([measurement('m1', '2031-03-10T09:00', 200, 15), corrected]);
    expect(seen.map((s) => [s.id, s.day, s.lengthMm])).toEqual([
      [undefined, DAY_0, 22],
      ['m1', '2031-03-10', 20],
    ]);
  });

  it('leave out what was withdrawn, what belongs to another wound and what a wrong clock dated ahead', () => {
    const records = [
      measurement('m1', '2031-03-10T09:00', 20, 15),
      withdrawal('v', 'm1', '2031-03-11T09:00'),
      measurement('m2', '2031-03-10T09:00', 9, 9, { wound: 'w2' }),
      measurement('m3', '2031-04-10T09:00', 10, 9),
    ];
    expect(sizes(records, Date.parse('2031-04-10T08:59:00Z'))).toHaveLength(1);
    expect(sizes(records, Date.parse('2031-04-10T09:00:00Z')).map((s) => s.id)).toEqual([undefined, 'm3']);
  });

  it('are in the order of time, whatever the order of the log', () => {
    const records = [20, 6, 13].map((n) => measuredOn(n, { lengthMm: 10, widthMm: 8 }));
    expect(sizes(records).map((s) => s.id)).toEqual([undefined, 'm6', 'm13', 'm20']);
  });

  it('take a traced area and edge as they are, else those of an ellipse, and say which', () => {
    const [both, ruled, traceOnly] = sizes(
      [
        measuredOn(1, { method: 'trace', lengthMm: 20, widthMm: 10, areaMm2: 120, perimeterMm: 50 }),
        measuredOn(2, { lengthMm: 20, widthMm: 10 }),
        measuredOn(3, { method: 'trace', areaMm2: 120 }),
      ],
      AFTER_ALL,
      { id: 'w1' },
    );
    expect(both).toMatchObject({ way: 'area', areaMm2: 120, perimeterMm: 50, perimeterTraced: true });
    expect(ruled).toMatchObject({ way: 'ellipse', perimeterTraced: false });
    expect(ruled?.perimeterMm).toBeCloseTo(48.44, 2);
    expect(traceOnly).toMatchObject({ way: 'area', perimeterMm: undefined, perimeterTraced: false });
  });

  it('keep a measurement of depth alone, without an area', () => {
    const seen = sizes([measuredOn(1, { method: 'clinic', depthMm: 4 })], AFTER_ALL, { id: 'w1' });
    expect(seen).toMatchObject([{ depthMm: 4, areaMm2: undefined }]);
    expect(withArea(seen)).toEqual([]);
  });

  it('a wound of no area has no edge', () => {
    expect(traced([[0, 0]])[0]?.perimeterMm).toBe(0);
  });
});

describe('mixed methods', () => {
  const ruler = ellipseOn(0, 20, 10);
  it.each([
    ['ruler and ruler', ellipseOn(7, 18, 9), false],
    ['ruler and tracing', ellipseOn(7, 18, 9, { method: 'trace', areaMm2: 100 }), true],
    ['ruler at home and clinic', ellipseOn(7, 18, 9, { method: 'clinic' }), true],
    ['two diameters and an area, both by ruler', ellipseOn(7, 18, 9, { areaMm2: 100 }), true],
  ])('%s', (_name, other, mixed) => {
    expect([isMixed(ruler, other), isMixed(other, ruler)]).toEqual([mixed, mixed]);
  });
});
