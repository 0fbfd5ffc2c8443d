import type { Page } from '@playwright/test';
import { choose, doCheck, expect, main, openDemo, TUESDAY_MORNING, test, title, visit } from './app.ts';
import { say } from './say.ts';

const CODE = 'seven swans';

/** Everything that the site's databases hold, as text; bytes as letters. */
const allStored = (page: Page): Promise<string> =>
  page.evaluate(async () => {
    const texts: string[] = [];
    const text = async (value: unknown): Promise<string> => {
      if (value instanceof Blob) return value.text();
      if (value instanceof ArrayBuffer || value instanceof Uint8Array) return new TextDecoder('latin1').decode(value as ArrayBuffer);
      if (typeof value === 'object' && value !== null)
        return (await Promise.all(Object.entries(value).map(async ([k, v]) => `${k} ${await text(v)}`))).join(' ');
      return String(value);
    };
    for (const { name } of await indexedDB.databases()) {
      const open = indexedDB.open(name ?? '');
      await new Promise((done) => {
        open.onsuccess = done;
      });
      for (const store of open.result.objectStoreNames) {
        const own = open.result.transaction(store).objectStore(store);
        const [keys, values] = await Promise.all(
          [own.getAllKeys(), own.getAll()].map(
            (r) =>
              new Promise<unknown[]>((done) => {
                r.onsuccess = () => done(r.result);
              }),
          ),
        );
        for (const [i, value] of (values ?? []).entries()) texts.push(`${name} ${String(keys?.[i])}: ${await text(value)}`);
      }
      open.result.close();
    }
    return texts.join('\n');
  });

async function setCode(page: Page): Promise<void> {
  await visit(page, 'lock');
  await main(page).click();
  await page.getByLabel(say('lock:newCode'), { exact: true }).fill(CODE);
  await page.getByLabel(say('lock:newAgain')).fill(CODE);
  await main(page).click();
  await expect(page.getByRole('status')).toHaveText(say('lock:done.set'));
}

async function giveCode(page: Page, code: string): Promise<void> {
  await page.getByLabel(say('lock:passcode'), { exact: true }).fill(code);
  await main(page).click();
}

test('with a passcode nothing entered is stored in the clear, help stays in reach, and all is there again once it is given', async ({
  page,
}) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page, { pain: 'more' });
  expect(await allStored(page)).toContain('Nela');
  await setCode(page);
  const stored = await allStored(page);
  for (const secret of ['Nela', 'drainageAmount', 'callToday,', '"pain"', 'planAccepted']) expect(stored).not.toContain(secret);
  await page.goto('./#/log');
  await page.reload();
  await expect(title(page)).toHaveText(say('lock:title'));
  await expect(page.locator('body')).not.toContainText('Nela');
  // An alert is open: the locked screen says so, and whom to call.
  await expect(page.locator('.lock-alert')).toBeVisible();
  await expect(page.locator('a[href="tel:911"]')).toBeVisible();
  await expect(page.getByText(say('alert:call.clinic'))).toBeVisible();
  await giveCode(page, 'eight ducks');
  await expect(page.getByRole('alert')).toHaveText(say('lock:wrong'));
  await giveCode(page, CODE);
  // Back where the person was.
  await expect(page).toHaveURL(/#\/log$/);
  await expect(page.locator('.row')).not.toHaveCount(0);
});

test('a check half way is there again after the app locked itself', async ({ page }) => {
  await page.clock.install({ time: new Date(TUESDAY_MORNING) });
  await page.goto('./#/demo');
  await expect(page).toHaveURL(/#\/confirm$/);
  await main(page).click();
  await expect(page).toHaveURL(/#\/today$/);
  await setCode(page);
  await page.reload();
  await giveCode(page, CODE);
  await expect(title(page)).toHaveText(say('lock:pageTitle'));
  // The lock is watched from a little after the start, by a part that is loaded then.
  await page.clock.runFor(3_000);
  await page.waitForTimeout(500);
  await visit(page, 'check');
  await choose(page, 'none');
  await main(page).click();
  await expect(page.locator('.over')).toContainText('2');
  await page.clock.runFor(4 * 60_000);
  await expect(page.locator('.over')).toContainText('2');
  // Five minutes have passed a little later; the page is then loaded anew, which takes its own time.
  await expect
    .poll(async () => {
      await page.clock.runFor(20_000).catch(() => undefined);
      return title(page).textContent();
    })
    .toBe(say('lock:title'));
  await giveCode(page, CODE);
  await expect(page).toHaveURL(/#\/check$/);
  await expect(page.locator('.over')).toContainText('2');
});

test('another tab locks when a passcode is set, and opens again when it is taken away', async ({ page, context }) => {
  await openDemo(page, TUESDAY_MORNING);
  const other = await context.newPage();
  await other.clock.setFixedTime(TUESDAY_MORNING);
  await other.goto('./#/today');
  await expect(title(other)).toBeVisible();
  await setCode(page);
  await expect(title(other)).toHaveText(say('lock:title'));
  await page.getByRole('button', { name: say('lock:remove') }).click();
  await page.getByLabel(say('lock:oldCode')).fill(CODE);
  await main(page).click();
  await expect(page.getByRole('status')).toHaveText(say('lock:done.remove'));
  expect(await allStored(page)).toContain('Nela');
  await other.reload();
  await expect(title(other)).toHaveText(say('today:title', { name: 'Nela' }));
});

test('erasing everything leaves nothing in any store or cache', async ({ page }) => {
  await page.goto('./');
  await page.evaluate(() => navigator.serviceWorker.ready);
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  await setCode(page);
  await page.reload();
  await page.getByRole('button', { name: say('lock:forgotten') }).click();
  await page.getByRole('button', { name: say('lock:eraseStart') }).click();
  await expect(page.getByRole('button', { name: say('lock:eraseSure') })).toBeDisabled();
  await choose(page, 'meant');
  // Looked at before the app, started anew, begins a book again.
  await page.route('**/assets/*.js', (route) => route.fulfill({ contentType: 'text/javascript', body: '' }));
  await page.getByRole('button', { name: say('lock:eraseSure') }).click();
  await expect(page.locator('main.first')).toBeVisible();
  const left = await page.evaluate(async () => ({
    caches: await caches.keys(),
    workers: (await navigator.serviceWorker.getRegistrations()).length,
    local: localStorage.length + sessionStorage.length,
  }));
  expect(left).toEqual({ caches: [], workers: 0, local: 0 });
  expect((await allStored(page)).trim()).toBe('');
});

for (const pain of ['usual', 'more'] as const)
  test(`locked on the smallest phone, the emergency number needs no scrolling (pain: ${pain})`, async ({ page }) => {
    await page.setViewportSize({ width: 320, height: 568 });
    await openDemo(page, TUESDAY_MORNING);
    await doCheck(page, { pain });
    await setCode(page);
    await page.reload();
    await expect(title(page)).toHaveText(say('lock:title'));
    const call = await page.getByRole('link', { name: say('alert:call.emergency') }).boundingBox();
    const foot = await page.locator('.foot').boundingBox();
    expect((call?.y ?? 0) + (call?.height ?? 0)).toBeLessThanOrEqual(foot?.y ?? 0);
  });
