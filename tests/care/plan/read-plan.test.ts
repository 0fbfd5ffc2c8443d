import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { knownCodes, readPlan, recipeFor } from '../../../app/care/plan/plan.ts';
import { allPaths, at, demoContent, demoPlan, drop, type Json, mustRead, type Path, put, twoWoundPlan, woundOf } from './plans.ts';

describe('the demo plan', () => {
  test('reads, and holds what its file holds', () => {
    expect(readPlan(demoContent())).toEqual({ ok: true, plan: demoContent() });
  });

  test('reads back equal to itself', () => {
    expect(mustRead(demoPlan())).toEqual(demoPlan());
    expect(mustRead(twoWoundPlan())).toEqual(twoWoundPlan());
  });

  test('uses fictional phone numbers only (555-01xx, set aside for fiction by the North American numbering plan)', () => {
    const { phone, outOfHoursPhone } = demoPlan().clinic;
    for (const number of [phone, outOfHoursPhone]) expect(number?.replace(/\D/g, '')).toMatch(/^1\d{3}55501\d\d$/);
  });

  test('has a recipe for each band but heavy, where it says call', () => {
    const wound = woundOf(demoPlan());
    expect(recipeFor(wound, 'light')?.primary?.family).toBe('collagenSheet');
    expect(recipeFor(wound, 'moderate')?.primary?.family).toBe('alginateSheet');
    expect(recipeFor(wound, 'none')?.primary?.family).toBe('hydrogel');
    expect(recipeFor(wound, 'heavy')).toBeUndefined();
  });
});

const TEXTS: [string, Path][] = [
  ['clinic name', ['clinic', 'name']],
  ['name of the person', ['person', 'callMe']],
  ['label of a wound', ['wounds', 0, 'label']],
  ['name on a packet', ['wounds', 0, 'bands', 'light', 'recipe', 'primary', 'name']],
  ['note on a dressing', ['wounds', 0, 'bands', 'light', 'recipe', 'primary', 'note']],
  ['note on a step', ['wounds', 0, 'bands', 'light', 'recipe', 'steps', 0, 'note']],
  ['name of a supply', ['supplies', 0, 'name']],
  ["clinic's own rule", ['ownDonts', 0]],
  ['note on the shoe', ['device', 'note']],
  ['warmth site', ['warmthSites', 0]],
  ['greeting', ['greeting']],
];
const MARKUP = ['<img src=x onerror=alert(1)>', '<b>&amp;</b>{{name}}', '"\'`</p><script>', '{{t(key)}} $t(common:app)'];

describe('markup in a text is kept as the text it is', () => {
  test.each(TEXTS)('%s', (_name, path) => {
    for (const text of MARKUP) {
      const content = put(demoContent(), ['warmthSites'], ['heel']);
      expect(at(mustRead(put(content, path, text)) as unknown as Json, path)).toBe(text);
    }
  });

  test('a text of letters of any script is kept letter by letter', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', minLength: 1, maxLength: 10 }), (text) => {
        const reading = readPlan(put(demoContent(), ['person', 'callMe'], text));
        // One grapheme may be many UTF-16 units; the limit counts units.
        const fits = text.trim() !== '' && text.trim().length <= 40;
        expect(reading.ok ? reading.plan.person.callMe : undefined).toBe(fits ? text.trim() : undefined);
      }),
    );
  });
});

/** A value that a careless or hostile writer might put anywhere. */
const anyJson: fc.Arbitrary<Json> = fc.oneof(
  fc.jsonValue({ maxDepth: 3 }) as fc.Arbitrary<Json>,
  fc.constantFrom<Json>(null, '', ' ', 0, -1, 1e308, 'x'.repeat(500), [], {}, [[]], 'callNow', 'none', '2031-02-30', '24:00', '../..', '+'),
  fc.string() as fc.Arbitrary<Json>,
  fc.double({ noNaN: true }) as fc.Arbitrary<Json>,
);
const PATHS = allPaths(demoContent());

describe('whatever one field of the plan holds', () => {
  test('the plan is refused with a fault, or reads back equal to itself; reading never throws', () => {
    fc.assert(
      fc.property(fc.constantFrom(...PATHS), fc.option(anyJson, { nil: undefined }), (path, value) => {
        const content = value === undefined ? drop(demoContent(), path) : put(demoContent(), path, value);
        const reading = readPlan(content);
        if (reading.ok) expect(readPlan(JSON.parse(JSON.stringify(reading.plan)))).toEqual(reading);
        else expect(reading.faults.length).toBeGreaterThan(0);
      }),
      { numRuns: 2_000 },
    );
  });

  test('a refusal says what is wrong, of a known kind, at a field that leads to the change', () => {
    fc.assert(
      fc.property(fc.constantFrom(...PATHS), fc.constantFrom<Json>(null, {}, [], 'zz zz', -7), (path, value) => {
        const reading = readPlan(put(demoContent(), path, value));
        if (reading.ok) return;
        for (const fault of reading.faults) {
          expect(fault.fault).toMatch(/^[a-zA-Z]+$/);
          // An item that is renamed is told at the list of supplies, and a wound's own checks at the wound.
          const near = fault.path.length > 0 && fault.path[0] === path[0];
          expect(near || fault.fault === 'usesUnknownItem').toBe(true);
        }
      }),
      { numRuns: 1_000 },
    );
  });

  test('reading leaves what it was given untouched', () => {
    fc.assert(
      fc.property(fc.constantFrom(...PATHS), anyJson, (path, value) => {
        const content = put(demoContent(), path, value);
        const before = structuredClone(content);
        readPlan(content);
        expect(content).toEqual(before);
      }),
    );
  });

  test('anything at all is refused or read, never thrown', () => {
    fc.assert(
      fc.property(fc.anything({ withBigInt: true, withMap: true, withNullPrototype: true }), (content) => {
        expect(typeof readPlan(content).ok).toBe('boolean');
      }),
    );
  });
});

describe('a key called __proto__', () => {
  test('in the table of raised rules is refused, not left out in silence', () => {
    const content = put(demoContent(), ['escalation', 'raise'], JSON.parse('{"__proto__":"callNow"}') as Json);
    expect(readPlan(content)).toEqual({ ok: false, faults: [{ path: ['escalation', 'raise', '__proto__'], fault: 'unknownField' }] });
  });

  test('never reaches the prototype of the plan', () => {
    readPlan(JSON.parse('{"version":1,"__proto__":{"polluted":true},"constructor":{"prototype":{"polluted":true}}}'));
    expect(Object.hasOwn(Object.prototype, 'polluted')).toBe(false);
    expect((demoPlan() as unknown as { polluted?: boolean }).polluted).toBeUndefined();
  });
});

test('every answer but the mildest can be marked as known', () => {
  expect(knownCodes('odour')).toEqual(['usual', 'newOrStronger']);
  expect(knownCodes('note')).toEqual([]);
  expect(() => knownCodes('mood')).toThrow(RangeError);
});
