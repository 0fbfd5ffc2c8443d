import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { LogRecord, RecordOf } from '../../../app/care/log/records.ts';
import {
  areaSeries,
  drainageSeries,
  glucoseSeries,
  painSeries,
  type SeriesPoint,
  seriesOf,
  temperatureSeries,
  warmthSeries,
} from '../../../app/care/log/series.ts';
import { mergeLogs, timeline } from '../../../app/care/log/timeline.ts';
import { demoPlan, mustRead, twoWoundPlan, woundOf } from '../plan/plans.ts';
import { change, check, logArb, measurement, mustBeRecords, stamp, withdrawal } from './make.ts';

const plan = demoPlan();
const w1 = woundOf(plan);
const entriesOf = (...records: LogRecord[]) => timeline(mustBeRecords(records));
const left = (answers: RecordOf<'check'>['feet']['left']) => ({ feet: { left: answers } }) as Partial<RecordOf<'check'>>;

describe('sizes over time', () => {
  test('each keeps its day, its instant, its record and how it was taken', () => {
    const entries = entriesOf(
      measurement('m1', '2031-03-04T09:00', 20, 10),
      measurement('m2', '2031-03-11T09:00', 0, 0, { lengthMm: undefined, widthMm: undefined, areaMm2: 120, method: 'trace' }),
    );
    expect(areaSeries(entries, 'w1')).toEqual([
      // An ellipse of 20 × 10 mm [EV-HEA-14, geometry: L × W × π/4].
      {
        record: 'm1',
        at: Date.parse('2031-03-04T09:00:00Z'),
        day: '2031-03-04',
        zone: 'UTC',
        areaMm2: expect.closeTo(157.08, 2) as number,
        method: 'ruler',
      },
      { record: 'm2', at: Date.parse('2031-03-11T09:00:00Z'), day: '2031-03-11', zone: 'UTC', areaMm2: 120, method: 'trace' },
    ]);
  });

  test('one side alone is no size, and another wound’s size is not this one’s', () => {
    const half = measurement('m1', '2031-03-04T09:00', 20, 10, { widthMm: undefined });
    expect(areaSeries(entriesOf(half, measurement('m2', '2031-03-05T09:00', 20, 10, { wound: 'w2' })), 'w1')).toEqual([]);
  });

  test('a size that the clinic wrote into its plans is there once for each plan that changed it', () => {
    const next = mustRead({ ...plan, revision: 2, wounds: [{ ...w1, baseline: { day: '2031-03-16', lengthMm: 18, widthMm: 12 } }] });
    const again = mustRead({ ...next, revision: 3 });
    const sizes = areaSeries([], 'w1', [plan, next, again]);
    expect(sizes.map((s) => [s.day, s.method, s.record])).toEqual([
      ['2031-03-02', 'clinic', undefined],
      ['2031-03-16', 'clinic', undefined],
    ]);
  });

  test('what the clinic measured stands before what was measured at home that day', () => {
    const home = measurement('m1', '2031-03-02T13:00', 20, 10);
    expect(areaSeries(entriesOf(home), 'w1', [plan]).map((s) => s.record)).toEqual([undefined, 'm1']);
  });
});

