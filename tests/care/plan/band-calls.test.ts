import { describe, expect, test } from 'vitest';
import { bandGroups, callOfBand } from '../../../app/care/plan/band-calls.ts';
import { type Recipe, recipeFor, type Wound } from '../../../app/care/plan/plan.ts';
import { DRY_RECIPE, demoPlan, twoWoundPlan, woundOf } from './plans.ts';

const plan = demoPlan();
const wound = woundOf(plan);
const light = recipeFor(wound, 'light') as Recipe;
const oneForAll: Wound = {
  ...wound,
  bands: { none: { recipe: light }, light: { recipe: light }, moderate: { recipe: light }, heavy: { recipe: light } },
};

describe('what an amount of fluid means on paper is what the look would say', () => {
  test('[drainage-above-plan] more than expected means a call today, though it has a recipe', () => {
    expect(callOfBand(plan, oneForAll, 'heavy')).toBe('callToday');
    expect(callOfBand(plan, oneForAll, 'moderate')).toBeUndefined();
  });

  test('[drainage-above-plan] less than expected means no call of its own', () => {
    expect(callOfBand(plan, oneForAll, 'none')).toBeUndefined();
  });

  test('[plan-says-call] a band without a recipe is a call today', () => {
    expect(callOfBand(plan, wound, 'heavy')).toBe('callToday');
  });

  test('[keep-dry-breached] any fluid on a wound that must stay dry is a call now, with a recipe or without', () => {
    const dry = woundOf(twoWoundPlan(), 'w2');
    expect(callOfBand(twoWoundPlan(), dry, 'light')).toBe('callNow');
    expect(callOfBand(twoWoundPlan(), { ...dry, bands: { ...dry.bands, light: { recipe: DRY_RECIPE } } }, 'light')).toBe('callNow');
    expect(callOfBand(twoWoundPlan(), dry, 'none')).toBeUndefined();
  });

  test('a plan that raises the rule is followed', () => {
    const raised = { ...plan, escalation: { ...plan.escalation, raise: { 'drainage-above-plan': 'callNow' as const } } };
    expect(callOfBand(raised, oneForAll, 'heavy')).toBe('callNow');
  });

  test('what the clinic knows of is no call where there is a recipe, and stays one where there is none', () => {
    expect(callOfBand(plan, { ...oneForAll, known: ['drainageAmount:heavy'] }, 'heavy')).toBeUndefined();
    expect(callOfBand(plan, { ...wound, known: ['drainageAmount:heavy'] }, 'heavy')).toBe('callToday');
  });
});

test('one recipe for all amounts is told twice: with the call and without', () => {
  expect(bandGroups(plan, oneForAll).map(({ bands, call }) => ({ bands, call }))).toEqual([
    { bands: ['none', 'light', 'moderate'], call: undefined },
    { bands: ['heavy'], call: 'callToday' },
  ]);
});
