import type { Page } from '@playwright/test';
import { addDays, localDay } from '../../app/care/schedule/day.ts';
import { median, ms, type Row } from './figures.ts';
import { makeRecords, plan } from './made.ts';
import { demoPage, putRecords, serve, slowDown, takePhone } from './phone.ts';

const ZONE = 'America/Chicago';
const RUNS = 5;
const SLOWED = 'processor slowed 4 ×';

interface Seen {
  /** From the press to the first rows painted. */
  firstRowsMs: number;
  /** Each press on "earlier". */
  earlierMs: number[];
  rows: number;
  /** From one frame to the next while scrolling through all of it. */
  framesMs: number[];
  /** From the press to the page for the visit painted. */
  visitMs: number;
}

/** The log of a year, opened, unfolded to its end and scrolled through, and the page for the visit, in a Chromium. */
export async function log(): Promise<Row[]> {
  const site = await serve();
  const phone = await takePhone(site.address);
  const page = await demoPage(phone);
  const last = addDays(localDay(Date.now(), ZONE), -1);
  await putRecords(page, plan.person.id, makeRecords(365, { last }));
  await slowDown(page);
  const seen: Seen[] = [];
  for (let i = 0; i < RUNS; i += 1) seen.push(await look(page));
  await phone.close();
  site.close();
  const of = (pick: (s: Seen) => number): string => ms(median(seen.map(pick)));
  const rows = seen[0]?.rows ?? 0;
  return [
    { what: `log: time to the first rows, a year of records, ${SLOWED}`, ours: of((s) => s.firstRowsMs) },
    {
      what: `log: one more month, ${SLOWED}`,
      ours: of((s) => median(s.earlierMs)),
      against: `the slowest ${of((s) => Math.max(...s.earlierMs))}`,
    },
    {
      what: `log: scrolling through all ${rows} rows, time from frame to frame, ${SLOWED}`,
      ours: of((s) => median(s.framesMs)),
      against: `the slowest ${of((s) => Math.max(...s.framesMs))}`,
      goal: '16.7 ms',
    },
    { what: `page for the visit: time until it stands, a year of records, ${SLOWED}`, ours: of((s) => s.visitMs), goal: 'under 1 s' },
  ];
}

async function look(page: Page): Promise<Seen> {
  await page.goto('about:blank');
  await page.goto('./');
  await page.locator('.dues').waitFor();
  // Lets the first screen come to rest.
  await page.waitForTimeout(1500);
  return page.evaluate(async () => {
    const frame = () => new Promise<number>((resolve) => requestAnimationFrame(resolve));
    const until = async (stands: () => boolean): Promise<void> => {
      while (!stands()) await frame();
      await frame();
    };
    const rowCount = () => document.querySelectorAll('.log-day .row').length;
    const earlier = () => document.querySelector<HTMLButtonElement>('.main > button.button-second');

    const pressed = performance.now();
    location.hash = '#/log';
    await until(() => rowCount() > 0);
    const firstRowsMs = performance.now() - pressed;

    const earlierMs: number[] = [];
    for (let button = earlier(); button; button = earlier()) {
      const before = rowCount();
      const then = performance.now();
      button.click();
      await until(() => rowCount() > before);
      earlierMs.push(performance.now() - then);
    }

    const framesMs: number[] = [];
    window.scrollTo(0, 0);
    let at = await frame();
    for (let top = -1; top !== window.scrollY; ) {
      top = window.scrollY;
      window.scrollBy(0, 400);
      const next = await frame();
      framesMs.push(next - at);
      at = next;
    }
    const rows = rowCount();

    const asked = performance.now();
    location.hash = '#/visit';
    await until(() => document.querySelector('.visit-sheet') !== null);
    return { firstRowsMs, earlierMs, rows, framesMs, visitMs: performance.now() - asked };
  });
}