describe('fluid over time', () => {
  test('each change is held against the plan it was made under', () => {
    const drier = mustRead({ ...plan, revision: 2, wounds: [{ ...w1, expectedDrainage: ['none', 'light'] }] });
    const entries = entriesOf(
      change('a', '2031-03-04T09:00', { answers: { drainageAmount: 'heavy' } }),
      change('b', '2031-03-06T09:00', { answers: { drainageAmount: 'light' }, plan: { id: plan.id, revision: 2 } }),
      change('c', '2031-03-08T09:00', { plan: { id: 'lost', revision: 1 } }),
    );
    expect(drainageSeries(entries, 'w1', [plan, drier]).map((p) => [p.record, p.amount, p.expected])).toEqual([
      ['a', 'heavy', ['light', 'moderate']],
      ['b', 'light', ['none', 'light']],
      // A plan that is not at hand: the one in force stands in.
      ['c', 'light', ['none', 'light']],
    ]);
  });

  test('an amount nobody could judge or see stays a point without one', () => {
    const entries = entriesOf(
      change('a', '2031-03-04T09:00', { answers: { drainageAmount: 'unsure' } }),
      change('b', '2031-03-06T09:00', { answers: undefined, path: 'coverAndCall' }),
    );
    expect(drainageSeries(entries, 'w1', [plan]).map((p) => p.amount)).toEqual(['unsure', undefined]);
  });

  test('a change broken off before the look is none; one broken off after it tells what was seen', () => {
    const entries = entriesOf(
      change('a', '2031-03-04T09:00', { answers: undefined, stopped: true }),
      change('b', '2031-03-06T09:00', { answers: { drainageAmount: 'moderate' }, stopped: true }),
    );
    expect(drainageSeries(entries, 'w1', [plan]).map((p) => [p.record, p.amount, p.stopped])).toEqual([['b', 'moderate', true]]);
  });

  test('a wound that no plan knows has no expected range', () => {
    expect(drainageSeries(entriesOf(change('a', undefined, { wound: 'w9' })), 'w9', [plan])[0]?.expected).toBeUndefined();
  });
});

describe('readings over time', () => {
  test('the pair that differs most counts, in °C, whichever unit it was read in', () => {
    const pairs = [
      { site: 'heel', woundSide: 31.5, otherSide: 30.1 },
      // 4.5 °F apart are 2.5 °C: ×5/9 and no 32 [EV-TMP-14].
      { site: 'big toe', woundSide: 88.5, otherSide: 84, unit: '[degF]' as const },
    ];
    const [point] = warmthSeries(entriesOf(check('c', undefined, left({ warmth: { pairs } }))), 'left');
    expect(point).toMatchObject({ place: 'big toe', differenceC: 2.5, pairs: 2, record: 'c' });
  });

  test('where the other foot is warmer everywhere, the least cold pair counts, below zero', () => {
    const pairs = [
      { site: 'heel', woundSide: 29, otherSide: 31 },
      { site: 'arch', woundSide: 30, otherSide: 30.5 },
    ];
    expect(warmthSeries(entriesOf(check('c', undefined, left({ warmth: { pairs } }))), 'left')[0]).toMatchObject({
      place: 'arch',
      differenceC: -0.5,
    });
  });

  test('what a hand felt is no measurement, and the other foot’s readings are not this one’s', () => {
    const entries = entriesOf(check('c', undefined, left({ warmth: 'warmer' })));
    expect(warmthSeries(entries, 'left')).toEqual([]);
    expect(warmthSeries(entries, 'right')).toEqual([]);
  });

  test('a second reading of the thermometer is a point of its own; without one there is a point without a value', () => {
    const entries = entriesOf(
      check('a', '2031-03-04T09:00', { person: { temperature: { value: 95.9, again: 97.7, unit: '[degF]', site: 'ear' } } }),
      check('b', '2031-03-05T09:00', { person: { temperature: { feelsFeverish: 'unsure' } } }),
      check('c', '2031-03-06T09:00', { person: { temperature: { value: 36.8, unit: 'Cel' } } }),
      check('d', '2031-03-07T09:00', { person: {} }),
    );
    // 95.9 °F is 35.5 °C and 97.7 °F is 36.5 °C [EV-FEV-05: °F = °C × 9/5 + 32].
    expect(temperatureSeries(entries).map((p) => [p.record, p.tempC, p.site, p.feelsFeverish])).toEqual([
      ['a', 35.5, 'ear', undefined],
      ['a', 36.5, 'ear', undefined],
      ['b', undefined, undefined, 'unsure'],
      ['c', 36.8, 'mouth', undefined],
    ]);
  });

  test('pain is that of the wound’s foot; not being sure stays that', () => {
    const entries = entriesOf(
      check('a', '2031-03-04T09:00', { feet: { left: { pain: 'more' }, right: { pain: 'severe' } } }),
      check('b', '2031-03-05T09:00', { feet: { left: { pain: 'unsure' }, right: {} } }),
    );
    expect(painSeries(entries, 'left').map((p) => p.pain)).toEqual(['more', 'unsure']);
    expect(painSeries(entries, 'right').map((p) => p.pain)).toEqual(['severe']);
  });

  test('blood sugar is in mg/dL, and only where the plan asks for it', () => {
    const entries = entriesOf(
      check('a', '2031-03-04T09:00', { person: { glucose: { value: 13.3, unit: 'mmol/L' } } }),
      check('b', '2031-03-05T09:00', { person: { glucose: { value: 53.9, unit: 'mg/dL' } } }),
    );
    // 13.3 mmol/L is 240 mg/dL [EV-INF-24: 180.156 g/mol].
    expect(glucoseSeries(entries).map((p) => p.mgdl)).toEqual([240, 53.9]);
    expect(seriesOf(entries, plan, w1).glucose).toEqual([]);
    expect(seriesOf(entries, mustRead({ ...plan, asks: ['glucose'] }), w1).glucose).toHaveLength(2);
  });
});

