import 'fake-indexeddb/auto';
import { readFileSync } from 'node:fs';
import { mildestAnswers } from '../../app/care/check/answers.ts';
import { assess } from '../../app/care/escalation/assess.ts';
import type { History } from '../../app/care/escalation/facts.ts';
import { DEFAULT_LIMITS } from '../../app/care/escalation/limits.ts';
import type { LogRecord } from '../../app/care/log/records.ts';
import { mergeLogs, timeline } from '../../app/care/log/timeline.ts';
import type { Plan } from '../../app/care/plan/plan.ts';
import { addDays, type LocalDay } from '../../app/care/schedule/day.ts';
import { visitSummary } from '../../app/care/visit/summary.ts';
import { planFromText, planToCode } from '../../app/exchange/plan-file.ts';
import { appendRecords } from '../../app/store/log.ts';
import { Notebook } from '../../app/store/notebook.ts';
import { openShelf } from '../../app/store/shelf.ts';
import { photoFigures } from './photo.ts';

/** Benchmarks that print figures. Nothing is asserted: machines differ, budgets are in DEVELOPERS.md. */
const { plan } = JSON.parse(readFileSync(new URL('../../assets/demo/plan.json', import.meta.url), 'utf8')) as { plan: Plan };

async function median(runs: number, work: () => unknown): Promise<number> {
  const times: number[] = [];
  for (let i = 0; i < runs; i += 1) {
    const began = performance.now();
    await work();
    times.push(performance.now() - began);
  }
  return times.sort((a, b) => a - b)[Math.floor(runs / 2)] as number;
}

const rows: [string, string][] = [];
const print = (what: string, figure: string): void => void rows.push([what, figure]);
const ms = (value: number): string => `${value < 1 ? value.toFixed(3) : value.toFixed(1)} ms`;

const LAST = '2031-03-04' as LocalDay;

/** Daily checks, a change every second day and a weekly measurement, newest on LAST. */
function records(days: number): LogRecord[] {
  return Array.from({ length: days }, (_, i): LogRecord[] => {
    const day = addDays(LAST, -i);
    const stamp = {
      at: `${day}T15:00:00.000Z`,
      day,
      zone: 'America/Chicago',
      by: { who: 'patient' as const },
      device: 'bench',
      plan: { id: plan.id, revision: 1 },
    };
    const {
      drainageAmount,
      drainageColour,
      odour,
      redness,
      woundBed,
      edge,
      unwell,
      temperature,
      offloading,
      footColour,
      pain,
      warmth,
      swelling,
      dressing,
      bleeding,
    } = mildestAnswers();
    const calm = { level: 'carryOn' as const, told: 'carryOn' as const, fired: [], quieted: [] };
    return [
      {
        ...stamp,
        id: `check-${i}`,
        kind: 'check',
        person: { unwell, temperature, offloading },
        feet: { left: { footColour, pain, warmth, swelling } },
        wounds: { w1: { dressing, bleeding } },
        judgement: calm,
      },
      ...(i % 2 === 0
        ? [
            {
              ...stamp,
              id: `change-${i}`,
              kind: 'change' as const,
              wound: 'w1',
              check: `check-${i}`,
              startedAt: stamp.at,
              path: 'recipe' as const,
              band: 'light' as const,
              answers: { drainageAmount, drainageColour, odour, redness, woundBed, edge },
              steps: [],
              judgement: calm,
            },
          ]
        : []),
    ];
  }).flat();
}

const at = Date.parse(`${LAST}T16:00:00Z`);
const history: History = {
  checks: Array.from({ length: 365 }, (_, i) => ({ at: at - i * 86_400_000, day: addDays(LAST, -i), answers: mildestAnswers() })),
  changes: Array.from({ length: 183 }, (_, i) => ({ at: at - i * 2 * 86_400_000, day: addDays(LAST, -2 * i) })),
  measurements: Array.from({ length: 52 }, (_, i) => ({
    at: at - i * 7 * 86_400_000,
    day: addDays(LAST, -7 * i),
    lengthMm: 20,
    widthMm: 15,
  })),
  alerts: [],
};
print('assess(), a year of history', ms(await median(2001, () => assess(DEFAULT_LIMITS, history, mildestAnswers(), { at, day: LAST }))));

const code = planToCode(plan);
print('plan code, length', `${code.length} characters`);
print('reading a plan from its code', ms(await median(301, () => planFromText(code))));

const tenYears = records(3650);
print('folding ten years of records into a timeline', ms(await median(21, () => timeline(tenYears))));
const year = timeline(records(365));
print(
  'the visit summary of a year, three months of it shown',
  ms(
    await median(21, () =>
      visitSummary({ plan, earlierPlans: [], entries: year, from: addDays(LAST, -90), now: at, zone: 'America/Chicago' }),
    ),
  ),
);
print('merging two logs of ten years', ms(await median(21, () => mergeLogs(tenYears, tenYears))));

const quiet = { ring: () => undefined, onRing: () => undefined };
const device = { now: () => at, zone: () => 'America/Chicago', newId: () => 'bench' };
async function opening(days: number): Promise<number> {
  globalThis.indexedDB = new IDBFactory();
  const first = await Notebook.open(openShelf(), device, quiet);
  await first.acceptPlan(plan);
  await appendRecords(first.shelf, plan.person.id, records(days));
  const time = await median(31, () => Notebook.open(first.shelf, device, quiet));
  return time;
}
const month = await opening(30);
const years = await opening(3650);
print('opening a book with one month', ms(month));
print('opening a book with ten years', `${ms(years)} (${(years / month).toFixed(2)} ×)`);

for (const [what, figure] of await photoFigures()) print(what, figure);

const width = Math.max(...rows.map(([what]) => what.length)) + 2;
for (const [what, figure] of rows) console.log(what.padEnd(width) + figure);
