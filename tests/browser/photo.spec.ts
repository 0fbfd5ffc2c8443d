import type { Page } from '@playwright/test';
import { expect, main, openDemo, TUESDAY_MORNING, test, title, visit } from './app.ts';
import { say } from './say.ts';
import { areaOf, CARD_SCENE, edgeOf, SCENE, type Scene, woundPhoto } from './wound-photo.ts';

test.use({ hasTouch: true, isMobile: true });

const stage = (page: Page) => page.locator('.stage-keys > svg').first();

/** Places of the photo on the screen as it is shown now. */
async function onScreen(page: Page, spots: readonly (readonly [number, number])[], scene: Scene): Promise<{ x: number; y: number }[]> {
  const width = scene.widthMm * scene.pxPerMm;
  return stage(page).evaluate(
    (svg, { spots, width }) => {
      const matrix = (svg as unknown as SVGSVGElement).getScreenCTM() as DOMMatrix;
      const image = svg.querySelector('image') as SVGImageElement;
      const share = image.width.baseVal.value / width;
      return spots.map(([x, y]) => {
        const at = new DOMPoint((x as number) * share, (y as number) * share).matrixTransform(matrix);
        return { x: at.x, y: at.y };
      });
    },
    { spots, width },
  );
}

/** Draws with one finger. */
async function drag(page: Page, path: readonly { x: number; y: number }[]): Promise<void> {
  const client = await page.context().newCDPSession(page);
  const [first] = path;
  await client.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [first as { x: number; y: number }] });
  for (const point of path.slice(1)) await client.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: [point] });
  await client.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
  await client.detach();
}

/** Two fingers move apart around a place. */
async function pinch(page: Page, at: { x: number; y: number }, from: number, to: number): Promise<void> {
  const client = await page.context().newCDPSession(page);
  const fingers = (gap: number) => [
    { x: at.x - gap, y: at.y, id: 0 },
    { x: at.x + gap, y: at.y, id: 1 },
  ];
  await client.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: fingers(from) });
  for (let i = 1; i <= 8; i++)
    await client.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: fingers(from + ((to - from) * i) / 8) });
  await client.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
  await client.detach();
}

/** Takes a photo by choosing a file, and keeps it. */
async function keepPhoto(page: Page, scene: Scene): Promise<void> {
  await visit(page, 'take-photo');
  await page.locator('.foot input[type=file]').last().setInputFiles(woundPhoto(scene));
  await expect(title(page)).toHaveText(say('photo:lookTitle'));
  await main(page).click();
  await expect(page.locator('.place[data-place=photos]')).toBeVisible();
}

/** Draws around the wound, the view as it is. */
const trace = async (page: Page, scene: Scene) => drag(page, await onScreen(page, edgeOf(scene), scene));

/** The square centimetres that the page shows. */
async function areaShown(page: Page): Promise<number> {
  const text = await page.locator('.answers dd').first().textContent();
  return Number(/[\d.]+/.exec(text ?? '')?.[0]);
}

test.beforeEach(async ({ page }) => {
  await openDemo(page, TUESDAY_MORNING);
  await visit(page, 'settings/units');
  await page.locator('input[value="cm"]').check();
});