describe('corrections and withdrawals', () => {
  test('a corrected value stands at the moment of the first entry; a withdrawn one is gone', () => {
    const entries = entriesOf(
      measurement('m1', '2031-03-04T09:00', 20, 10),
      measurement('m1b', '2031-03-09T09:00', 18, 10, { amends: 'm1' }),
      measurement('m2', '2031-03-11T09:00', 16, 10),
      withdrawal('v', 'm2', '2031-03-12T09:00'),
    );
    const sizes = areaSeries(entries, 'w1');
    expect(sizes.map((s) => [s.record, s.day, s.areaMm2.toFixed(1)])).toEqual([['m1', '2031-03-04', '141.4']]);
  });

  const plans = twoWoundPlan();
  const all = (records: readonly LogRecord[]): SeriesPoint[] =>
    plans.wounds.flatMap((w) => Object.values(seriesOf(timeline(records), plans, w)).flat() as SeriesPoint[]);

  test('any log: points are in time order, none is of a withdrawn record, and the order of merging does not matter', () => {
    fc.assert(
      fc.property(logArb, logArb, (a, b) => {
        const merged = mergeLogs(a, b);
        const voided = new Set(merged.filter((r) => r.kind === 'void').map((r) => (r as RecordOf<'void'>).target));
        for (const w of plans.wounds) {
          for (const points of Object.values(seriesOf(timeline(merged), plans, w)) as SeriesPoint[][]) {
            expect(points.map((p) => p.at)).toEqual([...points.map((p) => p.at)].sort((x, y) => x - y));
          }
        }
        const points = all(merged);
        expect(points.filter((p) => p.record !== undefined && voided.has(p.record))).toEqual([]);
        expect(all(mergeLogs(b, a))).toEqual(points);
      }),
    );
  });

  test('any log: every check and change that stands and was answered is there, and nothing else', () => {
    fc.assert(
      fc.property(logArb, (records) => {
        const entries = timeline(records);
        const ids = (kind: LogRecord['kind']) => entries.filter((e) => e.first.kind === kind && !e.voided).map((e) => e.first.id);
        const { temperature, drainage } = seriesOf(entries, plan, w1);
        expect(temperature.map((p) => p.record)).toEqual(ids('check'));
        expect(drainage.map((p) => p.record)).toEqual(ids('change'));
      }),
    );
  });

  test('the day of a point is the person’s day, not that of the instant in UTC', () => {
    const late: LogRecord = { ...check('c'), at: '2031-03-05T04:30:00.000Z', day: stamp('x').day, zone: 'America/Chicago' };
    expect(temperatureSeries(entriesOf(late))[0]).toMatchObject({ day: '2031-03-04', zone: 'America/Chicago' });
  });
});
