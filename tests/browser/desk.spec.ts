import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { expect, TUESDAY_MORNING, test } from './app.ts';
import { Clinician, LAPTOP, openDemoOnDesk, toHandOver } from './desk.ts';
import { readPdf } from './pdf.ts';
import { say } from './say.ts';

test.use({ viewport: LAPTOP });
test.beforeEach(async ({ page }) => {
  await page.clock.setFixedTime(TUESDAY_MORNING);
});

/** The demo's like, from nothing: a wound of the left forefoot that drains lightly, three recipes, a boot, a clinic with hours. */
const STEPS_MOST = 24;

/** How much every database of the page's origin holds. */
const entriesByDatabase = (page: Page): Promise<Record<string, number>> =>
  page.evaluate(async () => {
    const done = <T>(request: IDBRequest<T>): Promise<T> =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const counts: Record<string, number> = {};
    for (const { name } of await indexedDB.databases()) {
      const database = await done(indexedDB.open(name as string));
      let count = 0;
      for (const store of database.objectStoreNames) count += await done(database.transaction(store).objectStore(store).count());
      database.close();
      counts[name as string] = count;
    }
    return counts;
  });

async function composeDemo(page: Page): Promise<Clinician> {
  const c = new Clinician(page);
  await c.open();
  await c.press(say('clinic:start.proposed'));
  await c.mark(say('clinic:seen.side'), say('common:foot.left'));
  await c.pick(say('clinic:seen.site'), 'ballInner');
  await c.fill(say('clinic:seen.length'), '2.2');
  await c.fill(say('clinic:seen.width'), '1.6');
  await c.mark(say('clinic:seen.drainage'), say('clinic:band.light'));
  await c.mark(say('clinic:seen.kind'), say('clinic:kind.clear'));
  await c.mark(say('clinic:seen.bed'), say('clinic:bed.red'));
  await c.mark(say('clinic:seen.skin'), say('clinic:skin.healthy'));
  await c.pick(say('clinic:recipes.expectedHigh'), 'moderate');
  await c.pick(say('clinic:rules.device'), 'walkerBoot');
  await c.press(say('clinic:dates.weeks_other', { count: 2 }));
  await c.fill(say('clinic:dates.time'), '10:00');
  await c.fill(say('clinic:person.callMe'), 'Nela');
  await c.fill(say('clinic:clinic.name'), 'Alder Street Foot Clinic');
  await c.fill(say('clinic:clinic.phone'), '+1 312 555 0142');
  await c.fill(say('clinic:clinic.outOfHours'), '+1 312 555 0187');
  await c.fill(say('clinic:clinic.emergency'), '911');
  await c.press(say('clinic:clinic.usualHours', { from: '08:30', to: '17:00' }));
  return c;
}

test('a plan like the demo takes few steps from nothing, and nothing stops it', async ({ page }) => {
  const c = await composeDemo(page);
  expect(c.steps).toBeLessThanOrEqual(STEPS_MOST);
  await expect(page.locator('.finding-stops')).toHaveCount(0);
  await expect(page.locator('.band-line').nth(1)).toContainText(say('common:family.collagenSheet'));
  await expect(page.locator('.band-line').nth(2)).toContainText(say('common:family.alginateSheet'));
  await expect(page.locator('.band-line').nth(3)).toHaveText(say('clinic:recipes.callUs'));
  await toHandOver(page);
  await expect(page.locator('.hand-over .check-words')).toHaveText(/^\S+ · \S+ · \S+ · \S+$/);
  const file = page.waitForEvent('download');
  await page.getByRole('button', { name: say('clinic:hand.file') }).click();
  const content = JSON.parse(readFileSync(await (await file).path(), 'utf8')) as { tendbook: string };
  expect(content.tendbook).toBe('signedPlan');

  // The clinic's details and the key are kept for the next plan; the person is not.
  await page.reload();
  await page.getByRole('button', { name: say('clinic:start.blank') }).click();
  await expect(page.getByLabel(say('clinic:clinic.phone'), { exact: true })).toHaveValue('+1 312 555 0142');
  await expect(page.getByLabel(say('clinic:person.callMe'), { exact: true })).toHaveValue('');
  expect(await entriesByDatabase(page)).toEqual({
    'tendbook-desk': 2,
    'tendbook-preview-book': 0,
    'tendbook-preview-log': 0,
    'tendbook-preview-photos': 0,
  });
});

test('an earlier file becomes the next version of the same plan', async ({ page }) => {
  await openDemoOnDesk(page);
  await toHandOver(page);
  const file = page.waitForEvent('download');
  await page.getByRole('button', { name: say('clinic:hand.file') }).click();
  const path = await (await file).path();
  await page.getByRole('button', { name: say('clinic:startOver') }).click();
  await page
    .locator('.start-way input[type=file]')
    .setInputFiles({ name: 'plan.json', mimeType: 'application/json', buffer: readFileSync(path) });
  await expect(page.getByText('version 2.', { exact: false })).toBeVisible();
  await expect(page.getByLabel(say('clinic:person.callMe'), { exact: true })).toHaveValue('Nela');
});

