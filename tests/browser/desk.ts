import type { Page } from '@playwright/test';
import { expect } from './app.ts';
import { say } from './say.ts';

/** A laptop in the consulting room. */
export const LAPTOP = { width: 1280, height: 800 };

/** Everything a clinician does, counted: a press, a field filled, a choice made. */
export class Clinician {
  steps = 0;
  constructor(readonly page: Page) {}

  async open(): Promise<void> {
    await this.page.goto('./clinic');
    await expect(this.page.getByRole('heading', { name: say('clinic:start.title') })).toBeVisible();
  }
  async press(name: string): Promise<void> {
    this.steps += 1;
    await this.page.getByRole('button', { name }).click();
  }
  async tab(name: string | RegExp): Promise<void> {
    this.steps += 1;
    await this.page.getByRole('tab', { name }).click();
  }
  /** Ticks or chooses one of the things in sight, in the group with this legend. */
  async mark(legend: string, name: string): Promise<void> {
    this.steps += 1;
    await this.page.getByRole('group', { name: legend, exact: true }).getByLabel(name, { exact: true }).check();
  }
  async fill(label: string, value: string): Promise<void> {
    this.steps += 1;
    await this.page.getByLabel(label, { exact: true }).and(this.page.locator('input:visible')).first().fill(value);
  }
  async pick(label: string, value: string): Promise<void> {
    this.steps += 1;
    await this.page.getByLabel(label, { exact: true }).and(this.page.locator('select:visible')).first().selectOption(value);
  }
}

/** The start with the demo's plan, on the desk. */
export async function openDemoOnDesk(page: Page): Promise<Clinician> {
  const clinician = new Clinician(page);
  await clinician.open();
  await page.getByRole('button', { name: say('clinic:start.demo') }).click();
  await expect(page.locator('#seen')).toBeVisible();
  return clinician;
}

export const PASSPHRASE = 'four geese by the river';

/** Opens the hand-over and makes the clinic's key where there is none; done when the code stands. */
export async function toHandOver(page: Page): Promise<void> {
  await page.getByRole('tab', { name: say('clinic:side.hand') }).click();
  const passphrase = page.getByLabel(say('clinic:keys.passphrase'));
  const code = page.locator('.hand-over > .code-figure .code');
  await expect(passphrase.or(code)).toBeVisible();
  if (await passphrase.isVisible()) {
    await passphrase.fill(PASSPHRASE);
    await page.getByRole('button', { name: say('clinic:keys.make') }).click();
  }
  await expect(code).toBeVisible();
}

/** The plan as the desk's link, from the clipboard of the page. */
export async function copyLink(page: Page): Promise<string> {
  await page.context().grantPermissions(['clipboard-read', 'clipboard-write']);
  await page.getByRole('button', { name: say('clinic:hand.link') }).click();
  await expect(page.getByText(say('clinic:hand.copied'))).toBeVisible();
  return page.evaluate(() => navigator.clipboard.readText());
}

export const checkWordsOn = async (page: Page): Promise<string[]> =>
  ((await page.locator('.hand-over .check-words').textContent()) ?? '').split(' · ');
