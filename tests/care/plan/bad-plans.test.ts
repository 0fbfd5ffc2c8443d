import { describe, expect, test } from 'vitest';
import { DEFAULT_THRESHOLDS, STRICTEST_THRESHOLDS } from '../../../app/care/escalation/limits.ts';
import { readPlan } from '../../../app/care/plan/plan.ts';
import { at, DRY_WOUND, demoContent, drop, type Json, parsePath, put } from './plans.ts';

/** One fault in an otherwise good plan: what is done to which field, and what must be told about which field. */
type Case = [name: string, field: string, value: Json | undefined, fault: string, told?: string];

const R = 'wounds.0.bands.light.recipe';
const long = (n: number): string => 'x'.repeat(n);

const CASES: Case[] = [
  // — a field is missing —
  ['no version', 'version', undefined, 'missing'],
  ['no id', 'id', undefined, 'missing'],
  ['no clinic', 'clinic', undefined, 'missing'],
  ['no clinic phone', 'clinic.phone', undefined, 'missing'],
  ['no opening hours', 'clinic.hours', undefined, 'missing'],
  ['no person', 'person', undefined, 'missing'],
  ['no foot', 'wounds.0.side', undefined, 'missing'],
  ['no word on keeping dry', 'wounds.0.keepDry', undefined, 'missing'],
  ['no recipe for a band', 'wounds.0.bands.moderate', undefined, 'missing'],
  ['no fixation in a recipe', `${R}.fixation`, undefined, 'missing'],
  ['no steps in a recipe', `${R}.steps`, undefined, 'missing'],
  ['no interval', `${R}.change`, undefined, 'missing'],
  ['no kind of interval', `${R}.change.kind`, undefined, 'missing'],
  ['no hours in the interval', `${R}.change.hours`, undefined, 'missing'],
  ['no family of a dressing', `${R}.primary.family`, undefined, 'missing'],
  ['no escalation part', 'escalation', undefined, 'missing'],

  // — a field is of the wrong type or code —
  ['a number for a name', 'clinic.name', 5, 'wrong'],
  ['null for the phone', 'clinic.phone', null, 'wrong'],
  ['a text for the revision', 'revision', '2', 'wrong'],
  ['half a revision', 'revision', 1.5, 'wrong'],
  ['a list for the clinic', 'clinic', [], 'wrong'],
  ['a text for keeping dry', 'wounds.0.keepDry', 'no', 'wrong'],
  ['an unknown place', 'wounds.0.site', 'elbow', 'wrong'],
  ['an unknown family', `${R}.primary.family`, 'honey', 'wrong'],
  ['an unknown step', `${R}.steps.0.step`, 'boil', 'wrong'],
  ['a text for hours', `${R}.change.hours`, '48', 'wrong'],
  ['an unknown kind of interval', `${R}.change.kind`, 'moon', 'wrong'],
  ['a band that is neither recipe nor call', 'wounds.0.bands.heavy', {}, 'wrong'],
  ['a band that is null', 'wounds.0.bands.heavy', null, 'wrong'],
  ['a call that is refused', 'wounds.0.bands.heavy', { callUs: false }, 'wrong', 'wounds.0.bands.heavy.callUs'],
  ['a range of one band', 'wounds.0.expectedDrainage', ['none'], 'wrong'],
  ['a version as text', 'version', '1', 'wrong'],
  ['version 0', 'version', 0, 'wrong'],

  // — a field nobody knows —
  ['an unknown field of the plan', 'cure', true, 'unknownField'],
  ['an unknown field of the clinic', 'clinic.fax', '1', 'unknownField'],
  ['an unknown field of a step', `${R}.steps.0.video`, 'x', 'unknownField'],
  ['an unknown field of a recipe', `${R}.heals`, true, 'unknownField'],
  ['an unknown rule', 'escalation.raise', { 'no-such-rule': 'callNow' }, 'unknownField', 'escalation.raise.no-such-rule'],
  ['an unknown threshold', 'escalation.thresholds', { painLevel: 1 }, 'unknownField', 'escalation.thresholds.painLevel'],

  // — prototype keys —
  ['__proto__ in the plan', '__proto__', { version: 1 }, 'unknownField'],
  ['__proto__ in the clinic', 'clinic.__proto__', { phone: '911' }, 'unknownField'],
  ['__proto__ in a wound', 'wounds.0.__proto__', { keepDry: true }, 'unknownField'],
  ['constructor in the plan', 'constructor', { prototype: {} }, 'unknownField'],
  ['constructor in a recipe', `${R}.constructor`, 'x', 'unknownField'],
  ['prototype in the person', 'person.prototype', 'x', 'unknownField'],
  ['constructor for a rule', 'escalation.raise', { constructor: 'callNow' }, 'unknownField', 'escalation.raise.constructor'],
  ['__proto__ for an id', 'person.id', '__proto__', 'notAnId'],

  // — a text that is empty or too long —
  ['an empty clinic name', 'clinic.name', '   ', 'empty'],
  ['a clinic name of 81 letters', 'clinic.name', long(81), 'tooLong'],
  ['an empty name to call the person', 'person.callMe', '', 'empty'],
  ['a note of 241 letters', `${R}.steps.0.note`, long(241), 'tooLong'],
  ['a greeting of 401 letters', 'greeting', long(401), 'tooLong'],
  ['no steps at all', `${R}.steps`, [], 'empty'],
  ['no wounds', 'wounds', [], 'empty'],
  ['an id with a slash', 'person.id', 'nela/2031-03', 'notAnId'],
  ['an id with a dot', 'id', '../plan', 'notAnId'],
  ['a language that is none', 'person.language', 'English please', 'notALanguage'],

  // — days and times —
  ['a day that does not exist', 'issued', '2031-02-30', 'notADay'],
  ['a day with a time', 'reviewBy', '2031-03-16T00:00:00Z', 'notADay'],
  ['a time that does not exist', 'clinic.hours.0.opens', '25:00', 'notATime'],
  ['a time without its nought', 'nextVisit.time', '9:30', 'notATime'],
  ['a zone that does not exist', 'clinic.zone', 'Europe/Atlantis', 'notAZone'],
  ['a clinic that closes before it opens', 'clinic.hours.0.closes', '08:00', 'closesBeforeItOpens'],
  ['a clinic that closes when it opens', 'clinic.hours.0.closes', '08:30', 'closesBeforeItOpens'],

  // — numbers to dial —
  ['letters in a phone number', 'clinic.phone', '1-800-FOOT-CARE', 'notAPhone'],
  ['a script in a phone number', 'clinic.phone', 'javascript:alert(1)', 'notAPhone'],
  ['a dialling code that forwards calls', 'clinic.phone', '*21*5550142#', 'notAPhone'],
  ['a pause and more digits', 'clinic.outOfHoursPhone', '555 0142,,9', 'notAPhone'],
  ['a parameter behind the number', 'clinic.phone', '5550142;phone-context=x', 'notAPhone'],
  ['a line break behind the number', 'clinic.phone', '555 0142\n', 'notAPhone'],
  ['letters in the emergency number', 'clinic.emergencyNumber', 'HELP', 'notAPhone'],
  ['a paid number for emergencies', 'clinic.emergencyNumber', '09005550142', 'notAPhone'],

  // — numbers out of range —
  ['revision 0', 'revision', 0, 'outOfRange'],
  ['a wound of no length', 'wounds.0.baseline.lengthMm', 0, 'outOfRange'],
  ['a wound of a metre', 'wounds.0.baseline.widthMm', 1000, 'outOfRange'],
  ['a change each hour', `${R}.change.hours`, 1, 'outOfRange'],
  ['a change each month', `${R}.change.hours`, 720, 'outOfRange'],
  ['five changes a day', `${R}.change`, { kind: 'timesADay', times: 5 }, 'outOfRange', `${R}.change.times`],
  ['changes on no weekday', `${R}.change`, { kind: 'weekdays', days: [] }, 'empty', `${R}.change.days`],
  ['a negative use', `${R}.uses.0.amount`, -1, 'outOfRange'],
  ['an empty pack', 'supplies.0.packOf', 0, 'outOfRange'],

  // — the same thing twice —
  ['the same step twice', `${R}.steps.1.step`, 'freshGloves', 'twice', `${R}.steps`],
  ['the same item used twice', `${R}.uses.1.item`, 'collagen', 'twice', `${R}.uses`],
  ['the same supply twice', 'supplies.8', { id: 'collagen', name: 'Collagen, another pack' }, 'twice', 'supplies'],
  ['the same rule of conduct twice', 'donts', ['noHeat', 'noHeat'], 'twice'],
  ['the same question twice', 'asks', ['glucose', 'glucose'], 'twice'],
  ['the same known finding twice', 'wounds.0.known', ['odour:usual', 'odour:usual'], 'twice'],
  ['the same weekday twice', `${R}.change`, { kind: 'weekdays', days: ['mon', 'mon'] }, 'twice', `${R}.change.days`],

  // — what would be dangerous —
  ['a backwards range of drainage', 'wounds.0.expectedDrainage', ['heavy', 'light'], 'rangeBackwards'],
  ['a recipe that uses an item nobody has', `${R}.uses.0.item`, 'gold', 'usesUnknownItem', 'supplies'],
  ['a known finding that is none', 'wounds.0.known', ['odour:terrible'], 'notAFinding', 'wounds.0.known.0'],
  ['a known finding with an answer too many', 'wounds.0.known', ['odour:usual:none'], 'notAFinding', 'wounds.0.known.0'],
  ['green known but cloudy not', 'wounds.0.known', ['drainageColour:green'], 'milderNotKnown'],
  ['green known but red not', 'wounds.0.known', ['drainageColour:cloudyThick', 'drainageColour:green'], 'milderNotKnown'],
  ['leaking known but marked through not', 'wounds.0.known', ['dressing:leaking'], 'milderNotKnown'],
  ['a new sore known but a soggy edge not', 'wounds.0.known', ['edge:newBlisterOrSore'], 'milderNotKnown'],
  ['a mildest answer as an extra sign', 'escalation.alsoSigns', ['odour:none'], 'notAFinding', 'escalation.alsoSigns.0'],
  ['an also-sign that is none', 'escalation.alsoSigns', ['mood:low'], 'notAFinding', 'escalation.alsoSigns.0'],
  ['a rule lowered', 'escalation.raise', { fever: 'mention' }, 'looser', 'escalation.raise.fever'],
  ['an emergency lowered by one', 'escalation.raise', { 'redness-fast': 'callNow' }, 'looser', 'escalation.raise.redness-fast'],
  ['a rule raised to no level', 'escalation.raise', { fever: 'panic' }, 'wrong', 'escalation.raise.fever'],
];

