import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import type { Plan } from '../../app/care/plan/plan.ts';
import { checkWords } from '../../app/exchange/check-words.ts';
import { signPlan } from '../../app/exchange/envelope.ts';
import { planToCode, signedToFile } from '../../app/exchange/plan-file.ts';
import type { ClinicKeys } from '../../app/exchange/signature.ts';
import { doCheck, expect, main, TUESDAY_MORNING, test, title } from './app.ts';
import { codesOf, longPlan, newKeys, photoOf } from './codes.ts';
import { checkWordsOn, copyLink, LAPTOP, openDemoOnDesk, toHandOver } from './desk.ts';
import { say } from './say.ts';

const { plan: demo } = JSON.parse(readFileSync(new URL('../../assets/demo/plan.json', import.meta.url), 'utf8')) as { plan: Plan };

test.beforeEach(async ({ page }) => {
  await page.clock.setFixedTime(TUESDAY_MORNING);
});

/** The photo button of the scanner. */
const photos = (page: Page) => page.locator('.scan input[type=file]');

/** A desk in a window of its own, with the demo ready to be handed over. */
async function deskWithDemo(phone: Page): Promise<Page> {
  const desk = await phone.context().newPage();
  await desk.setViewportSize(LAPTOP);
  await desk.clock.setFixedTime(TUESDAY_MORNING);
  await openDemoOnDesk(desk);
  await toHandOver(desk);
  return desk;
}

