import type { Page } from '@playwright/test';
import type { LogRecord } from '../../app/care/log/records.ts';
import { addDays, type LocalDay } from '../../app/care/schedule/day.ts';

/** An invented log of the demo plan's person, long enough to have a course. The newest day is Tuesday 4 March 2031. */
export const LAST_DAY = '2031-03-04' as LocalDay;

const stamp = (id: string, day: LocalDay, hour = 15) => ({
  id,
  at: `${day}T${String(hour).padStart(2, '0')}:00:00.000Z`,
  day,
  zone: 'America/Chicago',
  by: { who: 'patient' as const },
  device: 'phone-1',
  plan: { id: 'alder-street-0417', revision: 1 },
});

/** Numbers that look like chance and are the same at every run. */
function wobble(n: number): number {
  const mixed = Math.imul(n + 17, 0x9e3779b1);
  return (((Math.imul(mixed ^ (mixed >>> 15), 0x85ebca6b) >>> 8) & 0xffff) / 0xffff) * 2 - 1;
}

const checkOf = (back: number, day: LocalDay): unknown => ({
  ...stamp(`c${back}`, day),
  kind: 'check',
  person: {
    unwell: ['none'],
    temperature:
      back % 17 === 5
        ? { feelsFeverish: 'no' }
        : { value: Number((36.7 + 0.4 * wobble(back)).toFixed(1)), unit: 'Cel', site: back % 11 === 3 ? 'ear' : 'mouth' },
    offloading: 'mostly',
  },
  feet: {
    left: {
      footColour: 'usual',
      pain: back % 9 === 4 ? 'more' : 'usual',
      warmth: {
        pairs: [
          { site: 'heel', woundSide: 30.2 + wobble(back + 3), otherSide: 29.9 },
          { site: 'big toe', woundSide: 28.4 + 1.4 * wobble(back + 9), otherSide: 28.1 },
        ],
        feel: 'same',
      },
      swelling: 'usual',
    },
  },
  wounds: { w1: { dressing: 'dryInPlace', bleeding: 'none' } },
  judgement: { level: 'carryOn', told: 'carryOn', fired: [], quieted: [] },
});

const AMOUNTS = ['moderate', 'moderate', 'light', 'heavy', 'light', 'none'] as const;

const changeOf = (back: number, day: LocalDay): unknown => ({
  ...stamp(`d${back}`, day, 16),
  kind: 'change',
  wound: 'w1',
  startedAt: `${day}T15:40:00.000Z`,
  answers: { drainageAmount: back % 22 === 6 ? 'unsure' : AMOUNTS[Math.abs(Math.round(wobble(back) * 5))] },
  band: 'light',
  path: 'recipe',
  steps: [{ step: 'remove', state: 'done' }],
});

/** A wound that shrinks a little each week; every fourth size is traced. */
function sizeOf(back: number, day: LocalDay, days: number): unknown {
  const share = Math.exp(-(days - back) / 60);
  const mm = (first: number) => Math.max(1, Math.round(first * Math.sqrt(share)));
  const sizes =
    back % 28 === 14 ? { method: 'trace', areaMm2: Math.round(250 * share) } : { method: 'ruler', lengthMm: mm(22), widthMm: mm(16) };
  return { ...stamp(`m${back}`, day, 17), kind: 'measurement', wound: 'w1', ...sizes };
}

/** So many days of checks, a change every second day, a size every week. Of a long log ten days in the middle are missing. */
export function longLog(days: number): LogRecord[] {
  const all = Array.from({ length: days }, (_, i) => days - 1 - i).filter((back) => days <= 40 || back < 20 || back >= 30);
  return all.flatMap((back) => {
    const day = addDays(LAST_DAY, -back);
    return [
      checkOf(back, day),
      ...(back % 2 === 0 ? [changeOf(back, day)] : []),
      ...(back % 7 === 0 ? [sizeOf(back, day, days)] : []),
    ] as LogRecord[];
  });
}

/** Puts records into the demo book as if they had been written there. The page opens them when it is loaded next. */
export async function putRecords(page: Page, records: readonly LogRecord[]): Promise<void> {
  const months = new Map<string, LogRecord[]>();
  for (const r of records) months.set(r.day.slice(0, 7), [...(months.get(r.day.slice(0, 7)) ?? []), r]);
  await page.evaluate(
    (pages) =>
      new Promise<void>((resolve, reject) => {
        const open = indexedDB.open('tendbook-log');
        open.onerror = () => reject(open.error);
        open.onsuccess = () => {
          const writing = open.result.transaction('log', 'readwrite');
          const store = writing.objectStore('log');
          for (const [month, own] of pages) {
            const key = `demo-nela/${month}`;
            const got = store.get(key);
            got.onsuccess = () => store.put([...((got.result as unknown[] | undefined) ?? []), ...own], key);
          }
          writing.oncomplete = () => {
            open.result.close();
            resolve();
          };
          writing.onerror = () => reject(writing.error);
        };
      }),
    [...months],
  );
}