const withFault = ([, field, value]: Case): Json => {
  const content = demoContent();
  return value === undefined ? drop(content, parsePath(field)) : put(content, parsePath(field), value);
};

describe('a plan with one fault is refused, and the fault names the field', () => {
  test.each(CASES)('%s', (...row) => {
    const [, field, , fault, told] = row as Case;
    expect(readPlan(withFault(row as Case))).toEqual({ ok: false, faults: [{ path: parsePath(told ?? field), fault }] });
  });
});

describe('thresholds can only become stricter', () => {
  const KEYS = Object.keys(DEFAULT_THRESHOLDS) as (keyof typeof DEFAULT_THRESHOLDS)[];
  const read = (key: string, value: Json) => readPlan(put(demoContent(), ['escalation', 'thresholds'], { [key]: value }));

  test.each(KEYS)('%s: looser is refused, absurdly strict is refused, both ends of the range are kept', (key) => {
    const path = ['escalation', 'thresholds', key];
    expect(read(key, DEFAULT_THRESHOLDS[key] + 0.1)).toEqual({ ok: false, faults: [{ path, fault: 'looser' }] });
    expect(read(key, STRICTEST_THRESHOLDS[key] - 0.1)).toEqual({ ok: false, faults: [{ path, fault: 'outOfRange' }] });
    expect(read(key, DEFAULT_THRESHOLDS[key]).ok).toBe(true);
    expect(read(key, STRICTEST_THRESHOLDS[key]).ok).toBe(true);
    expect(read(key, 'low')).toEqual({ ok: false, faults: [{ path, fault: 'wrong' }] });
  });
});

