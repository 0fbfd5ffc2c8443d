import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planChanges, planVerdict } from '../../../app/care/plan/compare.ts';
import type { Plan } from '../../../app/care/plan/plan.ts';
import { DRY_WOUND, demoContent, demoPlan, drop, type Json, mustRead, parsePath, put, twoWoundPlan, woundOf } from './plans.ts';

/** The demo plan with one field set (or taken away where the value is undefined). */
const edited = (field: string, value: Json | undefined): Plan =>
  mustRead(value === undefined ? drop(demoContent(), parsePath(field)) : put(demoContent(), parsePath(field), value));

describe('whether an arriving plan may take effect', () => {
  const now = { ...demoPlan(), revision: 3, issued: demoPlan().issued };
  const other = { ...now, id: 'another-clinic-1' };

  test('the first plan of a person is new', () => expect(planVerdict(undefined, now)).toBe('new'));
  test('a later revision is an update', () => expect(planVerdict(now, { ...now, revision: 4 })).toBe('update'));
  test('a revision that skips some is an update', () => expect(planVerdict(now, { ...now, revision: 9 })).toBe('update'));
  test('an earlier revision is refused as older', () => expect(planVerdict(now, { ...now, revision: 2 })).toBe('older'));
  test('an earlier revision is older even when its date is later', () => {
    expect(planVerdict(now, mustRead({ ...now, revision: 2, issued: '2032-01-01' }))).toBe('older');
  });
  test('the very plan in use is the same', () => expect(planVerdict(now, structuredClone(now))).toBe('same'));
  test('the same revision with other content is a conflict', () => {
    expect(planVerdict(now, { ...now, clinic: { ...now.clinic, phone: '+1 312 555 0199' } })).toBe('conflict');
  });
  test('another plan of the same day or later is for the person to decide', () => {
    expect(planVerdict(now, other)).toBe('otherPlan');
    expect(planVerdict(now, mustRead({ ...other, issued: '2031-04-01', revision: 1 }))).toBe('otherPlan');
  });
  test('another plan written before the one in use is older', () => {
    expect(planVerdict(now, mustRead({ ...other, issued: '2031-03-01', revision: 99 }))).toBe('older');
  });

  test('a plan whose fields stand in another order is still the same plan', () => {
    const turned = (value: Json): Json => {
      if (Array.isArray(value)) return value.map(turned);
      if (typeof value !== 'object' || value === null) return value;
      return Object.fromEntries(
        Object.entries(value)
          .reverse()
          .map(([k, v]) => [k, turned(v)]),
      );
    };
    const raise = { fever: 'emergency', 'one-sign': 'callNow' };
    const content = put(put(demoContent(), ['escalation', 'raise'], raise), ['escalation', 'thresholds'], {
      feverC: 37.8,
      growthShare: 0.1,
    });
    expect(planVerdict(mustRead(content), mustRead(turned(content)))).toBe('same');
  });
});

