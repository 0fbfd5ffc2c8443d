import type { Locator } from '@playwright/test';
import { answer, CHECK, expect, main, openDemo, TUESDAY_MORNING, test, turn, visit } from './app.ts';
import { longLog, putRecords } from './long-log.ts';

// What stands where is asked of the browser, whose ordering of mixed writing is not ours (UAX #9).
test.use({ locale: 'ar-EG', serviceWorkers: 'block' });

/** Where the middle of a piece of text stands on screen, from the left, in px. */
const xOf = (within: Locator, piece: string): Promise<number> =>
  within.evaluate((element, wanted) => {
    const walker = document.createTreeWalker(element, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const at = (node.textContent ?? '').indexOf(wanted);
      if (at < 0) continue;
      const range = document.createRange();
      range.setStart(node, at);
      range.setEnd(node, at + wanted.length);
      const box = range.getBoundingClientRect();
      return box.left + box.width / 2;
    }
    throw new Error(`no ${wanted} there`);
  }, piece);

test('a fever typed in Arabic digits is understood, and number, unit and phone stand in their order', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await expect(page.locator('html')).toHaveAttribute('dir', 'rtl');
  await visit(page, 'check');
  await answer(page, 'unwell', 'none');
  await turn(page);
  await answer(page, 'temperature', '٣٨٫٤');
  const field = page.locator('.number').first();
  expect(await xOf(field, '°')).toBeLessThan(await xOf(field, 'C'));
  await turn(page);
  await expect(page.locator('.alert-callNow')).toBeVisible();
  await main(page).click();
  await expect(page).toHaveURL(/#\/alert\//);

  const reading = page.locator('.facts li', { hasText: '38.4' });
  const order = [await xOf(reading, '38.4'), await xOf(reading, '°'), await xOf(reading, 'C')];
  expect(order).toEqual([...order].sort((a, b) => a - b));
  // The sentence itself goes from right to left: the question, the reading, the place.
  const sentence = [await xOf(reading, 'الحرارة'), await xOf(reading, '38.4'), await xOf(reading, 'الفم')];
  expect(sentence).toEqual([...sentence].sort((a, b) => b - a));

  const call = page.locator('footer a.call');
  await expect(call).toHaveAttribute('href', 'tel:+13125550142');
  const number = call.locator('.call-number');
  const digits = [await xOf(number, '+1'), await xOf(number, '312'), await xOf(number, '555'), await xOf(number, '0142')];
  expect(digits).toEqual([...digits].sort((a, b) => a - b));
});

test('a clinic’s Latin name does not turn the sentence round it', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await visit(page, 'log');
  await page.locator('.row').first().click();
  const line = page.locator('.main .lead').first();
  await expect(line).toContainText('Alder Street Foot Clinic');
  expect(await xOf(line, 'Alder')).toBeLessThan(await xOf(line, 'Clinic'));
  expect(await xOf(line, 'الإصدار')).toBeLessThan(await xOf(line, 'Alder'));
});

test('a chart runs from right to left, and what is written in it stands in its order', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await putRecords(page, longLog(60));
  await page.reload();
  await expect(page.locator('.dues')).toBeVisible();
  await visit(page, 'course');
  // The first size of the log is of 7 January 2031, the last day is 4 March.
  const written = (chart: Locator, text: string): Promise<number> => xOf(chart.locator('text', { hasText: text }), text);
  const size = page.locator('.chart-picture').first();
  expect(await written(size, '4 مارس')).toBeLessThan(await written(size, '7 يناير'));
  const warmth = page.locator('.chart-picture', { hasText: 'الحد' });
  const name = warmth.locator('text', { hasText: 'الحد' });
  const limit = [await xOf(name, '2.2'), await xOf(name, '°'), await xOf(name, 'الحد')];
  expect(limit).toEqual([...limit].sort((a, b) => a - b));
  const below = warmth.locator('text', { hasText: '-2' });
  expect(await xOf(below, '-')).toBeLessThan(await xOf(below, '2'));

  const share = page.locator('.course-part p', { hasText: '%' }).first();
  // A milestone: the sizes themselves were taken in two ways and have no share.
  const told = [await xOf(share, '90'), await xOf(share, '%'), await xOf(share, 'بنسبة')];
  expect(told).toEqual([...told].sort((a, b) => a - b));
});

test('every answer of the daily check can be given', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await visit(page, 'check');
  for (const [question, code] of CHECK) {
    await answer(page, question, code);
    await turn(page);
  }
  await main(page).click();
  await expect(page).toHaveURL(/#\/checked\//);
});

test('on the desk, a phone number and a closed day typed in Arabic digits are taken', async ({ page }) => {
  await page.clock.setFixedTime(TUESDAY_MORNING);
  await page.goto('./clinic');
  await page.locator('.start-way', { hasText: 'النموذج' }).click();
  const phone = page.locator('#clinic input[type=tel]').first();
  await phone.fill('+١ ٣١٢ ٥٥٥ ٠١٤٣');
  await expect(phone).toHaveValue('+1 312 555 0143');
  await page.locator('#clinic textarea').fill('٢٠٣١-٠٣-٠٧');
  await page.getByRole('tab').nth(1).click();
  await page.frameLocator('.phone iframe').locator('a[href="#/plan"]').click();
  await expect(page.frameLocator('.phone iframe').locator('a.call').first()).toHaveAttribute('href', 'tel:+13125550143');
});
