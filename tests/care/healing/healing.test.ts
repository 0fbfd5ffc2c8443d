import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isGrowing } from '../../../app/care/escalation/size.ts';
import { healingOf } from '../../../app/care/healing/healing.ts';
import { milestonesOf } from '../../../app/care/healing/milestones.ts';
import { type ReviewReason, reviewReasons } from '../../../app/care/healing/review.ts';
import type { AreaSize } from '../../../app/care/healing/sizes.ts';
import { timeline } from '../../../app/care/log/timeline.ts';
import { mustBeRecords } from '../log/make.ts';
import { AFTER_ALL, anySizeLog, DAY_0, dayAt, ellipseOn, measuredOn, sizesFrom, traced } from './make-sizes.ts';

const reasons = (sizes: readonly AreaSize[], today = 300): ReviewReason[] => reviewReasons(sizes, milestonesOf(sizes, dayAt(today)), 0.2);
const why = (sizes: readonly AreaSize[], today?: number) => reasons(sizes, today).map((r) => r.why);
const weekly = (areas: readonly number[], from = 0) => traced(areas.map((a, i) => [from + 7 * i, a]));

describe('reasons to ask the clinic for a review', () => {
  it('a wound that halves by four weeks and goes on gives none', () => {
    expect(why(weekly([400, 330, 270, 230, 190, 150, 110, 60, 38]))).toEqual([]);
  });

  it('nothing measured gives none', () => {
    expect(why([])).toEqual([]);
    expect(why(traced([[0, 100]]))).toEqual([]);
  });

  it('less than half gone at four weeks', () => {
    const [reason, ...rest] = reasons(
      traced([
        [0, 100],
        [28, 60],
      ]),
    );
    expect(reason).toMatchObject({ why: 'milestone', mixed: false, milestone: { weeks: 4 }, on: { days: 28 } });
    expect(rest).toEqual([]);
  });

  it('larger than at first at two measurements five days apart, as much as the plan lets pass and more', () => {
    const sizes = traced([
      [0, 100],
      [7, 125],
      [12, 130],
    ]);
    expect(why(sizes)).toEqual(['larger']);
    expect(reviewReasons(sizes, [], 0.4)).toEqual([]);
    expect(
      why(
        traced([
          [0, 100],
          [7, 125],
          [11, 130],
        ]),
      ),
    ).toEqual([]);
  });

  it('a course that says larger', () => {
    expect(why(weekly([100, 103, 107, 110, 114]), 30)).toEqual(['milestone', 'courseLarger']);
  });

  it('a course of five weeks that does not show the wound getting smaller', () => {
    expect(why(weekly([100, 104, 98, 101, 99], 0), 20)).toContain('courseFlat');
    expect(why(weekly([100, 104, 98, 101], 0), 20)).not.toContain('courseFlat');
  });

  it('a good beginning does not hide that nothing has happened for eight weeks', () => {
    const good = [1000, 700, 480, 330, 220, 150, 100, 70];
    const still = [50, 51, 49, 50, 52, 50, 51, 49, 50];
    expect(why(weekly([...good, ...still]), 200)).toEqual(['courseFlat']);
  });

  it('says when the sizes behind a reason were measured in different ways', () => {
    const mixed = [
      ...[0, 7, 14].map((n) => ellipseOn(n, 20, 15)),
      ...traced([
        [21, 240],
        [28, 238],
      ]),
    ];
    expect(reasons(mixed).map((r) => [r.why, r.mixed])).toEqual([
      ['milestone', true],
      ['courseFlat', true],
    ]);
  });

  it('larger is told exactly when the rule size-growing fires, for any log', () => {
    fc.assert(
      fc.property(anySizeLog, fc.constantFrom(0, 0.1, 0.2), (log, share) => {
        const sizes = sizesFrom(log);
        expect(reviewReasons(sizes, [], share).some((r) => r.why === 'larger')).toBe(isGrowing(sizes, share));
      }),
    );
  });
});

describe('the size of a wound over time, in one', () => {
  const wound = { id: 'w1', baseline: { day: DAY_0, lengthMm: 20, widthMm: 20 } };
  const now = { at: AFTER_ALL, day: dayAt(20) };

  it('holds the first against the newest, and the newest against the one before', () => {
    const entries = timeline([measuredOn(7, { lengthMm: 18, widthMm: 18 }), measuredOn(14, { lengthMm: 16, widthMm: 16 })]);
    const healing = healingOf(entries, wound, now);
    expect(healing.sizes).toHaveLength(3);
    expect(healing.sinceFirst).toMatchObject({ days: 14, mixed: true, from: { method: 'clinic' } });
    expect(healing.sinceFirst?.reductionPct).toBeCloseTo(36, 10);
    expect(healing.sinceLast).toMatchObject({ days: 7, mixed: false, from: { id: 'm7' }, to: { id: 'm14' } });
    expect(healing.course).toEqual({ kind: 'tooFew', weeks: 3, needed: 5 });
  });

  it('with fewer than two areas there is nothing to compare', () => {
    for (const records of [[], [measuredOn(7, { depthMm: 2 })]]) {
      expect(healingOf(timeline(records), wound, now)).toMatchObject({ sinceFirst: undefined, sinceLast: undefined });
    }
    expect(healingOf([], { id: 'w1' }, now).sizes).toEqual([]);
  });

  it('the random logs hold what the properties are about', () => {
    const seen = fc
      .sample(anySizeLog, 400)
      .map((log) => healingOf(timeline(mustBeRecords(log)), wound, { at: AFTER_ALL, day: dayAt(130) }));
    const courses = seen.map((h) => (h.course.kind === 'fitted' ? `fitted ${h.course.mixed}` : h.course.kind));
    for (const kind of ['fitted false', 'fitted true', 'tooFew', 'nothingLeft']) {
      expect(courses.filter((c) => c === kind).length).toBeGreaterThan(3);
    }
    const states = seen.flatMap((h) => h.milestones.map((m) => m.state));
    for (const state of ['met', 'notMet', 'noMeasurement']) expect(states.filter((s) => s === state).length).toBeGreaterThan(20);
    const why = seen.flatMap((h) => h.review.map((r) => r.why));
    for (const reason of ['milestone', 'larger', 'courseLarger', 'courseFlat']) {
      expect(why.filter((w) => w === reason).length).toBeGreaterThan(3);
    }
  });

  it('never throws, and gives the same twice, for any log that the schema lets pass', () => {
    fc.assert(
      fc.property(anySizeLog, fc.integer({ min: 0, max: 130 }), (log, today) => {
        const entries = timeline(mustBeRecords(log));
        const at = { at: Date.parse(`${dayAt(today)}T12:00:00Z`), day: dayAt(today) };
        expect(healingOf(entries, wound, at)).toEqual(healingOf(entries, wound, at));
      }),
      { numRuns: 500 },
    );
  });
});
