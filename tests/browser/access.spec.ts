import { readdirSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { choose, doChange, doCheck, expect, main, openDemo, TUESDAY_MORNING, test, title, toTheLook, turn, visit } from './app.ts';
import { CONTRAST, violations } from './axe.ts';
import { say } from './say.ts';
import { walkAll } from './walk.ts';

// Colours do not hang on the language: English is looked at in light and dark, the others in one of them.
for (const [locale, colorScheme] of [
  ['en-US', 'light'],
  ['es-MX', 'dark'],
  ['ar-EG', 'light'],
] as const) {
  test.describe(`${locale} ${colorScheme}`, () => {
    test.use({ locale, colorScheme });
    test('axe finds nothing on any screen', async ({ page }) => {
      test.setTimeout(300_000);
      const found: string[] = [];
      let seen = 0;
      await walkAll(page, async (name) => {
        seen += 1;
        // Targets are measured further down, larger than axe asks and wherever the page is scrolled to.
        found.push(...(await violations(page, { targets: false })).map((v) => `${name}: ${v}`));
        if (locale !== 'en-US') return;
        await page.emulateMedia({ colorScheme: 'dark' });
        found.push(...(await violations(page, { only: CONTRAST })).map((v) => `${name}, dark: ${v}`));
        await page.emulateMedia({ colorScheme: 'light' });
      });
      expect(found).toEqual([]);
      expect(seen).toBeGreaterThan(120);
    });
  });
}

test('axe would find a fault', async ({ page }) => {
  await page.goto('./');
  await expect(title(page)).toBeVisible();
  await page.evaluate(() => {
    const button = document.createElement('button');
    document.querySelector('main')?.append(button);
  });
  expect((await violations(page)).join()).toContain('button-name');
});

type Measure = (page: Page, name: string) => Promise<string[]>;

/** What is cut off, too wide or too small to hit on the page as it stands. @param rootPx size of the page's text, as a person may set it. */
const misfits = (page: Page, rootPx?: number): Promise<string[]> =>
  page.evaluate((px) => {
    if (px) document.documentElement.style.fontSize = `${px}px`;
    const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
    const small = [
      ...document.querySelectorAll<HTMLElement>(
        'a, button, summary, label:has(input), select, input:is([type=text], [type=password], [type=date], [type=time], [type=range]), textarea',
      ),
    ]
      .filter((e) => e.offsetParent !== null && !e.classList.contains('unseen'))
      .map((e) => ({ e, box: e.getBoundingClientRect() }))
      .filter(({ box }) => box.height < 47.5 || box.width < 47.5)
      .map(({ e, box }) => `${e.tagName} "${e.textContent?.slice(0, 20)}" ${Math.round(box.width)}×${Math.round(box.height)}`);
    const mainButton = document.querySelector('footer .button-main, footer .button-grave');
    const low = mainButton && mainButton.getBoundingClientRect().height < 55.5 ? ['main action lower than 56 px'] : [];
    const cut = [...document.querySelectorAll<HTMLElement>('.button, h1, .choice, .row')]
      .filter((e) => e.scrollWidth > e.clientWidth + 1)
      .map((e) => `cut off: "${e.textContent?.slice(0, 30)}"`);
    document.documentElement.style.fontSize = '';
    return [...(wide > 0 ? [`${wide} px too wide`] : []), ...small, ...low, ...cut];
  }, rootPx);

const PHONE = { width: 390, height: 844 };
const SMALL = { width: 320, height: 568 };
const small =
  (rootPx?: number): Measure =>
  async (page, name) => {
    await page.setViewportSize(SMALL);
    const found = (await misfits(page, rootPx)).map((p) => `${name}: ${p}`);
    await page.setViewportSize(PHONE);
    return found;
  };
const smallAndLarge: Measure = async (page, name) => [...(await small()(page, name)), ...(await small(40)(page, `${name}, large`))];
/** In their own language: 320 px and 200 %, lying on the side, and a tablet, one after the other on each screen. */
const manySizes: Measure = async (page, name) => {
  const found: string[] = [];
  for (const [how, viewport, rootPx] of [
    ['text at 200 %', SMALL, 40],
    ['on its side', { width: 568, height: 320 }, undefined],
    ['tablet', { width: 820, height: 1180 }, undefined],
  ] as const) {
    await page.setViewportSize(viewport);
    found.push(...(await misfits(page, rootPx)).map((p) => `${name}, ${how}: ${p}`));
  }
  await page.setViewportSize(PHONE);
  return found;
};
for (const [name, language, measure] of [
  ['320 px wide with text at 200 %, on its side, and on a tablet', undefined, manySizes],
  ['320 px wide in the long test language', 'qps', small()],
  ['320 px wide in Arabic, from right to left, as it is and with text at 200 %', 'ar', smallAndLarge],
] as const) {
  test(`nothing is cut off, and every target is large enough: ${name}`, async ({ page }) => {
    test.setTimeout(300_000);
    if (language) await page.addInitScript((l) => Object.defineProperty(navigator, 'languages', { get: () => [l] }), language);
    const found: string[] = [];
    await walkAll(page, async (screen) => {
      found.push(...(await measure(page, screen)));
    });
    expect(found).toEqual([]);
  });
}

test('what does not fit would be found', async ({ page }) => {
  await page.goto('./');
  await expect(title(page)).toBeVisible();
  expect(await misfits(page)).toEqual([]);
  await page.evaluate(() => {
    const [small, wide] = [document.createElement('button'), document.createElement('p')];
    small.textContent = 'x';
    wide.textContent = 'x';
    wide.style.inlineSize = '900px';
    document.querySelector('main')?.append(small, wide);
  });
  const found = (await misfits(page)).join();
  expect(found).toContain('BUTTON "x"');
  expect(found).toContain('px too wide');
});

test('a whole check and the start of a change with the keyboard alone', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  const press = (key: string) => page.keyboard.press(key);
  /** Tabs to the main action; a trap would make this fail. */
  const toMain = async () => {
    for (let i = 0; i < 40; i += 1) {
      if (await page.evaluate(() => document.activeElement?.matches('footer .button-main') ?? false)) return;
      await press('Tab');
    }
    throw new Error('the main action cannot be reached with the keyboard');
  };
  await toMain();
  await press('Enter');
  await expect(title(page)).toBeFocused();
  // Past "back" and "help", which stand before the title, the first Tab goes to the first answer.
  await press('Tab');
  expect(await page.evaluate(() => document.activeElement?.matches('.choice input') ?? false)).toBe(true);
  // The mildest stands last, so that the others are read.
  while (await page.evaluate(() => (document.activeElement as HTMLInputElement).value !== 'none')) await press('Tab');
  await press('Space');
  await toMain();
  await press('Enter');
  await expect(title(page)).toHaveText(say('check:temperature.ask'));
  await expect(title(page)).toBeFocused();
  await press('Tab');
  await page.keyboard.type('98.2');
  // Where it was measured comes straight after the number.
  await press('Tab');
  await press('Space');
  await toMain();
  await press('Enter');
  for (let question = 0; question < 7; question += 1) {
    await expect(title(page)).toBeFocused();
    await press('Tab');
    await press('Space');
    await toMain();
    await press('Enter');
  }
  await expect(title(page)).toHaveText(say('check:note.ask'));
  await expect(title(page)).toBeFocused();
  await toMain();
  await press('Enter');
  await expect(title(page)).toHaveText(say('alert:title.carryOn'));
});

