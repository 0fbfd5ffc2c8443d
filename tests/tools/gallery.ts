import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { walkAll } from '../browser/walk.ts';
import { walkDesk } from '../browser/walk-desk.ts';
import { openSite } from './site.ts';

/**
 * Takes pictures of the screens, for the README's gallery and for looking at.
 *
 *   npm run gallery                          the README's pictures, in assets/gallery
 *   npm run gallery -- 320x568 dark es out/  every screen in any size, scheme, language and folder
 */
const GALLERY = 'assets/gallery';
const [size = '390x844', scheme = 'light', language = 'en', folder = GALLERY] = process.argv.slice(2);
const [width, height] = size.split('x').map(Number) as [number, number];

/** What the README shows: each journey once, without its repetitions. */
const SHOWN: readonly (string | RegExp)[] = [
  'welcome',
  'open',
  'confirm',
  'today',
  /^check, (unwell|temperature|footColour|pain|warmth|dressing|note)$/,
  'checked',
  /^step, (wash hands|lay out|remove|rinse|look)$/,
  /^look, (drainageAmount|redness|woundBed)$/,
  /^dress [1567]$/,
  'changed',
  'today, all done',
  'plan',
  'supplies, counted',
  'order',
  'calendar',
  'reminders',
  'photos, two',
  'trace, drawn',
  'log with entries',
  'entry',
  'course with entries',
  'weigh, used',
  'visit, summary',
  'visit, handed over',
  'hand-over',
  'settings',
  'lock',
  'keep',
  'codes, made',
  'judge, two counts',
  'alert, call today',
  'today with a call today',
  'alert, call now',
  'look, stop and cover',
  'alert, emergency',
  'help',
  'locked',
  'desk, start',
  'desk, demo',
  'desk, preview',
  'desk, hand-over',
];
const isShown = (name: string): boolean =>
  folder !== GALLERY || SHOWN.some((shown) => (typeof shown === 'string' ? shown === name : shown.test(name)));

mkdirSync(folder, { recursive: true });
// Only what this makes; other pictures in the folder stay.
for (const file of readdirSync(folder)) if (/^\d+-.*\.png$/.test(file)) rmSync(`${folder}/${file}`);
const site = await openSite();
const context = await site.phone({ width, height, scheme: scheme === 'dark' ? 'dark' : 'light', language });
let count = 0;
const shoot = (page: Page) => async (name: string) => {
  if (!isShown(name)) return;
  await page.evaluate(() => document.fonts.ready);
  count += 1;
  await page.screenshot({ path: `${folder}/${String(count).padStart(2, '0')}-${name.replace(/[^a-z0-9]+/gi, '-')}.png` });
};
const phone = await context.newPage();
await walkAll(phone, shoot(phone));
const desk = await context.newPage();
await desk.setViewportSize({ width: 1280, height: 800 });
await walkDesk(desk, shoot(desk));
await site.close();

if (folder === GALLERY) {
  // The README shows what is there, so that no picture is missing and none is left over.
  const pictures = readdirSync(folder)
    .filter((name) => /^\d+-/.test(name))
    .sort();
  const words = (name: string) => name.replace(/^\d+-|\.png$/g, '').replaceAll('-', ' ');
  const images = pictures.map((p) => `<img src="${folder}/${p}" width="150" alt="${words(p)}" title="${words(p)}">`);
  const readme = readFileSync('README.md', 'utf8');
  writeFileSync(
    'README.md',
    readme.replace(/<!-- gallery -->[\s\S]*<!-- \/gallery -->/, `<!-- gallery -->\n${images.join('\n')}\n<!-- /gallery -->`),
  );
}
console.log(`${count} pictures in ${folder}`);
