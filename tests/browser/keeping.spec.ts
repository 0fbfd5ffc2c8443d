import type { Page } from '@playwright/test';
import { answer, choose, doChange, doCheck, expect, main, openDemo, TUESDAY_MORNING, test, title, toTheLook, turn, visit } from './app.ts';
import { say } from './say.ts';

/** What the device keeps under a key, as text. */
const stored = (page: Page, key: string): Promise<string> =>
  page.evaluate(
    (k) =>
      new Promise<string>((resolve) => {
        const open = indexedDB.open('tendbook-book');
        open.onsuccess = () => {
          const got = open.result.transaction('book').objectStore('book').get(k);
          got.onsuccess = () => {
            open.result.close();
            resolve(JSON.stringify(got.result) ?? '');
          };
        };
      }),
    key,
  );

test('closing the tab in the middle of a change loses nothing', async ({ page, context }) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  await toTheLook(page);
  await choose(page, 'moderate');
  await turn(page);
  await choose(page, 'pink');
  // The answer is on screen at once and on the device a few milliseconds later.
  await expect.poll(() => stored(page, 'draft:demo-nela:change')).toContain('"drainageColour":"pink"');
  await page.close();

  const again = await context.newPage();
  await again.clock.setFixedTime(TUESDAY_MORNING);
  await again.goto('./');
  await expect(main(again)).toHaveText(say('today:goOnChange'));
  await main(again).click();
  await expect(title(again)).toHaveText(say('check:drainageColour.ask'));
  await expect(again.locator('input[value="pink"]')).toBeChecked();
  await again.getByRole('button', { name: say('common:back') }).click();
  await expect(again.locator('input[value="moderate"]')).toBeChecked();
});

test('closing the tab in the middle of a check loses nothing', async ({ page, context }) => {
  await openDemo(page, TUESDAY_MORNING);
  await visit(page, 'check');
  await answer(page, 'unwell', 'none');
  await turn(page);
  await answer(page, 'temperature', '37.1');
  await turn(page);
  await expect.poll(() => stored(page, 'draft:demo-nela:check')).toContain('footColour@left');
  await page.close();
  const again = await context.newPage();
  await visit(again, 'check');
  await expect(title(again)).toHaveText(say('check:footColour.ask'));
  await again.getByRole('button', { name: say('common:back') }).click();
  await expect(again.locator('.number input').first()).toHaveValue('37.1');
});

test('two tabs on one book stay one book', async ({ page, context }) => {
  await openDemo(page, TUESDAY_MORNING);
  const other = await context.newPage();
  await other.clock.setFixedTime(TUESDAY_MORNING);
  await other.goto('./');
  await expect(main(other)).toHaveText(say('today:startCheck'));
  await page.bringToFront();
  await doCheck(page, { pain: 'more' });
  // The other tab hears of it without being touched.
  await expect(other.locator('.open-alert')).toBeVisible();
  await other.bringToFront();
  await doChange(other);
  await expect(page.locator('body')).toBeVisible();
  await visit(page, 'log');
  await expect(page.getByRole('link', { name: say('log:kind.change') })).toHaveCount(1);
  await expect(page.getByRole('link', { name: say('log:kind.check') })).toHaveCount(1);
});

test('a record is corrected beside the old one, and withdrawn without being erased', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  await visit(page, 'log');
  await page.getByRole('link', { name: say('log:kind.check') }).click();
  await page.getByRole('link', { name: say('log:correct') }).click();
  await page.getByRole('button', { name: /^Pain/ }).click();
  await choose(page, 'severe');
  await main(page).click();
  await page.getByRole('button', { name: say('log:saveCorrection') }).click();
  // The corrected answer is judged anew.
  await expect(title(page)).toHaveText(say('alert:title.callNow'));
  await visit(page, 'log');
  await page.getByRole('link', { name: say('log:kind.check') }).click();
  await expect(page.getByText(say('check:pain.said.severe')).first()).toBeVisible();
  await page.getByText('1 earlier version').click();
  await expect(page.locator('.version').getByText(say('check:footColour.said.usual')).first()).toBeVisible();

  await page.getByRole('button', { name: say('log:withdraw') }).click();
  await page.getByLabel('Why?', { exact: false }).fill('It was the other foot.');
  await page.getByRole('button', { name: say('log:withdrawSure') }).click();
  await expect(page.getByText('It was the other foot.')).toBeVisible();
  await visit(page, 'log');
  await expect(page.getByText('Withdrawn')).toBeVisible();
});

test('an unreadable record is kept aside and can be saved', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await page.evaluate(
    () =>
      new Promise<void>((resolve, reject) => {
        const request = indexedDB.open('tendbook-log');
        request.onsuccess = () => {
          const store = request.result.transaction('log', 'readwrite').objectStore('log');
          const key = 'demo-nela/2031-03';
          const got = store.get(key);
          got.onsuccess = () => {
            store.put([...(got.result as unknown[]), { id: 'odd', kind: 'fromTheFuture' }], key).onsuccess = () => resolve();
          };
        };
        request.onerror = () => reject(request.error);
      }),
  );
  await visit(page, 'log');
  await page.reload();
  await page.getByText('could not be read', { exact: false }).click();
  const [download] = await Promise.all([page.waitForEvent('download'), main(page).click()]);
  expect(download.suggestedFilename()).toBe('tendbook-set-aside.json');
});

test('several people on one phone are never mixed', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  await visit(page, 'open');
  const plan = await page.evaluate(async () => {
    const open = indexedDB.open('tendbook-book');
    return new Promise<string>((resolve) => {
      open.onsuccess = () => {
        const got = open.result.transaction('book').objectStore('book').get('book:demo-nela');
        got.onsuccess = () => {
          const { plan: own } = got.result as { plan: { id: string; person: { id: string; callMe: string } } };
          resolve(
            JSON.stringify({ tendbook: 'plan', plan: { ...own, id: 'other-1', person: { ...own.person, id: 'other', callMe: 'Ivo' } } }),
          );
        };
      };
    });
  });
  await page.getByLabel(say('welcome:pasteField')).fill(plan);
  await turn(page);
  await expect(page.getByText('This opens a new book for Ivo', { exact: false })).toBeVisible();
  await main(page).click();
  await expect(title(page)).toHaveText(say('today:title', { name: 'Ivo' }));
  // Each page says whose book it is now.
  await expect(page.locator('.whose')).toHaveText(say('common:whose', { name: 'Ivo' }));
  await visit(page, 'log');
  await expect(page.getByRole('link', { name: say('log:kind.check') })).toHaveCount(0);
  await visit(page, 'people');
  await page.getByRole('button', { name: /Nela/ }).click();
  await expect(title(page)).toHaveText(say('today:title', { name: 'Nela' }));
  await visit(page, 'log');
  await expect(page.getByRole('link', { name: say('log:kind.check') })).toHaveCount(1);
});
