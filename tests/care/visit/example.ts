import type { Answers } from '../../../app/care/check/answers.ts';
import type { ChangeRecord, CheckRecord, LogRecord, RecordOf } from '../../../app/care/log/records.ts';
import { timeline } from '../../../app/care/log/timeline.ts';
import type { Plan } from '../../../app/care/plan/plan.ts';
import { alert, change, check, measurement, mustBeRecords, note, outcome, stamp, withdrawal } from '../log/make.ts';
import { demoPlan, mustRead } from '../plan/plans.ts';

/** Sixteen days of an invented person's log, all times UTC. What it comes to is worked out beside the tests. */

/** Wednesday 18 March 2031, noon. The visit before was on Tuesday the 3rd. */
export const NOW = Date.parse('2031-03-18T12:00:00Z');
export const ZONE = 'UTC';

const ASKS = { asks: ['offloading', 'glucose', 'warmth'], warmthSites: ['heel', 'big toe'] };
/** Expects light to moderate drainage; a first size of 22 × 16 mm on March 2. */
export const REVISION_1: Plan = mustRead({ ...demoPlan(), ...ASKS });
/** The same, but expects none to light drainage from now on. */
export const REVISION_2: Plan = mustRead({
  ...REVISION_1,
  revision: 2,
  issued: '2031-03-10',
  wounds: REVISION_1.wounds.map((w) => ({ ...w, expectedDrainage: ['none', 'light'] })),
});

const plan = (day: string) => ({ plan: { id: 'alder-street-0417', revision: day < '2031-03-10' ? 1 : 2 } });

interface Day {
  at?: string;
  person?: Answers;
  left?: Answers;
  w1?: Answers;
  more?: Partial<CheckRecord>;
}

/** A whole check at 09:00 with the mildest answers but for those given. */
function checkOn(day: string, { at = '09:00', person = {}, left = {}, w1 = {}, more = {} }: Day = {}): CheckRecord {
  const mild = check(`check-${day}-${at.slice(0, 2)}`, `${day}T${at}`);
  return {
    ...mild,
    ...plan(day),
    person: { ...mild.person, ...person },
    feet: { left: { ...mild.feet.left, ...left } },
    wounds: { w1: { ...mild.wounds.w1, ...w1 } },
    ...more,
  };
}

function changeOn(day: string, at: string, answers: Answers, more: Partial<ChangeRecord> = {}): ChangeRecord {
  return change(`change-${day}`, `${day}T${at}`, { ...plan(day), check: `check-${day}-09`, answers, ...more });
}

const fires = (rule: string, params?: Record<string, string>): CheckRecord['judgement'] => ({
  level: 'mention',
  told: 'mention',
  fired: [{ rule, level: 'mention', findings: [], ...(params && { params }) }],
  quieted: [],
});

const stock = (
  id: string,
  at: string,
  item: string,
  movement: RecordOf<'stock'>['movement'],
  amount: number,
  of?: string,
): RecordOf<'stock'> => ({ ...stamp(id, at), kind: 'stock', item, movement, amount, ...(of && { change: of }) });

const photo = (id: string, at: string): RecordOf<'photo'> => ({
  ...stamp(id, at),
  kind: 'photo',
  wound: 'w1',
  photo: `bytes-${id}`,
  widthPx: 1200,
  heightPx: 900,
});

const accepted = (id: string, at: string, revision: number): RecordOf<'planAccepted'> => ({
  ...stamp(id, at),
  kind: 'planAccepted',
  accepted: { id: 'alder-street-0417', revision, clinic: 'Alder Street Foot Clinic' },
});

const armpit = { value: 37.5, unit: 'Cel', site: 'armpit' } as const;
const celsius = (value: number) => ({ value, unit: 'Cel' }) as const;

