import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  gatherList,
  nearList,
  normalLooks,
  SHORT_PATH,
  stepsAfterLook,
  stepsToLook,
  woundStandsAt,
} from '../../../app/care/change/sequence.ts';
import { RECIPE_STEPS, STEPS, STEPS_BEFORE_RECIPE } from '../../../app/care/change/steps.ts';
import { BANDS, type Band, bandRank } from '../../../app/care/check/questions.ts';
import { FAMILIES, type FamilyId, familyOf } from '../../../app/care/dressings/families.ts';
import { likelyRecipe } from '../../../app/care/plan/likely-recipe.ts';
import { type Dressing, type Plan, type Recipe, readPlan, recipeFor, type Wound } from '../../../app/care/plan/plan.ts';
import { DRY_RECIPE, DRY_WOUND, demoPlan, mustRead, twoWoundPlan, woundOf } from '../plan/plans.ts';

const plan = demoPlan();
const wound = woundOf(plan);
const dry = DRY_WOUND;
const CALL = { callUs: true } as const;
const namesOf = (steps: readonly { step: string }[]): string[] => steps.map((s) => s.step);

/** A wound with one recipe in the driest band, made from the demo's and a change to it. */
const withRecipe = (part: Partial<Recipe>, more: Partial<Wound> = {}): Wound => {
  const recipe = { ...(recipeFor(wound, 'none') as Recipe), ...part };
  return { ...wound, expectedDrainage: ['none', 'none'], bands: { none: { recipe }, light: CALL, moderate: CALL, heavy: CALL }, ...more };
};

describe('the steps up to the look [EV-PRO-03, MedlinePlus home dressing text]', () => {
  test('hands first, then things laid out, gloves, old dressing off, rinse, look', () => {
    expect(namesOf(stepsToLook(wound))).toEqual(['washHands', 'gather', 'gloves', 'remove', 'rinse', 'look']);
  });

  test('a wound that must stay dry is never rinsed [EV-PRA-01]', () => {
    expect(namesOf(stepsToLook(dry))).toEqual(['washHands', 'gather', 'gloves', 'remove', 'look']);
  });

  test('the two halves share no step, and together they are all steps', () => {
    const both = [...STEPS_BEFORE_RECIPE, ...RECIPE_STEPS];
    expect([...both].sort()).toEqual([...STEPS].sort());
    expect(new Set(both).size).toBe(STEPS.length);
  });
});

describe('how the wound stands at a step', () => {
  const steps = [...stepsToLook(wound), ...stepsAfterLook(wound, 'light').steps];
  const standsAt = (step: string) =>
    woundStandsAt(
      steps,
      steps.findIndex((s) => s.step === step),
    );

  test.each([
    ['gloves', 'under'],
    ['remove', 'open'],
    ['look', 'open'],
    ['secondary', 'open'],
    ['fix', 'open'],
    ['device', 'dressed'],
    ['washHandsAgain', 'dressed'],
  ])('%s: %s', (step, stands) => {
    expect(standsAt(step)).toBe(stands);
  });

  test('without a step that holds it, the last layer ends it', () => {
    const bare = steps.filter((s) => s.step !== 'fix');
    expect(woundStandsAt(bare, bare.findIndex((s) => s.step === 'secondary') + 1)).toBe('dressed');
  });
});

