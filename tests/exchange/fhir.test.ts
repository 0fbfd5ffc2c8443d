import fc from 'fast-check';
import type { Bundle, FhirResource, QuestionnaireItem, QuestionnaireResponse, QuestionnaireResponseItem } from 'fhir/r4';
import { beforeAll, describe, expect, test } from 'vitest';
import type { LocalDay } from '../../app/care/schedule/day.ts';
import { timingOf } from '../../app/exchange/fhir/care-plans.ts';
import { toBase64 } from '../../app/exchange/fhir/media.ts';
import { change, check, note, stamp } from '../care/log/make.ts';
import { bundleOf, JPEG, MADE_AT, ofType, resourcesOf, speak } from './fhir-make.ts';
import { anyLogArb, firstPlan, fullLog, secondPlan } from './full-log.ts';

beforeAll(() => speak());

const PHOTOS = new Map([['photo-1', { type: 'image/jpeg', bytes: JPEG }]]);
const FEW = { numRuns: 60 };

/** Every reference within some data. */
function references(value: unknown): string[] {
  if (typeof value !== 'object' || value === null) return [];
  const own = (value as { reference?: unknown }).reference;
  return [...(typeof own === 'string' ? [own] : []), ...Object.values(value).flatMap(references)];
}

/** Identifiers that the bundle gives its resources. */
const namesOf = (bundle: Bundle): string[] => (bundle.entry ?? []).map((e) => e.fullUrl ?? '');

/** The resource that was made from a record, by its own name. */
const at = (bundle: Bundle, type: FhirResource['resourceType'], status: string) =>
  resourcesOf(bundle).filter((r) => r.resourceType === type && 'status' in r && r.status === status);

describe('the names of resources', () => {
  test('two files of the same records differ in the time they were made and in nothing else', () => {
    const first = bundleOf(fullLog());
    const second = bundleOf([...fullLog()].reverse(), { now: MADE_AT + 1 });
    expect(second.timestamp).not.toBe(first.timestamp);
    expect({ ...second, timestamp: '' }).toEqual({ ...first, timestamp: '' });
  });

  test('names are unique, well formed, and every reference is to one of them, whatever the log', () => {
    fc.assert(
      fc.property(anyLogArb, fc.constantFrom<LocalDay | undefined>(undefined, '2031-03-10' as LocalDay), (records, from) => {
        const bundle = bundleOf(records, { photos: PHOTOS, period: { from } });
        const names = namesOf(bundle);
        expect(new Set(names).size).toBe(names.length);
        for (const name of names) expect(name).toMatch(/^urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
        expect(references(bundle).filter((ref) => !names.includes(ref))).toEqual([]);
      }),
      FEW,
    );
  });

  test('another person’s records have other names, even under the same ids', () => {
    const plan = secondPlan();
    const other = bundleOf(fullLog(), { plan: { ...plan, person: { ...plan.person, id: 'somebody-else' } } });
    const own = new Set(namesOf(bundleOf(fullLog())));
    // The form is the same for everybody, so that a clinic has it once.
    expect(namesOf(other).filter((name) => own.has(name))).toEqual([ofType(other, 'Questionnaire')[0]?.url]);
  });
});

describe('what a file tells of the person', () => {
  test('the id and the name that the clinic itself gave, and nothing more', () => {
    const [patient] = ofType(bundleOf(fullLog()), 'Patient');
    expect(patient?.name).toEqual([{ use: 'usual', text: 'Nela' }]);
    expect(patient?.identifier?.map((i) => i.value)).toContain('demo-nela');
    expect(Object.keys(patient ?? {}).sort()).toEqual(['identifier', 'name', 'resourceType']);
  });

  test('no photo is in the file unless it was chosen, and then that one alone', () => {
    expect(ofType(bundleOf(fullLog()), 'Media')).toEqual([]);
    expect(JSON.stringify(bundleOf(fullLog()))).not.toContain(toBase64(JPEG));
    const chosen = ofType(bundleOf(fullLog(), { photos: PHOTOS }), 'Media');
    expect(chosen.map((m) => [m.content.data, m.content.size, m.width])).toEqual([['/9j/2Q==', 4, 1200]]);
  });

  test('a chosen photo comes along although it is older than the period', () => {
    const bundle = bundleOf(fullLog(), { photos: PHOTOS, period: { from: '2031-03-11' as LocalDay } });
    expect(ofType(bundle, 'Media')).toHaveLength(1);
  });

  test('the bytes of a photo come out as they went in', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 70_000 }), (bytes) => {
        expect(toBase64(bytes)).toBe(Buffer.from(bytes).toString('base64'));
      }),
      { numRuns: 20 },
    );
  });
});

