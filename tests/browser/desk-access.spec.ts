import type { Page } from '@playwright/test';
import { expect, TUESDAY_MORNING, test } from './app.ts';
import { violations } from './axe.ts';
import { LAPTOP, PASSPHRASE } from './desk.ts';

/** What axe finds on the desk. The preview in its frame is the patient's app, which has a test of its own. */
const onDesk = (page: Page): Promise<string[]> => violations(page, { exclude: ['.phone iframe'] });

for (const language of ['en', 'es']) {
  for (const colorScheme of ['light', 'dark'] as const) {
    test.describe(`${language} ${colorScheme}`, () => {
      test.use({ locale: language === 'en' ? 'en-US' : 'es-MX', colorScheme, viewport: LAPTOP });
      test('axe finds nothing on the desk', async ({ page, context }) => {
        await page.clock.setFixedTime(TUESDAY_MORNING);
        const found: string[] = [];
        const see = async (name: string, on: Page = page) => {
          found.push(...(await onDesk(on)).map((v) => `${name}: ${v}`));
        };
        await page.goto('./clinic');
        await expect(page.locator('.start-way').first()).toBeVisible();
        await see('start');
        await page.locator('.start-way').nth(1).click();
        await expect(page.locator('#seen')).toBeVisible();
        await see('blank, with findings that stop');
        const tabs = page.getByRole('tab');
        await tabs.nth(3).click();
        await see('hand-over, stopped');
        await page.reload();
        await page.locator('.start-way').nth(3).click();
        await expect(page.locator('#seen')).toBeVisible();
        for (const summary of await page.locator('.band > summary, .inner > summary').all()) {
          if (await summary.isVisible()) await summary.click();
        }
        await page.locator('.inner > summary').first().click();
        await see('demo, opened up');
        await tabs.nth(1).click();
        await see('preview');
        await tabs.nth(2).click();
        await see('dry run');
        await tabs.nth(3).click();
        await see('key');
        await page.locator('.keys input[type=password]').fill(PASSPHRASE);
        await page.locator('.keys button').click();
        await expect(page.locator('.hand-over > .code-figure .code')).toBeVisible();
        await see('hand-over');
        const [paper] = await Promise.all([context.waitForEvent('page'), page.locator('.ways .act').click()]);
        await expect(paper.locator('.paper h1')).toBeVisible();
        await see('paper', paper);
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
    for (const tab of await page.getByRole('tab').all()) {
      await tab.click();
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      expect(wide, (await tab.textContent()) ?? '').toBeLessThanOrEqual(0);
    }
  });
}
