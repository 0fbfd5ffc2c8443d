import type { Locator, Page } from '@playwright/test';
import { doCheck, expect, main, openDemo, TUESDAY_MORNING, test, title, visit } from './app.ts';
import { LAPTOP, openDemoOnDesk, PASSPHRASE } from './desk.ts';
import { longLog, putRecords } from './long-log.ts';
import { say } from './say.ts';

/** Presses with the keyboard, as whoever cannot see the pointer does. */
async function pressEnter(button: Locator): Promise<void> {
  await button.focus();
  await button.press('Enter');
}
const focusIsIn = (page: Page, selector: string) =>
  expect.poll(() => page.evaluate((s) => document.activeElement?.closest(s) != null, selector)).toBe(true);

test('minus keeps the focus at nothing left, and the list to order takes it once the counts are saved', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await visit(page, 'supplies');
  const [less, more] = [page.locator('.step-button').first(), page.locator('.step-button').nth(1)];
  await pressEnter(more);
  await pressEnter(less);
  await expect(less).toHaveAttribute('aria-disabled', 'true');
  await expect(less).toBeFocused();
  await less.press('Enter');
  await expect(page.locator('.stock-number').first()).toHaveText('0');
  await pressEnter(main(page));
  await expect(page.locator('footer a.button-main')).toBeFocused();
});

test('a longer log is gone on with from its first earlier day', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await putRecords(page, longLog(120));
  await page.reload();
  await visit(page, 'log');
  const earlier = page.locator('.main > .button-second');
  while ((await earlier.count()) > 0) {
    const days = await page.locator('.log-day').count();
    await pressEnter(earlier);
    await expect.poll(() => page.locator('.log-day').count()).toBeGreaterThan(days);
    await focusIsIn(page, (await earlier.count()) > 0 ? 'main .button-second' : '.log-day');
  }
});

test('an answer given in another way is gone on with where it is asked', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await visit(page, 'check');
  await page.locator('input[value=none]').first().check();
  await pressEnter(main(page));
  await expect(title(page)).toHaveText(say('check:temperature.ask'));
  await pressEnter(page.getByRole('button', { name: say('check:temperature.haveNone') }));
  await expect(page.getByRole('heading', { name: say('check:temperature.feelAsk') })).toBeFocused();
  await pressEnter(page.getByRole('button', { name: say('check:temperature.haveOne') }));
  await focusIsIn(page, '.number');
});

test('a step done differently is told at once, in the field that came', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  await visit(page, 'change');
  await pressEnter(main(page));
  await pressEnter(page.getByRole('button', { name: say('change:different') }));
  await expect(page.locator('textarea')).toBeFocused();
});

test.describe('on the desk', () => {
  test.use({ viewport: LAPTOP });
  test('a step that moves takes the focus with it, one that is dropped leaves it in the list', async ({ page }) => {
    await openDemoOnDesk(page);
    await page.locator('.band > summary').first().click();
    const steps = page.locator('.inner:has(.steps)').first();
    await steps.locator('summary').click();
    const rows = steps.locator('.steps > li');
    const down = rows.first().getByRole('button').nth(1);
    const name = (await down.getAttribute('aria-label')) ?? '';
    await pressEnter(down);
    await expect(rows.nth(1).getByRole('button', { name, exact: true })).toBeFocused();
    for (let i = 2; i < (await rows.count()); i += 1) await page.keyboard.press('Enter');
    await expect(rows.last().getByRole('button', { name, exact: true })).toBeFocused();
    await expect(rows.last().getByRole('button', { name, exact: true })).toHaveAttribute('aria-disabled', 'true');
    await pressEnter(rows.first().getByRole('button').last());
    await focusIsIn(page, '.steps');
  });

  test('after the clinic’s key is made the focus is with the code', async ({ page }) => {
    await openDemoOnDesk(page);
    await page.getByRole('tab', { name: say('clinic:side.hand') }).click();
    await page.locator('.keys input[type=password]').fill(PASSPHRASE);
    await page.locator('.keys input[type=password]').press('Enter');
    await expect(page.locator('.hand-over > .code-figure .code')).toBeVisible();
    await focusIsIn(page, '.hand-over');
  });
});
