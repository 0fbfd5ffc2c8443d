import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import ICAL from 'ical.js';
import { choose, doChange, doCheck, expect, main, openDemo, TUESDAY_MORNING, test, title, visit } from './app.ts';
import { say } from './say.ts';

const COLLAGEN = 'Collagen sheet 5 × 5 cm';
const row = (page: Page, name: string) => page.locator('.stock-row', { hasText: name });

/** Eleven in the morning of a day in March 2031, where the demo clinic is. */
const morning = (day: number): string => `2031-03-${String(day).padStart(2, '0')}T17:00:00Z`;

async function count(page: Page, name: string, pieces: number): Promise<void> {
  await visit(page, 'supplies');
  for (let i = 0; i < pieces; i += 1)
    await row(page, name)
      .getByRole('button', { name: say('supplies:more', { name }) })
      .click();
  await main(page).click();
  await expect(page.locator('footer [role=status]')).toHaveText(say('supplies:saved'));
  // With the clock held, what comes next would carry the same time.
  await page.clock.setFixedTime('2031-03-04T16:05:00Z');
}

test('a week of changes runs an item down to the warning; the order list is right; a delivery clears it', async ({ page }) => {
  test.setTimeout(120_000);
  await openDemo(page, TUESDAY_MORNING);
  await visit(page, 'order');
  await choose(page, '3');
  await count(page, COLLAGEN, 6);
  await visit(page, 'today');
  await expect(page.locator('.dues')).toBeVisible();
  await expect(page.locator('.supplies-notice')).toHaveCount(0);

  for (const day of [4, 6, 8, 10]) {
    await page.clock.setFixedTime(morning(day));
    await doCheck(page);
    await doChange(page);
  }
  // Six, less one at each of four changes.
  await visit(page, 'supplies');
  await expect(row(page, COLLAGEN).locator('output')).toHaveText('2');

  await page.clock.setFixedTime(morning(11));
  await visit(page, 'today');
  await expect(page.locator('.supplies-notice')).toContainText(COLLAGEN);
  await page.getByRole('button', { name: say('today:supplySeen') }).click();
  await expect(page.locator('.supplies-notice')).toHaveCount(0);

  // Once a day: tomorrow it says so again.
  await page.clock.setFixedTime(morning(12));
  await visit(page, 'log');
  await visit(page, 'today');
  await page
    .locator('.supplies-notice')
    .getByRole('link', { name: say('today:supplyOrder') })
    .click();
  await expect(page.locator('.order-lines')).toContainText(say('supplies:orderPacks_one', { count: 1, packOf: 5, name: COLLAGEN }));
  await expect(page.getByText(say('supplies:neverStretch'))).toBeVisible();

  await visit(page, 'supplies');
  await page.getByRole('link', { name: COLLAGEN }).click();
  await page.getByRole('button', { name: say('supplies:delivery') }).click();
  await page.getByLabel(say('supplies:packs')).fill('2');
  await page.getByLabel(say('supplies:expires')).fill('2032-01-31');
  await main(page).click();
  await expect(page.getByText(say('supplies:left_other', { count: 12 }))).toBeVisible();
  await visit(page, 'today');
  await expect(page.locator('.dues')).toBeVisible();
  await page.waitForTimeout(300);
  await expect(page.locator('.supplies-notice')).toHaveCount(0);
});

test('what a change used can be set right, and what was written stays', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await count(page, COLLAGEN, 4);
  await doCheck(page);
  await doChange(page);
  await page.getByRole('link', { name: say('change:usedLink') }).click();
  await row(page, COLLAGEN)
    .getByRole('button', { name: say('supplies:more', { name: COLLAGEN }) })
    .click();
  await main(page).click();
  await expect(page).toHaveURL(/#\/today$/);
  await visit(page, 'supplies');
  await expect(row(page, COLLAGEN).locator('output')).toHaveText('2');
  await page.getByRole('link', { name: COLLAGEN }).click();
  await page.getByRole('link', { name: say('supplies:moved.used', { amount: 2 }) }).click();
  await expect(page.getByText(say('log:before_one', { count: 1 }))).toBeVisible();
});

test('an item of one’s own can be added and counted', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await visit(page, 'own-item');
  await page.getByLabel(say('supplies:itemName')).fill('Paper tape');
  await main(page).click();
  await expect(row(page, 'Paper tape')).toBeVisible();
  await count(page, 'Paper tape', 2);
  await page.reload();
  await expect(row(page, 'Paper tape').locator('output')).toHaveText('2');
});