/** The answers of a form, as `linkId` and what stands there. */
function answered(items: readonly QuestionnaireResponseItem[] = []): [string, unknown][] {
  return items.flatMap((item) => [
    ...(item.answer ?? []).flatMap((a): [string, unknown][] => [
      [item.linkId, a.valueCoding?.code ?? a.valueQuantity?.value ?? a.valueString ?? a.valueDateTime],
      ...answered(a.item),
    ]),
    ...answered(item.item),
  ]);
}
const isAnswer = ([link]: [string, unknown]): boolean => !['when', 'foot.side', 'wound.id'].includes(link);

describe('what was answered', () => {
  test('one answer in the log is one in the file; a question without an answer is not there', () => {
    const bundle = bundleOf([check('c1', '2031-03-04T15:00', { person: {}, feet: { left: { pain: 'more' } }, wounds: {} })]);
    const forms = ofType(bundle, 'QuestionnaireResponse');
    expect(forms.flatMap((f) => answered(f.item)).filter(isAnswer)).toEqual([['pain', 'pain:more']]);
    expect(ofType(bundle, 'Observation').filter((o) => o.derivedFrom)).toHaveLength(1);
  });

  test('a check without any answer makes a form without one, and no observation', () => {
    const bundle = bundleOf([check('c1', '2031-03-04T15:00', { person: {}, feet: {}, wounds: {} })]);
    expect(
      ofType(bundle, 'QuestionnaireResponse')
        .flatMap((f) => answered(f.item))
        .filter(isAnswer),
    ).toEqual([]);
    expect(ofType(bundle, 'Observation').filter((o) => o.derivedFrom)).toEqual([]);
  });

  test('readings keep the unit they were typed in, with the place, the second reading and the pairs', () => {
    const form = ofType(bundleOf(fullLog()), 'QuestionnaireResponse').find((f) => JSON.stringify(f).includes('95.9'));
    expect(answered(form?.item).filter(([link]) => /^(temperature|glucose|warmth)/.test(link))).toEqual([
      ['temperature', 95.9],
      ['temperature.site', 'temperature.site:ear'],
      ['temperature', 96.1],
      ['temperature.site', 'temperature.site:ear'],
      ['glucose', 13.4],
      ['warmth', 'warmth:warmer'],
      ['warmth.site', 'Heel'],
      ['warmth.woundSide', 33.4],
      ['warmth.otherSide', 30.9],
      ['warmth.site', 'Ball, inner side'],
      ['warmth.woundSide', 91.4],
      ['warmth.otherSide', 88.2],
      ['warmth', 'warmth:same'],
    ]);
    const skin = ofType(bundleOf(fullLog()), 'Observation').filter((o) => o.code.coding?.[0]?.code === '61008-9');
    expect(skin.map((o) => [o.bodySite?.text, o.valueQuantity?.value, o.valueQuantity?.code])).toEqual([
      ['Left foot, Heel', 33.4, 'Cel'],
      ['Right foot, Heel', 30.9, 'Cel'],
      ['Left foot, Ball, inner side', 91.4, '[degF]'],
      ['Right foot, Ball, inner side', 88.2, '[degF]'],
    ]);
  });

  test('not being sure is told as that, never as a value', () => {
    const observations = ofType(bundleOf(fullLog()), 'Observation');
    const unsure = observations.filter((o) => o.dataAbsentReason?.coding?.[0]?.code === 'asked-unknown');
    expect(unsure.map((o) => o.code.text)).toEqual(['Pain', 'Skin around', 'The wound itself']);
    expect(JSON.stringify(observations.map((o) => o.valueCodeableConcept))).not.toContain('unsure');
  });

  test('every answer stands at a question of the form that goes with it, whatever the log', () => {
    const places = (items: readonly (QuestionnaireItem | QuestionnaireResponseItem)[] = [], above = ''): string[] =>
      items.flatMap((item) => {
        const own = `${above}/${item.linkId}`;
        const inner = 'answer' in item ? (item.answer ?? []).flatMap((a) => places(a.item, own)) : [];
        return [own, ...places(item.item, own), ...inner];
      });
    fc.assert(
      fc.property(anyLogArb, (records) => {
        const bundle = bundleOf(records);
        const [form] = ofType(bundle, 'Questionnaire');
        const known = new Set(places(form?.item));
        for (const filled of ofType(bundle, 'QuestionnaireResponse')) {
          expect(filled.questionnaire).toBe(form?.url);
          expect(places(filled.item).filter((place) => !known.has(place))).toEqual([]);
        }
      }),
      FEW,
    );
  });

  test('answers that were given at a change to questions of the foot are not lost when its plan is not here', () => {
    const records = [change('g', '2031-03-04T15:00', { wound: 'unheard-of', answers: { pain: 'severe', drainageAmount: 'none' } })];
    const forms: QuestionnaireResponse[] = ofType(bundleOf(records), 'QuestionnaireResponse');
    expect(forms.flatMap((f) => answered(f.item)).filter(isAnswer)).toEqual([
      ['pain', 'pain:severe'],
      ['drainageAmount', 'drainageAmount:none'],
    ]);
  });
});

