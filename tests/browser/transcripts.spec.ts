import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import type { Plan } from '../../app/care/plan/plan.ts';
import { planToCode } from '../../app/exchange/plan-file.ts';
import { doChange, doCheck, expect, main, openDemo, TUESDAY_MORNING, test, title, visit } from './app.ts';
import { heard } from './heard.ts';
import { walkChange, walkCheck } from './walk-care.ts';
import { PASSCODE } from './walk-keep.ts';
import { type See, seeToday } from './walk-see.ts';

/** So long after a page was painted everything has its place, the focus too. */
const SETTLE_MS = 250;

/**
 * What the main journeys sound like, screen by screen, in tests/browser/transcripts.
 * `npm run transcripts` writes them anew; what changed is then to be read, as
 * one who does not see the screen would hear it.
 */
type Journey = (page: Page, see: See) => Promise<void>;

const planIn = (language: string): string => {
  const name = language === 'en' ? 'plan' : `plan.${language}`;
  const { plan } = JSON.parse(readFileSync(new URL(`../../assets/demo/${name}.json`, import.meta.url), 'utf8')) as { plan: Plan };
  // As a clinic would send it, not as a sample.
  return planToCode({ ...plan, sample: undefined });
};

const firstPlan =
  (language: string): Journey =>
  async (page, see) => {
    await page.clock.setFixedTime(TUESDAY_MORNING);
    await page.goto('./');
    await expect(title(page)).toBeVisible();
    await see('the first start');
    await visit(page, 'open');
    await see('bringing a plan in');
    await page.locator('textarea').fill('Dear Nela');
    await main(page).last().click();
    await expect(page.locator('.place[data-place="confirm"] .facts')).toBeVisible();
    await see('no plan in what was pasted');
    await visit(page, 'open');
    await page.locator('textarea').fill(planIn(language));
    await main(page).last().click();
    await expect(page.locator('.answers')).toBeVisible();
    await see('the plan, before it takes effect');
    await main(page).click();
    await expect(page.locator('.dues')).toBeVisible();
    await seeToday(page, see, 'the first day');
  };

const emergency: Journey = async (page, see) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page, { unwell: 'faint' });
  await expect(page).toHaveURL(/alert/);
  await see('the alert');
  await page.locator('.main .stack button').first().click();
  await expect(page.locator('textarea')).toBeVisible();
  await see('what happened');
  await main(page).click();
  await expect(page).toHaveURL(/#\/today$/);
  await seeToday(page, see, 'the day after the answer');
};

const visitPage: Journey = async (page, see) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page, { pain: 'more' });
  await doChange(page);
  await visit(page, 'visit');
  await expect(page.locator('.visit-sheet')).toBeVisible();
  await see('the page for the visit');
  await main(page).click();
  await expect(page.locator('.hold')).toBeVisible();
  await see('handed over');
};

const locked: Journey = async (page, see) => {
  await openDemo(page, TUESDAY_MORNING);
  await visit(page, 'lock');
  await main(page).click();
  for (const field of await page.locator('input[type=password]').all()) await field.fill(PASSCODE);
  await main(page).click();
  await expect(page.locator('.main > .button-second')).toBeVisible();
  await doCheck(page, { pain: 'more' });
  await page.reload();
  await expect(page.locator('.lock')).toBeVisible();
  await see('locked, with a call open');
  await page.locator('input[type=password]').pressSequentially('eight ducks');
  await main(page).click();
  await expect(page.getByRole('alert')).toBeVisible();
  await expect(page.locator('input[type=password]')).toBeFocused();
  await see('a wrong passcode');
  await page.locator('.main > .button-quiet').click();
  await see('the passcode forgotten');
};

const check: Journey = async (page, see) => {
  await openDemo(page, TUESDAY_MORNING);
  await walkCheck(page, see);
};
const change: Journey = async (page, see) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  await walkChange(page, see);
};

const JOURNEYS: readonly [name: string, language: string, locale: string, journey: Journey][] = [
  ...(
    [
      ['en', 'en-US'],
      ['ar', 'ar-EG'],
    ] as const
  ).flatMap(([language, locale]): [string, string, string, Journey][] => [
    ['first-plan', language, locale, firstPlan(language)],
    ['check', language, locale, check],
    ['change', language, locale, change],
  ]),
  ['emergency', 'en', 'en-US', emergency],
  ['visit', 'en', 'en-US', visitPage],
  ['locked', 'en', 'en-US', locked],
];

for (const [name, language, locale, journey] of JOURNEYS) {
  test.describe(`${name} in ${language}`, () => {
    test.use({ locale });
    test('sounds as it was last read', async ({ page }) => {
      test.setTimeout(120_000);
      const screens: string[] = [];
      await journey(page, async (screen) => {
        // A page that has just turned puts the focus on its title once it is painted.
        await page.evaluate((ms) => new Promise((done) => requestAnimationFrame(() => setTimeout(done, ms))), SETTLE_MS);
        screens.push([`=== ${screen}`, ...(await heard(page)).lines].join('\n'));
      });
      expect(`${screens.join('\n\n')}\n`).toMatchSnapshot(`${name}.${language}.txt`);
    });
  });
}
