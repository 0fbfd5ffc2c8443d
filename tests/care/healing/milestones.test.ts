import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isStalled } from '../../../app/care/escalation/size.ts';
import { milestonesOf } from '../../../app/care/healing/milestones.ts';
import { sizesOf } from '../../../app/care/healing/sizes.ts';
import { historyOf } from '../../../app/care/log/history.ts';
import { timeline } from '../../../app/care/log/timeline.ts';
import type { Wound } from '../../../app/care/plan/plan.ts';
import { mustBeRecords } from '../log/make.ts';
import { demoPlan, woundOf } from '../plan/plans.ts';
import { anySizeLog, dayAt, ellipseOn, traced } from './make-sizes.ts';

type Points = readonly (readonly [number, number])[];
const states = (points: Points, today: number) => milestonesOf(traced(points), dayAt(today)).map((m) => m.state);

describe('milestones: half by four weeks, nine tenths by eight [EV-HEA-02 to -04]', () => {
  it.each<[string, Points, number, [string, string]]>([
    ['nothing measured', [], 40, ['noMeasurement', 'noMeasurement']],
    ['only the first', [[0, 100]], 20, ['notYetDue', 'notYetDue']],
    ['no measurement up to the last day of the window', [[0, 100]], 35, ['notYetDue', 'notYetDue']],
    [
      'no measurement in the window',
      [
        [0, 100],
        [25, 30],
      ],
      36,
      ['noMeasurement', 'notYetDue'],
    ],
    [
      'neither window has one',
      [
        [0, 100],
        [25, 30],
      ],
      64,
      ['noMeasurement', 'noMeasurement'],
    ],
    [
      'half gone at 26 days',
      [
        [0, 100],
        [26, 50],
      ],
      26,
      ['met', 'notYetDue'],
    ],
    [
      'a hair less at 35 days',
      [
        [0, 100],
        [35, 50.01],
      ],
      35,
      ['notMet', 'notYetDue'],
    ],
    [
      'the newest in the window counts',
      [
        [0, 100],
        [26, 40],
        [33, 60],
      ],
      40,
      ['notMet', 'notYetDue'],
    ],
    [
      'half at four, nine tenths at eight',
      [
        [0, 100],
        [28, 50],
        [56, 10],
      ],
      56,
      ['met', 'met'],
    ],
    [
      'an exponential with half at four weeks has three quarters at eight',
      [
        [0, 100],
        [28, 50],
        [56, 25],
      ],
      60,
      ['met', 'notMet'],
    ],
    [
      'from nothing nothing can be gone',
      [
        [0, 0],
        [28, 5],
      ],
      30,
      ['noMeasurement', 'noMeasurement'],
    ],
  ])('%s', (_name, points, today, expected) => {
    expect(states(points, today)).toEqual(expected);
  });

  it('one that was missed is met once a later measurement makes up for it, and is told as late', () => {
    const [half] = milestonesOf(
      traced([
        [0, 100],
        [28, 60],
        [42, 45],
      ]),
      dayAt(42),
    );
    expect(half).toMatchObject({ state: 'met', late: true, on: { days: 42, to: { id: 'm42' } } });
    const [lastDay] = milestonesOf(
      traced([
        [0, 100],
        [28, 60],
        [35, 45],
      ]),
      dayAt(42),
    );
    expect(lastDay).toMatchObject({ state: 'met', late: false, on: { days: 35 } });
    const [inTime] = milestonesOf(
      traced([
        [0, 100],
        [28, 50],
        [42, 45],
      ]),
      dayAt(42),
    );
    expect(inTime).toMatchObject({ state: 'met', late: false, on: { days: 28 } });
  });

  it('never measured in the window, it stays unknown, however small the wound became since', () => {
    expect(
      states(
        [
          [0, 100],
          [50, 5],
        ],
        50,
      ),
    ).toEqual(['noMeasurement', 'notYetDue']);
  });

  it('names the days on which a measurement would count', () => {
    expect(milestonesOf(traced([[0, 100]]), dayAt(3)).map((m) => m.dueBetween)).toEqual([
      { from: dayAt(26), to: dayAt(35) },
      { from: dayAt(54), to: dayAt(63) },
    ]);
  });

  it('says when it rests on two methods', () => {
    const [half] = milestonesOf([ellipseOn(0, 20, 10), ...traced([[28, 40]])], dayAt(28));
    expect(half?.on).toMatchObject({ mixed: true, from: { method: 'ruler' }, to: { method: 'trace' } });
  });

  it('one is not met exactly when the rule size-stalled fires, for any plan and any log', () => {
    const baseline = fc.option(fc.constant({ day: dayAt(0), lengthMm: 20, widthMm: 15 }), { nil: undefined });
    fc.assert(
      fc.property(anySizeLog, baseline, fc.integer({ min: 0, max: 130 }), (log, planned, today) => {
        const { baseline: _, ...demo } = woundOf(demoPlan());
        const wound: Wound = { ...demo, ...(planned ? { baseline: planned } : {}) };
        const entries = timeline(mustBeRecords(log));
        const now = Date.parse(`${dayAt(today)}T20:00:00Z`);
        const fires = isStalled(historyOf(entries, wound).measurements.filter((m) => m.at <= now));
        const standings = milestonesOf(sizesOf(entries, wound, now), dayAt(today));
        expect(standings.some((m) => m.state === 'notMet')).toBe(fires);
      }),
      { numRuns: 600 },
    );
  });
});