const CHECKS: LogRecord[] = [
  checkOn('2031-03-02'),
  checkOn('2031-03-03'),
  checkOn('2031-03-04', { person: { glucose: { value: 180, unit: 'mg/dL' } } }),
  checkOn('2031-03-05', { left: { pain: 'more' }, w1: { dressing: 'markedThrough' } }),
  checkOn('2031-03-07', {
    person: { temperature: celsius(37.9), glucose: { value: 17.2, unit: 'mmol/L' } },
    left: { warmth: { pairs: [{ site: 'heel', woundSide: 33.1, otherSide: 30.2, unit: 'Cel' }], feel: 'warmer' } },
    more: { judgement: fires('warm-once', { places: 'heel' }) },
  }),
  // Cut short: nothing about the foot, nothing about the dressing.
  { ...checkOn('2031-03-08'), person: { unwell: ['none'], temperature: celsius(38.4) }, feet: {}, wounds: {} },
  checkOn('2031-03-09'),
  checkOn('2031-03-09', { at: '18:00', left: { pain: 'severe' } }),
  // 40.1 was a slip; it was corrected to 37.1 the next day.
  checkOn('2031-03-10', { person: { temperature: celsius(40.1), offloading: 'hardly' } }),
  {
    ...checkOn('2031-03-10', { person: { temperature: celsius(37.1), offloading: 'hardly' } }),
    ...stamp('check-2031-03-10-corrected', '2031-03-11T20:00'),
    amends: 'check-2031-03-10-09',
  },
  checkOn('2031-03-11', {
    person: { temperature: { value: 35.9, unit: 'Cel', again: 36.2 }, offloading: 'hardly' },
    more: { judgement: fires('offloading-off') },
  }),
  // Withdrawn: it was somebody else's temperature.
  checkOn('2031-03-12', { person: { temperature: celsius(39.5) }, left: { pain: 'severe' }, more: { judgement: fires('soggy-edge') } }),
  withdrawal('void-check', 'check-2031-03-12-09', '2031-03-12T10:00'),
  checkOn('2031-03-14', { person: { temperature: armpit, glucose: { value: 65, unit: 'mg/dL' } } }),
  checkOn('2031-03-15', {
    person: { temperature: { value: 99.5, unit: '[degF]' } },
    left: { warmth: { pairs: [{ site: 'big toe', woundSide: 88, otherSide: 85.1, unit: '[degF]' }] } },
  }),
  checkOn('2031-03-16', { person: { temperature: { feelsFeverish: 'no' } } }),
  checkOn('2031-03-17', { person: { offloading: 'mostly' } }),
  // Made under a wrong clock.
  checkOn('2031-03-25', { person: { temperature: celsius(41) } }),
];

const CHANGES: LogRecord[] = [
  changeOn('2031-03-02', '10:00', { drainageAmount: 'light' }),
  changeOn('2031-03-04', '10:00', { drainageAmount: 'none', odour: 'usual', woundBed: ['yellow'] }),
  changeOn('2031-03-05', '15:00', { drainageAmount: 'moderate', drainageColour: 'clear' }),
  changeOn(
    '2031-03-07',
    '10:00',
    { drainageAmount: 'light', odour: 'usual', edge: 'whiteSoggy' },
    { judgement: fires('soggy-edge') as ChangeRecord['judgement'] },
  ),
  changeOn('2031-03-09', '10:00', { drainageAmount: 'heavy', redness: 'rim' }, { path: 'coverAndCall', band: undefined }),
  changeOn('2031-03-11', '10:00', { drainageAmount: 'moderate' }),
  changeOn('2031-03-12', '10:00', { drainageAmount: 'light' }, { stopped: true }),
  changeOn(
    '2031-03-15',
    '10:00',
    { drainageAmount: 'none', edge: 'whiteSoggy' },
    { judgement: fires('soggy-edge') as ChangeRecord['judgement'] },
  ),
  changeOn('2031-03-17', '10:00', { drainageAmount: 'heavy' }),
  withdrawal('void-change', 'change-2031-03-17', '2031-03-17T11:00'),
];

