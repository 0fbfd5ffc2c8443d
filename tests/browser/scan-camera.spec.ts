import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Plan } from '../../app/care/plan/plan.ts';
import { checkWords } from '../../app/exchange/check-words.ts';
import { type Code, QUIET_MODULES } from '../../app/exchange/qr-write.ts';
import { CHROMIUM_FLAGS, findChromium } from '../tools/chromium.ts';
import { expect, TUESDAY_MORNING, test, title } from './app.ts';
import { codesOf, longPlan, newKeys } from './codes.ts';
import { LAPTOP } from './desk.ts';
import { say } from './say.ts';

const { plan: demo } = JSON.parse(readFileSync(new URL('../../assets/demo/plan.json', import.meta.url), 'utf8')) as { plan: Plan };
const keys = await newKeys();
const codes = await codesOf(longPlan(demo), keys);

const WIDTH = 1280;
const HEIGHT = 720;
/** How many pictures in a row each code stays before the camera. */
const EACH = 15;

/** One picture in YUV 4:2:0, gray, a code in its middle. */
function frameOf({ size, dark }: Code): Buffer {
  const pixels = Math.floor(HEIGHT / (size + 2 * QUIET_MODULES));
  const left = Math.floor((WIDTH - size * pixels) / 2);
  const top = Math.floor((HEIGHT - size * pixels) / 2);
  const luma = Buffer.alloc(WIDTH * HEIGHT, 230);
  for (let y = 0; y < size * pixels; y++) {
    for (let x = 0; x < size * pixels; x++) {
      if (dark(Math.floor(x / pixels), Math.floor(y / pixels))) luma[(top + y) * WIDTH + left + x] = 25;
    }
  }
  return Buffer.concat([Buffer.from('FRAME\n'), luma, Buffer.alloc((WIDTH * HEIGHT) / 2, 128)]);
}

/** A film of the codes, last one first, in the plain format that Chromium takes for a camera. */
const film = join(mkdtempSync(join(tmpdir(), 'camera-')), 'codes.y4m');
const frames = [...codes].reverse().flatMap((code) => Array<Buffer>(EACH).fill(frameOf(code)));
writeFileSync(film, Buffer.concat([Buffer.from(`YUV4MPEG2 W${WIDTH} H${HEIGHT} F10:1 Ip A1:1 C420jpeg\n`), ...frames]));

test.use({
  launchOptions: {
    executablePath: process.env.CHROMIUM ?? findChromium() ?? '',
    args: [
      ...CHROMIUM_FLAGS,
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-video-capture=${film}`,
    ],
  },
});

test('the camera collects all codes of a plan, and is off once the screen is left', async ({ page }) => {
  await page.clock.setFixedTime(TUESDAY_MORNING);
  await page.addInitScript(() => {
    const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
    const streams: MediaStream[] = [];
    (globalThis as unknown as { streams: MediaStream[] }).streams = streams;
    navigator.mediaDevices.getUserMedia = async (wish) => {
      const stream = await ask(wish);
      streams.push(stream);
      return stream;
    };
  });
  await page.goto('./#/scan');
  await expect(page.locator('video')).toBeVisible();
  await expect(title(page)).toHaveText(say('welcome:confirmNew'), { timeout: 30_000 });
  await expect(page.locator('.check-words li')).toHaveText(await checkWords(keys.publicKey, 'en'));
  const live = await page.evaluate(
    () =>
      (globalThis as unknown as { streams: MediaStream[] }).streams.flatMap((s) => s.getTracks()).filter((t) => t.readyState === 'live')
        .length,
  );
  expect(live).toBe(0);
});

test('the desk’s camera tells the codes of a plan from those of a log, and is off once it is turned off', async ({ page }) => {
  await page.setViewportSize(LAPTOP);
  await page.goto('./clinic');
  await page.getByRole('button', { name: say('clinic:readLog.title') }).click();
  await page.getByRole('button', { name: say('clinic:readLog.useCamera') }).click();
  await expect(page.getByRole('alert')).toHaveText(say('clinic:readLog.code.plan'), { timeout: 30_000 });
  const stream = await page.locator('video').evaluateHandle((video: HTMLVideoElement) => video.srcObject as MediaStream);
  await page.getByRole('button', { name: say('clinic:readLog.cameraOff') }).click();
  await expect(page.locator('video')).toHaveCount(0);
  expect(await stream.evaluate((s) => s.getTracks().map((track) => track.readyState))).toEqual(['ended']);
});
