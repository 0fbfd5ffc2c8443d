import type { Page } from '@playwright/test';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { choose, expect, main, openDemo, TUESDAY_MORNING, test, title, turn, visit } from './app.ts';
import { violations } from './axe.ts';
import { LAST_DAY, longLog, putRecords } from './long-log.ts';
import { say } from './say.ts';

/** The demo book with an invented log of so many days, opened anew. */
async function openLog(page: Page, days: number): Promise<void> {
  await openDemo(page, TUESDAY_MORNING);
  await putRecords(page, longLog(days));
  await page.reload();
  await expect(page.locator('.dues')).toBeVisible();
}

const part = (page: Page, key: string) => page.locator('.course-part', { has: page.getByRole('heading', { name: say(key) }) });
const pictures = (page: Page) => page.locator('.chart-picture');

test('from Today to the course, its numbers, a weighing left half-way and finished, and back to the log', async ({ page }) => {
  await openLog(page, 20);
  await page.getByRole('link', { name: say('today:course') }).click();
  await expect(title(page)).toHaveText(say('course:title'));
  await expect(pictures(page)).toHaveCount(5);

  const fluid = part(page, 'chart:drainage.title');
  await fluid.getByText(say('chart:numbers')).click();
  // Ten changes, every second day, and a head.
  await expect(fluid.getByRole('row')).toHaveCount(11);
  await expect(fluid.getByRole('row').nth(1)).toContainText('Mar 4, 2031');
  await choose(page, 'twoWeeks');
  await expect(fluid.getByRole('row')).toHaveCount(8);

  await fluid.getByRole('link', { name: say('course:drainage.weigh') }).click();
  await expect(title(page)).toHaveText(say('course:weigh.page.start.ask'));
  await turn(page);
  await page.getByLabel(say('course:weigh.page.dry.field')).fill('12');
  await turn(page);
  await expect(title(page)).toHaveText(say('course:weigh.page.used.ask'));
  // Called away: another page, then the app closed and opened again.
  await visit(page, 'help');
  await page.reload();
  await visit(page, 'course');
  await fluid.getByRole('link', { name: say('course:drainage.weigh') }).click();
  await expect(title(page)).toHaveText(say('course:weigh.page.used.ask'));
  await page.getByLabel(say('course:weigh.page.used.field')).fill('19');
  await turn(page);
  await choose(page, '1');
  await turn(page);
  // From the last two changes of the log, two days apart.
  await expect(page.getByLabel(say('course:weigh.page.hours.field'))).toHaveValue('48');
  await turn(page);
  await turn(page);
  await expect(title(page)).toHaveText(say('course:weigh.saved'));
  await expect(page.locator('.answers')).toContainText('7 g');
  await main(page).click();
  await expect(title(page)).toHaveText(say('course:title'));

  await visit(page, 'log');
  await page.getByRole('link', { name: say('log:kind.weighing') }).click();
  await expect(page.locator('.answers')).toContainText('48 hours');
  await visit(page, 'log');
  await page.getByRole('link', { name: say('log:course') }).click();
  await expect(title(page)).toHaveText(say('course:title'));
});

test('a year of entries is read when it is asked for, and told in bars', async ({ page }) => {
  await openLog(page, 400);
  await visit(page, 'course');
  await choose(page, 'all');
  await expect(part(page, 'chart:temperature.title').locator('.chart-bar').first()).toBeVisible();
  await expect(page.getByText('Jan 29, 2030', { exact: false }).first()).toBeVisible();
  const fluid = part(page, 'chart:drainage.title');
  await fluid.getByText(say('chart:numbers')).click();
  await expect(fluid.getByRole('row')).toHaveCount(196);
});

