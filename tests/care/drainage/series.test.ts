import { describe, expect, it } from 'vitest';
import type { Answers } from '../../../app/care/check/answers.ts';
import { foundAtChanges } from '../../../app/care/drainage/series.ts';
import { timeline } from '../../../app/care/log/timeline.ts';
import { check, withdrawal } from '../log/make.ts';
import { mustRead } from '../plan/plans.ts';
import { changed, foundIn, LATER, PLAN } from './log.ts';

const seen = (id: string, at: string, dressing: NonNullable<Answers['dressing']>) => check(id, at, { wounds: { w1: { dressing } } });

describe('what was found at each change', () => {
  it('is told band by band against what the plan expects, oldest first', () => {
    const found = foundIn([
      changed(6, { drainageAmount: 'moderate' }),
      changed(4, { drainageAmount: 'light' }),
      changed(7, { drainageAmount: 'heavy' }),
      changed(8, { drainageAmount: 'none' }),
      changed(9, { drainageAmount: 'unsure' }),
      changed(10, {}),
    ]);
    expect(found.map((f) => [f.day, f.amount, f.standing])).toEqual([
      ['2031-03-04', 'light', 'within'],
      ['2031-03-06', 'moderate', 'within'],
      ['2031-03-07', 'heavy', 'above'],
      ['2031-03-08', 'none', 'below'],
      ['2031-03-09', 'unsure', undefined],
      ['2031-03-10', undefined, undefined],
    ]);
    expect(found[0]).toMatchObject({ expected: ['light', 'moderate'], keepDry: false, soggyEdge: false });
  });

  it('says how long the dressing was on and how the change stood to the schedule', () => {
    const found = foundIn([4, 6, 7, 11].map((day) => changed(day, { drainageAmount: 'light' })));
    expect(found.map((f) => [f.wearHours, f.timing?.timing])).toEqual([
      [undefined, 'first'],
      [48, 'onTime'],
      [24, 'early'],
      [96, 'late'],
    ]);
  });

  it('names the dressing that came off, by the recipe that put it on', () => {
    const [first, second, third] = foundIn([
      changed(4, { drainageAmount: 'light' }),
      changed(6, { drainageAmount: 'moderate' }),
      changed(7, { drainageAmount: 'none' }),
    ]);
    expect(first?.worn).toBeUndefined();
    expect(second?.worn).toMatchObject({
      families: ['collagenSheet', 'foamBordered'],
      works: 'collagenSheet',
      bands: ['light'],
      most: 'moderate',
    });
    expect(third?.worn).toMatchObject({
      families: ['alginateSheet', 'foamBordered'],
      works: 'alginateSheet',
      bands: ['moderate'],
      most: 'heavy',
    });
  });

  it.each([
    ['the short path, with whatever was clean and dry', { path: 'coverAndCall' as const }],
    ['a layer that was left out', { steps: [{ step: 'primary' as const, state: 'skipped' as const }] }],
    ['a layer that was done differently', { steps: [{ step: 'secondary' as const, state: 'different' as const }] }],
    ['a plan that is not at hand', { plan: { id: 'another', revision: 1 } }],
    ['no plan at all', { plan: null }],
  ])('does not guess what was on after %s', (_name, more) => {
    const [, second] = foundIn([changed(4, { drainageAmount: 'light' }, more), changed(6, { drainageAmount: 'light' })]);
    expect(second?.worn).toBeUndefined();
    expect(second?.wearHours).toBe(48);
  });

  it('holds an old change against the plan of its own day', () => {
    const next = mustRead({ ...PLAN, revision: 2, wounds: PLAN.wounds.map((w) => ({ ...w, expectedDrainage: ['none', 'light'] })) });
    const records = [
      changed(4, { drainageAmount: 'moderate' }),
      changed(6, { drainageAmount: 'moderate' }, { plan: { id: PLAN.id, revision: 2 } }),
    ];
    expect(foundIn(records, next, [PLAN]).map((f) => f.standing)).toEqual(['within', 'above']);
    expect(foundIn(records, next).map((f) => f.standing)).toEqual([undefined, 'above']);
  });

  it('leaves out what was withdrawn, what lies before the part asked for and what a wrong clock dated ahead', () => {
    const records = [
      changed(4, { drainageAmount: 'light' }),
      changed(6, { drainageAmount: 'light' }),
      changed(7, { drainageAmount: 'heavy' }),
      withdrawal('v', 'c7', '2031-03-07T10:00'),
      changed(8, { drainageAmount: 'light' }),
    ];
    const at = (text: string) => Date.parse(text);
    const found = foundAtChanges(PLAN, timeline(records), 'w1', at('2031-03-07T20:00:00Z'), 'UTC', { since: at('2031-03-05T00:00:00Z') });
    expect(found.map((f) => [f.id, f.wearHours])).toEqual([['c6', 48]]);
  });

  it('takes a corrected answer and keeps the time of the first version', () => {
    const corrected = { ...changed(7, { drainageAmount: 'moderate' }), id: 'c4b', amends: 'c4' };
    expect(foundIn([changed(4, { drainageAmount: 'light' }), corrected]).map((f) => [f.id, f.day, f.amount])).toEqual([
      ['c4', '2031-03-04', 'moderate'],
    ]);
  });
});

