import { acceptPlan } from '../../app/store/accept-plan.ts';
import 'fake-indexeddb/auto';
import type { Page } from '@playwright/test';
import { addDays, type LocalDay, localDay } from '../../app/care/schedule/day.ts';
import { appendRecords } from '../../app/store/log.ts';
import { Notebook, SILENT } from '../../app/store/notebook.ts';
import { openShelf } from '../../app/store/shelf.ts';
import { inTurns, median, ms, type Row, times } from './figures.ts';
import { makeRecords, NOW, plan, TEN_YEARS } from './made.ts';
import { demoPage, type Phone, putRecords, serve, slowDown, takePhone } from './phone.ts';

/** The clinic's zone in the demo, in which the phone is as well. */
const ZONE = 'America/Chicago';
const MONTH = 30;
const GOAL = 'at most 1.5 ×';
const RUNS = 9;

const row = (what: string, years: number, month: number): Row => ({
  what,
  ours: ms(years),
  against: `${ms(month)} with one month`,
  ratio: times(years / month),
  goal: GOAL,
});

/** Opening a book with ten years of records against one month: what the store does in Node, and the whole start in a Chromium. */
export async function start(): Promise<Row[]> {
  return [await inNode(), await inChromium()];
}

async function inNode(): Promise<Row> {
  const device = { now: () => NOW, zone: () => ZONE, newId: () => 'bench' };
  const opening = async (days: number, prefix: string) => {
    const first = await Notebook.open(openShelf(prefix), device, SILENT);
    await acceptPlan(first, plan);
    await appendRecords(first.shelf, plan.person.id, makeRecords(days));
    return async () => {
      const { state } = await Notebook.open(first.shelf, device, SILENT);
      if (state.setAside.length > 0 || state.entries.length < MONTH) throw new Error('the records were not read');
    };
  };
  const { month, years } = await inTurns(31, { month: await opening(MONTH, 'month'), years: await opening(TEN_YEARS, 'years') });
  return row('opening a book with ten years of records, in Node', years, month);
}

/** Runs in the page: notes when the first screen of a book stands. */
const noteWhenItStands = () => {
  new MutationObserver((_, observer) => {
    if (!document.querySelector('.dues')) return;
    observer.disconnect();
    requestAnimationFrame(() => {
      document.documentElement.dataset.stands = String(performance.now());
    });
  }).observe(document, { childList: true, subtree: true });
};

/** A phone with some days of records up to yesterday, by the clock of this machine. */
async function phoneWith(days: number, address: string): Promise<{ phone: Phone; page: Page }> {
  const phone = await takePhone(address);
  const page = await demoPage(phone);
  const last = addDays(localDay(Date.now(), ZONE), -1) as LocalDay;
  await putRecords(page, plan.person.id, makeRecords(days, { last }));
  await page.addInitScript(noteWhenItStands);
  await slowDown(page);
  return { phone, page };
}

async function startTime(page: Page): Promise<number> {
  await page.goto('about:blank');
  await page.goto('./');
  await page.waitForFunction(() => document.documentElement.dataset.stands !== undefined);
  return page.evaluate(() => Number(document.documentElement.dataset.stands));
}

async function inChromium(): Promise<Row> {
  const site = await serve();
  const month = await phoneWith(MONTH, site.address);
  const years = await phoneWith(TEN_YEARS, site.address);
  const found = { month: [] as number[], years: [] as number[] };
  await startTime(month.page);
  await startTime(years.page);
  for (let i = 0; i < RUNS; i += 1) {
    found.month.push(await startTime(month.page));
    found.years.push(await startTime(years.page));
  }
  await month.phone.close();
  await years.phone.close();
  site.close();
  return row(
    'start of the installed app with ten years of records, in Chromium, processor slowed 4 ×',
    median(found.years),
    median(found.month),
  );
}
