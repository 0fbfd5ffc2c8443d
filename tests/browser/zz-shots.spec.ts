import { mkdirSync } from 'node:fs';
import { writeBookFile } from '../../app/exchange/book-file.ts';
import { EXAMPLE, NOW, REVISION_1, REVISION_2 } from '../care/visit/example.ts';
import { PHONE } from '../exchange/logs.ts';
import { expect, test } from './app.ts';
import { say } from './say.ts';

const OUT = '/tmp/tb/shots-readlog';
mkdirSync(OUT, { recursive: true });
const jpeg = async (page: import('@playwright/test').Page, fill: string) =>
  new Blob([Buffer.from(await page.evaluate(async (f) => { const c = document.createElement('canvas'); c.width = 1200; c.height = 900; const x = c.getContext('2d')!; x.fillStyle = f; x.fillRect(0,0,1200,900); x.fillStyle = '#933'; x.beginPath(); x.ellipse(600,450,200,150,0,0,7); x.fill(); return c.toDataURL('image/jpeg').split(',')[1]!; }, fill), 'base64')], { type: 'image/jpeg' });
for (const [name, viewport] of [['laptop', { width: 1280, height: 800 }], ['tablet', { width: 820, height: 1180 }]] as const) {
  for (const colorScheme of ['light', 'dark'] as const) {
    test(`${name} ${colorScheme}`, async ({ browser, baseURL }) => {
      const context = await browser.newContext({ viewport, colorScheme, locale: process.env.LOC ?? 'en-US', baseURL: baseURL as string, timezoneId: 'America/Chicago' });
      const page = await context.newPage();
      await page.clock.setFixedTime(NOW + 3600_000);
      const shot = (n: string, fullPage = true) => page.screenshot({ path: `${OUT}/${n}-${name}-${colorScheme}.png`, fullPage });
      await page.goto('./clinic');
      await page.locator('.start-way').first().waitFor();
      await shot('1-start');
      await page.locator('.start-way').last().click();
      await page.locator('.drop').waitFor();
      const photos = new Map([['bytes-photo-1', await jpeg(page, '#caa')], ['bytes-photo-2', await jpeg(page, '#dba')]]);
      const file = Buffer.from(await (await writeBookFile({ plan: REVISION_2, earlierPlans: [REVISION_1], acceptedAt: '2031-03-10T15:00:00.000Z', records: EXAMPLE, made: new Date(NOW).toISOString(), device: PHONE }, photos)).arrayBuffer());
      const input = page.locator('.drop input');
      await input.setInputFiles({ name: 'l.txt', mimeType: 'text/plain', buffer: file.subarray(0, 5000) });
      await expect(page.locator('.error')).toBeVisible();
      await shot('2-read');
      await input.setInputFiles({ name: 'l.txt', mimeType: 'text/plain', buffer: file });
      await page.locator('.log-view').waitFor();
      await shot('3-summary');
      const tabs = page.locator('.log-main [role=tab]');
      await tabs.nth(1).click();
      await shot('4-days');
      await page.emulateMedia({ media: 'print' }); await shot('4-days-print'); await page.emulateMedia({ media: null });
      await page.pdf({ path: `${OUT}/days-${name}.pdf`, format: 'A4' });
      await tabs.nth(0).click();
      await page.pdf({ path: `${OUT}/summary-${name}.pdf`, format: 'A4' });
      await tabs.nth(2).click();
      await page.locator('.log-pair img').last().waitFor();
      await shot('5-photos');
      await page.locator('.log-ways .act').click();
      await page.locator('#seen').waitFor();
      await shot('6-write', false);
      void say;
    });
  }
}
