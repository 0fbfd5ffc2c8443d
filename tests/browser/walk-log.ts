import type { Page } from '@playwright/test';
import { choose, expect, main, turn, visit } from './app.ts';
import { longLog, putRecords } from './long-log.ts';
import { foot, look, type See } from './walk-see.ts';
import { edgeOf, SCENE as FINE_SCENE, woundPhoto } from './wound-photo.ts';

/** Coarser than what is measured elsewhere, and drawn once. */
const SCENE = { ...FINE_SCENE, pxPerMm: 7 };
let drawn: ReturnType<typeof woundPhoto> | undefined;
const photo = () => {
  drawn ??= woundPhoto(SCENE);
  return drawn;
};

/** Places of the photo, px, as places of the screen. */
const onStage = (page: Page, spots: readonly (readonly [number, number])[]): Promise<[number, number][]> =>
  page
    .locator('.stage-keys > svg')
    .first()
    .evaluate(
      (svg, { spots: all, width }) => {
        const matrix = (svg as unknown as SVGSVGElement).getScreenCTM() as DOMMatrix;
        const share = (svg.querySelector('image') as SVGImageElement).width.baseVal.value / width;
        return all.map(([x, y]): [number, number] => {
          const at = new DOMPoint(x * share, y * share).matrixTransform(matrix);
          return [at.x, at.y];
        });
      },
      { spots, width: SCENE.widthMm * SCENE.pxPerMm },
    );

/** A photo taken, looked at, measured and deleted. */
export async function walkPhotos(page: Page, see: See): Promise<void> {
  await look(page, see, 'take-photo');
  const take = async () => {
    await visit(page, 'take-photo');
    await page.locator('footer input[type=file]').last().setInputFiles(photo());
    await expect(page.locator('img.photo')).toBeVisible({ timeout: 20_000 });
  };
  await take();
  await see('photo, keep it?');
  await main(page).click();
  await expect(page.locator('.photo image')).toBeVisible();
  await see('photo');
  await main(page).click();
  await expect(page.locator('.stage-keys')).toBeVisible({ timeout: 20_000 });
  await see('trace, draw');
  const [first, ...rest] = await onStage(page, edgeOf(SCENE, 24));
  await page.mouse.move(...(first as [number, number]));
  await page.mouse.down();
  for (const spot of rest) await page.mouse.move(...spot);
  await page.mouse.up();
  await expect(main(page)).toBeEnabled();
  await see('trace, drawn');
  await page.locator('.modes input[value=points]').check();
  await see('trace, points');
  await main(page).click();
  await expect(page.locator('.answers')).toBeVisible();
  await see('trace, size');
  await main(page).click();
  await expect(page).toHaveURL(/#\/photos\/.+/);
  await see('photo, measured');
  // Two photos of one minute could only be told apart by looking.
  await page.clock.setFixedTime('2031-03-04T16:20:00Z');
  await take();
  await main(page).click();
  await expect(page).toHaveURL(/#\/photos\/.+/);
  await foot(page, 1).click();
  await expect(page.locator('footer .button-grave')).toBeVisible();
  await see('photo, delete?');
  await look(page, see, 'photos', 'photos, two');
}

/** Fills the book with three weeks. Does not show anything. */
export async function liveThreeWeeks(page: Page): Promise<void> {
  await putRecords(page, longLog(21));
  await page.reload();
  await expect(page.locator('.place')).toBeVisible();
}

export async function walkLog(page: Page, see: See): Promise<void> {
  await look(page, see, 'log', 'log with entries');
  // Yesterday's check.
  await page.locator('a.row[href="#/log/c1"]').click();
  await expect(page.locator('.meta')).toBeVisible();
  await see('entry');
  await page.goto(`${page.url()}/correct`);
  await expect(page.locator('.row').first()).toBeVisible();
  await see('correct');
  await look(page, see, 'note');
  await look(page, see, 'measure');
}

/** How it has gone, and a weighing. */
export async function walkCourse(page: Page, see: See): Promise<void> {
  await visit(page, 'course');
  await expect(page.locator('.chart-picture').first()).toBeVisible();
  await see('course with entries');
  await page.locator('.chart-numbers summary').first().click();
  await see('course, numbers open');
  await look(page, see, 'weigh', 'weigh, start');
  for (const [field, name] of [
    ['', 'dry'],
    ['12', 'used'],
    ['19', 'scale'],
    ['1', 'hours'],
    ['', 'together'],
    ['', 'saved'],
  ] as const) {
    if (field === '1') await choose(page, '1');
    else if (field) await page.locator('.number input').fill(field);
    await turn(page);
    await see(`weigh, ${name}`);
  }
}

/** The page for the visit, handed across the desk, and the log handed over. */
export async function walkVisit(page: Page, see: See): Promise<void> {
  await look(page, see, 'note/visit', 'question for the visit');
  await page.locator('textarea').fill('May I walk to the shop?');
  await main(page).click();
  await visit(page, 'visit');
  await expect(page.locator('.visit-sheet')).toBeVisible();
  await see('visit, summary');
  await page.locator('.visit-tools summary').click();
  await page.locator('.visit-tools input[value="days"]').check();
  await page.locator('.visit-tools input[type=radio]:not(:checked)').last().check();
  await expect(page.locator('.visit-two').first()).toBeVisible();
  await see('visit, choosing, in two languages');
  await main(page).click();
  await expect(page.locator('.hold')).toBeVisible();
  await see('visit, handed over');
  for (let press = 0; press < 5; press += 1) await page.locator('.hold').click();
  await expect(page.locator('.hold')).toHaveCount(0);
  await look(page, see, 'hand-over');
  await page.locator('button.row').first().click();
  await see('hand over, days');
  await main(page).click();
  if (await page.locator('.hand-photos, input[type=checkbox]').first().isVisible()) {
    await see('hand over, photos');
    await main(page).click();
  }
  await expect(main(page)).toBeEnabled();
  await see('hand over, file');
}