describe('what a new plan changes is told', () => {
  const NEW: [field: string, value: Json | undefined, what: string][] = [
    ['clinic.hours.0.opens', '09:00', 'hours'],
    ['clinic.zone', 'America/Denver', 'hours'],
    ['clinic.closedDays', ['2031-03-10'], 'hours'],
    ['donts', ['noHeat'], 'donts'],
    ['ownDonts', ['No sandals.'], 'donts'],
    ['device.kind', 'wheelchair', 'device'],
    ['device', undefined, 'device'],
    ['asks', ['offloading', 'glucose'], 'asks'],
    ['warmthSites', ['heel'], 'asks'],
    ['escalation.raise', { fever: 'emergency' }, 'escalation'],
    ['escalation.thresholds', { feverC: 37.8 }, 'escalation'],
    ['wounds.0.known', ['odour:usual', 'swelling:new'], 'escalation'],
    ['nextVisit.time', '11:00', 'nextVisit'],
    ['nextVisit', undefined, 'nextVisit'],
    ['supplies.0.packOf', 10, 'supplies'],
  ];
  test.each(NEW)('%s set to %j', (field, value, what) => {
    expect(planChanges(demoPlan(), edited(field, value))).toEqual([{ what }]);
  });

  const TEXTS: [field: string, value: string | undefined, what: string, from: string][] = [
    ['clinic.name', 'Elm Street Foot Clinic', 'clinicName', 'Alder Street Foot Clinic'],
    ['clinic.phone', '+1 312 555 0111', 'phone', '+1 312 555 0142'],
    ['clinic.outOfHoursPhone', undefined, 'outOfHoursPhone', '+1 312 555 0187'],
    ['clinic.emergencyNumber', '112', 'emergencyNumber', '911'],
    ['reviewBy', '2031-03-30', 'reviewBy', '2031-03-16'],
  ];
  test.each(TEXTS)('%s: the old and the new text stand side by side', (field, value, what, from) => {
    expect(planChanges(demoPlan(), edited(field, value))).toEqual([{ what, from, to: value }]);
  });

  const OF_A_WOUND: [field: string, value: Json, what: string][] = [
    ['wounds.0.expectedDrainage', ['none', 'light'], 'expectedDrainage'],
    ['wounds.0.bands.light.recipe.change.hours', 24, 'recipe'],
    ['wounds.0.bands.light.recipe.primary.family', 'foam', 'recipe'],
    ['wounds.0.bands.moderate', { callUs: true }, 'recipe'],
    ['wounds.0.side', 'right', 'woundAdded'],
    ['wounds.0.site', 'heelUnder', 'woundAdded'],
  ];
  test.each(OF_A_WOUND)('%s set to %j names the wound', (field, value, what) => {
    expect(planChanges(demoPlan(), edited(field, value))).toEqual([{ what, wound: 'w1' }]);
  });

  test('a wound that must now stay dry is told, with its new recipes', () => {
    const before = twoWoundPlan();
    const after = { ...before, wounds: before.wounds.map((w) => (w.id === 'w2' ? { ...w, keepDry: false } : w)) };
    expect(planChanges(before, after)).toEqual([{ what: 'keepDry', wound: 'w2' }]);
    expect(planChanges(after, before)).toEqual([{ what: 'keepDry', wound: 'w2' }]);
  });

  test('a wound added or taken off is told, and nothing else is', () => {
    expect(planChanges(demoPlan(), twoWoundPlan())).toEqual([{ what: 'woundAdded', wound: DRY_WOUND.id }]);
    expect(planChanges(twoWoundPlan(), demoPlan())).toEqual([{ what: 'woundRemoved', wound: DRY_WOUND.id }]);
  });

  test('wounds in another order are no change', () => {
    const plan = twoWoundPlan();
    expect(planChanges(plan, { ...plan, wounds: [woundOf(plan, 'w2'), woundOf(plan, 'w1')] })).toEqual([]);
  });

  test('a plan against itself changes nothing', () => {
    for (const plan of [demoPlan(), twoWoundPlan()]) expect(planChanges(plan, structuredClone(plan))).toEqual([]);
  });

  test('numbers to dial come first, supplies last, whatever changes together', () => {
    const ORDER = ['phone', 'expectedDrainage', 'donts', 'device', 'nextVisit', 'supplies'];
    const CHANGES: [string, Json][] = [
      ['clinic.phone', '+1 312 555 0111'],
      ['wounds.0.expectedDrainage', ['none', 'light']],
      ['donts', []],
      ['device.kind', 'insoles'],
      ['nextVisit.time', '08:00'],
      ['supplies.0.packOf', 1],
    ];
    fc.assert(
      fc.property(fc.subarray([0, 1, 2, 3, 4, 5]), (some) => {
        const content = demoContent();
        for (const i of some) put(content, parsePath(CHANGES[i]?.[0] ?? ''), CHANGES[i]?.[1] ?? null);
        const told = planChanges(demoPlan(), mustRead(content)).map((c) => c.what);
        expect(told).toEqual(some.map((i) => ORDER[i]));
      }),
    );
  });
});