describe('a change that was broken off', () => {
  it('after the look is a look: its dressing came off, and nobody knows what was on after it', () => {
    const found = foundIn([
      changed(4, { drainageAmount: 'light' }),
      changed(5, { drainageAmount: 'light' }, { stopped: true }),
      changed(6, { drainageAmount: 'light' }),
    ]);
    expect(found.map((f) => [f.id, f.wearHours, f.worn?.works, f.timing?.timing])).toEqual([
      ['c4', undefined, undefined, 'first'],
      ['c5', 24, 'collagenSheet', undefined],
      ['c6', undefined, undefined, 'onTime'],
    ]);
  });

  it('once the amount was seen the dressing was off, whatever stands beside the steps', () => {
    const looked = changed(5, { drainageAmount: 'light' }, { stopped: true, steps: [{ step: 'remove', state: 'skipped' }] });
    expect(foundIn([changed(4, { drainageAmount: 'light' }), looked]).map((f) => f.id)).toEqual(['c4', 'c5']);
  });

  it('before the dressing was off says nothing and ends nothing', () => {
    const stopped = { ...changed(5, {}, { stopped: true, steps: [{ step: 'remove', state: 'skipped' }] }), answers: undefined };
    const { answers: _, ...bare } = stopped;
    const found = foundIn([changed(4, { drainageAmount: 'light' }), bare, changed(6, { drainageAmount: 'light' })]);
    expect(found.map((f) => [f.id, f.wearHours, f.worn?.works])).toEqual([
      ['c4', undefined, undefined],
      ['c6', 48, 'collagenSheet'],
    ]);
  });
});

describe('what was seen of the dressing from outside', () => {
  const first = changed(4, { drainageAmount: 'light' });
  /** A change two days on whose own answers say nothing of the dressing. */
  const second = (more = {}) => {
    const { dressing: _, ...answers } = changed(6, { drainageAmount: 'light' }).answers ?? {};
    return { ...changed(6, {}), band: 'light' as const, path: 'recipe' as const, answers, ...more };
  };
  const outside = (...records: Parameters<typeof foundIn>[0]) => foundIn([first, ...records])[1]?.outside;

  it('is unknown where nobody looked or was sure', () => {
    expect(outside(second())).toBeUndefined();
    expect(outside(seen('k', '2031-03-05T09:00', 'unsure'), second())).toBeUndefined();
  });

  it('comes from every check while it was on', () => {
    expect(outside(seen('k', '2031-03-05T09:00', 'markedThrough'), second())).toMatchObject({
      markedThrough: true,
      leaking: false,
      gaveWayEarly: true,
    });
    expect(outside(seen('k', '2031-03-05T09:00', 'dryInPlace'), second())).toMatchObject({ markedThrough: false, gaveWayEarly: false });
  });

  it('not from one before it was laid on, nor from another wound, nor from a check that was withdrawn', () => {
    expect(outside(seen('k', '2031-03-04T08:00', 'leaking'), second())).toBeUndefined();
    expect(outside(seen('k', '2031-03-06T09:30', 'leaking'), second())).toBeUndefined();
    expect(outside(check('k', '2031-03-05T09:00', { wounds: { w2: { dressing: 'leaking' } } }), second())).toBeUndefined();
    expect(outside(seen('k', '2031-03-05T09:00', 'leaking'), withdrawal('v', 'k', '2031-03-05T10:00'), second())).toBeUndefined();
  });

  it('from the check of the same sitting, and from the change itself', () => {
    expect(outside(seen('k', '2031-03-06T08:50', 'leaking'), second({ check: 'k' }))).toMatchObject({ leaking: true });
    expect(outside(changed(6, { drainageAmount: 'light', dressing: 'wetFromOutside' }))).toMatchObject({ wetFromOutside: true });
  });

  it('from the check of the same sitting at the very first change too', () => {
    const sitting = [seen('k', '2031-03-04T08:50', 'loose'), changed(4, { drainageAmount: 'light', dressing: 'unsure' }, { check: 'k' })];
    expect(foundIn(sitting)[0]?.outside).toMatchObject({ loose: true, gaveWayEarly: false });
  });

  it('fluid that comes through when the change is due is not early', () => {
    expect(outside(changed(6, { drainageAmount: 'light', dressing: 'markedThrough' }))).toMatchObject({
      markedThrough: true,
      gaveWayEarly: false,
    });
    expect(outside(seen('k', '2031-03-05T23:00', 'markedThrough'), second())?.gaveWayEarly).toBe(true);
    expect(outside(seen('k', '2031-03-06T07:00', 'markedThrough'), second())?.gaveWayEarly).toBe(false);
  });

  it('without a due time it cannot say whether it was early', () => {
    expect(foundIn([changed(4, { drainageAmount: 'light', dressing: 'leaking' })])[0]?.outside).toMatchObject({
      leaking: true,
      gaveWayEarly: undefined,
    });
  });
});

describe('a log without this wound', () => {
  it('gives nothing', () => {
    expect(foundAtChanges(PLAN, [], 'w1', LATER, 'UTC')).toEqual([]);
    expect(foundAtChanges(PLAN, timeline([changed(4, {})]), 'toString', LATER, 'UTC')).toEqual([]);
  });
});
