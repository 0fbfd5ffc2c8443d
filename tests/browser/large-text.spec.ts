import type { Locator, Page } from '@playwright/test';
import { choose, doCheck, expect, main, openDemo, TUESDAY_MORNING, test, visit } from './app.ts';

/** Whether all of it can be seen without scrolling. */
async function isInSight(page: Page, part: Locator): Promise<boolean> {
  const box = await part.boundingBox();
  const height = page.viewportSize()?.height ?? 0;
  return box !== null && box.y >= 0 && box.y + box.height <= height;
}

for (const viewport of [
  { width: 320, height: 568 },
  { width: 360, height: 640 },
  { width: 375, height: 667 },
]) {
  test(`in very large text on a phone of ${viewport.width} × ${viewport.height}, what to press and whom to call need no scrolling`, async ({
    page,
  }) => {
    await page.setViewportSize(viewport);
    await openDemo(page, TUESDAY_MORNING);
    await visit(page, 'settings/textSize');
    await choose(page, 'largest');
    await expect(page.locator('html[data-size=largest]')).toBeVisible();
    await visit(page, 'today');
    expect(await isInSight(page, main(page)), 'today').toBe(true);
    await doCheck(page, { pain: 'more' });
    await expect(page.locator('.alert-callToday')).toBeVisible();
    expect(await isInSight(page, page.locator('.foot .call')), 'call today').toBe(true);
    await doCheck(page, { temperature: '39' });
    await expect(page.locator('.alert-callNow')).toBeVisible();
    expect(await isInSight(page, main(page)), 'stopped').toBe(true);
    await main(page).click();
    await expect(page).toHaveURL(/#\/alert\//);
    expect(await isInSight(page, page.locator('.foot .call')), 'call now').toBe(true);
    await doCheck(page, { unwell: 'shakingChills' });
    expect(await isInSight(page, page.locator('.foot .call')), 'emergency').toBe(true);
  });
}
