import { describe, expect, it } from 'vitest';
import type { Answers } from '../../../app/care/check/answers.ts';
import { BANDS } from '../../../app/care/check/questions.ts';
import { type FitVerdict, fitFinding, fitOf } from '../../../app/care/drainage/fit.ts';
import type { Found } from '../../../app/care/drainage/series.ts';
import { type FamilyId, familyOf } from '../../../app/care/dressings/families.ts';
import type { ChangeRecord, LogRecord } from '../../../app/care/log/records.ts';
import type { Plan, Recipe } from '../../../app/care/plan/plan.ts';
import { check } from '../log/make.ts';
import { changed, fitsIn, PLAN, planWithWound } from './log.ts';

const light = changed(4, { drainageAmount: 'light' });
/** What the second change says of the collagen that the first laid on. */
const second = (answers: Answers, more: Partial<ChangeRecord> = {}, plan?: Plan) => {
  const [, fit] = fitsIn([light, changed(6, answers, more)], plan);
  if (!fit) throw new Error('no second change');
  return [fit.verdict, ...fit.reasons];
};
const seen = (at: string, dressing: 'markedThrough' | 'wetFromOutside'): LogRecord => check('k', at, { wounds: { w1: { dressing } } });

describe('how a dressing had suited the wound, at one change', () => {
  it('the amount it is for, dry outside, firm edge: it fits', () => {
    expect(second({ drainageAmount: 'light' })).toEqual(['fits']);
  });

  it('more than the plan gives it for, and more than its family takes', () => {
    expect(second({ drainageAmount: 'moderate' })).toEqual(['tooWet', 'moreThanRecipe']);
    expect(second({ drainageAmount: 'heavy' })).toEqual(['tooWet', 'moreThanRecipe', 'moreThanFamily']);
  });

  it('marked through before it was due', () => {
    expect(fitsIn([light, seen('2031-03-05T09:00', 'markedThrough'), changed(6, { drainageAmount: 'light' })])[1]).toMatchObject({
      verdict: 'tooWet',
      reasons: ['gaveWayEarly'],
    });
    expect(second({ drainageAmount: 'light', dressing: 'markedThrough' })).toEqual(['fits']);
  });

  it('a white, soggy edge', () => {
    expect(second({ drainageAmount: 'light', edge: 'whiteSoggy' })).toEqual(['tooWet', 'soggyEdge']);
  });

  it('no fluid at all under a dressing that soaks up', () => {
    expect(second({ drainageAmount: 'none' })).toEqual(['tooDry', 'dryUnderAbsorbing']);
  });

  it('no fluid under a gel that the plan gives for a dry wound: it adds moisture, so it fits', () => {
    const [, , third] = fitsIn([light, changed(6, { drainageAmount: 'none' }), changed(8, { drainageAmount: 'none' })]);
    expect(third).toMatchObject({ verdict: 'fits', found: { worn: { works: 'hydrogel' }, standing: 'below' } });
  });

  it.each<[string, Answers]>([
    ['the amount was not seen', {}],
    ['nobody was sure of the amount', { drainageAmount: 'unsure' }],
    ['nobody was sure of the edge', { drainageAmount: 'light', edge: 'unsure' }],
    ['nobody was sure of the dressing', { drainageAmount: 'light', dressing: 'unsure' }],
    ['water came from outside', { drainageAmount: 'light', dressing: 'wetFromOutside' }],
  ])('never says it fits where %s', (_name, answers) => {
    expect(second(answers)).toEqual(['unknown']);
  });

  it('never says it fits where the dressing is not known, but a soggy edge speaks for itself', () => {
    const fits = (answers: Answers) => fitsIn([{ ...light, plan: null }, changed(6, answers)])[1]?.verdict;
    expect(fits({ drainageAmount: 'light' })).toBe('unknown');
    expect(fits({ drainageAmount: 'heavy' })).toBe('unknown');
    expect(fits({ drainageAmount: 'light', edge: 'whiteSoggy' })).toBe('tooWet');
  });

  it('water from outside explains a soggy edge and a wet dressing away', () => {
    expect(second({ drainageAmount: 'moderate', edge: 'whiteSoggy', dressing: 'wetFromOutside' })).toEqual(['unknown']);
    const both = [
      light,
      seen('2031-03-05T09:00', 'markedThrough'),
      changed(6, { drainageAmount: 'light', edge: 'whiteSoggy', dressing: 'wetFromOutside' }),
    ];
    expect(fitsIn(both)[1]).toMatchObject({ verdict: 'tooWet', reasons: ['gaveWayEarly'] });
  });

  it('a dressing that was on too long is not held against for being fuller, one changed early not for being dry', () => {
    const changedOn = (day: number, drainageAmount: 'none' | 'moderate') => fitsIn([light, changed(day, { drainageAmount })])[1];
    expect(changedOn(8, 'moderate')).toMatchObject({ verdict: 'unknown', reasons: [], found: { timing: { timing: 'late' } } });
    expect(changedOn(5, 'none')).toMatchObject({ verdict: 'unknown', reasons: [], found: { timing: { timing: 'early' } } });
    expect(changedOn(8, 'none')?.verdict).toBe('tooDry');
    expect(changedOn(5, 'moderate')?.verdict).toBe('tooWet');
  });

  it('signs that contradict each other say nothing, and are both kept', () => {
    expect(second({ drainageAmount: 'none', edge: 'whiteSoggy' })).toEqual(['unknown', 'soggyEdge', 'dryUnderAbsorbing']);
  });

  it('the plan’s own choice for an amount that it expects is not held against it', () => {
    const none = PLAN.wounds[0]?.bands.light;
    if (!none) throw new Error('no light band');
    const same = planWithWound((w) => ({ ...w, bands: { ...w.bands, none } }));
    expect(second({ drainageAmount: 'none' }, {}, same)).toEqual(['tooDry', 'dryUnderAbsorbing']);
    const expected = planWithWound((w) => ({ ...w, expectedDrainage: ['none', 'light'], bands: { ...w.bands, none } }));
    expect(second({ drainageAmount: 'none' }, {}, expected)).toEqual(['fits']);
    // Where that day's plan is not at hand nobody can say whether it expected this.
    expect(second({ drainageAmount: 'none' }, { plan: null }, same)).toEqual(['unknown']);
  });

  it('a wound that must stay dry is never too dry', () => {
    const pad: Recipe = {
      secondary: { family: 'absorbentPad' },
      fixation: 'none',
      change: { kind: 'hours', hours: 48 },
      cleanser: 'none',
      skinProtection: 'none',
      steps: [{ step: 'dryDressing' }],
      uses: [],
    };
    const dry = planWithWound((w) => ({
      ...w,
      keepDry: true,
      expectedDrainage: ['light', 'light'],
      bands: { none: { callUs: true }, light: { recipe: pad }, moderate: { callUs: true }, heavy: { callUs: true } },
    }));
    expect(second({ drainageAmount: 'none' }, {}, dry)[0]).not.toBe('tooDry');
  });
});

