import fc from 'fast-check';
import { STEPS } from '../../app/care/change/steps.ts';
import type { Answers } from '../../app/care/check/answers.ts';
import { QUESTIONS, type QuestionScope } from '../../app/care/check/questions.ts';
import { LEVELS } from '../../app/care/escalation/levels.ts';
import { RULE_IDS } from '../../app/care/escalation/rule-levels.ts';
import { type LogRecord, OUTCOMES, STEP_STATES, STOCK_MOVEMENTS } from '../../app/care/log/records.ts';
import type { Plan } from '../../app/care/plan/plan.ts';
import type { LocalDay } from '../../app/care/schedule/day.ts';
import { localDay } from '../../app/care/schedule/day.ts';
import { answersArb } from '../care/escalation/arbitraries.ts';
import { alert, change, check, measurement, mustBeRecords, note, outcome, planAccepted, stamp, withdrawal } from '../care/log/make.ts';
import { mustRead, twoWoundPlan } from '../care/plan/plans.ts';

const CHICAGO = { zone: 'America/Chicago' };

/** Two wounds, one of them to be kept dry, warmth and glucose asked; version 2, so that there is one before it. */
export function secondPlan(): Plan {
  const plan = twoWoundPlan();
  return mustRead({
    ...plan,
    revision: 2,
    asks: ['warmth', 'offloading', 'glucose'],
    warmthSites: ['Heel', 'Ball, inner side'],
    ownDonts: ['No long walks, please.'],
    sample: false,
  });
}
export const firstPlan = (): Plan => mustRead({ ...twoWoundPlan(), sample: false });

