import type { Page } from '@playwright/test';
import { mildestAnswers } from '../../app/care/check/answers.ts';
import type { LogRecord } from '../../app/care/log/records.ts';
import { addDays, type LocalDay } from '../../app/care/schedule/day.ts';
import { alert, change, check, measurement, note, outcome } from '../care/log/make.ts';
import { EXAMPLE, REVISION_1, REVISION_2 } from '../care/visit/example.ts';
import { expect, main, openDemo, TUESDAY_MORNING, test, title, visit } from './app.ts';
import { putPhoto, putRecords, takePlan } from './logs.ts';
import { readPdf } from './pdf.ts';
import { say } from './say.ts';

test.use({ timezoneId: 'UTC' });

const sheet = (page: Page) => page.locator('.visit-sheet');
const part = (page: Page, name: string) => page.locator(`.visit-${name}`);
const fact = (page: Page, label: string) => page.locator('.visit-facts > div').filter({ has: page.locator('dt', { hasText: label }) });
const NOON = '2031-03-18T12:00:00Z';

/** The sixteen days that are worked out by hand beside the summary's own tests. */
async function liveTheExample(page: Page): Promise<void> {
  await page.clock.setFixedTime('2031-03-02T08:00:00Z');
  await takePlan(page, REVISION_1);
  await page.clock.setFixedTime('2031-03-10T15:00:00Z');
  await takePlan(page, REVISION_2);
  await page.clock.setFixedTime(NOON);
  await putRecords(
    page,
    'demo-nela',
    EXAMPLE.filter((r) => r.kind !== 'planAccepted'),
  );
}

async function openPage(page: Page): Promise<void> {
  await visit(page, 'visit');
  await expect(sheet(page)).toBeVisible();
}

async function inSpanishToo(page: Page): Promise<void> {
  await page.getByText(say('visit:choose.title')).click();
  await page.getByLabel('Español').check();
  await expect(page.getByRole('heading', { name: 'Los días de Nela en casa' })).toBeVisible();
}

test('two weeks of records, a question, and the page has the figures worked out by hand', async ({ page }) => {
  await liveTheExample(page);
  await page
    .getByRole('navigation')
    .getByRole('link', { name: say('today:visit') })
    .click();
  await expect(part(page, 'head')).toContainText('Mar 3, 2031 to Mar 18, 2031 (16 days), since the last visit');
  await page.getByRole('link', { name: say('visit:ask') }).click();
  await page.getByLabel(say('log:questionField')).fill('When may I walk to the shop?');
  await main(page).click();
  await expect(part(page, 'questions').getByRole('listitem')).toHaveText([
    'May I shower?',
    'Is the boot too tight?',
    'When may I walk to the shop?',
  ]);
  await expect(fact(page, say('visit:checks.done'))).toContainText('on 11 of 15 days');
  await expect(fact(page, say('visit:changes.late'))).toContainText('2: Mar 7 (1 day), Mar 15 (2 days)');
  await expect(fact(page, say('visit:size.course'))).toContainText('39% smaller');
  await expect(fact(page, say('visit:temperature.highest'))).toContainText('38.4 °C');
  await expect(part(page, 'alerts').getByRole('listitem')).toHaveCount(4);
  await expect(part(page, 'alerts')).toContainText('Reached the clinic (after 90 minutes)');

  // At the clinic: the next page will begin today; this one stays as it is.
  await page.getByRole('button', { name: say('visit:was') }).click();
  await expect(page.getByText(say('visit:wasSaved'))).toBeVisible();
  await expect(part(page, 'head')).toContainText('Mar 3, 2031 to Mar 18, 2031');
  await page.clock.setFixedTime('2031-03-19T12:00:00Z');
  await page.reload();
  await expect(part(page, 'head')).toContainText('Mar 18, 2031 to Mar 19, 2031');
});