describe('corrected and withdrawn records', () => {
  test('a corrected check stands as it is now, under the time it is about, marked as amended', () => {
    const [form] = at(bundleOf(fullLog()), 'QuestionnaireResponse', 'amended') as QuestionnaireResponse[];
    const given = answered(form?.item);
    expect(given).toContainEqual(['pain', 'pain:more']);
    expect(given).toContainEqual(['when', '2031-03-04T09:00:00.000-06:00']);
    expect(form?.authored).toBe('2031-03-05T10:00:00.000-06:00');
    expect(JSON.stringify(bundleOf(fullLog()))).not.toContain('2.1,"unit":"cm"');
  });

  test('what has no word for a correction says it in a note', () => {
    const procedures = ofType(bundleOf(fullLog()), 'Procedure');
    expect(procedures[0]?.note?.map((n) => n.text)).toEqual(['Corrected.']);
    expect(procedures[0]?.note?.[0]?.time).toBe('2031-03-05T11:00:00.000-06:00');
  });

  test('a withdrawn record and all that comes from it are entered in error', () => {
    const bundle = bundleOf(fullLog());
    const wrong = (type: FhirResource['resourceType']) => at(bundle, type, 'entered-in-error').length;
    expect({
      forms: wrong('QuestionnaireResponse'),
      changes: wrong('Procedure'),
      told: wrong('Communication'),
      deliveries: wrong('SupplyDelivery'),
    }).toEqual({ forms: 2, changes: 1, told: 2, deliveries: 1 });
    const temperature = ofType(bundle, 'Observation').filter((o) => o.status === 'entered-in-error' && o.valueQuantity);
    expect(temperature.map((o) => o.note?.[0]?.text)).toEqual(['Withdrawn: meant for tomorrow']);
  });
});

describe('changes and alerts', () => {
  test('what was used is what was written down; else the layers whose step was done as planned', () => {
    const used = ofType(bundleOf(fullLog()), 'Procedure').map((p) => p.usedCode?.map((c) => c.text));
    expect(used[0]).toEqual(['Collagen sheet 5 × 5 cm', '=Paper "tape", 2 cm']);
    expect(used[1]).toBeUndefined();
    expect(used[2]).toEqual(['Alginate sheet, 5 cm × 5 cm']);
  });

  test('a change that was broken off is stopped, with the steps that were not done as planned', () => {
    const [stopped] = ofType(bundleOf(fullLog()), 'Procedure').filter((p) => p.status === 'stopped');
    expect(stopped?.outcome?.text).toBe('Not finished. Steps done: 1 of 3.');
    expect(stopped?.note?.map((n) => n.text)).toEqual([
      'Hold it in place: done another way. @home: tape, then "net"',
      'Put the shoe or boot back on: not done',
      '\tran out of time',
    ]);
  });

  test('an alert says how urgent it was and why; its outcomes answer to it, a failed call as one not done', () => {
    const bundle = bundleOf(fullLog());
    const told = ofType(bundle, 'Communication');
    const alerts = told.filter((c) => c.category?.[0]?.coding?.[0]?.code === 'alert');
    expect(alerts.map((a) => [a.priority, a.payload?.[0]?.contentString])).toEqual([
      ['asap', 'Call your clinic now'],
      ['stat', 'Call the emergency number now'],
      ['urgent', 'Call your clinic today'],
    ]);
    expect(alerts[0]?.reasonCode?.[0]?.text).toContain('more pain and new swelling');
    const outcomes = told.filter((c) => c.category?.[0]?.coding?.[0]?.code === 'outcome');
    expect(outcomes.map((o) => [o.status, o.topic?.coding?.[0]?.code, o.inResponseTo?.length])).toEqual([
      ['not-done', 'outcome:couldNotReach', 1],
      ['completed', 'outcome:reached', 1],
      ['completed', 'outcome:calledEmergency', 1],
      ['completed', 'outcome:wentToHospital', 1],
    ]);
    expect(outcomes[1]?.payload?.[1]?.contentString).toBe('+1 dose, come at 4; "do not wait"');
  });

  test('a question for the visit and a note are told apart', () => {
    const kinds = ofType(bundleOf(fullLog()), 'Communication').map((c) => [
      c.category?.[0]?.coding?.[0]?.code,
      c.payload?.[0]?.contentString,
    ]);
    expect(kinds).toContainEqual(['question', 'May I shower?']);
    expect(kinds).toContainEqual(['note', "'=SUM(A1:A9) was a joke"]);
  });
});

