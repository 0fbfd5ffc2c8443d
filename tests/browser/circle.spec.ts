import { readFileSync } from 'node:fs';
import type { Browser, Locator, Page } from '@playwright/test';
import type { LogRecord } from '../../app/care/log/records.ts';
import type { Plan } from '../../app/care/plan/plan.ts';
import { addDays, type LocalDay } from '../../app/care/schedule/day.ts';
import { readBookBytes, writeBookFile } from '../../app/exchange/book-file.ts';
import { planToFile } from '../../app/exchange/plan-file.ts';
import { demoPlan, mustRead } from '../care/plan/plans.ts';
import { bookOf, lived } from '../exchange/logs.ts';
import { doChange, doCheck, expect, main, test, title, visit } from './app.ts';
import { checkWordsOn, copyLink, LAPTOP, openDemoOnDesk, toHandOver } from './desk.ts';
import { readPdf } from './pdf.ts';
import { say } from './say.ts';
import { storeOf } from './stores.ts';

/** The demo clinic's zone: ten in the morning of a Tuesday, and of the Tuesday two weeks later. */
const FIRST = '2031-03-04T16:00:00Z';
const LAST = '2031-03-18T15:00:00Z';
const SECOND_DAY = '2031-03-05' as LocalDay;
/** Days that are lived between the first and the last. */
const BETWEEN = 13;

/** A desk on a computer of its own: it shares no store with the phone. */
async function newDesk(browser: Browser, baseURL: string | undefined, at: string): Promise<Page> {
  const context = await browser.newContext({
    viewport: LAPTOP,
    locale: 'en-US',
    timezoneId: 'America/Chicago',
    baseURL: baseURL as string,
  });
  const desk = await context.newPage();
  await desk.clock.setFixedTime(at);
  return desk;
}

/** The days between, as another phone of the same person kept them, taken in by the app's own way for two phones. */
async function liveTheDaysBetween(page: Page): Promise<void> {
  const { 'book:demo-nela': book } = (await storeOf(page, 'book')) as Record<string, { plan: Plan; acceptedAt: string }>;
  if (!book) throw new Error('no book');
  const { plan, acceptedAt } = book;
  const records: LogRecord[] = lived(BETWEEN, { plan, from: SECOND_DAY, device: 'phone-of-ilse' });
  const file = await writeBookFile({
    plan,
    earlierPlans: [],
    acceptedAt,
    records,
    made: LAST.replace('Z', '.000Z'),
    device: 'phone-of-ilse',
  });
  await visit(page, 'phones');
  await page
    .locator('.main input[type=file]')
    .setInputFiles({ name: 'log.txt', mimeType: 'text/plain', buffer: Buffer.from(await file.arrayBuffer()) });
  await expect(title(page)).toHaveText(say('keep:takeIn.title', { name: 'Nela' }));
  await main(page).click();
  await expect(title(page)).toHaveText(say('keep:takeIn.doneTitle', { name: 'Nela' }));
}

/** All that the page for the visit says, without what is for the phone's owner only. */
const saidOn = (page: Page): Promise<string[]> =>
  page.locator('.visit-sheet').evaluate((sheet) =>
    [...sheet.querySelectorAll('.visit-part')].map((part) => {
      const copy = part.cloneNode(true) as Element;
      for (const tool of copy.querySelectorAll('.visit-tools')) tool.remove();
      return copy.textContent ?? '';
    }),
  );

/** From the log to one of the forms, all of it. */
async function handOver(page: Page, way: 'desk' | 'codes'): Promise<void> {
  // The screen may still stand at its last step.
  await visit(page, 'log');
  await visit(page, 'hand-over');
  await page.getByRole('button', { name: say(`handOver:way.${way}.name`) }).click();
  await page.getByLabel(say('handOver:since.all')).check();
  await main(page).click();
}

/** Every code that the phone shows, as a picture of its screen. */
async function picturesOfCodes(page: Page): Promise<Buffer[]> {
  const code = page.locator('.log-codes .code');
  const label = page.locator('.log-codes figcaption');
  await expect(label).toBeVisible();
  const [, count] = /(\d+)\D*$/.exec((await label.textContent()) ?? '') ?? [];
  const pictures: Buffer[] = [];
  for (let n = 1; n <= Number(count); n++) {
    await expect(label).toHaveText(say('keep:codes.codeOf', { at: n, of: Number(count) }));
    pictures.push(await code.screenshot());
    await page.getByRole('button', { name: say('keep:codes.after') }).click();
  }
  return pictures;
}

async function toReadLog(desk: Page): Promise<void> {
  await desk.goto('./clinic');
  await desk.getByRole('button', { name: say('clinic:readLog.title') }).click();
  await expect(desk.getByRole('heading', { level: 1, name: say('clinic:readLog.title') })).toBeVisible();
}
const fileInput = (desk: Page): Locator => desk.locator('.drop input');