test('going on without an answer says what to do, and is announced', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await visit(page, 'check');
  await expect(title(page)).toHaveText(say('check:unwell.ask'));
  await main(page).click();
  await expect(page.getByRole('alert')).toHaveText(say('check:chooseAll'));
  await choose(page, 'none');
  await turn(page);
  await page.locator('.number input').first().fill('368');
  // A tap right after the page has turned is taken for a slip.
  await page.waitForTimeout(500);
  await main(page).click();
  await expect(page.getByRole('alert')).toContainText('86');
  await expect(page.locator('.number input').first()).toHaveAttribute('aria-invalid', 'true');
});

test('the look asks with the person’s own pictures and words, and back loses nothing', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  await toTheLook(page);
  await choose(page, 'light');
  await turn(page);
  await page.goBack();
  await visit(page, 'change');
  await expect(title(page)).toHaveText(say('check:drainageColour.ask'));
});

test('the whole change can be read again: every step has a title, a picture or words', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  await doChange(page);
  await expect(title(page)).toHaveText(say('change:doneTitle'));
});

for (const language of readdirSync('locales')) {
  test.describe(`on the smallest phone in ${language}`, () => {
    test.use({ viewport: { width: 320, height: 568 }, locale: language });
    test('an emergency shows the button that calls, without scrolling', async ({ page }) => {
      await openDemo(page, TUESDAY_MORNING);
      await doCheck(page, { unwell: 'faint' });
      await expect(page).toHaveURL(/alert/);
      await expect(page.locator('.foot a[href^="tel:"]').first()).toBeInViewport({ ratio: 1 });
    });
  });
}