describe('plans', () => {
  test('the plan in force is active, the one before it completed and replaced; one that nothing was written under stays out', () => {
    const plans = ofType(bundleOf(fullLog()), 'CarePlan');
    expect(plans.map((p) => [p.status, p.title])).toEqual([
      ['active', 'Dressing plan, version 2'],
      ['completed', 'Dressing plan, version 1'],
    ]);
    expect(plans[0]?.replaces).toHaveLength(1);
    const [only, ...more] = ofType(bundleOf([]), 'CarePlan');
    expect([only?.replaces, more]).toEqual([undefined, []]);
  });

  test('a rule such as "no alcohol" never stands as something not to do: twice no reads as yes', () => {
    const text = JSON.stringify(ofType(bundleOf([]), 'CarePlan'));
    expect(text).toContain('No alcohol on the wound');
    expect(text).not.toContain('doNotPerform');
  });

  test('a recipe says the dressing, what to clean with and the clinic’s own words', () => {
    const activity = ofType(bundleOf([]), 'CarePlan')[0]?.activity ?? [];
    const light = activity.map((a) => a.detail?.description ?? '').find((d) => d.includes('Collagen')) ?? '';
    for (const part of ['a little fluid', 'Collagen sheet, 5 cm × 5 cm', 'saline', 'Leave the rest in the packet.'])
      expect(light.toLowerCase()).toContain(part.toLowerCase());
    expect(activity.map((a) => a.detail?.code?.text)).toContain('Cover it with a clean, dry dressing. Then call your clinic today.');
  });

  test.each([
    [
      { kind: 'hours', hours: 48 },
      { frequency: 1, period: 2, periodUnit: 'd' },
    ],
    [
      { kind: 'hours', hours: 36 },
      { frequency: 1, period: 36, periodUnit: 'h' },
    ],
    [
      { kind: 'timesADay', times: 2 },
      { frequency: 2, period: 1, periodUnit: 'd' },
    ],
    [
      { kind: 'weekdays', days: ['mon', 'thu'] },
      { frequency: 1, period: 1, periodUnit: 'd', dayOfWeek: ['mon', 'thu'] },
    ],
  ] as const)('how often %j', (interval, repeat) => {
    expect(timingOf(structuredClone(interval) as never)).toEqual({ repeat });
  });

  test('the next visit is on the clinic’s clock', () => {
    const activity = ofType(bundleOf([]), 'CarePlan')[0]?.activity ?? [];
    const { nextVisit } = secondPlan();
    const visit = activity.find((a) => a.detail?.kind === 'Appointment')?.detail?.scheduledPeriod?.start;
    expect(visit).toBe(`${nextVisit?.day}T${nextVisit?.time}:00.000-05:00`);
  });
});

test('control characters, which FHIR forbids, are left out, and a note of nothing else is not there', () => {
  const records = [
    note('n1', '2031-03-04T15:00', 'a\u0000b\u0007'),
    note('n2', '2031-03-04T15:01', '\u0000 '),
    note('n3', '2031-03-04T15:02', '  '),
  ];
  const told = ofType(bundleOf(records), 'Communication').map((c) => c.payload?.[0]?.contentString);
  expect(told).toEqual(['ab']);
});

test('a clock that was set back between the first step and the last leaves only the end of a change', () => {
  const [procedure] = ofType(bundleOf([change('g', '2031-03-04T15:00', { startedAt: '2031-03-04T16:00:00Z' })]), 'Procedure');
  expect(procedure?.performedPeriod).toEqual({ end: '2031-03-04T15:00:00.000+00:00' });
});

test('a record under a plan that is not here names no plan', () => {
  const [procedure] = ofType(bundleOf([change('g', '2031-03-04T15:00', { plan: { id: 'other', revision: 4 } })]), 'Procedure');
  expect(procedure?.basedOn).toBeUndefined();
  expect(firstPlan().revision).toBe(1);
  expect(stamp('x').plan).toEqual({ id: firstPlan().id, revision: 1 });
});

test('a file in Arabic is in Arabic and holds no marks of direction, which no search would find its way past', async () => {
  await speak('ar');
  const text = JSON.stringify(bundleOf(fullLog(), { language: 'ar' }));
  await speak();
  expect(text).toContain('ضُمّد حسب الخطة');
  // UAX #9: the explicit marks of direction.
  expect(text.match(/[\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069]/g)).toBeNull();
});
