import { readFileSync } from 'node:fs';
import { mildestAnswers } from '../../app/care/check/answers.ts';
import type { History } from '../../app/care/escalation/facts.ts';
import type { LogRecord } from '../../app/care/log/records.ts';
import type { Plan } from '../../app/care/plan/plan.ts';
import { addDays, DAY_MS, type LocalDay } from '../../app/care/schedule/day.ts';

/** Made-up records to measure with: a daily check, a change every second day, a measurement a week. */

export const { plan } = JSON.parse(readFileSync(new URL('../../assets/demo/plan.json', import.meta.url), 'utf8')) as { plan: Plan };

/** The last day of what is made, unless another is asked for, and ten in the morning of it in the demo clinic's zone. */
export const LAST = '2031-03-04' as LocalDay;
export const NOW = Date.parse(`${LAST}T16:00:00Z`);
export const TEN_YEARS = 3650;

interface Making {
  last?: LocalDay;
  /** Of the phone; part of every id, so that two phones make different records. */
  device?: string;
}

/** The records of a number of days, newest first. */
export function makeRecords(days: number, { last = LAST, device = 'bench' }: Making = {}): LogRecord[] {
  return Array.from({ length: days }, (_, i) => recordsOf(addDays(last, -i), i, device)).flat();
}

const CALM = { level: 'carryOn' as const, told: 'carryOn' as const, fired: [], quieted: [] };

function recordsOf(day: LocalDay, i: number, device: string): LogRecord[] {
  const stamp = {
    at: `${day}T15:00:00.000Z`,
    day,
    zone: 'America/Chicago',
    by: { who: 'patient' as const },
    device,
    plan: { id: plan.id, revision: 1 },
  };
  const a = mildestAnswers();
  const checkId = `check-${device}-${i}`;
  const made: LogRecord[] = [
    {
      ...stamp,
      id: checkId,
      kind: 'check',
      person: { unwell: a.unwell, temperature: a.temperature, offloading: a.offloading },
      feet: { left: { footColour: a.footColour, pain: a.pain, warmth: a.warmth, swelling: a.swelling } },
      wounds: { w1: { dressing: a.dressing, bleeding: a.bleeding } },
      judgement: CALM,
    },
  ];
  if (i % 2 === 0) {
    const { drainageColour, odour, redness, woundBed, edge } = a;
    made.push({
      ...stamp,
      id: `change-${device}-${i}`,
      kind: 'change',
      wound: 'w1',
      check: checkId,
      startedAt: stamp.at,
      path: 'recipe',
      band: 'light',
      answers: { drainageAmount: 'light', drainageColour, odour, redness, woundBed, edge },
      steps: [],
      judgement: CALM,
    });
  }
  if (i % 7 === 0) {
    const size = { method: 'ruler' as const, lengthMm: 10 + Math.min(12, i / 30), widthMm: 8 };
    made.push({ ...stamp, id: `measurement-${device}-${i}`, kind: 'measurement', wound: 'w1', ...size });
  }
  return made;
}

/** A year of one wound's past, as the rules see it. */
export function yearOfHistory(): History {
  return {
    checks: Array.from({ length: 365 }, (_, i) => ({ at: NOW - i * DAY_MS, day: addDays(LAST, -i), answers: mildestAnswers() })),
    changes: Array.from({ length: 183 }, (_, i) => ({ at: NOW - i * 2 * DAY_MS, day: addDays(LAST, -2 * i) })),
    measurements: Array.from({ length: 52 }, (_, i) => ({
      at: NOW - i * 7 * DAY_MS,
      day: addDays(LAST, -7 * i),
      lengthMm: 20,
      widthMm: 15,
    })),
    alerts: [],
  };
}
