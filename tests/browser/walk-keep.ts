import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import type { Plan } from '../../app/care/plan/plan.ts';
import { writeBookFile } from '../../app/exchange/book-file.ts';
import { doCheck, expect, main, TUESDAY_MORNING, visit } from './app.ts';
import { longLog, putRecords } from './long-log.ts';
import { foot, look, lookAt, type See } from './walk-see.ts';

const demo = (JSON.parse(readFileSync(new URL('../../assets/demo/plan.json', import.meta.url), 'utf8')) as { plan: Plan }).plan;
/** Another person's book, as it comes from another phone. */
const strangersFile = async (): Promise<Buffer> => {
  const plan = { ...demo, id: 'birch-1', sample: undefined, person: { ...demo.person, id: 'ivo', callMe: 'Ivo' } } as Plan;
  const sent = { made: TUESDAY_MORNING, device: 'phone-2', acceptedAt: TUESDAY_MORNING, plan, earlierPlans: [], records: longLog(5) };
  return Buffer.from(await (await writeBookFile(sent)).arrayBuffer());
};
/** A count that goes against the one on this phone. */
const otherCount = {
  id: 'count-2',
  at: '2031-03-04T16:20:00.000Z',
  day: '2031-03-04',
  zone: 'America/Chicago',
  by: { who: 'caregiver', name: 'Ilse' },
  device: 'phone-2',
  plan: { id: demo.id, revision: 1 },
  kind: 'stock',
  item: 'gauze',
  movement: 'counted',
  amount: 31,
} as unknown as ReturnType<typeof longLog>[number];

/** Copies and other phones. */
export async function walkKeeping(page: Page, see: See): Promise<void> {
  await lookAt(page, see, ['keep', 'copy']);
  await main(page).click();
  await expect(page.getByRole('alert')).toBeVisible();
  await see('copy, no passphrase');
  for (const field of await page.locator('input[type=password]').all()) await field.fill('seven brown owls at noon');
  await main(page).click();
  await expect(page.locator('.field')).toHaveCount(0);
  await expect(main(page)).toBeVisible({ timeout: 30_000 });
  await see('copy, ready');
  await lookAt(page, see, ['bring-back', 'phones', 'send', 'codes']);
  await expect(page.locator('.log-codes .code')).toBeVisible();
  await see('codes, made');
  await visit(page, 'phones');
  await page.locator('.main input[type=file]').setInputFiles({ name: 'log.txt', mimeType: 'text/plain', buffer: await strangersFile() });
  await expect(page.locator('.answers')).toBeVisible();
  await see('log of a stranger');
  await main(page).click();
  await expect(page.locator('.place[data-place="phones"]')).toBeVisible();
  await visit(page, 'supply/gauze');
  await foot(page, 1).click();
  await page.locator('.number input').fill('40');
  await main(page).click();
  await expect(page.locator('.stock-big')).toBeVisible();
  await putRecords(page, [otherCount]);
  await page.reload();
  await look(page, see, 'judge', 'judge, two counts');
}

export const PASSCODE = 'seven swans';

/** A passcode set, the locked screen, and what is left to someone who forgot it. Ends locked. */
export async function walkLock(page: Page, see: See): Promise<void> {
  await look(page, see, 'erase');
  await look(page, see, 'lock');
  await main(page).click();
  await main(page).click();
  await expect(page.getByRole('alert')).toBeVisible();
  await see('passcode, too short');
  for (const field of await page.locator('input[type=password]').all()) await field.fill(PASSCODE);
  await main(page).click();
  await expect(page.locator('.main > .button-second')).toBeVisible();
  await see('passcode, set');
  await page.locator('.main .button-second').click();
  await expect(page.locator('.choices').first()).toBeVisible();
  await see('passcode, options');
  await doCheck(page, { pain: 'more' });
  await page.reload();
  await expect(page.locator('.lock')).toBeVisible();
  await see('locked');
  await page.locator('input[type=password]').pressSequentially('eight ducks');
  await main(page).click();
  await expect(page.getByRole('alert')).toBeVisible();
  await see('locked, wrong passcode');
  await page.locator('.main > .button-quiet').click();
  await see('passcode forgotten');
  await foot(page, 1).click();
  await expect(page.locator('.button-grave')).toBeVisible();
  await see('erase, from the lock');
}
