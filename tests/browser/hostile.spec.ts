import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { parse } from 'csv-parse/sync';
import { unzipSync } from 'fflate';
import { checkItems } from '../../app/care/check/items.ts';
import { BANDS } from '../../app/care/check/questions.ts';
import { recipeFor } from '../../app/care/plan/plan.ts';
import { writeBookFile } from '../../app/exchange/book-file.ts';
import { stepsOf } from '../../app/screens/change/finished.ts';
import { PLACES } from '../../app/screens/places.tsx';
import type { ChangeDraft } from '../../app/store/drafts.ts';
import { expect, LOOK, main, test, title, visit } from './app.ts';
import { LAPTOP } from './desk.ts';
import { type Hostile, hostile, isOwnWriting, MARK } from './hostile-texts.ts';
import { Walk } from './hostile-walk.ts';
import { putRecords, takePlan } from './logs.ts';
import { readPdf } from './pdf.ts';
import { say } from './say.ts';
import { putValue } from './stores.ts';

/**
 * A plan and a log that pass every schema and whose every free text means harm:
 * markup, script, links, formulas, marks that turn the writing round, words
 * without an end, placeholders. Every screen shows them as letters, and nothing else happens.
 */
const NOW = '2031-03-14T15:00:00Z';
const SMALL = { width: 320, height: 568 };

const file = async ({ plan, records }: Hostile) => ({
  name: 'log.txt',
  mimeType: 'text/plain',
  buffer: Buffer.from(
    await (
      await writeBookFile({
        plan,
        earlierPlans: [],
        acceptedAt: '2031-03-02T15:00:00.000Z',
        records,
        made: '2031-03-14T14:00:00.000Z',
        device: 'phone-2',
      })
    ).arrayBuffer(),
  ),
});

/** What follows the name of a place in the address. */
const WITH: Readonly<Record<string, readonly string[]>> = {
  checked: ['c2'],
  changed: ['h2'],
  alert: ['a1'],
  log: [
    '',
    'c1',
    'c2',
    'n1',
    'h1',
    'h4',
    'g2',
    'g3',
    'a1',
    'o2',
    'h2',
    'h3',
    'h5',
    'h6',
    'h7',
    'i1',
    's4',
    'x1',
    'm1',
    'w1',
    'p2',
    'h3/correct',
    'c2/correct',
  ],
  supply: ['collagen', 'own-1', '<img src=x>'],
  used: ['h2'],
  photos: ['', 'f1'],
  trace: ['photo-1'],
  weigh: ['w1'],
  change: ['w1', 'w2'],
  note: ['', 'visit'],
  scan: ['', 'log'],
};

/** Words for which the app has no field of its own: a log from elsewhere may have them, and the tables hand them on. */
const NOT_ON_SCREEN = /^(g2\.note|h2\.note|s4\.note|x1\.why):/;

/** With the second one it is the clinic's own name that turns the writing round. */
for (const shift of [0, 13]) {
  test(`on the phone every hostile text is letters and does nothing (${shift})`, async ({ page }) => {
    test.setTimeout(240_000);
    const { plan, records, inPlan, inLog } = hostile(shift);
    await page.setViewportSize(SMALL);
    await page.clock.setFixedTime(NOW);
    const walk = new Walk(page);
    // Offered, before it is taken.
    await visit(page, 'open');
    await page.locator('textarea').fill(JSON.stringify({ tendbook: 'plan', plan }));
    await main(page).click();
    await expect(page.locator('.place[data-place="confirm"]')).toBeVisible();
    await walk.see('confirm');
    await visit(page, 'welcome');
    await takePlan(page, plan);
    // The log of another phone of the same person, taken in as a person would.
    await visit(page, 'phones');
    await page.locator('.main input[type=file]').setInputFiles(await file({ plan, records, inPlan, inLog }));
    await expect(page.locator('.place[data-place="take-in"]')).toBeVisible();
    await walk.see('take in');
    await main(page).click();
    await expect(title(page)).toContainText(say('keep:takeIn.doneTitle', { name: MARK }).split(MARK)[0] as string);
    await walk.see('taken in');
    for (const name of Object.keys(PLACES))
      for (const rest of WITH[name] ?? ['']) await walk.go(rest ? `${name}/${encodeURIComponent(rest).replace('%2F', '/')}` : name);
    await walk.go('today');
    // Every question of a check.
    for (const { key } of checkItems(plan)) {
      await putValue(page, 'book', `draft:${plan.person.id}:check`, {
        id: 'half',
        startedAt: NOW.replace('Z', '.000Z'),
        at: key,
        answers: {},
      });
      await page.reload();
      await walk.go('check');
    }
    // Every step of a change by each recipe.
    for (const wound of plan.wounds) {
      for (const amount of BANDS.filter((band) => recipeFor(wound, band))) {
        const path = wound.keepDry ? 'keepDry' : 'recipe';
        const answers = { ...Object.fromEntries(LOOK), drainageAmount: amount };
        const change = {
          id: 'half-2',
          startedAt: NOW.replace('Z', '.000Z'),
          wound: wound.id,
          look: 6,
          path,
          answers,
          gathered: [],
          states: {},
        };
        const { before, steps } = stepsOf(wound, { ...change, position: 0 } as ChangeDraft);
        for (let position = before.length; position < steps.length; position++) {
          await putValue(page, 'book', `draft:${plan.person.id}:change`, { ...change, position });
          await page.reload();
          await walk.go(`change/${wound.id}`);
        }
      }
    }
    // The page for the visit, day by day, on paper, and in other hands.
    await visit(page, 'visit');
    await page.locator('.visit-tools summary').click();
    await page.locator('.visit-tools input[value="days"]').check();
    await walk.see('visit, day by day');
    const paper = await readPdf(await page.pdf({ format: 'Letter' }));
    expect(paper.text).toContain(MARK);
    await main(page).click();
    await expect(page.locator('.hold')).toBeVisible();
    await walk.see('visit, in other hands');

    expect(walk.wrong).toEqual([]);
    expect(walk.pages).toBeGreaterThan(90);
    expect(walk.unread(inPlan)).toEqual([]);
    expect(walk.unread(inLog).filter((path) => !isOwnWriting(path) && !NOT_ON_SCREEN.test(path))).toEqual([]);
  });
}

