import { readFileSync } from 'node:fs';
import type { Browser, Download, Page } from '@playwright/test';
import type { Plan } from '../../app/care/plan/plan.ts';
import { planToFile } from '../../app/exchange/plan-file.ts';
import { doChange, doCheck, expect, main, openDemo, TUESDAY_MORNING, test, title, visit } from './app.ts';
import { say } from './say.ts';
import { logOf, storeOf } from './stores.ts';

const { plan: demo } = JSON.parse(readFileSync(new URL('../../assets/demo/plan.json', import.meta.url), 'utf8')) as { plan: Plan };

/** A phone of its own: nothing is shared with another context. */
async function newPhone(browser: Browser, at = TUESDAY_MORNING): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, locale: 'en-US', timezoneId: 'America/Chicago' });
  const page = await context.newPage();
  await openDemo(page, at);
  return page;
}

async function bytesOf(download: Download): Promise<Buffer> {
  return readFileSync(await download.path());
}

/** The open book as the file that this phone makes of it. */
async function fileOf(page: Page): Promise<{ name: string; buffer: Buffer }> {
  await visit(page, 'send');
  await main(page).click();
  await expect(title(page)).toHaveText(say('keep:send.ready'));
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: say('keep:ready.save') }).click()]);
  return { name: download.suggestedFilename(), buffer: await bytesOf(download) };
}

const chooseFile = (page: Page, buffer: Buffer) =>
  page.locator('.main input[type=file]').setInputFiles({ name: 'tendbook-log.txt', mimeType: 'text/plain', buffer });

/** Takes a file in and says yes. */
async function takeIn(page: Page, buffer: Buffer): Promise<void> {
  await visit(page, 'phones');
  await chooseFile(page, buffer);
  await expect(title(page)).toHaveText(say('keep:takeIn.title', { name: 'Nela' }));
  await main(page).click();
  await expect(title(page)).toHaveText(say('keep:takeIn.doneTitle', { name: 'Nela' }));
}

async function count(page: Page, pieces: number): Promise<void> {
  await visit(page, 'supply/gauze');
  await page.getByRole('button', { name: say('supplies:setCount') }).click();
  await page.getByLabel(say('supplies:pieces')).fill(String(pieces));
  await main(page).click();
  await expect(page.getByText(say('supplies:moved.counted', { amount: pieces })).first()).toBeVisible();
}

test('two phones share one book by file, both ways, and in the end hold the same log', async ({ page, browser }) => {
  test.setTimeout(120_000);
  await openDemo(page, TUESDAY_MORNING);
  const other = await newPhone(browser);
  // The person checks and counts; the caregiver changes the dressing and counts too.
  await doCheck(page);
  await count(page, 40);
  await visit(other, 'settings/who');
  await other.locator('input[value="caregiver"]').check();
  await other.getByLabel(say('settings:name')).fill('Ilse');
  await other.getByLabel(say('settings:name')).blur();
  await other.clock.setFixedTime('2031-03-04T16:30:00Z');
  await doCheck(other);
  await doChange(other);
  await count(other, 31);

  const [mine, theirs] = [await fileOf(page), await fileOf(other)];
  expect(mine.name).toBe('tendbook-log-phone-nela-2031-03-04.txt');
  await takeIn(page, theirs.buffer);
  await takeIn(other, mine.buffer);
  const [here, there] = [await logOf(page), await logOf(other)];
  expect(here).toEqual(there);
  expect(new Set(here.map((r) => r.device)).size).toBe(2);
  expect(here.some((r) => JSON.stringify(r).includes('Ilse'))).toBe(true);

  // Once more in either direction changes nothing.
  await takeIn(page, (await fileOf(other)).buffer);
  await expect(page.getByText(say('keep:taken.nothingNew'))).toBeVisible();
  expect(await logOf(page)).toEqual(here);
  await takeIn(other, mine.buffer);
  expect(await logOf(other)).toEqual(here);

  // Two counts that differ are shown on both, and judged on one.
  await expect(page.getByText(say('keep:judge.waiting_one', { count: 1 }))).toBeVisible();
  await main(page).click();
  await expect(title(page)).toHaveText(say('keep:judge.kind.counted.title'));
  await expect(page.getByText('Ilse, ')).toBeVisible();
  await main(page).click();
  await expect(page.getByText(say('keep:judge.choose'))).toBeVisible();
  await page.getByLabel(say('supplies:moved.counted', { amount: 40 })).check();
  await main(page).click();
  await expect(page.getByText(say('keep:judge.nothing'))).toBeVisible();
  await takeIn(other, (await fileOf(page)).buffer);
  await expect(other.getByText(say('keep:judge.waiting_one', { count: 1 }))).toHaveCount(0);
  await visit(other, 'judge');
  await expect(other.getByText(say('keep:judge.nothing'))).toBeVisible();
  expect(await logOf(other)).toEqual(await logOf(page));
  await other.context().close();
});

test('an alert of the other phone stands on the first screen at once', async ({ page, browser }) => {
  await openDemo(page, TUESDAY_MORNING);
  const other = await newPhone(browser);
  await doCheck(other, { pain: 'more' });
  await takeIn(page, (await fileOf(other)).buffer);
  await visit(page, 'today');
  await expect(page.locator('.open-alert')).toBeVisible();
  await other.context().close();
});