describe('what a family is for decides, whatever the plan gives it for', () => {
  /** A plan with one recipe for every amount and all amounts expected but heavy. */
  const everywhere = (primary: FamilyId | undefined, secondary: FamilyId | undefined): Plan => {
    const light = PLAN.wounds[0]?.bands.light;
    if (!light || !('recipe' in light)) throw new Error('no light band');
    const { primary: _p, secondary: _s, ...rest } = light.recipe;
    const recipe: Recipe = {
      ...rest,
      ...(primary ? { primary: { family: primary } } : {}),
      ...(secondary ? { secondary: { family: secondary } } : {}),
    };
    return planWithWound((w) => ({
      ...w,
      expectedDrainage: ['light', 'moderate'],
      bands: { none: { recipe }, light: { recipe }, moderate: { recipe }, heavy: { recipe } },
    }));
  };
  it.each<[FamilyId | undefined, FamilyId | undefined, FitVerdict, FitVerdict]>([
    ['hydrogel', 'foam', 'tooWet', 'fits'],
    ['collagenSheet', 'foam', 'tooWet', 'tooDry'],
    ['alginateSheet', 'foam', 'fits', 'tooDry'],
    ['gellingFibreRope', 'absorbentPad', 'fits', 'tooDry'],
    [undefined, 'foamBordered', 'fits', 'tooDry'],
    ['foam', undefined, 'fits', 'tooDry'],
    ['contactLayer', 'foam', 'fits', 'tooDry'],
    ['contactLayer', 'film', 'fits', 'fits'],
    ['hydrocolloid', undefined, 'tooWet', 'tooDry'],
    [undefined, 'film', 'tooWet', 'fits'],
    [undefined, 'dryGauze', 'fits', 'fits'],
  ])('%s under %s: heavy is %s, none is %s', (primary, secondary, heavy, none) => {
    const plan = everywhere(primary, secondary);
    expect(second({ drainageAmount: 'heavy' }, {}, plan)[0]).toBe(heavy);
    expect(second({ drainageAmount: 'none' }, {}, plan)[0]).toBe(none);
  });

  it('collagen takes up to light drainage alone, moderate under an absorbing cover', () => {
    const most = (cover: FamilyId) => fitsIn([light, changed(6, {})], everywhere('collagenSheet', cover))[1]?.found.worn?.most;
    expect([most('film'), most('foam')]).toEqual(['light', 'moderate']);
    const over = fitsIn([light, changed(6, {})], everywhere('contactLayer', 'collagenSheet'))[1]?.found.worn;
    expect(over).toMatchObject({ works: 'collagenSheet', most: 'light' });
  });

  it('only alginates have a figure for what they take up', () => {
    expect(familyOf('alginateSheet').timesOwnWeight).toBe(10);
    expect(familyOf('foam').timesOwnWeight).toBeUndefined();
  });
});