test('handed over, the page stays alone through Back, another address and a new start, and help is one tap away', async ({ page }) => {
  await liveTheExample(page);
  await visit(page, 'log');
  await openPage(page);
  await main(page).click();
  const hold = page.locator('.hold');
  await expect(hold).toBeVisible();
  const isAlone = async () => {
    await expect(hold).toBeVisible();
    await expect(sheet(page)).toBeVisible();
    await expect(page.locator('.row, .dues, .contents, .visit-tools')).toHaveCount(0);
  };
  await isAlone();
  await page.goBack();
  await isAlone();
  await page.goto('./#/settings');
  await isAlone();
  await page.reload();
  await isAlone();
  const second = await page.context().newPage();
  await second.clock.setFixedTime(NOON);
  await second.goto('./');
  await expect(second.locator('.hold')).toBeVisible();
  await second.close();

  await page.getByRole('link', { name: say('common:helpNow') }).click();
  await expect(title(page)).toHaveText(say('alert:help.title'));
  await expect(page.locator('a[href="tel:911"]')).toBeVisible();
  await page.getByRole('button', { name: say('common:back') }).click();
  await isAlone();

  // A tap tells what to do and opens nothing; holding does.
  await hold.click();
  await expect(page.getByRole('status')).toHaveText(say('visit:back.presses_other', { count: 4 }));
  await isAlone();
  await hold.hover();
  await page.mouse.down();
  await expect(hold).toContainText(say('visit:back.on', { seconds: 2 }));
  await expect(main(page)).toHaveText(say('visit:hand'), { timeout: 5000 });
  await page.mouse.up();
  await visit(page, 'log');
  await expect(page.locator('.row').first()).toBeVisible();
});

for (const [format, width, height] of [
  ['A4', 595, 842],
  ['Letter', 612, 792],
] as const) {
  test(`as a PDF on ${format}: two pages at most, no colour, the figures in both languages`, async ({ page }) => {
    await liveTheExample(page);
    await putPhoto(page, 'bytes-photo-1', '#d9a98c');
    await openPage(page);
    const one = await readPdf(await page.pdf({ format }));
    // Chromium rounds the page to whole pixels of 0.75 points.
    expect(Math.abs(one.width - width)).toBeLessThanOrEqual(1);
    expect(Math.abs(one.height - height)).toBeLessThanOrEqual(1);
    expect(one.pages).toBeLessThanOrEqual(2);
    expect([one.images, one.colours]).toEqual([0, []]);
    for (const text of [
      "Nela's days at home",
      'Mar 3, 2031 to Mar 18, 2031 (16 days)',
      'Is the boot too tight?',
      'Reached the clinic (after 90 minutes)',
      '1: Mar 5 (fluid showed through)',
      '2: Mar 7 (1 day), Mar 15 (2 days)',
      'a little fluid: Mar 7, Mar 12',
      '2: Mar 9, Mar 11',
      'from Mar 11 on: dry to a little fluid',
      '39% smaller',
      'on 11 of 15 days',
      '38.4 °C in the mouth, Mar 8',
      'very bad pain: Mar 9',
      'for every step on 8 days',
      'highest 17.2 mmol/L, Mar 7',
      'Mar 7, Mar 15: The skin at the edge is white and soggy.',
      'Smell: as always (Mar 4, Mar 7). The clinic knows this.',
      'not enough for the next change',
      'On 3 days no check was done.',
    ]) {
      expect(one.text).toContain(text);
    }
    // Only the page itself, none of its buttons.
    for (const key of ['visit:hand', 'visit:ask', 'visit:was', 'visit:choose.title', 'common:helpNow'])
      expect(one.text).not.toContain(say(key));

    await inSpanishToo(page);
    const two = await readPdf(await page.pdf({ format }));
    expect(two.pages).toBeLessThanOrEqual(2);
    expect(two.colours).toEqual([]);
    for (const text of [
      "Nela's days at home",
      'Los días de Nela en casa',
      '2: Mar 7 (1 day)',
      '2: 7 mar (1 día), 15 mar (2 días)',
      '39 % menos',
    ]) {
      expect(two.text).toContain(text);
    }
    expect(two.text).toContain('38,4 °C en la boca, 8 mar');
    expect(two.text.split('May I shower?')).toHaveLength(2);

    await page.getByRole('checkbox', { name: say('visit:choose.photos') }).check();
    const pictured = await readPdf(await page.pdf({ format }));
    expect(pictured.images).toBe(1);
    expect(pictured.text).toContain(say('visit:photos.notHere'));

    // As on the screen it would not be grey, so the reader does see colours.
    await page.emulateMedia({ media: 'screen' });
    expect((await readPdf(await page.pdf({ format }))).colours).not.toEqual([]);
  });
}

