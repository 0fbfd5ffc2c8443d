import { readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { BrowserContext, Page } from '@playwright/test';
import { answer, CHECK, doCheck, expect, main, openDemo, TUESDAY_MORNING, test, title, turn, visit } from './app.ts';
import { ownSite } from './own-site.ts';
import { say } from './say.ts';
import { logOf } from './stores.ts';

/** Faults of the phone and of the network, each with what a person sees and can do. */

const NUMBERS = 'a[href="tel:911"], a[href="tel:112"]';
/** A blank page of this site, as another window of the same browser. */
async function otherWindow(context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  await page.route('**/blank', (route) => route.fulfill({ contentType: 'text/html', body: '<!doctype html><title>blank</title>' }));
  await page.goto('./blank');
  return page;
}

test.describe('the phone', () => {
  test.use({ serviceWorkers: 'block' });

  test('is full in the middle of a check: it says so, shows nothing as saved, and the same button saves once there is room', async ({
    page,
  }) => {
    // What the stores of a full phone answer; how full it is the browser does not let a test say.
    await page.addInitScript(() => {
      const { put } = IDBObjectStore.prototype;
      IDBObjectStore.prototype.put = function (...given) {
        if (localStorage.getItem('full')) throw new DOMException('the phone is full', 'QuotaExceededError');
        return put.apply(this, given);
      };
    });
    await openDemo(page, TUESDAY_MORNING);
    await visit(page, 'check');
    for (const [question, code] of CHECK) {
      await answer(page, question, code);
      await turn(page);
    }
    const before = await logOf(page);
    await page.evaluate(() => localStorage.setItem('full', 'yes'));
    await main(page).click();
    await expect(page.getByRole('alert')).toHaveText(say('common:notSaved'));
    await expect(page).toHaveURL(/#\/check$/);
    expect(await logOf(page)).toEqual(before);
    await page.evaluate(() => localStorage.removeItem('full'));
    await main(page).click();
    await expect(page).toHaveURL(/#\/checked\//);
    expect(await logOf(page)).toHaveLength(before.length + 1);
  });

  test('gives no place to store anything: why, what to do, and help all the same', async ({ page }) => {
    await page.addInitScript(() => {
      IDBFactory.prototype.open = () => {
        throw new DOMException('denied', 'SecurityError');
      };
    });
    await page.goto('./');
    await expect(title(page)).toHaveText(say('common:noStorage.title'));
    await expect(page.getByText(say('common:noStorage.try.private'))).toBeVisible();
    await expect(page.locator(NUMBERS).first()).toBeVisible();
  });

  test('holds the stores for another window: it says which window to close, keeps help in reach, and opens with all that was there', async ({
    page,
    context,
  }) => {
    await openDemo(page, TUESDAY_MORNING);
    await doCheck(page);
    const before = await logOf(page);
    await page.close();
    // One window keeps a database open whatever it is told, another waits to change it: so nobody else gets it.
    const [holding, waiting] = [await otherWindow(context), await otherWindow(context)];
    await holding.evaluate(
      () =>
        new Promise<void>((resolve) => {
          const request = indexedDB.open('tendbook-book');
          request.onsuccess = () => {
            (globalThis as { held?: IDBDatabase }).held = request.result;
            resolve();
          };
        }),
    );
    await waiting.evaluate(
      () =>
        new Promise<void>((resolve) => {
          const request = indexedDB.open('tendbook-book', 2);
          request.onblocked = () => resolve();
          request.onsuccess = () => request.result.close();
        }),
    );
    const app = await context.newPage();
    await app.goto('./');
    await expect(app.locator('#slow')).toContainText(say('common:slow'), { timeout: 15_000 });
    await expect(app.locator('#slow')).toHaveRole('alert');
    await expect(app.locator(NUMBERS).first()).toBeVisible();
    await holding.close();
    await expect(app.locator('.dues')).toBeVisible();
    await expect(app.locator('#slow')).toHaveCount(0);
    expect(await logOf(app)).toEqual(before);
  });

  test('has a clock that jumps a year ahead and back: nothing is lost, and what it raised stands until somebody answers it', async ({
    page,
  }) => {
    await openDemo(page, TUESDAY_MORNING);
    await doCheck(page);
    await page.clock.setFixedTime('2032-03-05T16:00:00Z');
    await visit(page, 'today');
    await page.reload();
    await expect(page.locator('.dues')).toBeVisible();
    await doCheck(page);
    await page.clock.setFixedTime('2031-03-05T16:00:00Z');
    await visit(page, 'today');
    await page.reload();
    await expect(page.locator('.open-alert')).toBeVisible();
    expect((await logOf(page)).filter((r) => (r as { kind?: string }).kind === 'check')).toHaveLength(2);
    await visit(page, 'log');
    // The plan, both checks, and what the second one raised.
    await expect(page.locator('a.row')).toHaveCount(4);
  });
});

test.describe('the network', () => {
  test.use({ serviceWorkers: 'block', expected: /Failed to load resource|net::ERR_|Failed to fetch dynamically imported/ });

  test('drops before a screen has come: it says so, with numbers to call, and trying again brings it', async ({ page }) => {
    await openDemo(page, TUESDAY_MORNING);
    await page.route('**/assets/supplies-*', (route) => route.abort());
    await page.goto('./#/supplies');
    await expect(page.getByRole('alert')).toHaveText(say('common:fatal.why.part'));
    await expect(page.locator(NUMBERS).first()).toBeVisible();
    await page.unroute('**/assets/supplies-*');
    await page.getByRole('button', { name: say('common:fatal.again') }).click();
    await expect(title(page)).toHaveText(say('supplies:title'));
  });
});

test.describe('the app cannot be put on the phone', () => {
  test.use({
    expected: /Failed to load resource|bad-precaching-response|error occurred when fetching the script|received when fetching the script/,
  });
  const site = ownSite();

  const offline = (page: Page) => page.locator('[data-offline]');
  /** The worker is asked for a while after the first screen, so that it does not compete with it. */
  const untilTried = (page: Page) => page.waitForTimeout(3_000);
  const openDemoAt = async (page: Page) => {
    await page.goto(`${site.address}#/demo`);
    await expect(page).toHaveURL(/#\/confirm$/);
    await main(page).click();
    await expect(page.locator('.dues')).toBeVisible();
  };

  test('because a file is missing: it works with a network, says under Settings that it needs one, and is put there once the file is back', async ({
    page,
    context,
  }) => {
    const worker = readFileSync(join(site.folder, 'sw.js'), 'utf8');
    const [asset] = /assets\/supplies-[\w-]+\.js/.exec(worker) ?? [];
    if (!asset) throw new Error('no such file in the worker');
    renameSync(join(site.folder, asset), join(site.folder, 'gone'));
    await page.goto(site.address);
    await untilTried(page);
    await page.goto(`${site.address}#/about`);
    await expect(offline(page)).toHaveText(say('settings:offline.notYet'));
    await openDemoAt(page);
    renameSync(join(site.folder, 'gone'), join(site.folder, asset));
    await page.reload();
    await expect
      .poll(async () => {
        await page.goto(`${site.address}#/today`);
        await page.goto(`${site.address}#/about`);
        await expect(offline(page)).toBeVisible();
        return offline(page).textContent();
      })
      .toBe(say('settings:offline.ready'));
    await context.setOffline(true);
    await page.reload();
    await expect(title(page)).toHaveText(say('settings:about'));
  });

  test('because its worker does not come: it works with a network, and says under Settings that it needs one', async ({ page }) => {
    writeFileSync(join(site.folder, 'sw.js'), 'throw new Error("not today")');
    await page.goto(site.address);
    await untilTried(page);
    await page.goto(`${site.address}#/about`);
    await expect(offline(page)).toHaveText(say('settings:offline.notYet'));
    rmSync(join(site.folder, 'sw.js'));
    await page.reload();
    await untilTried(page);
    await expect(offline(page)).toHaveText(say('settings:offline.notYet'));
    await openDemoAt(page);
  });
});