describe('how a change goes on after the look', () => {
  test.each(['none', 'light', 'moderate'] as Band[])('%s: the recipe of that band, step by step, notes and all', (band) => {
    expect(stepsAfterLook(wound, band)).toEqual({ path: 'recipe', steps: recipeFor(wound, band)?.steps });
  });

  test('an amount for which the plan says "call us" gives the short path', () => {
    expect(stepsAfterLook(dry, 'heavy')).toEqual({ path: 'coverAndCall', steps: SHORT_PATH });
  });

  test('the short path puts the shoe or boot back on before the walk to the bin, where the plan has one', () => {
    expect(namesOf(stepsAfterLook(wound, 'heavy').steps)).toEqual(['dryDressing', 'fix', 'device', 'throwAway', 'washHandsAgain']);
  });

  test('not being sure, or not having looked, gives the short path', () => {
    expect(stepsAfterLook(wound, 'unsure').path).toBe('coverAndCall');
    expect(stepsAfterLook(wound, undefined).path).toBe('coverAndCall');
  });

  test('a dry wound that is dry gets its dry recipe, and one that is wet the short path', () => {
    expect(stepsAfterLook(dry, 'none')).toEqual({ path: 'keepDry', steps: DRY_RECIPE.steps });
    for (const band of ['light', 'moderate', 'heavy', 'unsure'] as const) expect(stepsAfterLook(dry, band).path).toBe('coverAndCall');
  });

  test('the short path covers the wound dry and ends with clean hands', () => {
    expect(namesOf(SHORT_PATH)).toEqual(['dryDressing', 'fix', 'throwAway', 'washHandsAgain']);
  });

  test('no path ever leaves a wound uncovered: each has a dressing step', () => {
    for (const own of [wound, dry]) {
      for (const band of [...BANDS, 'unsure', undefined] as const) {
        const steps = namesOf(stepsAfterLook(own, band).steps);
        expect(steps.some((s) => ['dryDressing', 'primary', 'secondary'].includes(s))).toBe(true);
      }
    }
  });

  test('a wound that must stay dry never gets a wet step, whatever recipe its plan was accepted with', () => {
    // Mostly dry ones, so that many plans are accepted; wet ones, so that the plan's own check is tried too.
    const family = fc.oneof(
      { weight: 3, arbitrary: fc.constantFrom<FamilyId>('dryGauze', 'absorbentPad') },
      { weight: 1, arbitrary: fc.constantFrom(...FAMILIES.map((f) => f.id)) },
    );
    const recipeArb = fc
      .record({
        steps: fc.uniqueArray(fc.constantFrom(...RECIPE_STEPS), { minLength: 1, maxLength: 4 }),
        primary: fc.option(family, { nil: undefined }),
        secondary: fc.option(family, { nil: undefined }),
      })
      .map(({ steps, primary, secondary }) => ({
        ...DRY_RECIPE,
        steps: steps.map((step) => ({ step })),
        ...(primary ? { primary: { family: primary } } : {}),
        secondary: { family: secondary ?? 'dryGauze' },
      }));
    let accepted = 0;
    fc.assert(
      fc.property(recipeArb, fc.constantFrom(...BANDS), (recipe, band) => {
        const reading = readPlan({ ...plan, wounds: [{ ...dry, bands: { ...dry.bands, [band]: { recipe } } }] });
        if (!reading.ok) return;
        accepted++;
        const own = woundOf(reading.plan, 'w2');
        for (const amount of [...BANDS, 'unsure', undefined] as const) {
          const all = namesOf([...stepsToLook(own), ...stepsAfterLook(own, amount).steps]);
          for (const wet of ['rinse', 'clean', 'primary', 'protectSkin']) expect(all).not.toContain(wet);
        }
      }),
      { numRuns: 1_000 },
    );
    expect(accepted).toBeGreaterThan(50);
  });
});

describe('the recipe most likely needed', () => {
  test('is that of the amount found last', () => expect(likelyRecipe(wound, 'moderate')?.band).toBe('moderate'));
  test('is that of the driest expected band at first', () => expect(likelyRecipe(wound, undefined)?.band).toBe('light'));
  test('is an expected one when the last find has none', () => expect(likelyRecipe(wound, 'heavy')?.band).toBe('light'));
  test('is any there is when no expected band has one', () => {
    expect(likelyRecipe({ ...wound, expectedDrainage: ['heavy', 'heavy'] }, undefined)?.band).toBe('none');
  });
  test('is none when every amount means a call', () => {
    expect(likelyRecipe({ ...wound, bands: { none: CALL, light: CALL, moderate: CALL, heavy: CALL } }, 'light')).toBeUndefined();
  });
});