/** Compares the words, agrees, and does the first check. */
async function acceptFirst(page: Page, words: readonly string[]): Promise<void> {
  // The desk's window lay on top, and a page below is slow to draw.
  await page.bringToFront();
  await expect(title(page)).toHaveText(say('welcome:confirmNew'));
  await expect(page.locator('.check-words li')).toHaveText([...words]);
  await expect(main(page)).toHaveText(say('welcome:sender.acceptWords'));
  await main(page).click();
  await expect(title(page)).toHaveText(say('today:title', { name: 'Nela' }));
  await doCheck(page);
  await expect(page).toHaveURL(/#\/checked\//);
}

test('from the desk by link: the words are compared, the plan is accepted, the first check is done', async ({ page }) => {
  const desk = await deskWithDemo(page);
  const words = await checkWordsOn(desk);
  const link = await copyLink(desk);
  await page.goto(link);
  await acceptFirst(page, words);
});

test('from the desk by its code, as a photo: the words are compared, the plan is accepted, the first check is done', async ({ page }) => {
  const desk = await deskWithDemo(page);
  const words = await checkWordsOn(desk);
  const buffer = await desk.locator('.hand-over > .code-figure .code').screenshot();
  await page.goto('./#/open');
  await page.getByRole('button', { name: say('welcome:openScan') }).click();
  await photos(page).setInputFiles({ name: 'code.png', mimeType: 'image/png', buffer });
  await acceptFirst(page, words);
});

/** Says no, or closes what was refused, and waits for the first screen. */
async function backToToday(page: Page): Promise<void> {
  await main(page).click();
  await expect(title(page)).toHaveText(say('today:title', { name: 'Nela' }));
}

const paste = async (page: Page, text: string): Promise<void> => {
  await page.goto('./#/open');
  await page.getByLabel(say('welcome:pasteField')).fill(text);
  await main(page).click();
};

async function accepted(page: Page, plan: Plan, keys: ClinicKeys): Promise<void> {
  await paste(page, await signPlan(plan, keys));
  await expect(page.locator('.check-words li')).toHaveText(await checkWords(keys.publicKey, plan.person.language));
  await main(page).click();
  await expect(title(page)).toHaveText(say('today:title', { name: plan.person.callMe }));
}

test('the next plan from the same clinic is quiet, one from another sender is warned of, an altered one is refused', async ({ page }) => {
  const [clinic, stranger] = [await newKeys(), await newKeys()];
  await accepted(page, demo, clinic);

  const second: Plan = { ...demo, revision: 2, greeting: 'See you on Monday.' };
  await paste(page, await signPlan(second, clinic));
  await expect(title(page)).toHaveText(say('welcome:confirmUpdate'));
  await expect(page.locator('.check-words')).toHaveCount(0);
  await expect(main(page)).toHaveText(say('welcome:accept'));
  await backToToday(page);

  const foreign: Plan = { ...demo, revision: 3, clinic: { ...demo.clinic, phone: '+1 312 555 0199' } };
  await paste(page, await signPlan(foreign, stranger));
  await expect(title(page)).toHaveText(say('welcome:sender.otherTitle'));
  await expect(page.getByText(say('welcome:sender.other'))).toBeVisible();
  // The number to ask at is that of the plan in use, and the main button is the careful one.
  await expect(page.locator('.main a.call')).toHaveAttribute('href', 'tel:+13125550142');
  await expect(main(page)).toHaveText(say('welcome:notNow'));
  await backToToday(page);

  await paste(page, planToCode({ ...demo, revision: 3 }));
  await expect(title(page)).toHaveText(say('welcome:sender.otherTitle'));
  await expect(page.getByText(say('welcome:sender.unsigned'))).toBeVisible();
  await backToToday(page);

  const [head, payload, signature] = (await signPlan({ ...demo, revision: 3 }, clinic)).split('.') as [string, string, string];
  const [, otherPayload] = (await signPlan(foreign, stranger)).split('.') as [string, string, string];
  expect(otherPayload).not.toBe(payload);
  await paste(page, [head, otherPayload, signature].join('.'));
  await expect(title(page)).toHaveText(say('welcome:refusedTitle'));
  await expect(page.getByText(say('welcome:fault.altered'))).toBeVisible();
  await backToToday(page);
  await page.goto('./#/plan');
  await expect(page.getByText('See you on Monday.')).toBeVisible();
});

test('a signed file opens as a code does', async ({ page }) => {
  const keys = await newKeys();
  const buffer = Buffer.from(signedToFile(await signPlan(demo, keys)));
  await page.goto('./#/open');
  await page.locator('input[type=file]').setInputFiles({ name: 'plan.json', mimeType: 'application/json', buffer });
  await expect(page.locator('.check-words li')).toHaveText(await checkWords(keys.publicKey, 'en'));
});

test('several codes come in in any order, and half a set is still there after the app was closed', async ({ page }) => {
  const keys = await newKeys();
  const codes = await codesOf(longPlan(demo), keys);
  expect(codes.length).toBeGreaterThan(1);
  const [last, ...others] = [...codes].reverse() as [(typeof codes)[number], ...typeof codes];
  await page.goto('./#/scan');
  await photos(page).setInputFiles(photoOf(last));
  const found = say('welcome:scan.progress_other', { found: 1, count: codes.length });
  await expect(page.getByText(found)).toBeVisible();
  // The same one again tells so and adds nothing.
  await photos(page).setInputFiles(photoOf(last));
  await expect(page.getByText(say('welcome:scan.fault.repeat'))).toBeVisible();
  await expect(page.getByText(found)).toBeVisible();
  // A part of another plan is kept apart.
  const [foreign] = await codesOf({ ...longPlan(demo), revision: 9 }, keys);
  await photos(page).setInputFiles(photoOf(foreign as (typeof codes)[number]));
  await expect(page.getByText(say('welcome:scan.fault.foreign'))).toBeVisible();
  await page.reload();
  await expect(page.getByText(found)).toBeVisible();
  await photos(page).setInputFiles(others.map((code) => photoOf(code)));
  await expect(title(page)).toHaveText(say('welcome:confirmNew'));
  await expect(page.locator('.check-words li')).toHaveText(await checkWords(keys.publicKey, 'en'));
});

test('a part opened by the phone’s own camera goes to the scanner', async ({ page }) => {
  const codes = await codesOf(longPlan(demo), await newKeys());
  const first = codes[0]?.text ?? '';
  await page.goto(`./${first.slice(first.indexOf('#'))}`);
  await expect(title(page)).toHaveText(say('welcome:scan.title'));
  await expect(page.getByText(say('welcome:scan.progress_other', { found: 1, count: codes.length }))).toBeVisible();
});

test('codes of another kind, damaged codes and photos without a code each have their own message', async ({ page }) => {
  await page.goto('./#/scan');
  const told = async (file: { name: string; mimeType: string; buffer: Buffer }, key: string) => {
    await photos(page).setInputFiles(file);
    await expect(page.locator('.error')).toHaveText(say(key));
  };
  await told(photoOf('https://example.org/menu'), 'welcome:scan.fault.wrong');
  await told(photoOf(`http://localhost/#plan=${planToCode(demo).slice(0, 200)}`), 'welcome:fault.damaged');
  await told(photoOf('http://localhost/#plan=9.abc'), 'welcome:fault.newerVersion');
  const blank = await page.locator('h1').screenshot();
  await told({ name: 'blank.png', mimeType: 'image/png', buffer: blank }, 'welcome:scan.fault.noCode');
  await told({ name: 'notes.png', mimeType: 'image/png', buffer: Buffer.from('not a picture') }, 'welcome:scan.fault.photo');
});

test('without leave to use the camera, and without a camera, the other ways stay open', async ({ page }) => {
  await page.goto('./#/scan');
  await expect(page.locator('.error')).toBeVisible();
  await page.addInitScript(() => {
    Object.defineProperty(navigator, 'mediaDevices', {
      value: { getUserMedia: () => Promise.reject(new DOMException('', (globalThis as { why?: string }).why ?? 'NotAllowedError')) },
    });
  });
  for (const [why, key] of [
    ['NotAllowedError', 'denied'],
    ['NotFoundError', 'noCamera'],
    ['NotReadableError', 'busy'],
  ] as const) {
    await page.addInitScript((name) => {
      (globalThis as { why?: string }).why = name;
    }, why);
    await page.reload();
    await expect(page.locator('.error')).toHaveText(say(`welcome:scan.fault.${key}`));
    await expect(photos(page)).toBeEnabled();
  }
  await page.getByRole('button', { name: say('welcome:scan.paste') }).click();
  await expect(page.getByLabel(say('welcome:pasteField'))).toBeVisible();
});

test('scanning works offline once the app is installed', async ({ page, context }) => {
  await page.goto('./');
  await page.evaluate(() => navigator.serviceWorker.ready);
  await expect.poll(() => page.evaluate(async () => (await caches.keys()).length), { timeout: 20_000 }).toBeGreaterThan(0);
  await expect
    .poll(
      () =>
        page.evaluate(async () =>
          (await Promise.all((await caches.keys()).map(async (k) => (await caches.open(k)).keys())))
            .flat()
            .some((r) => r.url.includes('.wasm')),
        ),
      { timeout: 20_000 },
    )
    .toBe(true);
  await page.reload();
  await context.setOffline(true);
  const keys = await newKeys();
  const [code] = await codesOf(demo, keys);
  await page.goto('./#/scan');
  await photos(page).setInputFiles(photoOf(code as Exclude<typeof code, undefined>));
  await expect(page.locator('.check-words li')).toHaveText(await checkWords(keys.publicKey, 'en'));
});
