import { readFileSync } from 'node:fs';
import type { CDPSession, Page } from '@playwright/test';
import { doCheck, expect, openDemo, TUESDAY_MORNING } from '../browser/app.ts';
import type { Site } from './site.ts';

/** Kept in the repository, and shown in the README. */
export const VISION_SHEET = 'assets/gallery/alerts-vision.png';

/** How eyes differ, as far as Chromium can put itself in their place. */
const SIGHTS = {
  none: 'as it is',
  protanopia: 'without red',
  deuteranopia: 'without green',
  tritanopia: 'without blue',
  achromatopsia: 'without colour',
  blurredVision: 'blurred',
  reducedContrast: 'with little contrast',
} as const;
type Sight = keyof typeof SIGHTS;
const KINDS = Object.keys(SIGHTS) as Sight[];
const LEVELS = ['go on with the plan', 'call today', 'call now', 'emergency'] as const;
const SCREEN = { width: 320, height: 568 };
const THUMB_PX = 160;
const SETTLE_MS = 400;

/** Brings the app to the screen of a level, on a phone of its own. */
async function toLevel(page: Page, level: number): Promise<void> {
  await openDemo(page, TUESDAY_MORNING);
  if (level === 0) await doCheck(page);
  if (level === 1) await doCheck(page, { pain: 'more' });
  if (level === 2) {
    await doCheck(page, { pain: 'severe' });
    await page.locator('footer .button-main').click();
  }
  if (level === 3) await doCheck(page, { unwell: 'faint' });
  await expect(page).toHaveURL(level === 0 ? /checked/ : /alert/);
  await page.evaluate(() => document.fonts.ready);
  await page.waitForTimeout(SETTLE_MS);
}

async function pictureAs(page: Page, session: CDPSession, type: Sight): Promise<string | undefined> {
  try {
    await session.send('Emulation.setEmulatedVisionDeficiency', { type });
  } catch {
    // This Chromium does not know the kind.
    return undefined;
  }
  return (await page.screenshot({ type: 'png' })).toString('base64');
}

/** One picture of the four levels, a row for each kind of sight, a column for each level. */
export async function shootAlerts(site: Site): Promise<void> {
  const rows = new Map<Sight, string[]>(KINDS.map((sight) => [sight, []]));
  for (const [level] of LEVELS.entries()) {
    const context = await site.phone(SCREEN);
    const page = await context.newPage();
    await toLevel(page, level);
    const session = await context.newCDPSession(page);
    for (const sight of KINDS) {
      const bytes = await pictureAs(page, session, sight);
      if (bytes) rows.get(sight)?.push(bytes);
    }
    await context.close();
  }
  const html = [...rows]
    .filter(([, pictures]) => pictures.length > 0)
    .map(
      ([sight, pictures]) =>
        `<b>${SIGHTS[sight]}</b>${pictures.map((p) => `<img src="data:image/png;base64,${p}" width="${THUMB_PX}">`).join('')}`,
    )
    .join('');
  const context = await site.phone({ width: 110 + LEVELS.length * (THUMB_PX + 8), height: 400 });
  const page = await context.newPage();
  await page.setContent(`<!doctype html><meta charset="utf-8"><style>body{margin:6px;display:grid;gap:6px;
    grid-template-columns:96px repeat(${LEVELS.length},${THUMB_PX}px);font:13px sans-serif;background:#fff;color:#000}
    b{align-self:center;overflow-wrap:anywhere}</style><b></b>${LEVELS.map((l) => `<b>${l}</b>`).join('')}${html}`);
  await page.screenshot({ path: VISION_SHEET, fullPage: true });
  await context.close();
  console.log(`${VISION_SHEET}: ${Math.round(readFileSync(VISION_SHEET).length / 1000)} kB`);
}
