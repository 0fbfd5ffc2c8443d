import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { chromium, type Page } from '@playwright/test';
import { answer, CHECK, choose, doCheck, LOOK, openDemo, TUESDAY_MORNING, visit as to, toTheLook, turn } from '../browser/app.ts';
import { CHROMIUM_FLAGS, ensureChromium, NO_CHROMIUM } from './chromium.ts';
import { DIST, serveFolder } from './static-server.ts';

/**
 * Takes a picture of every screen, for the README's gallery and for looking at.
 *
 *   npm run gallery                          the README's pictures, in assets/gallery
 *   npm run gallery -- 320x568 dark es out/  any size, scheme, language and folder
 */
const [size = '390x844', scheme = 'light', language = 'en', folder = 'assets/gallery'] = process.argv.slice(2);
const [width, height] = size.split('x').map(Number) as [number, number];

if (!existsSync(`${DIST}index.html`)) {
  console.error('There is no built site yet. Run "npm run build" first.');
  process.exit(1);
}
const executablePath = ensureChromium();
if (!executablePath) {
  console.error(NO_CHROMIUM);
  process.exit(1);
}
const server = await serveFolder(0);
const browser = await chromium.launch({ executablePath, args: CHROMIUM_FLAGS });
const context = await browser.newContext({
  baseURL: `http://localhost:${(server.address() as AddressInfo).port}/`,
  viewport: { width, height },
  colorScheme: scheme === 'dark' ? 'dark' : 'light',
  locale: { en: 'en-US', es: 'es-MX', fr: 'fr-FR', ar: 'ar-EG', vi: 'vi-VN' }[language] ?? 'en-US',
  timezoneId: 'America/Chicago',
  serviceWorkers: 'block',
});
if (language.startsWith('qp'))
  await context.addInitScript((l) => Object.defineProperty(navigator, 'languages', { get: () => [l] }), language);
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });

const page = await context.newPage();
let count = 0;

async function shoot(name: string): Promise<void> {
  await page.locator('.page h1').first().waitFor();
  await page.evaluate(() => document.fonts.ready);
  count += 1;
  await page.screenshot({ path: `${folder}/${String(count).padStart(2, '0')}-${name}.png` });
}

async function visit(place: string, name = place): Promise<void> {
  await to(page, place);
  await page.waitForTimeout(150);
  await shoot(name);
}

async function checkWithPictures(on: Page): Promise<void> {
  await to(on, 'check');
  for (const [question, code] of CHECK) {
    await shoot(`check-${question}`);
    await answer(on, question, code);
    await turn(on);
  }
  await shoot('check-note');
  await turn(on);
  await on.locator('.place[data-place=checked]').waitFor();
  await shoot('checked');
}

await page.clock.setFixedTime(TUESDAY_MORNING);
await page.goto('./');
await shoot('welcome');
await visit('open', 'open-plan');
await page.goto('./#/demo');
await page.waitForURL(/confirm/);
await page.locator('.answers').waitFor();
await shoot('confirm-plan');
await openDemo(page, TUESDAY_MORNING);
await shoot('today');
await checkWithPictures(page);
await visit('change', 'change');
await turn(page);
for (const step of ['wash-hands', 'lay-out', 'gloves', 'remove', 'rinse', 'look']) {
  await shoot(`step-${step}`);
  await turn(page);
}
for (const [question, code] of LOOK) {
  await shoot(`look-${question}`);
  await choose(page, code);
  await turn(page);
}
for (let step = 1; page.url().includes('#/change/'); step += 1) {
  await shoot(`dress-${step}`);
  await turn(page);
}
await shoot('changed');
await visit('today', 'today-done');
await visit('log');
await page.locator('.row').first().click();
await page.locator('.meta').waitFor();
await shoot('log-entry');
for (const place of [
  'plan',
  'supplies',
  'order',
  'calendar',
  'reminders',
  'measure',
  'course',
  'weigh',
  'note',
  'visit',
  'hand-over',
  'photos',
  'take-photo',
  'scan',
  'settings',
  'lock',
  'keep',
  'copy',
  'phones',
  'codes',
  'people',
  'about',
  'help',
]) {
  await visit(place);
}
await visit('supply/collagen', 'supply');
await page.clock.setFixedTime('2031-03-06T16:00:00Z');
await doCheck(page, { pain: 'more' });
await shoot('alert-call-today');
await visit('today', 'today-alert');
await doCheck(page, { temperature: '38.4' });
await shoot('check-stopped');
await turn(page);
await shoot('alert-call-now');
await toTheLook(page);
await choose(page, 'moderate');
await turn(page);
await choose(page, 'green');
await turn(page);
await shoot('look-interrupted');
await doCheck(page, { unwell: 'shakingChills' });
await shoot('alert-emergency');

const desk = await context.newPage();
await desk.setViewportSize({ width: 1280, height: 800 });
await desk.goto('./clinic.html');
await desk.locator('h1').first().waitFor();
await desk.waitForTimeout(300);
await desk.screenshot({ path: `${folder}/${count + 1}-clinic-desk.png` });
// The last of the ways to begin is the demo.
await desk.locator('main button').last().click();
await desk.waitForTimeout(600);
await desk.screenshot({ path: `${folder}/${count + 2}-clinic-desk-composing.png` });
count += 2;

await browser.close();
server.close();
if (folder === 'assets/gallery') {
  // The README shows what is there, so that no picture is missing and none is left over.
  const pictures = readdirSync(folder).sort();
  const words = (name: string) => name.replace(/^\d+-|\.png$/g, '').replaceAll('-', ' ');
  const images = pictures.map((p) => `<img src="${folder}/${p}" width="150" alt="${words(p)}" title="${words(p)}">`);
  const readme = readFileSync('README.md', 'utf8');
  writeFileSync(
    'README.md',
    readme.replace(/<!-- gallery -->[\s\S]*<!-- \/gallery -->/, `<!-- gallery -->\n${images.join('\n')}\n<!-- /gallery -->`),
  );
}
console.log(`${count} pictures in ${folder}`);