/** A log that holds every kind of record, each also with what is rare: corrected, withdrawn, not sure, words that hurt a file. */
export function fullLog(): LogRecord[] {
  const second = { plan: { id: 'alder-street-0417', revision: 2 } };
  return [
    ...mustBeRecords<LogRecord>([
      planAccepted('p1', '2031-03-02T15:00'),
      check('c1', '2031-03-04T15:00', CHICAGO),
      change('g1', '2031-03-04T15:20', {
        ...CHICAGO,
        check: 'c1',
        startedAt: '2031-03-04T15:02:00.000Z',
        answers: {
          drainageAmount: 'light',
          drainageColour: 'clear',
          odour: 'usual',
          redness: 'none',
          woundBed: ['red', 'yellow'],
          edge: 'usual',
        },
        steps: STEPS.map((step) => ({ step, state: 'done' as const })),
      }),
      { ...stamp('s1', '2031-03-04T15:21'), ...CHICAGO, kind: 'stock', item: 'collagen', movement: 'used', amount: 1, change: 'g1' },
      { ...stamp('s2', '2031-03-04T15:22'), ...CHICAGO, kind: 'stock', item: 'tape', movement: 'used', amount: 0.5, change: 'g1' },
      { ...stamp('i1', '2031-03-03T15:00'), ...CHICAGO, kind: 'ownItem', item: 'tape', name: '=Paper "tape", 2 cm', packOf: 3 },
      { ...planAccepted('p2', '2031-03-05T15:00'), accepted: { id: 'alder-street-0417', revision: 2, clinic: 'Alder Street Foot Clinic' } },
      check('c2', '2031-03-06T15:00', {
        ...CHICAGO,
        ...second,
        by: { who: 'caregiver', name: 'Ana, "la vecina"' },
        person: {
          unwell: ['shakingChills', 'unsure'],
          temperature: { value: 95.9, unit: '[degF]', site: 'ear', again: 96.1 },
          offloading: 'unsure',
          glucose: { value: 13.4, unit: 'mmol/L' },
          note: '-5 kg since "May";\r\nshe says 🦶 hurts',
        },
        feet: {
          left: {
            footColour: 'usual',
            pain: 'more',
            warmth: {
              feel: 'warmer',
              pairs: [
                { site: 'Heel', woundSide: 33.4, otherSide: 30.9 },
                { site: 'Ball, inner side', woundSide: 91.4, otherSide: 88.2, unit: '[degF]' },
              ],
            },
            swelling: 'new',
          },
          right: { footColour: 'unsure', pain: 'unsure', warmth: 'same', swelling: 'usual' },
        },
        wounds: { w1: { dressing: 'leaking', bleeding: 'none' }, w2: { dressing: 'dryInPlace', bleeding: 'none' } },
        judgement: {
          level: 'callToday',
          told: 'callNow',
          fired: [
            { rule: 'one-sign', level: 'callToday', findings: ['pain:more'], wounds: ['w1'] },
            { rule: 'two-signs', level: 'callNow', findings: ['pain:more', 'swelling:new'], params: { count: 2 } },
          ],
          quieted: [],
        },
      }),
      alert('a1', '2031-03-06T15:01', {
        ...CHICAGO,
        ...second,
        told: 'callNow',
        level: 'callNow',
        from: 'c2',
        fired: [{ rule: 'two-signs', level: 'callNow', findings: ['pain:more', 'swelling:new'], params: { count: 2 } }],
      }),
      outcome('o1', ['a1'], 'couldNotReach', '2031-03-06T15:05', { ...CHICAGO, ...second }),
      outcome('o2', ['a1'], 'reached', '2031-03-06T16:05', { ...CHICAGO, ...second, said: '+1 dose, come at 4; "do not wait"' }),
      alert('a2', '2031-03-07T02:00', { ...CHICAGO, ...second, from: 'nowhere', told: 'emergency', level: 'emergency' }),
      outcome('o3', ['a2', 'gone'], 'calledEmergency', '2031-03-07T02:03', { ...CHICAGO, ...second }),
      outcome('o4', ['a2'], 'wentToHospital', '2031-03-07T03:00', { ...CHICAGO, ...second }),
      change('g2', '2031-03-08T15:00', {
        ...CHICAGO,
        ...second,
        wound: 'w2',
        path: 'coverAndCall',
        band: 'heavy',
        stopped: true,
        answers: { drainageAmount: 'heavy', redness: 'unsure', woundBed: ['unsure'], odour: 'newOrStronger', pain: 'severe' } as Answers,
        steps: [
          { step: 'remove', state: 'done' },
          { step: 'fix', state: 'different', note: '@home: tape, then "net"' },
          { step: 'device', state: 'skipped' },
        ],
        note: '\tran out of time',
      }),
      change('g3', '2031-03-09T15:00', {
        ...CHICAGO,
        ...second,
        answers: { drainageAmount: 'moderate', drainageColour: 'pink', edge: 'whiteSoggy' } as Answers,
        band: 'moderate',
        steps: [
          { step: 'primary', state: 'done' },
          { step: 'secondary', state: 'different' },
        ],
      }),
      measurement('m1', '2031-03-09T15:30', 21, 15, { ...CHICAGO, ...second }),
      {
        ...stamp('f1', '2031-03-09T15:31'),
        ...CHICAGO,
        ...second,
        kind: 'photo',
        wound: 'w1',
        photo: 'photo-1',
        widthPx: 1200,
        heightPx: 900,
      },
      {
        ...stamp('f2', '2031-03-10T15:31'),
        ...CHICAGO,
        ...second,
        kind: 'photo',
        wound: 'w2',
        photo: 'photo-2',
        widthPx: 900,
        heightPx: 1200,
      },
      {
        ...stamp('m2', '2031-03-09T15:32'),
        ...CHICAGO,
        ...second,
        kind: 'measurement',
        wound: 'w1',
        method: 'trace',
        areaMm2: 251.3,
        perimeterMm: 57.25,
        photo: 'photo-1',
        scale: 'code',
        outline: [
          [0.1, 0.1],
          [0.2, 0.1],
          [0.2, 0.2],
        ],
      },
      {
        ...stamp('m3', '2031-03-09T15:33'),
        ...CHICAGO,
        ...second,
        kind: 'measurement',
        wound: 'old-wound',
        method: 'clinic',
        depthMm: 3.5,
      },
      {
        ...stamp('w1', '2031-03-09T15:40'),
        ...CHICAGO,
        ...second,
        kind: 'weighing',
        wound: 'w1',
        change: 'g3',
        dryG: 5.2,
        usedG: 11.4,
        stepG: 0.1,
        hours: 47.5,
      },
      note('n1', '2031-03-10T15:00', '=SUM(A1:A9)', { ...CHICAGO, ...second }),
      note('n2', '2031-03-10T15:05', 'May I shower?', { ...CHICAGO, ...second, forVisit: true }),
      { ...stamp('v1', '2031-03-11T15:00'), ...CHICAGO, ...second, kind: 'visit', note: 'New boot' },
      { ...stamp('v2', '2031-03-12T15:00'), ...CHICAGO, ...second, kind: 'visit' },
      {
        ...stamp('s3', '2031-03-11T17:00'),
        ...CHICAGO,
        ...second,
        kind: 'stock',
        item: 'foam',
        movement: 'received',
        amount: 10,
        expires: '2032-01-31' as LocalDay,
      },
      {
        ...stamp('s4', '2031-03-11T17:01'),
        ...CHICAGO,
        ...second,
        kind: 'stock',
        item: 'gauze',
        movement: 'counted',
        amount: 40,
        note: 'two boxes',
      },
      { ...stamp('s5', '2031-03-11T17:02'), ...CHICAGO, ...second, kind: 'stock', item: 'never-heard-of', movement: 'wasted', amount: 1 },
      { ...stamp('s6', '2031-03-11T17:03'), ...CHICAGO, ...second, kind: 'stock', item: 'never-heard-of', movement: 'received', amount: 2 },
      // Corrected: the pain of the first check, twice; a size; a note.
      check('c1b', '2031-03-05T15:00', { ...CHICAGO, amends: 'c1', feet: { left: { pain: 'severe' } } }),
      check('c1c', '2031-03-05T16:00', {
        ...CHICAGO,
        amends: 'c1',
        feet: { left: { pain: 'more', footColour: 'usual', warmth: 'same', swelling: 'usual' } },
      }),
      measurement('m1b', '2031-03-09T16:30', 20, 15, { ...CHICAGO, ...second, amends: 'm1', depthMm: 2 }),
      note('n1b', '2031-03-10T16:00', "'=SUM(A1:A9) was a joke", { ...CHICAGO, ...second, amends: 'n1' }),
      change('g1b', '2031-03-05T17:00', { ...CHICAGO, amends: 'g1', check: 'c1', answers: { drainageAmount: 'none' } as Answers }),
      // Withdrawn, with and without a reason.
      check('c3', '2031-03-12T15:00', { ...CHICAGO, ...second }),
      { ...withdrawal('x1', 'c3', '2031-03-12T15:10'), ...CHICAGO, why: 'meant for tomorrow' },
      change('g4', '2031-03-12T16:00', { ...CHICAGO, ...second }),
      withdrawal('x2', 'g4', '2031-03-12T16:10'),
      measurement('m4', '2031-03-12T16:20', 200, 15, { ...CHICAGO, ...second }),
      withdrawal('x3', 'm4', '2031-03-12T16:30'),
      alert('a3', '2031-03-12T16:40', { ...CHICAGO, ...second, from: 'c3' }),
      withdrawal('x4', 'a3', '2031-03-12T16:41'),
      note('n3', '2031-03-12T16:50', 'no', { ...CHICAGO, ...second }),
      withdrawal('x5', 'n3', '2031-03-12T16:51'),
      { ...stamp('s7', '2031-03-12T17:02'), ...CHICAGO, ...second, kind: 'stock', item: 'foam', movement: 'received', amount: 1 },
      withdrawal('x6', 's7', '2031-03-12T17:03'),
    ]),
  ];
}