/** What the desk shows once a log is open, in the unit of the phone. */
async function saidAtDesk(desk: Page, inInches: boolean): Promise<string[]> {
  await expect(desk.getByRole('heading', { level: 1, name: say('clinic:log.title', { name: 'Nela' }) })).toBeVisible();
  await desk.getByLabel(say('clinic:log.length')).selectOption(inInches ? 'in' : 'cm');
  return saidOn(desk);
}

/** How much every database of a page's origin holds. */
const storedAt = (page: Page): Promise<string[]> =>
  page.evaluate(async () => {
    const held: string[] = [];
    for (const { name } of await indexedDB.databases()) {
      const database = await new Promise<IDBDatabase>((resolve) => {
        const request = indexedDB.open(name as string);
        request.onsuccess = () => resolve(request.result);
      });
      for (const store of database.objectStoreNames) {
        const keys = await new Promise<IDBValidKey[]>((resolve) => {
          const request = database.transaction(store).objectStore(store).getAllKeys();
          request.onsuccess = () => resolve(request.result);
        });
        held.push(...keys.map((key) => `${name}/${String(key)}`));
      }
      database.close();
    }
    return held.sort();
  });

test('the full circle: plan, two weeks at home, the page for the visit, paper, back to the clinic, and the next version', async ({
  page,
  browser,
  baseURL,
}) => {
  test.setTimeout(300_000);
  // The clinic writes the plan and hands it over.
  const desk = await newDesk(browser, baseURL, FIRST);
  await openDemoOnDesk(desk);
  await toHandOver(desk);
  const words = await checkWordsOn(desk);
  const link = await copyLink(desk);
  await page.bringToFront();
  await page.clock.setFixedTime(FIRST);
  await page.goto(link);
  await expect(page.locator('.check-words li')).toHaveText(words);
  await main(page).click();
  await expect(title(page)).toHaveText(say('today:title', { name: 'Nela' }));

  // The first day on the screen, the days between from the other phone, the last day on the screen again.
  await doCheck(page);
  await doChange(page);
  await page.clock.setFixedTime(LAST);
  await page.reload();
  await liveTheDaysBetween(page);
  await doCheck(page, { pain: 'more' }, { answerRest: true });
  await doChange(page, { drainageAmount: 'moderate' });
  await visit(page, 'note/visit');
  await page.getByLabel(say('log:questionField')).fill('May I walk to the shop?');
  await main(page).click();

  // The page for the visit, on the phone and on paper.
  await expect(page.locator('.visit-sheet')).toBeVisible();
  const onPhone = await saidOn(page);
  const whole = onPhone.join('\n');
  expect(whole).toContain('Mar 4, 2031 to Mar 18, 2031 (15 days)');
  expect(whole).toContain('on 15 of 15 days');
  expect(whole).toContain('May I walk to the shop?');
  const paper = await readPdf(await page.pdf({ format: 'Letter' }));
  for (const figure of ['Mar 4, 2031 to Mar 18, 2031 (15 days)', 'on 15 of 15 days', 'May I walk to the shop?'])
    expect(paper.text).toContain(figure);
  const inInches = whole.includes(' in²');

  // Handed back as a file and as codes, photographed from the screen.
  await handOver(page, 'desk');
  await expect(main(page)).toBeEnabled();
  const [download] = await Promise.all([page.waitForEvent('download'), main(page).click()]);
  expect(download.suggestedFilename()).toBe('tendbook-log-clinic-nela-2031-03-18.txt');
  const file = { name: download.suggestedFilename(), mimeType: 'text/plain', buffer: readFileSync(await download.path()) };
  await handOver(page, 'codes');
  const pictures = await picturesOfCodes(page);
  expect(pictures.length).toBeGreaterThan(1);

  // An hour later the clinic reads the same numbers, either way.
  await desk.bringToFront();
  await desk.clock.setFixedTime('2031-03-18T16:00:00Z');
  const wrong: string[] = [];
  desk.on('console', (message) => message.type() === 'error' && wrong.push(message.text()));
  await toReadLog(desk);
  await desk
    .locator('.log-opener section input[type=file]')
    .setInputFiles([...pictures].reverse().map((buffer, i) => ({ name: `${i}.png`, mimeType: 'image/png', buffer })));
  expect(await saidAtDesk(desk, inInches)).toEqual(onPhone);
  await desk.getByRole('button', { name: say('clinic:log.close') }).click();
  await desk.getByRole('button', { name: say('clinic:readLog.title') }).click();
  await fileInput(desk).setInputFiles(file);
  expect(await saidAtDesk(desk, inInches)).toEqual(onPhone);
  await expect(desk.locator('.log-banner')).toContainText(say('clinic:log.proof'));

  // The days one by one, and what stands against the plan.
  await desk.getByRole('tab', { name: say('clinic:log.tab.days') }).click();
  await expect(desk.locator('.log-days tbody tr')).toHaveCount(15);
  await expect(desk.locator('.log-days tbody tr').last()).toContainText(say('alert:short.callToday'));
  const days = await readPdf(await desk.pdf({ format: 'A4' }));
  expect(days.text).toContain("Nela's log");
  expect(days.text).toContain('Mar 18');
  expect(days.colours).toEqual([]);
  await desk.getByRole('tab', { name: say('clinic:log.tab.summary') }).click();
  await expect(desk.locator('.log-side [data-found=alertOpen]')).toHaveCount(1);
  await expect(desk.locator('.log-side [data-found=question]')).toContainText('May I walk to the shop?');

  // Nothing of the person is on the desk's device.
  expect((await storedAt(desk)).filter((key) => !key.startsWith('tendbook-desk/'))).toEqual([]);

  // The next version, with the findings beside it, goes to the phone as an update of the same plan.
  await desk.getByRole('button', { name: say('clinic:log.write') }).click();
  await expect(desk.getByText('version 2.', { exact: false })).toBeVisible();
  await expect(desk.locator('.log-beside [data-found=question]')).toContainText('May I walk to the shop?');
  await desk.locator('.log-beside [data-found=alertOpen] .link').click();
  await expect(desk.locator('#rules')).toBeInViewport();
  await desk.getByLabel(say('clinic:dates.review')).fill(addDays('2031-03-18' as LocalDay, 14));
  await toHandOver(desk);
  const next = await copyLink(desk);
  expect(wrong).toEqual([]);
  await desk.context().close();
  await page.bringToFront();
  await page.goto(next);
  await expect(title(page)).toHaveText(say('welcome:confirmUpdate'));
});

