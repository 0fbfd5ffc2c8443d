import { readFileSync } from 'node:fs';
import { type Browser, type BrowserContextOptions, chromium, type Page } from '@playwright/test';
import { openTestPage } from '../browser/bundle.ts';
import { CHROMIUM_FLAGS, findChromium } from '../tools/chromium.ts';
import type { Row } from './figures.ts';

/** A photo of 12 megapixels, as most phones take. */
const PHONE: BrowserContextOptions = {
  baseURL: 'http://localhost/',
  viewport: { width: 1008, height: 756 },
  deviceScaleFactor: 4,
  serviceWorkers: 'block',
};
const RUNS = 5;

async function blankPage(browser: Browser, options: BrowserContextOptions): Promise<Page> {
  const page = await (await browser.newContext(options)).newPage();
  await openTestPage(page, './scale-page.ts');
  return page;
}

/** A wound with the scale code beside it, as a JPEG in base 64. */
async function photoOf(page: Page): Promise<string> {
  await page.evaluate(() =>
    globalThis.scaleTest.show(
      [
        [4, -8],
        [26, -8],
        [26, 8],
        [4, 8],
      ],
      { tiltDeg: 20, axisDeg: 30, rollDeg: 12, pxPerMm: 3 },
    ),
  );
  const shot = (await page.screenshot({ type: 'png' })).toString('base64');
  return page.evaluate(async (png) => {
    const jpeg = await globalThis.scaleTest.photo(png, { blurPx: 1.2, noise: 6, fall: 0.7, seed: 3 });
    return new Promise<string>((resolve) => {
      const reader = new FileReader();
      reader.onload = () => resolve(String(reader.result).split(',')[1] ?? '');
      reader.readAsDataURL(jpeg);
    });
  }, shot);
}

/** What the system says of the largest of a browser's page processes, MB; undefined where it cannot be asked. */
async function pageMemory(browser: Browser): Promise<{ nowMb: number; mostMb: number } | undefined> {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = await session.send('SystemInfo.getProcessInfo');
  const known = processInfo
    .filter(({ type }) => type === 'renderer')
    .flatMap(({ id }) => {
      try {
        const status = readFileSync(`/proc/${id}/status`, 'utf8');
        const of = (name: string): number => Number(new RegExp(`${name}:\\s+(\\d+)`).exec(status)?.[1]) / 1024;
        return [{ nowMb: of('VmRSS'), mostMb: of('VmHWM') }];
      } catch {
        return [];
      }
    });
  return known.sort((a, b) => b.mostMb - a.mostMb)[0];
}

async function measured(browser: Browser, jpeg: Buffer): Promise<[what: string, figure: string][]> {
  const page = await blankPage(browser, { baseURL: PHONE.baseURL as string, serviceWorkers: 'block' });
  await page.route('**/photo.jpg', (route) => route.fulfill({ contentType: 'image/jpeg', body: jpeg }));
  const before = await pageMemory(browser);
  const { shrink, find, kept } = await page.evaluate(async (runs) => {
    const file = await (await fetch('./photo.jpg')).blob();
    const times: { shrink: number[]; find: number[]; kept: string } = { shrink: [], find: [], kept: '' };
    for (let i = 0; i < runs; i++) {
      const began = performance.now();
      const shrunk = await globalThis.scaleTest.shrinkPhoto(file);
      if (!shrunk.ok) throw new Error(shrunk.why);
      times.shrink.push(performance.now() - began);
      const { pixels, widthPx, heightPx, blob } = shrunk.photo;
      const then = performance.now();
      const search = await globalThis.scaleTest.findScaleCode(pixels, { widthPx, heightPx });
      if (!search.ok) throw new Error(search.why);
      times.find.push(performance.now() - then);
      times.kept = `${widthPx} × ${heightPx} px, ${(blob.size / 1024).toFixed(0)} kB (from ${(file.size / 2 ** 20).toFixed(1)} MB)`;
    }
    return times;
  }, RUNS);
  const after = await pageMemory(browser);
  const ms = (values: readonly number[]): string =>
    `${([...values].sort((a, b) => a - b)[values.length >> 1] ?? 0).toFixed(0)} ms (the first time ${(values[0] ?? 0).toFixed(0)} ms)`;
  return [
    ['shrinking a photo of 12 megapixels', ms(shrink)],
    ['what is kept of it', kept],
    ['finding the scale code in it', ms(find)],
    [
      'memory of the page meanwhile, at most',
      after && before ? `${after.mostMb.toFixed(0)} MB (${before.nowMb.toFixed(0)} MB before)` : 'not known on this system',
    ],
  ];
}

/** Time and memory for a photo of 12 megapixels in Chromium, as rows to print. */
export async function photoFigures(): Promise<[what: string, figure: string][]> {
  const executablePath = findChromium();
  if (!executablePath) return [['a photo of 12 megapixels', 'not measured: there is no Chromium']];
  const open = () => chromium.launch({ executablePath, args: CHROMIUM_FLAGS });
  const studio = await open();
  const jpeg = Buffer.from(await photoOf(await blankPage(studio, PHONE)), 'base64');
  await studio.close();
  // A browser of its own, so that making the photo does not count.
  const browser = await open();
  try {
    return await measured(browser, jpeg);
  } finally {
    await browser.close();
  }
}

/** The same as rows of the table. */
export const photo = async (): Promise<Row[]> => (await photoFigures()).map(([what, ours]) => ({ what, ours }));
