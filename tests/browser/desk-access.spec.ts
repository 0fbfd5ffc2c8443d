import type { Locator, Page } from '@playwright/test';
import { writeBookFile } from '../../app/exchange/book-file.ts';
import { EXAMPLE, NOW, REVISION_1, REVISION_2 } from '../care/visit/example.ts';
import { PHONE } from '../exchange/logs.ts';
import { expect, TUESDAY_MORNING, test } from './app.ts';
import { violations } from './axe.ts';
import { LAPTOP } from './desk.ts';
import { heard, unclearControls } from './heard.ts';
import { lostFocus } from './sensed.ts';
import { walkDesk } from './walk-desk.ts';

/** What axe finds on the desk. The preview in its frame is the patient's app, which has a test of its own. */
const onDesk = (page: Page): Promise<string[]> => violations(page, { exclude: ['.phone iframe'] });

/** Opens the hand-worked log, with one photo of the two that it speaks of. */
async function openLog(page: Page): Promise<void> {
  const picture = await page.evaluate(() => document.createElement('canvas').toDataURL('image/jpeg').split(',')[1] ?? '');
  const photos = new Map([['bytes-photo-1', new Blob([Buffer.from(picture, 'base64')], { type: 'image/jpeg' })]]);
  const made = new Date(NOW).toISOString();
  const book = { plan: REVISION_2, earlierPlans: [REVISION_1], acceptedAt: made, records: EXAMPLE, made, device: PHONE };
  const buffer = Buffer.from(await (await writeBookFile(book, photos)).arrayBuffer());
  await page.goto('./clinic');
  await page.locator('.start-way').last().click();
  await page.locator('.drop input').setInputFiles({ name: 'log.txt', mimeType: 'text/plain', buffer });
  await expect(page.locator('.log-view')).toBeVisible();
}
const logTabs = (page: Page) => page.locator('.log-main').getByRole('tab');

for (const [language, locale] of [
  ['en', 'en-US'],
  ['es', 'es-MX'],
  ['ar', 'ar-EG'],
] as const) {
  for (const colorScheme of ['light', 'dark'] as const) {
    test.describe(`${language} ${colorScheme}`, () => {
      test.use({ locale, colorScheme, viewport: LAPTOP });
      test('axe finds nothing on the desk, and in English the focus is kept and every control has a name of its own', async ({ page }) => {
        test.setTimeout(120_000);
        await page.clock.setFixedTime(TUESDAY_MORNING);
        const found: string[] = [];
        await walkDesk(
          page,
          async (name) => {
            // A page that has just been opened has the focus at its top, which is nowhere yet.
            const focus = name === 'desk, start' ? [] : await lostFocus(page);
            const heardWrong = language === 'en' ? [...focus, ...unclearControls(await heard(page))] : [];
            found.push(...[...heardWrong, ...(await onDesk(page))].map((v) => `${name}: ${v}`));
          },
          async (paper) => {
            found.push(...(await onDesk(paper)).map((v) => `paper: ${v}`));
          },
        );
        expect(found).toEqual([]);
      });

      test('axe finds nothing where a log is read', async ({ page }) => {
        await page.clock.setFixedTime(NOW);
        const found: string[] = [];
        const see = async (name: string) => {
          found.push(...(await onDesk(page)).map((v) => `${name}: ${v}`));
        };
        await page.goto('./clinic');
        await page.locator('.start-way').last().click();
        await page.locator('.drop input').setInputFiles({ name: 'log.txt', mimeType: 'text/plain', buffer: Buffer.from('no log') });
        await expect(page.getByRole('alert')).toBeVisible();
        await see('read a log, refused');
        await page.locator('.log-opener section button').click();
        await see('camera');
        await openLog(page);
        for (const [i, name] of ['summary', 'days', 'photos'].entries()) {
          await logTabs(page).nth(i).click();
          await see(name);
        }
        await page.locator('.log-ways .act').click();
        await expect(page.locator('.log-beside')).toBeVisible();
        await see('the next version beside the log');
        expect(found).toEqual([]);
      });
    });
  }
}

for (const viewport of [LAPTOP, { width: 820, height: 1180 }, { width: 390, height: 844 }]) {
  test(`nothing is cut off at ${viewport.width} × ${viewport.height}`, async ({ page }) => {
    await page.setViewportSize(viewport);
    await page.goto('./clinic');
    await page.locator('.start-way').nth(3).click();
    await expect(page.locator('#seen')).toBeVisible();
    for (const summary of await page.locator('.band > summary').all()) await summary.click();
    const lookAt = async (tabs: readonly Locator[]) => {
      for (const tab of tabs) {
        await tab.click();
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
        expect(wide, (await tab.textContent()) ?? '').toBeLessThanOrEqual(0);
      }
    };
    await lookAt(await page.getByRole('tab').all());
    await openLog(page);
    await lookAt(await logTabs(page).all());
  });
}
