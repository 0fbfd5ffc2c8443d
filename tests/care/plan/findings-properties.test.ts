import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { RECIPE_STEPS } from '../../../app/care/change/steps.ts';
import { FAMILY_IDS } from '../../../app/care/dressings/families.ts';
import { LEVELS } from '../../../app/care/escalation/levels.ts';
import { DEFAULT_THRESHOLDS, STRICTEST_THRESHOLDS, type Thresholds } from '../../../app/care/escalation/limits.ts';
import { RULES } from '../../../app/care/escalation/rules.ts';
import type { ClinicView } from '../../../app/care/plan/clinic-view.ts';
import { DRAFT_CLEANSERS, type DraftPlan, type DraftRecipe, finishDraft, nextRevision } from '../../../app/care/plan/draft.ts';
import { type FindingId, findings } from '../../../app/care/plan/findings.ts';
import { CLEANSERS, FIXATIONS, type Interval, SKIN_PROTECTIONS } from '../../../app/care/plan/plan.ts';
import { addDays, type LocalDay, WEEKDAYS, weekdayOf } from '../../../app/care/schedule/day.ts';
import { startingDraft, TODAY, view, views, withRecipe } from './drafts.ts';
import { demoPlan } from './plans.ts';

const ids = (draft: DraftPlan, seen: ClinicView = view()): FindingId[] => findings(draft, { w1: seen }, { today: TODAY }).map((f) => f.id);
const faults = (draft: DraftPlan): string[] => {
  const reading = finishDraft(draft);
  return reading.ok ? [] : reading.faults.map((f) => f.fault);
};

const dressing = fc.record({ family: fc.constantFrom(...FAMILY_IDS) });
const interval: fc.Arbitrary<Interval> = fc.oneof(
  fc.record({ kind: fc.constant('hours' as const), hours: fc.integer({ min: 4, max: 336 }) }),
  fc.record({ kind: fc.constant('timesADay' as const), times: fc.integer({ min: 1, max: 4 }) }),
  fc.record({ kind: fc.constant('weekdays' as const), days: fc.subarray([...WEEKDAYS], { minLength: 1 }) }),
);
const recipes: fc.Arbitrary<Partial<DraftRecipe>> = fc.record({
  primary: fc.option(dressing, { nil: undefined }),
  secondary: fc.option(dressing, { nil: undefined }),
  fixation: fc.constantFrom(...FIXATIONS),
  change: interval,
  cleanser: fc.constantFrom(...DRAFT_CLEANSERS),
  iodinePrescribed: fc.option(fc.boolean(), { nil: undefined }),
  skinProtection: fc.constantFrom(...SKIN_PROTECTIONS),
  steps: fc.subarray([...RECIPE_STEPS], { minLength: 1 }).map((steps) => steps.map((step) => ({ step }))),
});

describe('findings and the plan’s schema agree', () => {
  const dry = startingDraft(view({ dryGangrene: true, drainage: 'none' }));

  test('whatever the schema refuses on a wound that must stay dry has been found before', () => {
    fc.assert(
      fc.property(recipes, (recipe) => {
        const draft = withRecipe(dry, 'none', { ...recipe, cleanser: 'none' });
        if (faults(draft).includes('moistStepOnDryWound')) expect(ids(draft)).toContain('moist-on-keep-dry');
        // The finding is stricter by one thing: something for the skin, though no step puts it on.
        const idle = recipe.skinProtection !== 'none';
        if (!idle && ids(draft).includes('moist-on-keep-dry')) expect(faults(draft)).toContain('moistStepOnDryWound');
      }),
    );
  });

  test('a plan may tighten and never loosen: both say the same', () => {
    const keys = Object.keys(DEFAULT_THRESHOLDS) as (keyof Thresholds)[];
    const thresholds = fc.tuple(fc.constantFrom(...keys), fc.constantFrom(-0.4, 0, 0.3)).map(([key, by]) => {
      const span = DEFAULT_THRESHOLDS[key] - STRICTEST_THRESHOLDS[key];
      return { [key]: DEFAULT_THRESHOLDS[key] + by * span };
    });
    const raise = fc.tuple(fc.constantFrom(...RULES), fc.constantFrom(...LEVELS)).map(([rule, level]) => ({ [rule.id]: level }));
    const known = fc.subarray(['drainageColour:green', 'drainageColour:cloudyThick', 'odour:usual']);
    fc.assert(
      fc.property(thresholds, raise, known, (t, r, k) => {
        const draft = startingDraft(view());
        const own = { ...draft, escalation: { thresholds: t, raise: r }, wounds: draft.wounds.map((w) => ({ ...w, known: k })) };
        const loosened = faults(own).some((f) => f === 'looser' || f === 'milderNotKnown');
        expect(ids(own).includes('loosens-escalation')).toBe(loosened);
      }),
    );
  });

  test('a cleanser the schema does not have is one that stops', () => {
    for (const cleanser of DRAFT_CLEANSERS) {
      const draft = withRecipe(startingDraft(view()), 'light', { cleanser, iodinePrescribed: true });
      expect([cleanser, finishDraft(draft).ok, ids(draft).includes('harmful-cleanser')]).toEqual([
        cleanser,
        CLEANSERS.includes(cleanser as never),
        !CLEANSERS.includes(cleanser as never),
      ]);
    }
  });
});