test('what is no log of this person is told in words, nothing is run, mixed or stored', async ({ page }) => {
  await page.setViewportSize(LAPTOP);
  await page.clock.setFixedTime(LAST);
  const own = Buffer.from(await (await writeBookFile(bookOf(10))).arrayBuffer());
  const text = own.toString('utf8');
  const ivo = mustRead({ ...demoPlan(), id: 'other-1', person: { id: 'ivo', callMe: 'Ivo', language: 'en' } });
  const evil = '<img src=x onerror="document.title=1"><script>document.title=2</script>';
  const hostile = await writeBookFile({
    ...bookOf(1),
    records: [{ ...(bookOf(5).records.find((r) => (r as LogRecord).kind === 'note') as LogRecord), text: evil } as LogRecord],
  });
  const bad: [why: string, content: Buffer | string][] = [
    ['nothing', ''],
    ['cutOff', own.subarray(0, own.length / 2)],
    ['damaged', text.replace('"amount":1', '"amount":7')],
    ['plan', planToFile(demoPlan())],
    ['backup', '{"tendbook":"backup","version":1,"kdf":{}}\n'],
    ['notABook', '{"resourceType":"Bundle","type":"collection"}'],
    ['newerVersion', text.replace('"version":1', '"version":2')],
    ['unsafe', text.replace('"acceptedAt"', '"__proto__":{"polluted":1},"acceptedAt"')],
  ];
  await toReadLog(page);
  const before = await storedAt(page);
  const choose = (input: Locator, content: Buffer | string) =>
    input.setInputFiles({ name: 'log.txt', mimeType: 'text/plain', buffer: Buffer.from(content) });
  for (const [why, content] of bad) {
    await choose(fileInput(page), content);
    await expect(page.getByRole('alert')).toHaveText(say(`clinic:readLog.fault.${why}`));
    await expect(page.locator('.log-view')).toHaveCount(0);
  }
  // Dropped, the good one opens.
  const dropped = await page.evaluateHandle((content) => {
    const data = new DataTransfer();
    data.items.add(new File([content], 'log.txt', { type: 'text/plain' }));
    return data;
  }, text);
  await page.locator('.drop').dispatchEvent('drop', { dataTransfer: dropped });
  await expect(page.getByRole('heading', { level: 1, name: say('clinic:log.title', { name: 'Nela' }) })).toBeVisible();
  const said = await saidOn(page);

  const another = page.locator('.log-ways input[type=file]');
  for (const [why, content] of bad) {
    await choose(another, content);
    await expect(page.getByRole('alert')).toHaveText(say(`clinic:readLog.fault.${why}`));
  }
  await choose(another, Buffer.from(await (await writeBookFile(bookOf(3, { plan: ivo }))).arrayBuffer()));
  await expect(page.getByRole('alert')).toHaveText(say('clinic:readLog.otherPerson', { other: 'Ivo', name: 'Nela' }));
  expect(await saidOn(page)).toEqual(said);

  await choose(another, Buffer.from(await hostile.arrayBuffer()));
  await page.getByRole('tab', { name: say('clinic:log.tab.days') }).click();
  await page.getByLabel(say('clinic:log.days')).selectOption('all');
  await expect(page.getByText(evil).first()).toBeVisible();
  await expect(page).toHaveTitle(say('clinic:title'));
  await expect(page.locator('main img, main script')).toHaveCount(0);
  expect(await storedAt(page)).toEqual(before);
  expect(readBookBytes(new Uint8Array(own)).ok).toBe(true);
});
