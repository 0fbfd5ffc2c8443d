import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { answer, choose, doChange, doCheck, expect, main, openDemo, TUESDAY_MORNING, test, title, turn, visit } from './app.ts';
import { ownSite } from './own-site.ts';
import { say } from './say.ts';

/** Waits until the service worker has taken everything in and rules the page. */
async function installed(page: Page): Promise<void> {
  await page.goto('./');
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.reload();
  await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller !== null)).toBe(true);
}

test('a whole day works with the network off, from the second load on', async ({ page, context }) => {
  await installed(page);
  await openDemo(page, TUESDAY_MORNING);
  await context.setOffline(true);
  await page.reload();
  await expect(title(page)).toHaveText(say('today:title', { name: 'Nela' }));
  await doCheck(page);
  await doChange(page);
  await page.reload();
  for (const place of ['today', 'log', 'plan', 'settings', 'help', 'people', 'about', 'open', 'note']) {
    await page.goto(`./#/${place}`);
    await expect(title(page)).toBeVisible();
  }
  // Another language was never asked for while there was a network.
  await visit(page, 'settings/language');
  await choose(page, 'es');
  await expect(page.locator('html')).toHaveAttribute('lang', 'es');
  await expect(title(page)).not.toHaveText(say('settings:language'));
});

test('the app can be installed: manifest, icons and scope', async ({ page, request }) => {
  await page.goto('./');
  const href = await page.locator('link[rel=manifest]').getAttribute('href');
  const manifest = (await (await request.get(`./${href}`)).json()) as {
    display: string;
    start_url: string;
    orientation: string;
    icons: { src: string; sizes: string; purpose?: string }[];
  };
  expect(manifest.display).toBe('standalone');
  expect(manifest.orientation).toBe('any');
  expect(manifest.icons.some((i) => i.purpose === 'maskable' && i.sizes === '512x512')).toBe(true);
  for (const icon of manifest.icons) expect((await request.get(`./${icon.src}`)).status()).toBe(200);
});

test.describe('new versions', () => {
  const site = ownSite();

  const publish = (change: (worker: string) => string) => {
    const path = join(site.folder, 'sw.js');
    writeFileSync(path, change(readFileSync(path, 'utf8')));
  };
  const look = (page: Page) => page.evaluate(async () => void (await (await navigator.serviceWorker.getRegistration())?.update()));

  test('a new version waits while a check is under way, then asks, then takes over', async ({ page }) => {
    await page.goto(site.address);
    await page.evaluate(() => navigator.serviceWorker.ready);
    // Ruled by the worker from the second load on; before that there is nothing to wait for.
    await page.reload();
    await page.goto(`${site.address}#/demo`);
    await expect(page).toHaveURL(/#\/confirm$/);
    await main(page).click();
    await expect(page).toHaveURL(/#\/today$/);
    await page.goto(`${site.address}#/check`);
    await choose(page, 'none');
    await turn(page);
    publish((worker) => `${worker}\n// version 2\n`);
    await look(page);
    await expect.poll(() => page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.waiting !== null)).toBe(true);
    await page.waitForTimeout(500);
    await expect(page.locator('#update')).toHaveCount(0);

    // The check ends; now it asks.
    await answer(page, 'temperature', '36.8');
    await turn(page);
    for (const code of ['usual', 'usual', 'same', 'usual', 'dryInPlace', 'none', 'always']) {
      await choose(page, code);
      await turn(page);
    }
    await main(page).click();
    await expect(page.locator('#update')).toBeVisible();
    await Promise.all([page.waitForEvent('load'), page.getByRole('button', { name: say('common:update.now') }).click()]);
    await expect(title(page)).toBeVisible();
    await expect.poll(() => page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.waiting ?? null)).toBe(null);
  });

  test('a broken new version leaves the old one working', async ({ page, context }) => {
    await page.goto(site.address);
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.reload();
    publish((worker) => worker.replace('index.html', 'no-such-file.html'));
    await look(page).catch(() => undefined);
    await page.waitForTimeout(500);
    await context.setOffline(true);
    await page.reload();
    await expect(title(page)).toHaveText(say('welcome:title'));
  });
});