test('a plan changed after its code was shown is the next version, and the phone is given that', async ({ page }) => {
  const c = await openDemoOnDesk(page);
  const standing = (name: string, revision: number, as: string) =>
    say('clinic:standing.line', { name, revision, standing: say(`clinic:standing.${as}`) });
  await expect(page.locator('.desk-standing')).toHaveText(standing('Nela', 1, 'notYet'));
  await toHandOver(page);
  await expect(page.locator('.desk-standing')).toHaveText(standing('Nela', 1, 'handed'));
  await c.fill(say('clinic:person.callMe'), 'Rosa');
  await expect(page.locator('.desk-standing')).toHaveText(standing('Rosa', 2, 'changed'));
  await expect(page.getByText(say('clinic:hand.changed', { revision: 2 }))).toBeVisible();
  await expect(page.locator('.hand-over > .code-figure')).toHaveCount(0);
  await c.press(say('clinic:hand.again', { revision: 2 }));
  await expect(page.locator('.hand-over > .code-figure')).toContainText(say('clinic:hand.forWhom', { name: 'Rosa', revision: 2 }));
  await expect(page.locator('.desk-standing')).toHaveText(standing('Rosa', 2, 'handed'));
});

test('what is missing leads to its field', async ({ page }) => {
  const c = new Clinician(page);
  await c.open();
  await c.press(say('clinic:start.blank'));
  await page.getByRole('button', { name: say('clinic:findings.showWhat', { what: say('clinic:missing.name') }) }).click();
  await expect(page.getByLabel(say('clinic:clinic.name'), { exact: true })).toBeFocused();
});

test('findings of every gravity show with reason and source, and those that stop close the hand-over', async ({ page }) => {
  const c = await openDemoOnDesk(page);
  await expect(page.locator('.finding-warns[data-finding="hydrating-with-absorptive"]')).toBeVisible();
  await expect(page.locator('.finding-tells[data-finding="change-above-usual"]').first()).toContainText('[CMS LCD L33831]');
  await expect(page.locator('.finding-stops')).toHaveCount(0);
  await c.pick(say('clinic:recipe.cleanser'), 'alcohol');
  const light = page.locator('.finding-stops[data-finding="harmful-cleanser"]');
  await expect(light).toContainText(say('clinic:finding.harmful-cleanser.plain', { cleanser: say('clinic:cleanser.alcohol') }));
  await expect(light).toContainText(say('clinic:source.practice'));
  // Gravest first.
  await expect(page.locator('.finding').first()).toHaveClass(/finding-stops/);
  await c.tab(say('clinic:side.hand'));
  await expect(page.locator('.stopped')).toContainText(
    say('clinic:finding.harmful-cleanser.plain', { cleanser: say('clinic:cleanser.alcohol') }),
  );
  await expect(page.locator('.hand-over > .code-figure .code')).toHaveCount(0);
  await c.pick(say('clinic:recipe.cleanser'), 'saline');
  await expect(page.locator('.stopped')).toHaveCount(0);
});

test('dry gangrene turns every proposal dry, and a moist product on it stops', async ({ page }) => {
  const c = await openDemoOnDesk(page);
  await c.mark(say('clinic:seen.also'), say('clinic:seen.gangrene'));
  await expect(page.locator('.finding-stops[data-finding="moist-on-keep-dry"]').first()).toBeVisible();
  await expect(page.getByText(say('clinic:prompt.circulation'))).toBeVisible();
  await c.press(say('clinic:recipes.useAll'));
  await expect(page.locator('.finding-stops')).toHaveCount(0);
  await expect(page.locator('.band-line').first()).toContainText(say('common:family.dryGauze'));
});

test('the preview shows the patient’s own screens and keeps nothing', async ({ page }) => {
  const c = await openDemoOnDesk(page);
  await c.tab(say('clinic:side.preview'));
  const phone = page.frameLocator('.phone iframe');
  await expect(phone.locator('.page h1')).toHaveText(say('today:title', { name: 'Nela' }));
  await c.fill(say('clinic:person.callMe'), 'Ansel');
  await expect(phone.locator('.page h1')).toHaveText(say('today:title', { name: 'Ansel' }));
  await c.pick(say('clinic:person.language'), 'es');
  await expect(phone.locator('html')).toHaveAttribute('lang', 'es');
  // The patient's own app on this device knows nothing of it, and the next start of the desk finds nothing left.
  await page.goto('./');
  await expect(page.getByRole('heading', { name: say('welcome:title') })).toBeVisible();
  await c.open();
  expect(await entriesByDatabase(page)).toMatchObject({ 'tendbook-preview-book': 0, 'tendbook-preview-log': 0 });
});

