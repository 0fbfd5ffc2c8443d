import type { Answers } from '../../../app/care/check/answers.ts';
import type { ChangeRecord, CheckRecord, LogRecord, RecordOf, StockMovement } from '../../../app/care/log/records.ts';
import { type Entry, timeline } from '../../../app/care/log/timeline.ts';
import type { Interval, Plan, Recipe, Supply, Wound } from '../../../app/care/plan/plan.ts';
import { localDay } from '../../../app/care/schedule/day.ts';
import { change, check, mustBeRecords, stamp } from '../log/make.ts';
import { demoPlan, mustRead } from '../plan/plans.ts';

/** Invented plans and logs for the schedule and the supplies. */

export const every = (hours: number): Interval => ({ kind: 'hours', hours });
export const onDays = (...days: Extract<Interval, { kind: 'weekdays' }>['days']): Interval => ({ kind: 'weekdays', days });

export interface WoundSpec {
  interval: Interval;
  uses?: Recipe['uses'];
}

/** A wound with one recipe, that of light drainage; anything else is a call. */
function woundOf(id: string, { interval, uses = [{ item: 'foam', amount: 1 }] }: WoundSpec): Wound {
  const recipe: Recipe = {
    secondary: { family: 'foam' },
    fixation: 'none',
    change: interval,
    cleanser: 'saline',
    skinProtection: 'none',
    steps: [{ step: 'secondary' }],
    uses,
  };
  return {
    id,
    site: 'arch',
    side: 'left',
    keepDry: false,
    expectedDrainage: ['light', 'light'],
    known: [],
    bands: { none: { callUs: true }, light: { recipe }, moderate: { callUs: true }, heavy: { callUs: true } },
  };
}

const SUPPLIES: Supply[] = [
  { id: 'foam', name: 'Foam 10 × 10 cm', packOf: 10 },
  { id: 'gauze', name: 'Gauze pads', packOf: 100 },
  { id: 'loose', name: 'Loose pads' },
];

/** A plan whose wounds are w1, w2 … without a visit or a review unless given. */
export function planWith(wounds: readonly WoundSpec[], more: Partial<Plan> = {}): Plan {
  const { nextVisit: _visit, reviewBy: _review, ...demo } = demoPlan();
  return mustRead({ ...demo, supplies: SUPPLIES, ...more, wounds: wounds.map((w, i) => woundOf(`w${i + 1}`, w)) });
}

const place = (at: number, zone: string): Pick<LogRecord, 'at' | 'day' | 'zone'> => ({
  at: new Date(at).toISOString(),
  day: localDay(at, zone),
  zone,
});

/** A finished change at an instant (ms), in the person's zone. */
export const changeAt = (id: string, at: number, zone: string, more: Partial<ChangeRecord> = {}): ChangeRecord => ({
  ...change(id),
  ...place(at, zone),
  startedAt: new Date(at).toISOString(),
  ...more,
});

/** The check of a sitting, with what the dressing of a wound was like. */
export const checkAt = (id: string, at: number, zone: string, dressing: NonNullable<Answers['dressing']>, wound = 'w1'): CheckRecord => ({
  ...check(id),
  ...place(at, zone),
  wounds: { [wound]: { dressing } },
});

let count = 0;
/** A stock movement at `2031-03-04T09:00` UTC unless said otherwise. */
export const stock = (
  movement: StockMovement,
  amount: number,
  more: Partial<RecordOf<'stock'>> & { when?: string } = {},
): RecordOf<'stock'> => {
  count += 1;
  const { when, ...rest } = more;
  return { ...stamp(`s${String(count).padStart(6, '0')}`, when), kind: 'stock', item: 'foam', movement, amount, ...rest };
};

/** Records as the app reads them, each held against the schema. */
export const entriesOf = (...records: LogRecord[]): Entry[] => timeline(mustBeRecords(records));

/** A small generator of numbers in [0, 1) that a seed repeats (Park and Miller 1988, minimal standard, from memory). */
export function seeded(seed: number): () => number {
  let state = (seed % 2147483646) + 1;
  return () => {
    state = (state * 48271) % 2147483647;
    return (state - 1) / 2147483646;
  };
}
