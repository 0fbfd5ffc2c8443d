import type { Page } from '@playwright/test';
import type { Point } from '../../app/care/healing/homography.ts';
import { polygonArea } from '../../app/care/healing/outline.ts';
import { bent, bentArea, dense, ellipse, star, starArea } from '../care/healing/shapes.ts';
import { expect, test } from './app.ts';
import { openTestPage } from './bundle.ts';
import type { Reading, Take, View } from './scale-page.ts';

/**
 * From a photo to mm, end to end in Chromium: shapes of known area and the
 * printed scale code, turned in space by the browser, out of focus, unevenly
 * lit and grainy; the outline is the true one drawn with an unsteady hand.
 */

// The size of a photo from a phone that is kept: 2000 × 1500 px; eight to the millimetre, as from a hand's breadth and a half.
test.use({ viewport: { width: 1000, height: 750 }, deviceScaleFactor: 2, serviceWorkers: 'block' });
test.describe.configure({ timeout: 120_000 });

const STEP_MM = 2;
const SHAPES: Readonly<Record<string, { edge: readonly Point[]; area: number }>> = {
  ellipse: { edge: ellipse(13, 8, [16, -2], 40), area: Math.PI * 13 * 8 },
  L: { edge: dense(bent(26, 22, 9, [4, -11]), STEP_MM), area: bentArea(26, 22, 9) },
  star: { edge: dense(star(6, 15, 8, [18, 2]), STEP_MM), area: starArea(6, 15, 8) },
};
const PLAIN: View = { tiltDeg: 0, axisDeg: 0, rollDeg: 0, pxPerMm: 4 };
const SHARP: Take = { blurPx: 0.8, noise: 4, fall: 0.75, seed: 1 };
/** What a hand is off, standard deviation, px. */
const HAND_PX = 1.5;

async function reading(page: Page, edge: readonly Point[], view: View, take: Take): Promise<Reading> {
  await page.evaluate(([wound, v]) => globalThis.scaleTest.show(wound, v), [edge, view] as const);
  const screenshot = (await page.screenshot({ type: 'png' })).toString('base64');
  return page.evaluate(([shot, wound, v, t, hand]) => globalThis.scaleTest.read(shot, wound, v, t, hand), [
    screenshot,
    edge,
    view,
    take,
    HAND_PX,
  ] as const);
}

test('areas are read to 3 per cent at the median, up to 40° from straight above in any direction', async ({ page }) => {
  await openTestPage(page, './scale-page.ts');
  const off: number[] = [];
  for (const [name, { edge, area }] of Object.entries(SHAPES)) {
    // The drawn outline is the shape, but for the ellipse's chords.
    expect(Math.abs(polygonArea(edge) / area - 1)).toBeLessThan(0.005);
    for (const [i, tiltDeg] of [0, 12, 25, 33, 40, 40].entries()) {
      const view: View = { ...PLAIN, tiltDeg, axisDeg: 67 * i + 20 * name.length, rollDeg: 41 * i };
      const read = await reading(page, edge, view, { blurPx: 0.6 + 0.1 * i, noise: 2 + i, fall: 1 - 0.08 * i, seed: 7 * i + name.length });
      expect(read.faults, `${name} at ${tiltDeg}°`).toEqual([]);
      off.push(Math.abs((read.areaMm2 ?? 0) / area - 1));
    }
  }
  off.sort((a, b) => a - b);
  const [median, most] = [off[off.length >> 1] ?? 1, off.at(-1) ?? 1];
  console.log(`area from ${off.length} photos: median error ${(100 * median).toFixed(2)} %, largest ${(100 * most).toFixed(2)} %`);
  expect(off).toHaveLength(18);
  expect(median).toBeLessThanOrEqual(0.03);
  expect(most).toBeLessThanOrEqual(0.05);
});

test('a photo that can give no true size is refused with its reason', async ({ page }) => {
  await openTestPage(page, './scale-page.ts');
  const { edge } = SHAPES.ellipse as { edge: readonly Point[] };
  const faults = async (view: Partial<View>, take: Partial<Take> = {}) =>
    (await reading(page, edge, { ...PLAIN, ...view }, { ...SHARP, ...take })).faults;
  expect(await faults({})).toEqual([]);
  expect(await faults({ tiltDeg: 60, axisDeg: 30 })).toContain('tooOblique');
  expect(await faults({ tiltDeg: 50, axisDeg: 120 })).toContain('tooOblique');
  expect(await faults({ pxPerMm: 1.7 })).toContain('tooSmall');
  expect(await faults({}, { blurPx: 3.6 })).toEqual(['blurred']);
  expect(await faults({}, { blurPx: 9 })).toEqual(['noCode']);
  expect(await faults({ tiltDeg: 15, creaseDeg: 7 })).toContain('outOfPlane');
  // A quarter of the code is outside.
  expect(await faults({ shift: [-84, 0] })).toEqual(['noCode']);
});
