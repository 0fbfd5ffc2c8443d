import { readFileSync, writeFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { answer, doCheck, expect, main, openDemo, TUESDAY_MORNING, test, title, turn, visit } from './app.ts';
import { say } from './say.ts';
import { logOf, putPhotos, storeOf } from './stores.ts';

const PASSPHRASE = 'seven brown owls at noon';

/** Makes a copy on this phone and takes the file out. */
async function keepCopy(page: Page): Promise<Buffer> {
  await visit(page, 'copy');
  await page.getByLabel(say('keep:passphrase.choose')).fill(PASSPHRASE);
  await page.getByLabel(say('keep:passphrase.again')).fill(PASSPHRASE);
  await main(page).click();
  await expect(title(page)).toHaveText(say('keep:copy.ready'), { timeout: 30_000 });
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: say('keep:ready.save') }).click()]);
  expect(download.suggestedFilename()).toBe('tendbook-copy-2031-03-04.txt');
  return readFileSync(await download.path());
}

/** Chooses a file as the copy to bring back. */
async function chooseCopy(page: Page, content: Buffer): Promise<void> {
  await visit(page, 'keep');
  await visit(page, 'bring-back');
  const path = test.info().outputPath('tendbook-copy.txt');
  writeFileSync(path, content);
  await page.locator('footer input[type=file]').setInputFiles(path);
}

async function openCopy(page: Page, buffer: Buffer, passphrase = PASSPHRASE): Promise<void> {
  await chooseCopy(page, buffer);
  await expect(title(page)).toHaveText(say('keep:back.askTitle'));
  await page.getByLabel(say('keep:passphrase.ask')).fill(passphrase);
  await main(page).click();
}

/** Erases all that the site keeps, as a person can in the browser's settings. */
async function eraseSite(page: Page): Promise<void> {
  await page.goto('about:blank');
  const session = await page.context().newCDPSession(page);
  await session.send('Storage.clearDataForOrigin', {
    origin: new URL(String(test.info().project.use.baseURL)).origin,
    storageTypes: 'all',
  });
  await session.detach();
  await page.goto('./');
  await expect(title(page)).toHaveText(say('welcome:title'));
}

test('a copy brings the same log back to an empty phone: records, photos, settings, and a check half done', async ({ page }) => {
  test.setTimeout(120_000);
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page, { pain: 'more' });
  await visit(page, 'settings/textSize');
  await page.locator('input[value="large"]').check();
  await putPhotos(page, 4, 700_000);
  await visit(page, 'check');
  await answer(page, 'unwell', 'none');
  await turn(page);
  const before = { log: await logOf(page), photos: await storeOf(page, 'photos') };
  const file = await keepCopy(page);

  await eraseSite(page);
  await page.getByRole('link', { name: say('welcome:haveCopy') }).click();
  await page.getByRole('link', { name: say('keep:back.title') }).click();
  await openCopy(page, file);
  await expect(title(page)).toHaveText(say('keep:back.inItTitle'));
  await expect(page.getByRole('heading', { name: 'Nela' })).toBeVisible();
  await expect(page.getByText('4 photos', { exact: false })).toBeVisible();
  // Nothing is taken in before the person says so.
  expect(await storeOf(page, 'log')).toEqual({});
  await main(page).click();
  await expect(title(page)).toHaveText(say('keep:back.doneTitle'), { timeout: 30_000 });
  expect({ log: await logOf(page), photos: await storeOf(page, 'photos') }).toEqual(before);
  await main(page).click();
  await expect(title(page)).toHaveText(say('today:title', { name: 'Nela' }));
  await expect(page.locator('.open-alert')).toBeVisible();
  await expect(page.locator('html')).toHaveAttribute('data-size', 'large');
  await visit(page, 'check');
  await expect(title(page)).toHaveText(say('check:temperature.ask'));
});

test('brought back to a phone in use it adds what is missing and changes nothing that is there', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  const file = await keepCopy(page);
  await visit(page, 'note');
  await page.locator('textarea').fill('Written after the copy.');
  await main(page).click();
  await expect(page).toHaveURL(/#\/log/);
  const before = await logOf(page);
  await openCopy(page, file);
  await main(page).click();
  await expect(title(page)).toHaveText(say('keep:back.doneTitle'));
  await expect(page.getByText(say('keep:taken.nothingNew'))).toBeVisible();
  expect(await logOf(page)).toEqual(before);
});