test('a dry run tells level, whom to call at that hour, and why', async ({ page }) => {
  const c = await openDemoOnDesk(page);
  await c.tab(say('clinic:side.dry'));
  const outcome = page.locator('.outcome');
  await expect(outcome).toContainText(say('alert:short.carryOn'));
  await c.pick(say('check:pain.short'), 'severe');
  await expect(outcome).toContainText(say('alert:short.callNow'));
  await expect(outcome).toContainText(say('clinic:dry.clinic', { phone: '+1 312 555 0142' }));
  await expect(outcome).toContainText(say('rules:pain-severe.plain'));
  await c.fill(say('clinic:dry.when', { zone: 'America/Chicago' }), '2031-03-04T23:30');
  await expect(outcome).toContainText(say('clinic:dry.outOfHours', { phone: '+1 312 555 0187' }));
  await c.pick(say('check:unwell.short'), 'faint');
  await expect(outcome).toContainText(say('clinic:dry.emergency', { phone: '911' }));
});

test('leaving with unsaved work asks', async ({ page }) => {
  const c = await openDemoOnDesk(page);
  await c.fill(say('clinic:person.callMe'), 'Ansel');
  const asked: string[] = [];
  page.on('dialog', (dialog) => {
    asked.push(dialog.message());
    void dialog.dismiss();
  });
  await c.press(say('clinic:startOver'));
  expect(asked).toEqual([say('clinic:leave')]);
  await expect(page.getByLabel(say('clinic:person.callMe'), { exact: true })).toHaveValue('Ansel');
});

test('the desk works by keyboard alone', async ({ page }) => {
  await page.goto('./clinic');
  await page.getByRole('button', { name: say('clinic:start.proposed') }).focus();
  await page.keyboard.press('Enter');
  await page
    .getByRole('radio', { name: say('clinic:band.none') })
    .first()
    .focus();
  await page.keyboard.press('ArrowRight');
  await expect(page.getByRole('radio', { name: say('clinic:band.light') })).toBeChecked();
  await page.getByRole('checkbox', { name: say('clinic:bed.red'), exact: true }).focus();
  await page.keyboard.press('Space');
  await expect(page.getByRole('checkbox', { name: say('clinic:bed.red'), exact: true })).toBeChecked();
  await page.getByRole('tab', { name: say('clinic:side.hand') }).focus();
  await page.keyboard.press('Enter');
  await expect(page.locator('.stopped')).toBeVisible();
});

test('the printed page has the phones, the rules, when to call, the words and the code, on one or more sheets', async ({
  page,
  context,
}) => {
  await openDemoOnDesk(page);
  await toHandOver(page);
  const words = await page.locator('.hand-over .check-words').textContent();
  const [paper] = await Promise.all([context.waitForEvent('page'), page.getByRole('button', { name: say('clinic:hand.paper') }).click()]);
  await expect(paper.locator('.paper h1')).toHaveText(say('paper:title', { name: 'Nela' }));
  await expect(paper.locator('.phones')).toContainText('+1 312 555 0142');
  await expect(paper.locator('.phones')).toContainText('+1 312 555 0187');
  await expect(paper.locator('.donts')).toContainText(say('plan:dont.noPeroxide'));
  await expect(paper.locator('.when-emergency')).toContainText(say('check:bleeding.code.willNotStop'));
  await expect(paper.locator('.when-callToday')).toContainText(say('check:odour.code.newOrStronger'));
  await expect(paper.locator('.check-words')).toHaveText(words as string);
  await expect(paper.locator('.paper-codes .code')).toBeVisible();
  // The scale has its true size in print: 40 mm between the outer edges of its dark modules.
  await paper.emulateMedia({ media: 'print' });
  const ink = await paper.locator('.paper-scale .code path').boundingBox();
  expect((ink?.width ?? 0) * (25.4 / 96)).toBeCloseTo(40, 2);
  expect((ink?.height ?? 0) * (25.4 / 96)).toBeCloseTo(40, 2);
  await paper.emulateMedia({ media: null });
  for (const format of ['A4', 'Letter'] as const) {
    const pdf = await readPdf(await paper.pdf({ format }));
    expect(pdf.pages).toBeGreaterThanOrEqual(1);
    expect(pdf.pages).toBeLessThanOrEqual(5);
    // Every page says whose it is, which version, and which of how many.
    const footer = say('paper:footer', { name: 'Nela', revision: 1 });
    for (let page = 1; page <= pdf.pages; page++) expect(pdf.text).toContain(`${footer} · ${page} / ${pdf.pages}`);
  }
  // The tab asks the desk again when it is loaded anew.
  await paper.reload();
  await expect(paper.locator('.paper h1')).toHaveText(say('paper:title', { name: 'Nela' }));
});