test('a wound is photographed, traced with a finger, mended and saved, and the size is true', async ({ page }) => {
  await keepPhoto(page, SCENE);
  await main(page).click();
  await expect(title(page)).toHaveText(say('photo:edgeTitle'));
  // The scale was found and is shown.
  await expect(page.locator('.scale-found')).toHaveAttribute('d', /^M/);
  const [middle] = await onScreen(page, [[SCENE.wound.x * SCENE.pxPerMm, SCENE.wound.y * SCENE.pxPerMm]], SCENE);
  await pinch(page, middle as { x: number; y: number }, 30, 90);
  // A zoom draws nothing.
  await expect(page.getByRole('button', { name: say('photo:undo') })).toBeDisabled();
  await trace(page, SCENE);
  await expect(main(page)).toBeEnabled();
  // A slip is taken back, and drawn anew.
  await page.getByRole('button', { name: say('photo:wipe') }).click();
  await expect(main(page)).toBeDisabled();
  await page.getByRole('button', { name: say('photo:undo') }).click();
  await expect(main(page)).toBeEnabled();
  await main(page).click();
  await expect(title(page)).toHaveText(say('photo:resultTitle'));
  const area = await areaShown(page);
  expect(Math.abs(area * 100 - areaOf(SCENE)) / areaOf(SCENE)).toBeLessThan(0.03);
  await main(page).click();
  await expect(page).toHaveURL(/#\/photos\/.+/);
  expect(await areaShown(page)).toBe(area);
  await expect(page.locator('.photo .trace')).toHaveAttribute('d', /^M/);
});

test('a line drawn half way is still there after the app was closed', async ({ page }) => {
  await keepPhoto(page, SCENE);
  await main(page).click();
  await expect(title(page)).toHaveText(say('photo:edgeTitle'));
  await trace(page, SCENE);
  await expect(main(page)).toBeEnabled();
  const count = await page.locator('.page [role=status]').textContent();
  await page.waitForTimeout(200);
  await page.reload();
  await expect(title(page)).toHaveText(say('photo:edgeTitle'));
  await expect(page.locator('.page [role=status]')).toHaveText(count ?? '');
  await expect(main(page)).toBeEnabled();
});

test('a line is pulled into place, and a point set with keys alone', async ({ page }) => {
  await keepPhoto(page, SCENE);
  await main(page).click();
  await expect(title(page)).toHaveText(say('photo:edgeTitle'));
  await trace(page, SCENE);
  const line = page.locator('.stage-keys > svg').first().locator('.trace');
  const before = await line.getAttribute('d');
  await page.locator('.modes input[value=mend]').check();
  const [from] = await onScreen(page, edgeOf(SCENE, 4), SCENE);
  const start = from as { x: number; y: number };
  await drag(page, [start, { x: start.x + 5, y: start.y }, { x: start.x + 14, y: start.y }]);
  await expect(line).not.toHaveAttribute('d', before ?? '');
  await page.locator('.modes input[value=points]').check();
  await page.getByRole('button', { name: say('photo:wipe') }).click();
  await page.locator('.stage-keys').focus();
  for (const keys of [['ArrowLeft'], ['Shift+ArrowRight', 'Enter'], ['Shift+ArrowDown', 'Enter'], ['Shift+ArrowLeft', 'Enter']]) {
    for (const key of keys) await page.keyboard.press(key);
  }
  await expect(page.locator('.page [role=status]')).toHaveText(say('photo:spots_other', { count: 3 }));
  await page.keyboard.press('Backspace');
  await expect(page.locator('.page [role=status]')).toHaveText(say('photo:spots_other', { count: 2 }));
});

test('without the square a card does, its corners tapped by hand', async ({ page }) => {
  await keepPhoto(page, CARD_SCENE);
  await main(page).click();
  await expect(page.getByRole('alert')).toHaveText(say('photo:notFound.noCode'));
  await page.getByRole('button', { name: say('photo:useCard') }).click();
  const { x, y } = CARD_SCENE.card as { x: number; y: number };
  const px = CARD_SCENE.pxPerMm;
  // In any order.
  const corners: [number, number][] = [
    [x, y],
    [x + 85.6, y + 53.98],
    [x + 85.6, y],
    [x, y + 53.98],
  ].map(([cx, cy]) => [(cx as number) * px, (cy as number) * px]);
  for (const at of await onScreen(page, corners, CARD_SCENE)) await page.touchscreen.tap(at.x, at.y);
  await main(page).click();
  await expect(title(page)).toHaveText(say('photo:edgeTitle'));
  await trace(page, CARD_SCENE);
  await main(page).click();
  await expect(title(page)).toHaveText(say('photo:resultTitle'));
  // A finger hits no corner to the pixel; the card's own edges put them right.
  expect(Math.abs((await areaShown(page)) * 100 - areaOf(CARD_SCENE)) / areaOf(CARD_SCENE)).toBeLessThan(0.03);
});

test('photos stand side by side, go through time, and are deleted for good', async ({ page }) => {
  for (const at of [TUESDAY_MORNING, '2031-03-11T16:00:00Z', '2031-03-18T16:00:00Z']) {
    await page.clock.setFixedTime(at);
    await keepPhoto(page, SCENE);
  }
  await visit(page, 'photos');
  await expect(page.locator('.two-photos svg')).toHaveCount(2);
  await expect(page.locator('.two-photos figcaption')).toHaveText(['Mar 4, 2031', 'Mar 18, 2031']);
  await page.getByRole('button', { name: say('photo:earlier') }).click();
  await expect(page.locator('.two-photos figcaption')).toHaveText(['Mar 4, 2031', 'Mar 11, 2031']);
  await page.locator('.photo-row').first().click();
  await page.getByRole('button', { name: say('photo:delete') }).click();
  await page.getByRole('button', { name: say('photo:deleteSure') }).click();
  await expect(page.locator('.photo-row')).toHaveCount(2);
  const kept = await page.evaluate(
    () =>
      new Promise<number>((resolve, reject) => {
        const open = indexedDB.open('tendbook-photos');
        open.onerror = () => reject(open.error);
        open.onsuccess = () => {
          const count = open.result.transaction('photos').objectStore('photos').count();
          count.onsuccess = () => resolve(count.result);
        };
      }),
  );
  expect(kept).toBe(2);
});

test('what is no photo is refused with words, and the app works without any', async ({ page }) => {
  await visit(page, 'photos');
  await expect(page.locator('.page')).toContainText(say('photo:noneNeeded'));
  await visit(page, 'take-photo');
  await page
    .locator('.foot input[type=file]')
    .last()
    .setInputFiles({ name: 'a.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('no picture') });
  await expect(page.getByRole('alert')).toHaveText(say('photo:fault.notAPicture'));
});
