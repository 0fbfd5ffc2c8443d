import type { Page } from '@playwright/test';
import { answer, CHECK, choose, doCheck, expect, LOOK, main, TUESDAY_MORNING, title, toTheLook, turn, visit } from './app.ts';
import { foot, LATER_MS, look, lookAt, type See, seeToday } from './walk-see.ts';

/** From the first start to the first day. Begins without a book. */
export async function walkStart(page: Page, see: See): Promise<void> {
  await page.clock.setFixedTime(TUESDAY_MORNING);
  await page.goto('./');
  await expect(title(page)).toBeVisible();
  await see('welcome');
  await look(page, see, 'help', 'help without a plan');
  await look(page, see, 'open');
  await page.locator('textarea').fill('Dear Nela');
  await main(page).last().click();
  await expect(page.locator('.place[data-place="confirm"]')).toBeVisible();
  await see('no plan in it');
  await look(page, see, 'scan');
  await page.goto('./#/demo');
  await expect(page).toHaveURL(/#\/confirm$/);
  await expect(page.locator('.answers')).toBeVisible();
  await see('confirm');
  await main(page).click();
  await expect(page.locator('.dues')).toBeVisible();
  await page.waitForTimeout(LATER_MS);
  await see('today');
}

/** Places that look different while nothing has been entered, and those that never change. */
export async function walkEmpty(page: Page, see: See): Promise<void> {
  await lookAt(page, see, ['log', 'plan', 'help', 'set-aside', 'about', 'reminders', 'course', 'photos', 'visit', 'judge', 'take-in']);
  await look(page, see, 'change', 'change before the check');
  await look(page, see, 'weigh', 'weigh, start');
}

export async function walkSettings(page: Page, see: See): Promise<void> {
  await look(page, see, 'settings');
  const own = await page.locator('a[href^="#/settings/"]').evaluateAll((links) => links.map((a) => a.getAttribute('href')?.slice(2) ?? ''));
  expect(own.length).toBeGreaterThan(5);
  await lookAt(page, see, [...own, 'people']);
  await look(page, see, 'calendar');
}

export async function walkSupplies(page: Page, see: See): Promise<void> {
  await look(page, see, 'supplies');
  await page.locator('.step-button').nth(1).click();
  await expect(page.locator('footer button.button-main')).toBeVisible();
  await see('supplies, counted');
  await main(page).click();
  await expect(page.locator('footer [role=status]')).toBeVisible();
  await look(page, see, 'supply/collagen');
  await foot(page, 0).click();
  await main(page).click();
  await expect(page.getByRole('alert')).toBeVisible();
  await see('delivery, no number');
  await lookAt(page, see, ['order', 'own-item']);
}

export async function walkCheck(page: Page, see: See): Promise<void> {
  await visit(page, 'check');
  for (const [question, code] of CHECK) {
    await see(`check, ${question}`);
    if (question === 'unwell' || question === 'temperature') {
      // A tap right after the page has turned is taken for a slip.
      await page.waitForTimeout(450);
      await main(page).click();
      await expect(page.getByRole('alert')).toBeVisible();
      await see(`check, ${question}, not answered`);
    }
    if (question === 'temperature') {
      await page.locator('.main > .button-quiet').click();
      await expect(page.locator('.number')).toHaveCount(0);
      await see('check, no thermometer');
      await page.locator('.main > .button-quiet').click();
    }
    await answer(page, question, code);
    await turn(page);
  }
  await see('check, note');
  await turn(page);
  await expect(page).toHaveURL(/checked/);
  await see('checked');
}

/** A change from its first page to the supplies it used. Begins after a check. */
export async function walkChange(page: Page, see: See): Promise<void> {
  await page.clock.setFixedTime('2031-03-04T16:10:00Z');
  await look(page, see, 'change', 'change, start');
  await turn(page);
  for (const step of ['wash hands', 'lay out', 'gloves', 'remove', 'rinse']) {
    await see(`step, ${step}`);
    if (step === 'gloves') {
      await page.locator('.main .button-quiet').last().click();
      await expect(page.locator('.over')).toHaveCount(0);
      await see('change, stop?');
      // Going on at once; the main button leaves the step to come back to.
      await page.locator('footer .button-quiet').click();
      await page.locator('.main .button-quiet').first().click();
      await expect(page.locator('textarea')).toBeVisible();
      await see('step, done differently');
    }
    await turn(page);
  }
  await see('step, look');
  await turn(page);
  for (const [question, code] of LOOK) {
    await see(`look, ${question}`);
    await choose(page, code);
    await turn(page);
  }
  for (let step = 1; page.url().includes('#/change/'); step += 1) {
    await see(`dress ${step}`);
    await turn(page);
  }
  await see('changed');
  await page.locator('a[href^="#/used/"]').click();
  await expect(page.locator('.place[data-place="used"]')).toBeVisible();
  await see('supplies used');
  await seeToday(page, see, 'today, all done');
}

/** From a call today to an emergency. Begins in the morning, with nothing open. */
export async function walkAlerts(page: Page, see: See): Promise<void> {
  await page.clock.setFixedTime('2031-03-06T16:00:00Z');
  await doCheck(page, { pain: 'more' });
  await see('alert, call today');
  await seeToday(page, see, 'today with a call today');
  await doCheck(page, { temperature: '38.4' });
  await see('check, stop and call');
  await main(page).click();
  await expect(page).toHaveURL(/alert/);
  await see('alert, call now');
  await page.locator('.main .stack button').nth(1).click();
  await expect(page.locator('textarea')).toBeVisible();
  await see('what happened');
  await seeToday(page, see, 'today with a call now');
  await toTheLook(page);
  await choose(page, 'moderate');
  await turn(page);
  await choose(page, 'green');
  await turn(page);
  await see('look, stop and cover');
  await doCheck(page, { unwell: 'shakingChills' });
  await expect(page).toHaveURL(/alert/);
  await see('alert, emergency');
  await page.locator('.main .stack button').first().click();
  await main(page).click();
  await expect(page).toHaveURL(/#\/today$/);
  await seeToday(page, see, 'today after a call');
}
