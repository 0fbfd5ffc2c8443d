import type { Page } from '@playwright/test';
import { expect, openDemo, test, visit } from './app.ts';
import { say } from './say.ts';

test.use({ serviceWorkers: 'block' });

declare global {
  var jumped: number;
}

/** Sums what jumps on each page without a tap of the person. */
async function watchJumps(page: Page): Promise<() => Promise<number>> {
  await page.addInitScript(() => {
    Object.assign(globalThis, { jumped: 0 });
    new PerformanceObserver((list) => {
      for (const { value, hadRecentInput } of list.getEntries() as unknown as { value: number; hadRecentInput: boolean }[])
        if (!hadRecentInput) globalThis.jumped += value;
    }).observe({ type: 'layout-shift', buffered: true });
  });
  return () => page.evaluate(() => globalThis.jumped);
}

test('the first words stand in the colours of the book while nothing else has arrived', async ({ page }) => {
  await page.route(/\/assets\//, () => new Promise(() => undefined));
  await page.goto('./', { waitUntil: 'commit' });
  await expect.poll(() => page.evaluate(() => performance.getEntriesByName('first-contentful-paint').length)).toBe(1);
  await expect(page.locator('.first .lead')).toHaveText(say('welcome:what'));
  await expect(page.locator('.first a').first()).toHaveAttribute('href', 'tel:112');
  // Of style/first.css.
  await expect(page.locator('body')).toHaveCSS('background-color', 'rgb(251, 245, 233)');
  const box = await page.locator('.first a').first().boundingBox();
  expect(box?.height).toBeGreaterThanOrEqual(48);
});

test('the first words are as large as what comes after them, so that nothing larger is painted late', async ({ page }) => {
  const lead = async (selector: string) => (await page.locator(selector).boundingBox())?.width;
  await page.route(/\/assets\/.*\.js$/, () => new Promise(() => undefined));
  await page.goto('./', { waitUntil: 'commit' });
  const first = await lead('.first .lead');
  await page.unrouteAll();
  await page.goto('about:blank');
  await visit(page, 'welcome');
  expect(first).toBe(await lead('.place .lead'));
});

test('nothing jumps when the screen takes the place of the first words', async ({ page }) => {
  const jumped = await watchJumps(page);
  await visit(page, 'welcome');
  expect(await jumped()).toBe(0);
  await openDemo(page);
  for (const place of ['today', 'check', 'log', 'order', 'supplies']) {
    await page.goto('about:blank');
    await visit(page, place);
    // What is reckoned late has come by then.
    await page.waitForTimeout(600);
    expect(await jumped(), place).toBeLessThan(0.01);
  }
});