describe('a wound that must stay dry [EV-PRA-01, common practice for dry gangrene]', () => {
  const dry = (change: (wound: Json) => void): Json => {
    const content = demoContent();
    const wound = structuredClone(DRY_WOUND) as unknown as Json;
    change(wound);
    (at(content, ['wounds']) as Json[]).push(wound);
    return content;
  };
  const refused = { ok: false, faults: [{ path: ['wounds', 1, 'keepDry'], fault: 'moistStepOnDryWound' }] };

  test('a dry recipe and calls for anything wet are accepted', () => {
    expect(readPlan(dry(() => {})).ok).toBe(true);
  });

  test.each(['clean', 'primary', 'protectSkin'])('the step %s is refused', (step) => {
    expect(readPlan(dry((w) => put(w, ['bands', 'none', 'recipe', 'steps', 0], { step })))).toEqual(refused);
  });

  test.each(['hydrogel', 'foam', 'alginateSheet', 'hydrocolloid', 'film', 'composite'])(
    'the family %s is refused in either layer',
    (family) => {
      for (const layer of ['primary', 'secondary']) {
        expect(readPlan(dry((w) => put(w, ['bands', 'none', 'recipe', layer], { family })))).toEqual(refused);
      }
    },
  );

  test('a moist recipe in a band that is not expected is refused too', () => {
    const moist = at(demoContent(), ['wounds', 0, 'bands', 'heavy']);
    expect(moist).toEqual({ callUs: true });
    expect(readPlan(dry((w) => put(w, ['bands', 'heavy'], at(demoContent(), ['wounds', 0, 'bands', 'moderate']))))).toEqual(refused);
  });
});