const ids = fc.constantFrom('a', 'b', 'c', 'd', 'e', 'f', 'g', 'h', 'i', 'j');
/** Words as people and hostile files write them. */
export const wordsArb: fc.Arbitrary<string> = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 30 }),
  fc.string({
    unit: fc.constantFrom('"', "'", ',', ';', '\r', '\n', '\t', '=', '+', '-', '@', ' ', '＝', 'é', '🦶', '1', '\u0000'),
    maxLength: 12,
  }),
);
const someWords = wordsArb.filter((text) => text.trim() !== '');
const zones = fc.constantFrom('UTC', 'America/Chicago', 'Asia/Kathmandu', 'Pacific/Apia', 'America/St_Johns', 'Europe/Madrid');

const scoped = (answers: Answers, scope: QuestionScope, open: boolean): Answers =>
  Object.fromEntries(
    QUESTIONS.filter((q) => q.scope === scope && (open || q.when !== 'open') && answers[q.id] !== undefined).map((q) => [
      q.id,
      answers[q.id],
    ]),
  );

const levels = fc.constantFrom('callToday', 'callNow', 'emergency' as const);
const firedArb = fc.array(
  fc.record({
    rule: fc.constantFrom(...RULE_IDS),
    level: fc.constantFrom(...LEVELS),
    findings: fc.constantFrom(['pain:more'], ['odour:newOrStronger']),
  }),
  { maxLength: 3 },
);
const optional = <T>(arb: fc.Arbitrary<T>) => fc.option(arb, { nil: undefined });
const without = <T extends object>(record: T): T => Object.fromEntries(Object.entries(record).filter(([, v]) => v !== undefined)) as T;