test('a wrong passphrase, a flipped bit, a cut end, another kind of file: each has its words, and nothing is changed', async ({ page }) => {
  test.setTimeout(120_000);
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  await putPhotos(page, 3, 900_000);
  const file = await keepCopy(page);
  const before = [await storeOf(page, 'log'), await storeOf(page, 'photos')];

  await openCopy(page, file, 'eight brown owls at noon');
  await expect(page.locator('.error')).toHaveText(say('keep:back.fault.wrongPassphrase'));
  await page.getByLabel(say('keep:passphrase.ask')).fill(PASSPHRASE);
  await main(page).click();
  await expect(title(page)).toHaveText(say('keep:back.inItTitle'));

  const flipped = Buffer.from(file);
  const at = Math.floor(file.length / 2);
  flipped[at] = (flipped[at] as number) ^ 1;
  await openCopy(page, flipped);
  await expect(page.locator('.error')).toHaveText(say('keep:back.fault.damaged'));

  await chooseCopy(page, Buffer.from('Dear clinic'));
  await expect(page.locator('.error')).toHaveText(say('keep:back.fault.notABackup'));
  await chooseCopy(page, Buffer.from('{"tendbook":"backup","version":7}\n'));
  await expect(page.locator('.error')).toHaveText(say('keep:back.fault.newerVersion'));

  await openCopy(page, file.subarray(0, file.length - 500_000));
  await expect(page.locator('.error')).toHaveText(say('keep:back.fault.cutOff'));
  // The careful answer is the large one; the other brings what is there.
  await expect(main(page)).toHaveText(say('keep:back.other'));
  expect([await storeOf(page, 'log'), await storeOf(page, 'photos')]).toEqual(before);
  await page.getByRole('button', { name: say('keep:back.bringPart') }).click();
  await expect(page.getByText(say('keep:back.partOnly'))).toBeVisible();
  expect([await storeOf(page, 'log'), await storeOf(page, 'photos')]).toEqual(before);
});

test('making and bringing back can be stopped; stopped half way it can be done again', async ({ page }) => {
  test.setTimeout(120_000);
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  await putPhotos(page, 30, 1_500_000);
  await visit(page, 'copy');
  await page.getByLabel(say('keep:passphrase.choose')).fill(PASSPHRASE);
  await page.getByLabel(say('keep:passphrase.again')).fill(PASSPHRASE);
  await main(page).click();
  await expect(page.getByRole('progressbar')).toBeVisible();
  await page.getByRole('button', { name: say('keep:stop') }).click();
  await expect(title(page)).toHaveText(say('keep:copy.title'));
  const file = await keepCopy(page);
  const photos = await storeOf(page, 'photos');

  await eraseSite(page);
  await openCopy(page, file);
  await expect(title(page)).toHaveText(say('keep:back.inItTitle'), { timeout: 30_000 });
  await main(page).click();
  await expect(page.getByRole('progressbar')).toBeVisible();
  await expect.poll(async () => Object.keys(await storeOf(page, 'photos')).length).toBeGreaterThan(0);
  await page.getByRole('button', { name: say('keep:stop') }).click();
  await expect(page.getByText(say('keep:stopped'))).toBeVisible();
  const half = Object.keys(await storeOf(page, 'photos')).length;
  expect(half).toBeLessThan(30);
  // The log came before the photos, and says that something is missing.
  expect((await logOf(page)).length).toBeGreaterThan(1);
  await main(page).click();
  await expect(title(page)).toHaveText(say('keep:back.doneTitle'), { timeout: 30_000 });
  expect(await storeOf(page, 'photos')).toEqual(photos);
});

test('the passphrase is asked for twice, and a short or different one makes no copy', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await visit(page, 'copy');
  await main(page).click();
  await expect(page.locator('.error')).toHaveText(say('keep:passphrase.short', { least: 10 }));
  await page.getByLabel(say('keep:passphrase.choose')).fill(PASSPHRASE);
  await page.getByLabel(say('keep:passphrase.again')).fill(`${PASSPHRASE}!`);
  await main(page).click();
  await expect(page.locator('.error')).toHaveText(say('keep:passphrase.differ'));
  await expect(page.getByLabel(say('keep:passphrase.choose'))).toHaveAttribute('type', 'password');
  await page.getByLabel(say('keep:passphrase.show')).check();
  await expect(page.getByLabel(say('keep:passphrase.choose'))).toHaveAttribute('type', 'text');
  await expect(page.getByText(say('keep:passphrase.warning'))).toBeVisible();
});