test('a pause is a gap in the line, and no line joins sizes that were taken in different ways', async ({ page }) => {
  await openLog(page, 75);
  await visit(page, 'course');
  const temperature = part(page, 'chart:temperature.title');
  await expect(temperature.getByText(say('chart:broken_other', { count: 3 }))).toBeVisible();
  const joined = await part(page, 'chart:size.title')
    .locator('.chart-picture')
    .evaluate((svg) => {
      const corners = (path: Element) =>
        [...(path.getAttribute('d') ?? '').matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map((m) => [Number(m[1]), Number(m[2])]);
      const ends = [...svg.querySelectorAll('.chart-line')].flatMap(corners);
      // Traced sizes are the diamonds; none of the line's corners is one of them.
      const diamonds = [...svg.querySelectorAll('path.chart-mark')].map((m) => {
        const box = (m as SVGGraphicsElement).getBBox();
        return [box.x + box.width / 2, box.y + box.height / 2];
      });
      const near = (a: number[], b: number[]) => Math.hypot((a[0] ?? 0) - (b[0] ?? 0), (a[1] ?? 0) - (b[1] ?? 0)) < 1;
      return { diamonds: diamonds.length, lines: ends.length, shared: ends.filter((e) => diamonds.some((d) => near(d, e))).length };
    });
  expect(joined.diamonds).toBeGreaterThan(1);
  expect(joined.lines).toBeGreaterThan(2);
  expect(joined.shared).toBe(0);
});

for (const [name, options] of [
  ['light', { colorScheme: 'light' }],
  ['dark', { colorScheme: 'dark' }],
  ['Spanish', { locale: 'es-MX' }],
] as const) {
  test.describe(name, () => {
    test.use(options);
    test('axe finds nothing on the course with its numbers open, nor while weighing', async ({ page }) => {
      await openLog(page, 75);
      await visit(page, 'course');
      await expect(pictures(page)).toHaveCount(5);
      for (const summary of await page.locator('.chart-numbers summary').all()) await summary.click();
      expect(await violations(page)).toEqual([]);
      await visit(page, 'weigh');
      for (const field of ['', '12', '19', '1', '', '']) {
        if (field === '1') await choose(page, '1');
        else if (field) await page.locator('.number input').fill(field);
        expect(await violations(page), (await title(page).textContent()) ?? '').toEqual([]);
        await turn(page);
      }
      expect(await violations(page)).toEqual([]);
    });
  });
}

for (const [name, viewport, language, emPx] of [
  ['320 px wide', { width: 320, height: 568 }, undefined, undefined],
  ['320 px wide with text at 200 %', { width: 320, height: 568 }, undefined, 40],
  ['320 px wide in the long test language', { width: 320, height: 568 }, 'qps', undefined],
  ['320 px wide from right to left', { width: 320, height: 568 }, 'qpr', undefined],
  ['tablet', { width: 820, height: 1180 }, undefined, undefined],
] as const) {
  test.describe(name, () => {
    test.use({ viewport });
    test('every word of every picture lies within it, and the page is not too wide', async ({ page }) => {
      if (language) await page.addInitScript((l) => Object.defineProperty(navigator, 'languages', { get: () => [l] }), language);
      await openLog(page, 75);
      await visit(page, 'course');
      await expect(pictures(page)).toHaveCount(5);
      if (emPx) await page.evaluate((px) => document.documentElement.style.setProperty('font-size', `${px}px`), emPx);
      const size = () =>
        page
          .locator('.chart-text')
          .first()
          .evaluate((e) => Number.parseFloat(e.getAttribute('font-size') ?? ''));
      // Larger text alone makes no element wider; the pictures follow it all the same.
      await expect.poll(size).toBeCloseTo(0.74 * (emPx ?? 20), 1);
      for (const summary of await page.locator('.chart-numbers summary').all()) await summary.click();
      const outside = await page.evaluate(() => {
        const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
        const cut = [...document.querySelectorAll('.chart-picture')].flatMap((svg) => {
          const frame = svg.getBoundingClientRect();
          return [...svg.querySelectorAll('text')]
            .filter((text) => {
              const box = text.getBoundingClientRect();
              // The tail of a J reaches past the width of its letter.
              const hair = 0.1 * Number.parseFloat(text.getAttribute('font-size') ?? '');
              return (
                box.left < frame.left - hair ||
                box.right > frame.right + hair ||
                box.top < frame.top - hair ||
                box.bottom > frame.bottom + hair
              );
            })
            .map((text) => `cut off: ${text.textContent}`);
        });
        return [...(wide > 0 ? [`${wide} px too wide`] : []), ...cut];
      });
      expect(outside).toEqual([]);
    });
  });
}

test('from right to left time runs to the left', async ({ page }) => {
  await page.addInitScript(() => Object.defineProperty(navigator, 'languages', { get: () => ['qpr'] }));
  await openLog(page, 75);
  await visit(page, 'course');
  const days = pictures(page)
    .first()
    .locator('text', { hasText: /^(Jan|Feb|Mar) \d+$/ });
  const xs = await days.evaluateAll((texts) => texts.map((e) => e.getBoundingClientRect().left));
  expect(xs.length).toBeGreaterThan(1);
  expect(xs).toEqual([...xs].sort((a, b) => b - a));
});

test.describe('on paper', () => {
  test.use({ colorScheme: 'dark' });
  test('the course prints in black and grey on a few sheets, pictures whole, without the buttons', async ({ page }) => {
    await openLog(page, 75);
    await visit(page, 'course');
    await expect(pictures(page)).toHaveCount(5);
    await page.emulateMedia({ media: 'print' });
    const coloured = await page.evaluate(() =>
      [...document.querySelectorAll('.course h1, .course h2, .course p, .chart-picture *')].flatMap((e) => {
        const style = getComputedStyle(e);
        const paints = e.closest('svg') ? [style.fill, style.stroke] : [style.color];
        return paints
          .filter((paint) => {
            const [r, g, b] = (paint.match(/[\d.]+/g) ?? []).map(Number);
            return r !== undefined && !(r === g && g === b);
          })
          .map((paint) => `${e.tagName}.${e.getAttribute('class')}: ${paint}`);
      }),
    );
    expect(coloured).toEqual([]);
    for (const format of ['A4', 'Letter'] as const) {
      const pdf = await page.pdf({ format, printBackground: false, margin: { top: '15mm', bottom: '15mm', left: '15mm', right: '15mm' } });
      const sheets = await getDocument({ data: new Uint8Array(pdf) }).promise;
      expect(sheets.numPages).toBeLessThanOrEqual(4);
      let text = '';
      for (let n = 1; n <= sheets.numPages; n += 1) {
        const content = await (await sheets.getPage(n)).getTextContent();
        text += content.items.map((item) => ('str' in item ? item.str : '')).join(' ');
      }
      // A PDF writes fi and ff as one sign and takes it apart again with spaces.
      const plain = text.replace(/\s+/g, '');
      const onPaper = (words: string): boolean => plain.includes(words.replace(/\s+/g, ''));
      for (const key of ['course:title', 'chart:size.title', 'chart:drainage.title', 'chart:temperature.title', 'common:caution'])
        expect(onPaper(say(key)), key).toBe(true);
      // The words in the pictures are words on paper too.
      expect(onPaper(say('chart:size.method.clinic'))).toBe(true);
      expect(onPaper('Feb 4 Mar 4')).toBe(true);
      for (const key of ['common:back', 'course:last.all', 'course:drainage.weigh', 'chart:numbers'])
        expect(onPaper(say(key)), key).toBe(false);
    }
  });
});

test('the log that these tests use ends on the day they are held', () => {
  expect(new Date(TUESDAY_MORNING).toISOString().slice(0, 10)).toBe(LAST_DAY);
});