describe('a plan being written', () => {
  test('no half-written draft makes it throw', () => {
    const days = fc.constantFrom(undefined, '', '2031', '2031-02-30', '2031-03-20', '9999-12-31') as fc.Arbitrary<LocalDay | undefined>;
    fc.assert(
      fc.property(recipes, views, days, days, fc.double(), (recipe, seen, reviewBy, visit, stock) => {
        const draft = withRecipe(startingDraft(view()), 'light', recipe);
        const own: DraftPlan = { ...draft, reviewBy, ...(visit === undefined ? {} : { nextVisit: { day: visit, time: '' } }) };
        const found = findings(own, { w1: seen }, { today: TODAY, onHand: { saline: stock } });
        for (const f of found) expect(Object.values(f.params).every((p) => typeof p === 'string' || typeof p === 'number')).toBe(true);
      }),
    );
  });

  test('names that every object has are no wounds and no supplies', () => {
    const draft = startingDraft(view());
    const own = { ...draft, wounds: draft.wounds.map((w) => ({ ...w, id: 'constructor' })), supplies: [{ id: 'toString', name: 'x' }] };
    expect(() => findings(own, {}, { today: TODAY, onHand: {} })).not.toThrow();
  });

  test('findings change nothing', () => {
    const draft = startingDraft(view());
    const before = structuredClone(draft);
    findings(draft, { w1: view() }, { today: TODAY, onHand: { saline: 1 } });
    expect(draft).toEqual(before);
  });

  test('the next version of a plan is the same with the next number and a new day', () => {
    const plan = demoPlan();
    const next = nextRevision(plan, TODAY);
    expect(next).toEqual({ ...plan, revision: 2, issued: TODAY });
    expect(next.wounds).not.toBe(plan.wounds);
    expect(finishDraft(next).ok).toBe(true);
  });
});

describe('the day on which supplies run out', () => {
  /** Another way of counting: walks from change to change instead of from day to day. */
  const walked = (change: Interval, amount: number, stock: number, days: number): string | undefined => {
    let left = stock;
    for (let hour = 0; hour < days * 24; hour++) {
      const day = addDays(TODAY, Math.floor(hour / 24));
      const due =
        change.kind === 'hours'
          ? hour % change.hours === 0
          : change.kind === 'weekdays'
            ? hour % 24 === 0 && change.days.includes(weekdayOf(day))
            : hour % 24 < change.times;
      if (!due) continue;
      left -= amount;
      if (left < 0) return day;
    }
    return undefined;
  };

  test('is the one that walking from change to change gives', () => {
    const amounts = fc.integer({ min: 1, max: 5 });
    fc.assert(
      fc.property(interval, amounts, fc.integer({ min: 0, max: 80 }), fc.integer({ min: 0, max: 40 }), (change, amount, stock, days) => {
        const draft = withRecipe(startingDraft(view({ drainage: 'heavy' })), 'heavy', { change, uses: [{ item: 'saline', amount }] });
        const found = findings({ ...draft, reviewBy: addDays(TODAY, days) }, {}, { today: TODAY, onHand: { saline: stock } });
        const day = found.find((f) => f.id === 'supplies-run-out')?.params.day;
        expect(day).toBe(walked(change, amount, stock, days));
      }),
    );
  });
});