describe('what to lay out', () => {
  test('is what any expected band needs, each thing once with its larger amount, by the clinic’s names', () => {
    const lines = gatherList(plan, wound, undefined);
    expect(lines.map((l) => [l.item, l.amount])).toEqual([
      ['collagen', 1],
      ['alginate', 1],
      ['foam', 1],
      ['saline', 1],
      ['gauze', 4],
      ['gloves', 2],
      ['film', 1],
    ]);
    expect(lines[0]?.name).toBe('Collagen sheet 5 × 5 cm');
  });

  test('has what the amount found last needs too, although it is not expected', () => {
    expect(gatherList(plan, wound, 'none').map((l) => l.item)).toContain('hydrogel');
    expect(gatherList(plan, wound, undefined).map((l) => l.item)).not.toContain('hydrogel');
  });

  test('is short for a dry toe', () => {
    expect(gatherList(twoWoundPlan(), dry, undefined)).toEqual([
      { item: 'gauze', name: 'Gauze pads', amount: 2 },
      { item: 'gloves', name: 'Pairs of clean gloves', amount: 1 },
    ]);
  });

  test('what only the other bands need is to be kept near: the hydrogel for a wound that turns out dry', () => {
    expect(nearList(plan, wound, undefined)).toEqual([
      { item: 'hydrogel', name: plan.supplies.find((s) => s.id === 'hydrogel')?.name, amount: 1 },
    ]);
    // Once it is laid out, it need not be near as well.
    expect(nearList(plan, wound, 'none')).toEqual([]);
  });

  test('nothing is to be kept near where every other amount means a call', () => {
    expect(nearList(twoWoundPlan(), dry, undefined)).toEqual([]);
  });

  test('both lists together hold whatever any recipe uses, each thing in one of them only', () => {
    const own = fc.tuple(fc.nat(3), fc.nat(3), fc.option(fc.constantFrom(...BANDS), { nil: undefined }));
    fc.assert(
      fc.property(own, ([a, b, found]) => {
        const expectedDrainage: Wound['expectedDrainage'] = [BANDS[Math.min(a, b)] as Band, BANDS[Math.max(a, b)] as Band];
        const other = { ...wound, expectedDrainage };
        const listed = [...gatherList(plan, other, found), ...nearList(plan, other, found)].map((l) => l.item);
        const used = BANDS.flatMap((band) => recipeFor(other, band)?.uses ?? []).map((u) => u.item);
        expect([...listed].sort()).toEqual([...new Set(used)].sort());
      }),
    );
  });

  test('is enough for any expected band and for the one found last, and holds nothing twice', () => {
    const items = plan.supplies.map((s) => s.id);
    const use = fc.record({ item: fc.constantFrom(...items), amount: fc.integer({ min: 1, max: 100 }) });
    const bandArb = fc.option(fc.uniqueArray(use, { selector: (u) => u.item, maxLength: 6 }), { nil: undefined });
    const base = recipeFor(wound, 'none') as Recipe;
    const range = fc.tuple(fc.nat(3), fc.nat(3)).map(([a, b]) => [BANDS[Math.min(a, b)], BANDS[Math.max(a, b)]] as [Band, Band]);
    fc.assert(
      fc.property(
        fc.tuple(bandArb, bandArb, bandArb, bandArb),
        range,
        fc.option(fc.constantFrom(...BANDS), { nil: undefined }),
        (uses, expected, found) => {
          const bands = Object.fromEntries(BANDS.map((b, i) => [b, uses[i] ? { recipe: { ...base, uses: uses[i] } } : CALL]));
          const own: Plan = mustRead({ ...plan, wounds: [{ ...wound, expectedDrainage: expected, bands }] });
          const lines = gatherList(own, woundOf(own), found);
          const has = new Map(lines.map((l) => [l.item, l.amount]));
          expect(has.size).toBe(lines.length);
          for (const [i, band] of BANDS.entries()) {
            const wanted = band === found || (bandRank(band) >= bandRank(expected[0]) && bandRank(band) <= bandRank(expected[1]));
            for (const u of (wanted && uses[i]) || []) expect(has.get(u.item)).toBeGreaterThanOrEqual(u.amount);
          }
        },
      ),
    );
  });
});

describe('what is normal on the old dressing [EV-EXU-10, EV-PRA-03, EV-PRA-04]', () => {
  const looks = (primary: Dressing | undefined, more: Partial<Wound> = {}) => normalLooks(withRecipe({ primary }, more), undefined);

  test.each(FAMILIES.filter((f) => f.turnsToGel).map((f) => f.id))('%s: gel is announced', (family: FamilyId) => {
    expect(looks({ family })).toEqual(['gel']);
  });

  test.each(FAMILIES.filter((f) => !f.turnsToGel).map((f) => f.id))('%s: gel is not announced', (family: FamilyId) => {
    expect(familyOf(family).turnsToGel).toBe(false);
    expect(looks({ family })).toEqual([]);
  });

  test('silver in either layer is announced', () => {
    expect(looks({ family: 'alginateSheet', silver: true })).toEqual(['gel', 'silver']);
    const second: Dressing = { family: 'foam', silver: true };
    expect(normalLooks(withRecipe({ primary: undefined, secondary: second }), undefined)).toEqual(['silver']);
  });

  test('a dry toe is told that it stays dry', () => expect(normalLooks(dry, undefined)).toEqual(['dryStays']));

  test('a wound that must stay dry never hears of gel, for gel is to be rinsed off', () => {
    expect(looks({ family: 'alginateSheet' }, { keepDry: true })).toEqual(['dryStays']);
  });

  test('it is about the dressing that comes off: that of the amount found last', () => {
    const own: Wound = {
      ...wound,
      bands: { ...wound.bands, light: { recipe: { ...(recipeFor(wound, 'light') as Recipe), primary: { family: 'foam' } } } },
    };
    expect(normalLooks(own, 'light')).toEqual([]);
    expect(normalLooks(own, 'moderate')).toEqual(['gel']);
  });

  test('nothing is promised where no dressing is known', () => {
    expect(normalLooks({ ...wound, bands: { none: CALL, light: CALL, moderate: CALL, heavy: CALL } }, undefined)).toEqual([]);
  });
});
