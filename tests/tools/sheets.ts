import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import type { Page } from '@playwright/test';
import { walkAll } from '../browser/walk.ts';
import { walkDesk } from '../browser/walk-desk.ts';
import { openSite, type Site } from './site.ts';

/**
 * Pictures of every screen in three sizes, light and dark, in three languages,
 * one contact sheet a size, in reports/sheets.
 *
 *   npm run sheets               en, the long test language, the one from right to left
 *   npm run sheets -- es ar      other languages
 *   npm run sheets -- whole en   whole pages instead of what is in view
 */
const WHOLE = process.argv.includes('whole');
const named = process.argv.slice(2).filter((a) => a !== 'whole');
const LANGUAGES = named.length > 0 ? named : ['en', 'qps', 'qpr'];
const FOLDER = 'reports/sheets';
const SCHEMES = ['light', 'dark'] as const;
const SIZES = [
  { name: 'phone-small', width: 320, height: 568, thumb: 106 },
  { name: 'phone', width: 390, height: 844, thumb: 106 },
  { name: 'tablet', width: 820, height: 1180, thumb: 150 },
] as const;
/** Groups of all looks of one screen beside each other on a sheet. */
const GROUPS = 4;

/** Takes the screen as it is in every size and scheme, and leaves it as it was. */
async function shoot(page: Page, file: (size: string, scheme: string) => string): Promise<void> {
  await page.evaluate(() => document.fonts.ready);
  for (const { name, width, height } of SIZES) {
    await page.setViewportSize({ width, height });
    for (const scheme of SCHEMES) {
      await page.emulateMedia({ colorScheme: scheme });
      await page.screenshot({ path: file(name, scheme), type: 'jpeg', quality: 80, fullPage: WHOLE });
    }
  }
  await page.emulateMedia({ colorScheme: 'light' });
  await page.setViewportSize(SIZES[1]);
}

/** Walks the app and the desk in one language. @returns the names of what was seen, in order. */
async function walk(site: Site, language: string): Promise<string[]> {
  const context = await site.phone({ ...SIZES[1], language });
  const names: string[] = [];
  const see = (page: Page) => async (name: string) => {
    names.push(name);
    await shoot(page, (size, scheme) => picture(size, language, scheme, names.length));
  };
  const page = await context.newPage();
  await walkAll(page, see(page));
  const desk = await context.newPage();
  await desk.setViewportSize({ width: 1280, height: 800 });
  await walkDesk(desk, see(desk));
  await context.close();
  return names;
}

const picture = (size: string, language: string, scheme: string, n: number): string =>
  `${FOLDER}/${size}/${language}-${scheme}-${String(n).padStart(3, '0')}.jpg`;

/** One picture of all pictures of a size. */
async function sheet(site: Site, size: (typeof SIZES)[number], names: readonly string[]): Promise<void> {
  const looks = LANGUAGES.flatMap((language) => SCHEMES.map((scheme) => [language, scheme] as const));
  const image = (n: number, language: string, scheme: string) => {
    const at = picture(size.name, language, scheme, n).slice(FOLDER.length + 1);
    return `<img src="${at}" width="${size.thumb}"${WHOLE ? '' : ` height="${Math.round((size.thumb * size.height) / size.width)}"`}>`;
  };
  const cells = names.map((name, i) => {
    const images = looks.map(([language, scheme]) => image(i + 1, language, scheme)).join('');
    return `<figure><figcaption>${i + 1} ${name}</figcaption>${images}</figure>`;
  });
  const html = `<!doctype html><meta charset="utf-8"><style>
    body{margin:8px;background:#999;display:grid;grid-template-columns:repeat(${GROUPS},max-content);gap:6px;font:11px sans-serif;width:max-content}
    figure{margin:0}img{margin-inline-end:2px;vertical-align:top}</style>${cells.join('')}`;
  const file = `${FOLDER}/${size.name}.html`;
  writeFileSync(file, html);
  const context = await site.phone({ width: GROUPS * (looks.length * (size.thumb + 2) + 8) + 20, height: 800 });
  const page = await context.newPage();
  await page.goto(pathToFileURL(file).href, { waitUntil: 'load' });
  await page.screenshot({ path: `${FOLDER}/${size.name}.jpg`, type: 'jpeg', quality: 75, fullPage: true });
  await context.close();
}

rmSync(FOLDER, { recursive: true, force: true });
mkdirSync(FOLDER, { recursive: true });
const site = await openSite();
let names: string[] = [];
for (const language of LANGUAGES) {
  names = await walk(site, language);
  console.log(`${language}: ${names.length} screens`);
}
for (const size of SIZES) {
  await sheet(site, size, names);
  console.log(`${FOLDER}/${size.name}.jpg`);
}
await site.close();