describe('a plan that is too large, too new or no plan at all is refused', () => {
  test('five wounds are too many, four are not', () => {
    const four = demoContent();
    const list = at(four, ['wounds']) as Json[];
    for (const id of ['w2', 'w3', 'w4']) list.push(put(structuredClone(list[0] as Json), ['id'], id));
    expect(readPlan(four).ok).toBe(true);
    list.push(put(structuredClone(list[0] as Json), ['id'], 'w5'));
    expect(readPlan(four)).toEqual({ ok: false, faults: [{ path: ['wounds'], fault: 'tooMany' }] });
  });

  test('two wounds with one id are refused', () => {
    const content = demoContent();
    const list = at(content, ['wounds']) as Json[];
    list.push(structuredClone(list[0] as Json));
    expect(readPlan(content)).toEqual({ ok: false, faults: [{ path: ['wounds'], fault: 'twice' }] });
  });

  test.each([
    ['supplies', { id: 'x', name: 'x' }],
    ['donts', 'noHeat'],
    ['asks', 'x'],
    ['ownDonts', 'x'],
    ['clinic.hours', { day: 'mon', opens: '08:00', closes: '09:00' }],
    ['clinic.closedDays', '2031-03-04'],
    ['wounds.0.known', 'odour:usual'],
    ['wounds.0.bands.light.recipe.steps', { step: 'fix' }],
    ['warmthSites', 'heel'],
    ['escalation.alsoSigns', 'odour:usual'],
  ] as [string, Json][])('a list of 50,000 in %s is refused with at most 20 faults', (field, item) => {
    const reading = readPlan(put(demoContent(), parsePath(field), Array<Json>(50_000).fill(item)));
    expect(reading.ok).toBe(false);
    if (!reading.ok) expect(reading.faults.length).toBeLessThanOrEqual(20);
  });

  test('thousands of unknown fields are told as 20 faults', () => {
    const content = demoContent() as { [key: string]: Json };
    for (let i = 0; i < 5_000; i++) content[`k${i}`] = i;
    const reading = readPlan(content);
    expect(reading.ok ? [] : reading.faults).toHaveLength(20);
  });

  test.each([2, 1.5, 1e300, Number.POSITIVE_INFINITY])('version %s is from a newer app, whatever else it holds', (version) => {
    const newer = { ok: false, faults: [{ path: ['version'], fault: 'newerVersion' }] };
    expect(readPlan(put(demoContent(), ['version'], version))).toEqual(newer);
    expect(readPlan({ version })).toEqual(newer);
  });

  test.each([undefined, null, 5, 'plan', [], [[]], true])('%j is no plan', (content) => {
    expect(readPlan(content).ok).toBe(false);
  });
});