/** A note that cannot be packed, so that the log needs several codes. */
async function writeLongNote(page: Page): Promise<void> {
  await visit(page, 'note');
  let seed = 7;
  const letters = Array.from({ length: 1_800 }, () => {
    seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
    return 'abcdefghijklmnopqrstuvwxyz '[seed % 27];
  });
  await page.locator('textarea').fill(letters.join(''));
  await main(page).click();
  await expect(page).toHaveURL(/#\/log/);
}

test('by codes, in any order, with a break in between', async ({ page, browser }) => {
  test.setTimeout(120_000);
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  await writeLongNote(page);
  await visit(page, 'codes');
  const picture = page.locator('.log-codes .code');
  await expect(picture).toBeVisible();
  const of = Number(/(\d+)$/.exec(await picture.getAttribute('aria-label').then(String))?.[1]);
  const photos: { name: string; mimeType: string; buffer: Buffer }[] = [];
  for (let n = 1; n <= of; n++) {
    await expect(picture).toHaveAttribute('aria-label', say('keep:codes.codeOf', { at: n, of }));
    photos.push({ name: `code-${n}.png`, mimeType: 'image/png', buffer: await picture.screenshot({ scale: 'device' }) });
    if (n < of) await page.getByRole('button', { name: say('keep:codes.after') }).click();
  }
  expect(of).toBeGreaterThan(1);

  const other = await newPhone(browser);
  await visit(other, 'phones');
  await other.getByRole('button', { name: say('keep:phones.scan') }).click();
  const [first, ...rest] = photos.reverse() as [(typeof photos)[number], ...typeof photos];
  const input = other.locator('.scan input[type=file]');
  await input.setInputFiles(first);
  const found = say('welcome:scan.progress_other', { found: 1, count: of });
  await expect(other.getByText(found)).toBeVisible({ timeout: 20_000 });
  // The app is closed and opened: half a set is still there.
  await other.reload();
  await expect(other.getByText(found)).toBeVisible();
  await input.setInputFiles(rest);
  await expect(title(other)).toHaveText(say('keep:takeIn.title', { name: 'Nela' }), { timeout: 30_000 });
  // So is a whole one that nobody has answered yet.
  await other.reload();
  await expect(title(other)).toHaveText(say('keep:takeIn.title', { name: 'Nela' }));
  await main(other).click();
  await expect(title(other)).toHaveText(say('keep:takeIn.doneTitle', { name: 'Nela' }));
  const ids = new Set((await logOf(other)).map((r) => r.id));
  for (const record of await logOf(page)) expect(ids).toContain(record.id);
  await other.context().close();
});

test('a code of a log opened by the phone’s own camera goes to the scanner', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await page.goto('./#log=l01021234567890123456789012345');
  await expect(title(page)).toHaveText(say('keep:scan.title'));
  await expect(page.getByText(say('welcome:scan.progress_other', { found: 1, count: 2 }))).toBeVisible();
  expect(page.url()).not.toContain('l0102');
});

test('the log of another person is never mixed in; it opens as a book of its own only when chosen', async ({ page, browser }) => {
  await openDemo(page, TUESDAY_MORNING);
  const ivo: Plan = { ...demo, id: 'birch-1', sample: undefined, person: { ...demo.person, id: 'ivo', callMe: 'Ivo' } } as Plan;
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, locale: 'en-US', timezoneId: 'America/Chicago' });
  const other = await context.newPage();
  await other.clock.setFixedTime(TUESDAY_MORNING);
  await other.goto('./#/open');
  await other.getByLabel(say('welcome:pasteField')).fill(planToFile(ivo));
  await main(other).click();
  await expect(title(other)).toHaveText(say('welcome:confirmNew'));
  await main(other).click();
  await expect(title(other)).toHaveText(say('today:title', { name: 'Ivo' }));
  await doCheck(other);
  const { buffer } = await fileOf(other);
  await context.close();

  const before = await storeOf(page, 'log');
  await visit(page, 'phones');
  await chooseFile(page, buffer);
  await expect(title(page)).toHaveText(say('keep:takeIn.newTitle', { name: 'Ivo' }));
  await expect(page.getByText(say('keep:takeIn.stranger', { name: 'Ivo' }))).toBeVisible();
  // The large button is the careful one.
  await expect(main(page)).toHaveText(say('welcome:notNow'));
  await main(page).click();
  await expect(title(page)).toHaveText(say('keep:phones.title'));
  expect(await storeOf(page, 'log')).toEqual(before);

  await chooseFile(page, buffer);
  await page.getByRole('button', { name: say('keep:takeIn.open', { name: 'Ivo' }) }).click();
  await expect(title(page)).toHaveText(say('keep:takeIn.doneTitle', { name: 'Ivo' }));
  const after = await storeOf(page, 'log');
  for (const [key, value] of Object.entries(before)) expect(after[key]).toEqual(value);
  await main(page).click();
  await expect(title(page)).toHaveText(say('today:title', { name: 'Ivo' }));
});

test('what is no log is refused in its own words, and nothing changes', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  const { buffer } = await fileOf(page);
  const before = [await storeOf(page, 'log'), await storeOf(page, 'photos')];
  const text = buffer.toString('utf8');
  const told = async (content: string, why: string) => {
    await visit(page, 'phones');
    await chooseFile(page, Buffer.from(content));
    await expect(page.locator('.main .lead')).toHaveText(say(`keep:takeIn.fault.${why}`));
    await main(page).click();
    await expect(title(page)).toHaveText(say('keep:phones.title'));
  };
  await told(text.slice(0, text.length / 2), 'cutOff');
  await told(text.replace('36.8', '38.8'), 'damaged');
  await told(planToFile(demo), 'plan');
  await told(text.replace('"version":1', '"version":9'), 'newerVersion');
  await told(text.replace('"records":[{', '"records":[{"__proto__":{"x":1},'), 'unsafe');
  await told('Dear clinic', 'notABook');
  expect([await storeOf(page, 'log'), await storeOf(page, 'photos')]).toEqual(before);
});
