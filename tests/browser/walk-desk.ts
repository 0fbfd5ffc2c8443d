import type { Page } from '@playwright/test';
import { expect } from './app.ts';
import { PASSPHRASE } from './desk.ts';
import type { See } from './walk-see.ts';

/** A walk through every page of the clinic's desk, in any language. Ends with the paper, which opens beside it. */
export async function walkDesk(page: Page, see: See, seePaper?: (paper: Page) => Promise<void>): Promise<void> {
  await page.goto('./clinic');
  await expect(page.locator('.start-way').first()).toBeVisible();
  await see('desk, start');
  await page.locator('.start-way').nth(1).click();
  await expect(page.locator('#seen')).toBeVisible();
  await see('desk, blank, with findings that stop');
  const tabs = page.getByRole('tab');
  await tabs.nth(3).click();
  await see('desk, hand-over, stopped');
  await page.reload();
  await page.locator('.start-way').nth(3).click();
  await expect(page.locator('#seen')).toBeVisible();
  await see('desk, demo');
  for (const summary of await page.locator('.band > summary, .inner > summary').all()) {
    if (await summary.isVisible()) await summary.click();
  }
  await page.locator('.inner > summary').first().click();
  await see('desk, demo, opened up');
  await tabs.nth(1).click();
  await expect(page.frameLocator('.phone iframe').locator('h1')).toBeVisible();
  await see('desk, preview');
  await tabs.nth(2).click();
  await see('desk, dry run');
  await tabs.nth(3).click();
  await expect(page.locator('.keys')).toBeVisible();
  await see('desk, key');
  await page.locator('.keys input[type=password]').fill(PASSPHRASE);
  await page.locator('.keys button').click();
  await expect(page.locator('.hand-over > .code-figure .code')).toBeVisible();
  await see('desk, hand-over');
  const [paper] = await Promise.all([page.context().waitForEvent('page'), page.locator('.ways .act').click()]);
  await expect(paper.locator('.paper h1')).toBeVisible();
  await seePaper?.(paper);
}
