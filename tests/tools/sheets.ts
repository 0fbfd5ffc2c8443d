import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { walkAll } from '../browser/walk.ts';
import { walkDesk } from '../browser/walk-desk.ts';
import { openSite, type Site } from './site.ts';
import { shootAlerts } from './vision.ts';

/**
 * Pictures of every screen in three sizes, light and dark, put together into
 * contact sheets to look through, in reports/sheets.
 *
 *   npm run sheets               in English, Arabic and French
 *   npm run sheets -- es qps     in other languages
 *   npm run sheets -- whole en   whole pages instead of what is in view
 *
 * It also takes the four levels of an alert anew as eyes of several kinds see
 * them: assets/gallery/alerts-vision.png.
 */
const WHOLE = process.argv.includes('whole');
const named = process.argv.slice(2).filter((a) => a !== 'whole');
const LANGUAGES = named.length > 0 ? named : ['en', 'ar', 'fr'];
const FOLDER = 'reports/sheets';
const SCHEMES = ['light', 'dark'] as const;
const PHONE = { name: 'phone', width: 390, height: 844, thumb: 200, columns: 10, rows: 3 };
const SIZES = [
  { name: 'small', width: 320, height: 568, thumb: 200, columns: 10, rows: 4 },
  PHONE,
  { name: 'tablet', width: 820, height: 1180, thumb: 300, columns: 6, rows: 3 },
] as const;
/** The desk stands on a laptop, or on a tablet. */
const DESKS = [
  { name: 'desk', width: 1280, height: 800, thumb: 400, columns: 5, rows: 3 },
  { ...SIZES[2], name: 'desk-tablet' },
] as const;
interface Size {
  name: string;
  width: number;
  height: number;
  thumb: number;
  columns: number;
  rows: number;
}
type Scheme = (typeof SCHEMES)[number];

const picture = (size: Size, language: string, scheme: Scheme, n: number): string =>
  `${FOLDER}/screens/${size.name}-${language}-${scheme}-${String(n).padStart(3, '0')}.jpg`;

/** Takes the screen as it is in every size and scheme, and leaves it as it was. */
async function shoot(page: Page, sizes: readonly Size[], language: string, n: number): Promise<void> {
  const before = page.viewportSize();
  await page.evaluate(() => document.fonts.ready);
  for (const size of sizes) {
    await page.setViewportSize(size);
    for (const scheme of SCHEMES) {
      await page.emulateMedia({ colorScheme: scheme });
      await page.screenshot({ path: picture(size, language, scheme, n), type: 'jpeg', quality: 80, fullPage: WHOLE });
    }
  }
  await page.emulateMedia({ colorScheme: 'light' });
  if (before) await page.setViewportSize(before);
}

/** Walks the app or the desk in one language. @returns the names of what was seen, in order. */
async function walk(site: Site, of: typeof walkAll | typeof walkDesk, sizes: readonly Size[], language: string): Promise<string[]> {
  const context = await site.phone({ ...PHONE, ...(of === walkDesk ? DESKS[0] : {}), language });
  const names: string[] = [];
  const page = await context.newPage();
  await of(page, async (name) => {
    names.push(name);
    await shoot(page, sizes, language, names.length);
  });
  await context.close();
  return names;
}

/** The pictures of one size, language and scheme, so many on a sheet. */
async function sheets(page: Page, size: Size, language: string, scheme: Scheme, names: readonly string[]): Promise<void> {
  const most = size.columns * size.rows;
  const height = WHOLE ? '' : ` height="${Math.round((size.thumb * size.height) / size.width)}"`;
  for (let from = 0; from < names.length; from += most) {
    const cells = names.slice(from, from + most).map((name, i) => {
      const bytes = readFileSync(picture(size, language, scheme, from + i + 1)).toString('base64');
      return `<figure><figcaption>${from + i + 1} ${name}</figcaption><img src="data:image/jpeg;base64,${bytes}" width="${size.thumb}"${height}></figure>`;
    });
    await page.setContent(`<!doctype html><meta charset="utf-8"><style>
      body{margin:4px;background:#999;display:grid;grid-template-columns:repeat(${size.columns},${size.thumb}px);gap:4px;font:11px sans-serif;width:max-content}
      figure{margin:0}figcaption{white-space:nowrap;overflow:hidden}img{vertical-align:top}</style>${cells.join('')}`);
    await page.setViewportSize({ width: size.columns * (size.thumb + 4) + 4, height: 400 });
    const path = `${FOLDER}/${size.name}-${language}-${scheme}-${from / most + 1}.jpg`;
    writeFileSync(path, await page.screenshot({ type: 'jpeg', quality: 72, fullPage: true }));
  }
}

rmSync(FOLDER, { recursive: true, force: true });
mkdirSync(`${FOLDER}/screens`, { recursive: true });
const site = await openSite();
await shootAlerts(site);
const table = await (await site.phone({ width: 1000, height: 400 })).newPage();
for (const language of LANGUAGES) {
  for (const [of, sizes] of [
    [walkAll, SIZES],
    [walkDesk, DESKS],
  ] as const) {
    const names = await walk(site, of, sizes, language);
    for (const size of sizes) for (const scheme of SCHEMES) await sheets(table, size, language, scheme, names);
    console.log(`${language}: ${names.length} screens, in ${FOLDER}/*-${language}-*.jpg`);
  }
}
await site.close();