/** From the log to a file in one of its forms. */
async function handOver(page: Page, way: 'system' | 'tables'): Promise<Buffer> {
  await visit(page, 'log');
  await visit(page, 'hand-over');
  await page.getByRole('button', { name: say(`handOver:way.${way}.name`) }).click();
  await page.getByLabel(say('handOver:since.all')).check();
  await main(page).click();
  await expect(main(page)).toBeEnabled();
  const [download] = await Promise.all([page.waitForEvent('download'), main(page).click()]);
  return readFileSync(await download.path());
}

test('in the files for the clinic every hostile text stands as it is, and no cell is a formula', async ({ page }) => {
  test.setTimeout(120_000);
  const all = hostile(3);
  await page.clock.setFixedTime(NOW);
  await takePlan(page, all.plan);
  await putRecords(page, all.plan.person.id, all.records);
  // What a correction took the place of stays on the phone; of a plan that was taken there is no table.
  const inFiles = new Map([...all.inLog].filter(([path]) => !isOwnWriting(path) && !/^(n1|p\d)\./.test(path)));

  const files = unzipSync(new Uint8Array(await handOver(page, 'tables')));
  const cells = Object.entries(files)
    .filter(([name]) => name.endsWith('.csv'))
    .flatMap(([, bytes]) => (parse(new TextDecoder().decode(bytes), { bom: true }) as string[][]).flat());
  expect(cells.filter((cell) => /^[=+@\t\r]|^-(?![\d.]+$)/.test(cell))).toEqual([]);
  const held = cells.map((cell) => cell.replace(/^'(?='*[=+\-@])/, '')).join('\n');
  expect([...inFiles].filter(([, text]) => !held.includes(text.trim())).map(([path]) => path)).toEqual([]);

  const bundle = (await handOver(page, 'system')).toString('utf8');
  const texts: [key: string, text: string][] = [];
  JSON.parse(bundle, (key, value: unknown) => {
    if (typeof value === 'string' && value.includes(MARK)) texts.push([key, value]);
    return value;
  });
  expect(texts.length).toBeGreaterThan(20);
  // No words of a person stand where a system looks for an address, a code or markup.
  expect(texts.filter(([key]) => /^(url|uri|system|code|reference|fullUrl|id|div|contentType)$/.test(key))).toEqual([]);
  expect(bundle).not.toContain('"div"');
});

test('on the desk every hostile text is letters and does nothing', async ({ page }) => {
  test.setTimeout(120_000);
  const all = hostile(11);
  await page.setViewportSize(LAPTOP);
  await page.clock.setFixedTime(NOW);
  const walk = new Walk(page);
  await page.goto('./clinic');
  await page.getByRole('button', { name: say('clinic:readLog.title') }).click();
  await page.locator('.drop input').setInputFiles(await file(all));
  await expect(page.locator('.log-view')).toBeVisible();
  for (const name of ['summary', 'days']) {
    await page.getByRole('tab', { name: say(`clinic:log.tab.${name}`) }).click();
    if (name === 'days') await page.getByLabel(say('clinic:log.days')).selectOption('all');
    await walk.see(`log, ${name}`);
    expect((await readPdf(await page.pdf({ format: 'A4' }))).text).toContain(MARK);
  }
  // The next version of the plan, with the findings beside it, its preview and its paper.
  await page.getByRole('button', { name: say('clinic:log.write') }).click();
  await expect(page.locator('#rules')).toBeAttached();
  await walk.see('plan');
  for (const tab of await page.getByRole('tab').all()) {
    await tab.click();
    await page.waitForTimeout(500);
    await walk.see(`plan, ${await tab.textContent()}`);
  }
  expect(walk.wrong).toEqual([]);
  // The desk has one wound in sight at a time, and no field for the note of a dressing.
  const inSight = (path: string): boolean => !/^wounds\.1\.|recipe\.(primary|secondary)\.note/.test(path);
  expect(walk.unread(all.inPlan).filter(inSight)).toEqual([]);
});