test('counts that are not saved outlast a look at the item and another page', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await visit(page, 'supplies');
  await expect(row(page, COLLAGEN).locator('output')).toHaveText('?');
  const more = row(page, COLLAGEN).getByRole('button', { name: say('supplies:more', { name: COLLAGEN }) });
  await more.click();
  await more.click();
  await page.getByRole('link', { name: COLLAGEN }).click();
  await expect(page.getByText(say('supplies:notSavedYet', { amount: 2 }))).toBeVisible();
  await visit(page, 'today');
  await expect(page.locator('.dues')).toBeVisible();
  await visit(page, 'supplies');
  await expect(row(page, COLLAGEN).locator('output')).toHaveText('2');
  await expect(main(page)).toHaveText(say('supplies:saveCounts_one'));
});

test('in large text a name stands above its count, and no word of it is broken', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  const places = async () => {
    const [name, count] = await Promise.all(['.stock-name', '.stock-count'].map((part) => row(page, COLLAGEN).locator(part).boundingBox()));
    return { nameBottom: (name?.y ?? 0) + (name?.height ?? 0), countTop: count?.y ?? 0 };
  };
  await visit(page, 'supplies');
  const beside = await places();
  expect(beside.countTop).toBeLessThan(beside.nameBottom);
  await visit(page, 'settings/textSize');
  await choose(page, 'largest');
  await visit(page, 'supplies');
  await expect(page.locator('html[data-size=largest] .stock-row').first()).toBeVisible();
  const above = await places();
  expect(above.countTop).toBeGreaterThanOrEqual(above.nameBottom);
  // A word that is broken has more than one box.
  const broken = await page.locator('.stock-name').evaluateAll((names) =>
    names.flatMap((name) => {
      const text = name.firstChild as Text;
      return [...text.data.matchAll(/\S+/g)].flatMap(({ 0: word, index }) => {
        const range = document.createRange();
        range.setStart(text, index);
        range.setEnd(text, index + word.length);
        return range.getClientRects().length > 1 ? [word] : [];
      });
    }),
  );
  expect(broken).toEqual([]);
});

test('the calendar shows what was done and what is due', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  await doChange(page);
  await page.clock.setFixedTime(morning(9));
  await visit(page, 'calendar');
  await expect(title(page)).toHaveText(say('calendar:title'));
  await expect(page.locator('.is-today')).toContainText('9');
  await expect(page.getByText(say('calendar:kind.missed')).first()).toBeVisible();
  await expect(page.getByText('visit at', { exact: false })).toBeVisible();
});

test('the calendar file opens in an independent reader with the right times and alarms', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  await doChange(page);
  await visit(page, 'reminders');
  await page.getByLabel(say('calendar:remindAt')).fill('08:30');
  const [download] = await Promise.all([page.waitForEvent('download'), main(page).click()]);
  expect(download.suggestedFilename()).toBe('tendbook.ics');
  const text = readFileSync(await download.path(), 'utf8');
  const calendar = new ICAL.Component(ICAL.parse(text));
  const events = calendar.getAllSubcomponents('vevent');
  const changes = events.filter((e) => String(e.getFirstPropertyValue('summary')) === say('calendar:notice'));
  expect(changes.length).toBeGreaterThan(10);
  for (const event of changes) {
    const start = event.getFirstPropertyValue('dtstart') as ICAL.Time;
    expect([start.hour, start.minute, start.zone === ICAL.Timezone.localTimezone]).toEqual([8, 30, true]);
    expect(event.getAllSubcomponents('valarm')).toHaveLength(1);
  }
  const appointment = events.find((e) => String(e.getFirstPropertyValue('summary')) === say('calendar:visitNotice'));
  expect(appointment?.getFirstProperty('dtstart')?.getParameter('tzid')).toBe('America/Chicago');
  expect(calendar.getFirstSubcomponent('vtimezone')).not.toBeNull();
  // No word about health where a lock screen shows it.
  expect(text).not.toMatch(/wound|dressing|diabet/i);
});

test('reminders are asked for only when they are turned on', async ({ page, context }) => {
  await context.grantPermissions(['notifications']);
  await openDemo(page, TUESDAY_MORNING);
  await visit(page, 'reminders');
  await expect(page.getByText(say('calendar:cannotClosed'))).toBeVisible();
  await choose(page, 'notices');
  await expect(page.locator('input[value="notices"]')).toBeChecked();
  // The choice is kept over a restart, once it is stored.
  await page.waitForTimeout(500);
  await page.reload();
  await expect(page.locator('input[value="notices"]')).toBeChecked();
});
