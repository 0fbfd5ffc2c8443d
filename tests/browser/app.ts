import { appendFileSync } from 'node:fs';
import { type Browser, type BrowserContext, test as base, expect, type Page } from '@playwright/test';

export { expect };

/** A Tuesday, ten in the morning in the demo clinic's zone: the clinic is open. */
export const TUESDAY_MORNING = '2031-03-04T16:00:00Z';
/** The same Tuesday, eleven at night: closed. */
export const TUESDAY_NIGHT = '2031-03-05T05:00:00Z';

/** Calls `watch` with every context that a test makes for itself, until the function given back is called. */
function whereverMade(browser: Browser, watch: (context: BrowserContext) => void): () => void {
  const { newContext } = browser;
  browser.newContext = async (...given) => {
    const made = await newContext.apply(browser, given);
    watch(made);
    return made;
  };
  return () => {
    browser.newContext = newContext;
  };
}

/**
 * Every page is watched: nothing may fail in the console, nothing may be asked
 * of another origin, by whatever phone or desk a test opens. A test that breaks
 * something on purpose says which words of the console it expects. Where
 * `REQUESTS_LOG` names a file, the number of requests is written there, and how
 * many of them went to another origin.
 */
export const test = base.extend<{ watched: undefined; expected: RegExp }>({
  expected: [/net::ERR_INTERNET_DISCONNECTED/, { option: true }],
  watched: [
    async ({ browser, context, baseURL, expected }, use, info) => {
      const wrong: string[] = [];
      const elsewhere: string[] = [];
      let asked = 0;
      const origin = new URL(baseURL ?? 'http://localhost').hostname;
      const countRequests = (own: BrowserContext): void => {
        own.on('request', (request) => {
          const url = new URL(request.url());
          asked++;
          if (url.protocol.startsWith('http') && url.hostname !== origin) elsewhere.push(`asked another origin: ${request.url()}`);
        });
      };
      countRequests(context);
      const restore = whereverMade(browser, countRequests);
      context.on('weberror', (error) => wrong.push(error.error().message));
      context.on('console', (message) => {
        if (message.type() === 'error' && !expected.test(`${message.text()} ${message.location().url}`)) wrong.push(message.text());
      });
      await use(undefined);
      restore();
      const log = process.env.REQUESTS_LOG;
      if (log && info.expectedStatus === 'passed') appendFileSync(log, `${asked} ${elsewhere.length}\n`);
      expect([...wrong, ...elsewhere]).toEqual([]);
    },
    { auto: true },
  ],
});

/** The main action at the bottom of the page. */
export const main = (page: Page) => page.locator('footer .button-main');
export const title = (page: Page) => page.locator('.page h1');

/** Presses the main action and waits for the next page of the book. */
export async function turn(page: Page): Promise<void> {
  const before = `${await page.url()} ${await title(page).textContent()} ${await page.locator('.over').allTextContents()}`;
  await main(page).click();
  await expect
    .poll(async () => `${page.url()} ${await title(page).textContent()} ${await page.locator('.over').allTextContents()}`)
    .not.toBe(before);
}

/** Opens the demo plan as a new person would. @param at the clock; the real one when left out. */
export async function openDemo(page: Page, at?: string): Promise<void> {
  if (at) await page.clock.setFixedTime(at);
  await page.goto('./#/demo');
  await expect(page).toHaveURL(/#\/confirm$/);
  await main(page).click();
  await expect(page).toHaveURL(/#\/today$/);
  await expect(page.locator('.dues')).toBeVisible();
}

/** Chooses an answer by its code, in whatever language. */
export const choose = (page: Page, code: string) => page.locator(`input[value="${code}"]`).first().check();

/** The demo plan's daily check, mildest answers but for those named. */
export const CHECK: readonly [question: string, code: string][] = [
  ['unwell', 'none'],
  ['temperature', '36.8'],
  ['footColour', 'usual'],
  ['pain', 'usual'],
  ['warmth', 'same'],
  ['swelling', 'usual'],
  ['dressing', 'dryInPlace'],
  ['bleeding', 'none'],
  ['offloading', 'always'],
];

export const LOOK: readonly [question: string, code: string][] = [
  ['drainageAmount', 'light'],
  ['drainageColour', 'clear'],
  ['odour', 'none'],
  ['redness', 'none'],
  ['woundBed', 'red'],
  ['edge', 'usual'],
];

/** Answers one question; a temperature is in °C and taken in the mouth. */
export async function answer(page: Page, question: string, code: string): Promise<void> {
  if (question !== 'temperature') return choose(page, code);
  await choose(page, 'Cel');
  await page.locator('.number input').first().fill(code);
  await choose(page, 'mouth');
}

/** Goes to a place and waits until it is the one on screen; the page before stays until then. */
export async function visit(page: Page, place: string): Promise<void> {
  await page.goto(`./#/${place}`);
  await expect(page.locator(`.place[data-place="${place.split('/')[0]}"]`)).toBeVisible();
}

/** Answers the daily check from its first page. Stops where the app stops it, unless the person wants to answer the rest first. */
export async function doCheck(page: Page, differs: Record<string, string> = {}, more: { answerRest?: boolean } = {}): Promise<void> {
  await visit(page, 'check');
  for (const [question, code] of CHECK) {
    await answer(page, question, differs[question] ?? code);
    await turn(page);
    if (!page.url().endsWith('#/check')) return;
    if ((await page.locator('.alert').count()) === 0) continue;
    if (!more.answerRest) return;
    await page.locator('footer .button-quiet').click();
    await expect(page.locator('.alert')).toHaveCount(0);
  }
  await main(page).click();
  await expect(page).not.toHaveURL(/#\/check$/);
}

/** From the start of a change to the first question of the look. */
export async function toTheLook(page: Page): Promise<void> {
  await visit(page, 'change');
  for (let step = 0; step < 7; step += 1) await turn(page);
}

/** A whole change, mildest answers but for those named. Stops where the app stops it. */
export async function doChange(page: Page, differs: Record<string, string> = {}): Promise<void> {
  await toTheLook(page);
  for (const [question, code] of LOOK) {
    await answer(page, question, differs[question] ?? code);
    await turn(page);
    if ((await page.locator('.alert').count()) > 0) return;
  }
  while (page.url().includes('#/change/')) await turn(page);
  await expect(page).toHaveURL(/#\/changed\//);
}