describe('one line for the clinic, when two changes in a row say the same', () => {
  const wet = (day: number) => changed(day, { drainageAmount: 'light', edge: 'whiteSoggy' });
  const dry = (day: number) => changed(day, { drainageAmount: 'none' }, { band: 'light' });
  const good = (day: number) => changed(day, { drainageAmount: 'light' });
  const silent = (day: number) => changed(day, { drainageAmount: 'unsure' }, { band: 'light', path: 'recipe' });
  const finding = (...records: LogRecord[]) => fitFinding(fitsIn(records));

  it('too wet twice', () => {
    const found = finding(good(4), wet(6), changed(8, { drainageAmount: 'moderate', edge: 'whiteSoggy' }));
    expect(found).toMatchObject({ says: 'tooWet', reasons: ['soggyEdge', 'moreThanRecipe'] });
    expect(found?.changes.map((c) => c.found.id)).toEqual(['c6', 'c8']);
  });

  it('too dry twice, where the absorbing dressing was laid on again', () => {
    expect(finding(good(4), dry(6), dry(8))).toMatchObject({ says: 'tooDry', reasons: ['dryUnderAbsorbing'] });
  });

  it('the whole run is named, not only its last two', () => {
    expect(finding(good(4), wet(6), wet(8), wet(10), wet(12))?.changes).toHaveLength(4);
  });

  it.each<[string, LogRecord[]]>([
    ['once', [good(4), wet(6)]],
    ['once more after a change that fitted', [good(4), wet(6), good(8), wet(10)]],
    ['twice, but the newest fits', [good(4), wet(6), wet(8), good(10)]],
    ['once each way', [good(4), wet(6), dry(8)]],
    ['twice with two silent changes between', [good(4), wet(6), silent(8), silent(10), wet(12)]],
    ['twice, then two silent changes', [good(4), wet(6), wet(8), silent(10), silent(12)]],
    ['never', []],
  ])('not %s', (_name, records) => {
    expect(finding(...records)).toBeUndefined();
  });

  it('one change that says nothing does not break a run, and is not named in it', () => {
    expect(finding(good(4), wet(6), silent(8), wet(10))?.changes.map((c) => c.found.id)).toEqual(['c6', 'c10']);
    expect(finding(good(4), wet(6), wet(8), silent(10))?.changes).toHaveLength(2);
    expect(finding(good(4), wet(6), silent(8), wet(10), silent(12), wet(14))?.changes).toHaveLength(3);
  });

  it('following the plan’s own bands down to the gel needs no line: the plan has answered', () => {
    const down = [
      good(4),
      changed(6, { drainageAmount: 'none' }),
      changed(8, { drainageAmount: 'none' }),
      changed(10, { drainageAmount: 'none' }),
    ];
    expect(fitFinding(fitsIn(down))).toBeUndefined();
  });

  it('names no other dressing', () => {
    const found = finding(good(4), wet(6), wet(8));
    expect(Object.keys(found ?? {}).sort()).toEqual(['changes', 'reasons', 'says']);
  });
});

describe('for all that can be found', () => {
  it('a graver amount never turns too wet into anything drier', () => {
    const rank: Record<FitVerdict, number> = { tooDry: 0, unknown: 1, fits: 1, tooWet: 2 };
    const base = fitsIn([light, changed(6, { drainageAmount: 'none' })])[1]?.found as Found;
    const verdicts = BANDS.map(
      (amount) => fitOf({ ...base, amount, standing: amount === 'none' ? 'below' : amount === 'heavy' ? 'above' : 'within' }).verdict,
    );
    for (let i = 1; i < verdicts.length; i += 1) {
      expect(rank[verdicts[i] as FitVerdict]).toBeGreaterThanOrEqual(rank[verdicts[i - 1] as FitVerdict]);
    }
  });
});