const stampArb = fc
  .record({
    id: ids,
    at: fc.integer({ min: Date.UTC(2031, 1, 20), max: Date.UTC(2031, 3, 20) }),
    zone: zones,
    who: fc.constantFrom('patient', 'caregiver' as const),
    name: optional(someWords.map((text) => text.slice(0, 40))),
    plan: fc.constantFrom(
      null,
      { id: 'alder-street-0417', revision: 1 },
      { id: 'alder-street-0417', revision: 2 },
      { id: 'other', revision: 9 },
    ),
    amends: optional(ids),
  })
  .map(({ who, name, at, ...s }) =>
    without({ ...s, at: new Date(at).toISOString(), day: localDay(at, s.zone), by: without({ who, name }), device: 'phone-1' }),
  );

const wound = fc.constantFrom('w1', 'w2', 'old-wound');
const size = optional(fc.double({ min: 0.1, max: 400, noNaN: true }).map((mm) => Number(mm.toFixed(2))));

const bodyArb: fc.Arbitrary<Record<string, unknown>> = fc.oneof(
  fc
    .record({ answers: answersArb, note: optional(wordsArb), side: fc.constantFrom('left', 'right'), wound })
    .map(({ answers, note: words, side, wound: id }) => ({
      kind: 'check',
      person: without({ ...scoped(answers, 'person', false), note: words }),
      feet: { [side]: scoped(answers, 'foot', false) },
      wounds: { [id]: scoped(answers, 'wound', false) },
      judgement: { level: 'carryOn', told: 'carryOn', fired: [], quieted: [] },
    })),
  fc
    .record({
      answers: optional(answersArb),
      wound,
      check: optional(ids),
      path: fc.constantFrom('recipe', 'keepDry', 'coverAndCall'),
      band: optional(fc.constantFrom('none', 'light', 'moderate', 'heavy')),
      stopped: optional(fc.boolean()),
      steps: fc.array(
        fc.record({ step: fc.constantFrom(...STEPS), state: fc.constantFrom(...STEP_STATES), note: optional(wordsArb) }).map(without),
        { maxLength: 6 },
      ),
      note: optional(wordsArb),
      startedAt: fc.constantFrom('2031-03-01T00:00:00Z', '2031-05-01T00:00:00Z'),
    })
    .map((c) => without({ kind: 'change', ...c })),
  fc.record({ level: levels, told: levels, from: ids, fired: firedArb }).map((a) => ({ kind: 'alert', ...a })),
  fc
    .record({ alerts: fc.array(ids, { minLength: 1, maxLength: 3 }), what: fc.constantFrom(...OUTCOMES), said: optional(wordsArb) })
    .map((o) => without({ kind: 'outcome', ...o })),
  fc
    .record({
      wound,
      method: fc.constantFrom('ruler', 'clinic', 'trace'),
      lengthMm: size,
      widthMm: size,
      depthMm: size,
      areaMm2: size,
      perimeterMm: size,
      photo: optional(fc.constant('photo-1')),
    })
    .map((m) => without({ kind: 'measurement', ...m })),
  fc.record({ wound, photo: fc.constantFrom('photo-1', 'photo-2') }).map((p) => ({ kind: 'photo', widthPx: 10, heightPx: 10, ...p })),
  fc
    .record({ wound, change: optional(ids), dryG: fc.nat(50), usedG: fc.nat(90) })
    .map((w) => without({ kind: 'weighing', stepG: 1, hours: 24, ...w })),
  fc.record({ text: wordsArb, forVisit: optional(fc.boolean()) }).map((n) => without({ kind: 'note', ...n })),
  fc.record({ note: optional(wordsArb) }).map((v) => without({ kind: 'visit', ...v })),
  fc
    .record({
      item: fc.constantFrom('foam', 'tape', 'collagen'),
      movement: fc.constantFrom(...STOCK_MOVEMENTS),
      amount: fc.nat(20),
      note: optional(wordsArb),
    })
    .map((s) => without({ kind: 'stock', ...s })),
  fc.record({ item: fc.constantFrom('tape', 'foam'), name: someWords }).map((i) => ({ kind: 'ownItem', ...i, name: i.name.trim() })),
  fc.record({ target: ids, why: optional(wordsArb) }).map((v) => without({ kind: 'void', ...v })),
);

/** Any log that passes its schema: all kinds, corrections and withdrawals in any order, references to what is not there. */
export const anyLogArb: fc.Arbitrary<LogRecord[]> = fc
  .uniqueArray(
    fc.tuple(stampArb, bodyArb).map(([s, body]) => {
      const { amends, ...rest } = s;
      return { ...rest, ...(amends && amends !== s.id && body.kind !== 'void' ? { amends } : {}), ...body } as unknown as LogRecord;
    }),
    { selector: (r) => r.id, maxLength: 10 },
  )
  .map((records) => [...mustBeRecords(records)]);
