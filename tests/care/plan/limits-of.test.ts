import { describe, expect, test } from 'vitest';
import { BANDS } from '../../../app/care/check/questions.ts';
import { DEFAULT_LIMITS, DEFAULT_THRESHOLDS } from '../../../app/care/escalation/limits.ts';
import { intervalInUse, limitsOf } from '../../../app/care/plan/limits-of.ts';
import type { Wound } from '../../../app/care/plan/plan.ts';
import { DRY_WOUND, demoContent, demoPlan, type Json, mustRead, put, woundOf } from './plans.ts';

const wound = woundOf(demoPlan());
const onlyCalls: Wound = {
  ...wound,
  bands: { none: { callUs: true }, light: { callUs: true }, moderate: { callUs: true }, heavy: { callUs: true } },
};

describe('the change interval in use', () => {
  test('is that of the amount last found', () => {
    expect(intervalInUse(wound, 'moderate')).toEqual({ kind: 'hours', hours: 24 });
    expect(intervalInUse(wound, 'light')).toEqual({ kind: 'hours', hours: 48 });
  });

  test('is that of the driest expected band before anything was found', () => {
    const own: Wound = { ...wound, expectedDrainage: ['moderate', 'heavy'] };
    expect(intervalInUse(own, undefined)).toEqual({ kind: 'hours', hours: 24 });
  });

  test('falls back to an expected band when the plan says to call for the amount found', () => {
    expect(intervalInUse(wound, 'heavy')).toEqual({ kind: 'hours', hours: 48 });
  });

  test('falls back to any band with a recipe when no expected one has one', () => {
    const own: Wound = { ...wound, expectedDrainage: ['heavy', 'heavy'] };
    expect(intervalInUse(own, undefined)).toEqual({ kind: 'hours', hours: 48 });
  });

  test('is unknown when every amount means a call', () => {
    for (const band of [undefined, ...BANDS]) expect(intervalInUse(onlyCalls, band)).toBeUndefined();
  });
});

describe('what the rules know of a plan', () => {
  test('the demo plan', () => {
    expect(limitsOf(demoPlan(), wound, undefined)).toEqual({
      expectedDrainage: ['light', 'moderate'],
      changeEveryHours: 48,
      callBands: ['heavy'],
      keepDry: false,
      known: ['odour:usual'],
      alsoSigns: [],
      asks: ['offloading'],
      raise: {},
      reviewBy: '2031-03-16',
      thresholds: DEFAULT_THRESHOLDS,
    });
  });

  test('a wetter wound is due sooner', () => {
    expect(limitsOf(demoPlan(), wound, 'moderate').changeEveryHours).toBe(24);
  });

  test('a wound whose every amount means a call is measured by the table’s own interval', () => {
    const limits = limitsOf(demoPlan(), onlyCalls, undefined);
    expect(limits.changeEveryHours).toBe(DEFAULT_LIMITS.changeEveryHours);
    expect(limits.callBands).toEqual(BANDS);
  });

  test('weekdays count by their longest gap, times a day by their share of it', () => {
    const recipe = 'recipe' in wound.bands.light ? wound.bands.light.recipe : undefined;
    if (!recipe) throw new Error('the demo has a recipe for light');
    const every = (change: typeof recipe.change) =>
      limitsOf(demoPlan(), { ...wound, bands: { ...wound.bands, light: { recipe: { ...recipe, change } } } }, 'light').changeEveryHours;
    expect(every({ kind: 'weekdays', days: ['mon', 'thu'] })).toBe(96);
    expect(every({ kind: 'weekdays', days: ['sun'] })).toBe(168);
    expect(every({ kind: 'timesADay', times: 2 })).toBe(12);
  });

  test('stricter thresholds and raised rules come through, the others keep the table’s value', () => {
    const content = put(demoContent(), ['escalation'], {
      raise: { fever: 'emergency' },
      thresholds: { feverC: 37.5 },
      alsoSigns: ['edge:newBlisterOrSore'],
    });
    const limits = limitsOf(mustRead(content), wound, undefined);
    expect(limits.raise).toEqual({ fever: 'emergency' });
    expect(limits.thresholds).toEqual({ ...DEFAULT_THRESHOLDS, feverC: 37.5 });
    expect(limits.alsoSigns).toEqual(['edge:newBlisterOrSore']);
  });

  test('a threshold that is there but undefined keeps the table’s value, so that fever still counts', () => {
    const content = put(demoContent(), ['escalation', 'thresholds'], { feverC: undefined, raisedC: undefined } as unknown as Json);
    expect(limitsOf(mustRead(content), wound, undefined).thresholds).toEqual(DEFAULT_THRESHOLDS);
  });

  test('a wound that must stay dry says so, with the amounts that mean a call', () => {
    const limits = limitsOf(demoPlan(), DRY_WOUND, undefined);
    expect(limits.keepDry).toBe(true);
    expect(limits.callBands).toEqual(['light', 'moderate', 'heavy']);
  });
});