const ALERTS: LogRecord[] = [
  alert('alert-0', '2031-03-02T09:30'),
  alert('alert-1', '2031-03-05T09:05'),
  outcome('outcome-1a', ['alert-1'], 'couldNotReach', '2031-03-05T09:20'),
  outcome('outcome-1b', ['alert-1'], 'reached', '2031-03-05T10:35', { said: 'Come on Friday.' }),
  alert('alert-2', '2031-03-08T09:02', { level: 'callNow', told: 'callNow', fired: [{ rule: 'fever', level: 'callNow', findings: [] }] }),
  outcome('outcome-2', ['alert-2'], 'wentToHospital', '2031-03-08T10:02'),
  alert('alert-3', '2031-03-09T18:05', {
    level: 'callNow',
    told: 'callNow',
    fired: [{ rule: 'pain-severe', level: 'callNow', findings: [] }],
  }),
  outcome('outcome-3', ['alert-3'], 'couldNotReach', '2031-03-09T18:30'),
  // Raised by the withdrawn check, withdrawn with it.
  alert('alert-4', '2031-03-12T09:05'),
  withdrawal('void-alert', 'alert-4', '2031-03-12T10:00'),
];

const SIZES: LogRecord[] = [
  measurement('size-1', '2031-03-09T10:20', 200, 15),
  measurement('size-1-corrected', '2031-03-09T10:25', 20, 15, { amends: 'size-1' }),
  measurement('size-2', '2031-03-16T10:20', 18, 12),
];

const STOCK: LogRecord[] = [
  stock('stock-1', '2031-03-03T12:00', 'foam', 'counted', 10),
  stock('stock-2', '2031-03-03T12:00', 'hydrogel', 'counted', 0),
  ...['04', '05', '07', '11', '15'].map((d) =>
    stock(`used-${d}`, `2031-03-${d}T15:30`, 'foam', 'used', d === '07' ? 2 : 1, `change-2031-03-${d}`),
  ),
  // The seventh took one, not two.
  { ...stock('used-07-corrected', '2031-03-07T16:00', 'foam', 'used', 1, 'change-2031-03-07'), amends: 'used-07' },
  stock('stock-3', '2031-03-08T12:00', 'foam', 'wasted', 1),
  stock('stock-4', '2031-03-14T12:00', 'foam', 'received', 10),
  stock('stock-5', '2031-03-16T12:00', 'foam', 'counted', 13),
];

const WORDS: LogRecord[] = [
  note('note-0', '2031-03-02T20:00', 'Asked at the visit before.', { forVisit: true }),
  note('note-1', '2031-03-06T20:00', 'May I shower?', { forVisit: true }),
  note('note-2', '2031-03-12T20:00', 'Is the boot to tight?', { forVisit: true }),
  note('note-2-corrected', '2031-03-12T20:05', 'Is the boot too tight?', { forVisit: true, amends: 'note-2' }),
  note('note-3', '2031-03-13T20:00', 'Never mind.', { forVisit: true }),
  withdrawal('void-note', 'note-3', '2031-03-13T20:05'),
  note('note-4', '2031-03-13T21:00', 'Slept badly. For nobody else to read.'),
];

export const EXAMPLE: readonly LogRecord[] = mustBeRecords([
  accepted('plan-1', '2031-03-02T08:00', 1),
  { ...stamp('visit-1', '2031-03-03T11:00'), kind: 'visit' },
  accepted('plan-2', '2031-03-10T15:00', 2),
  ...CHECKS,
  ...CHANGES,
  ...ALERTS,
  ...SIZES,
  ...STOCK,
  ...WORDS,
  photo('photo-1', '2031-03-04T10:30'),
  photo('photo-2', '2031-03-10T10:30'),
  photo('photo-3', '2031-03-16T10:30'),
  withdrawal('void-photo', 'photo-3', '2031-03-16T11:00'),
]);

/** What a summary of the example is made from. */
export const exampleInput = () => ({
  plan: REVISION_2,
  earlierPlans: [REVISION_1],
  entries: timeline(EXAMPLE),
  now: NOW,
  zone: ZONE,
});