test('three months with an alert every week print on two pages, the newest alerts and the number of the others on it', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await putRecords(page, 'demo-nela', yearOfRecords('2031-03-03' as LocalDay, 100));
  await openPage(page);
  await page.getByText(say('visit:choose.title')).click();
  await page.getByLabel(say('visit:choose.threeMonths')).check();
  await expect(part(page, 'head')).toContainText('(91 days)');
  const pdf = await readPdf(await page.pdf({ format: 'Letter' }));
  expect(pdf.pages).toBeLessThanOrEqual(2);
  await expect(part(page, 'alerts').getByRole('listitem')).toHaveCount(13);
  expect(pdf.text.split(say('visit:did.reached'))).toHaveLength(11);
  expect(pdf.text).toContain(say('visit:alerts.more_other', { count: 3 }));
});

test.describe('from right to left', () => {
  test('it prints with a second language beside it', async ({ page }) => {
    await page.addInitScript(() => Object.defineProperty(navigator, 'languages', { get: () => ['qpr'] }));
    await liveTheExample(page);
    await openPage(page);
    await page.locator('.visit-tools summary').click();
    await page.getByLabel('English').check();
    await expect(page.getByRole('heading', { name: "Nela's days at home", exact: true })).toBeVisible();
    const pdf = await readPdf(await page.pdf({ format: 'A4' }));
    expect(pdf.text).toContain('2: Mar 7 (1 day), Mar 15 (2 days)');
    expect(pdf.text).toContain('39% smaller');
    expect(pdf.colours).toEqual([]);
  });
});

/** Daily checks, a change every other day, a size and an alert each week, newest on `last`. */
function yearOfRecords(last: LocalDay, days = 365): LogRecord[] {
  const { drainageAmount: _, ...look } = mildestAnswers();
  return Array.from({ length: days }, (_each, i): LogRecord[] => {
    const day = addDays(last, -i);
    return [
      check(`check-${i}`, `${day}T15:00`),
      ...(i % 2 === 0
        ? [
            change(`change-${i}`, `${day}T15:20`, {
              check: `check-${i}`,
              answers: { drainageAmount: 'light', odour: look.odour ?? 'none' },
            }),
          ]
        : []),
      ...(i % 7 === 0 ? [measurement(`size-${i}`, `${day}T15:30`, 12 + i / 20, 9 + i / 25)] : []),
      ...(i % 7 === 3 ? [alert(`alert-${i}`, `${day}T15:01`), outcome(`outcome-${i}`, [`alert-${i}`], 'reached', `${day}T15:40`)] : []),
      ...(i % 30 === 0 ? [note(`note-${i}`, `${day}T19:00`, 'What about this?', { forVisit: true })] : []),
    ];
  }).flat();
}

test('it opens with a year of records, whole', async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  const records = yearOfRecords('2031-03-03' as LocalDay);
  await putRecords(page, 'demo-nela', records);
  await visit(page, 'visit');
  await page.locator('.visit-tools summary').click();
  await page.locator('.visit-tools input[value="days"]').check();
  await page.locator('#visit-from').fill('2030-03-04');
  const questions = records.filter((r) => r.kind === 'note' && r.forVisit);
  await expect(sheet(page).getByText('What about this?')).toHaveCount(questions.length);
});
