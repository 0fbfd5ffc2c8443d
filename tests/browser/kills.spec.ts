import type { BrowserContext, Page } from '@playwright/test';
import { ACT_NAMES, type ActName, type Found, wrongWith } from '../store/acts.ts';
import { expect, main, test } from './app.ts';
import { openTestPage } from './bundle.ts';
import { Aim, chances, killer, listen, OwnBrowser, Tally, type Told, wait } from './kills.ts';
import { say } from './say.ts';
import { logOf } from './stores.ts';

/**
 * The page, or the whole browser, is killed at a random moment of every act
 * that writes, and the app opened anew. Once each here; `npm run kills` does it
 * hundreds of times. A fault met once is a fault: nothing is tried again.
 */
const KILLS = Number(process.env.KILLS ?? 1);
const SEED = Number(process.env.KILLS_SEED ?? 20310304);
const SIZE = 8;

test.use({ serviceWorkers: 'block' });
test.describe.configure({ retries: 0, timeout: 60_000 + KILLS * 20_000 });

const WAYS = ['close', 'crash'] as const;
const wayOf = (n: number) => WAYS[n % WAYS.length] as (typeof WAYS)[number];
const tool = {
  prepare: (page: Page, name: ActName): Promise<Found> =>
    page.evaluate(([act, size]) => killTest.prepare(act, size), [name, SIZE] as const),
  run: (page: Page, name: ActName): Promise<void> => page.evaluate(([act, size]) => killTest.run(act, size), [name, SIZE] as const),
  look: (page: Page): Promise<Found> => page.evaluate(() => killTest.look()),
};

/** Opens the app as a person would and sees that it starts, whatever its first screen is; then the page of the acts. */
async function reopen(context: BrowserContext, base = './'): Promise<Page> {
  const page = await context.newPage();
  await page.goto(base);
  await expect(page.locator('.page h1')).toBeVisible();
  await expect(page.locator('.page h1')).not.toHaveText(say('common:fatal.title'));
  await openTestPage(page, './kill-page.ts', base);
  return page;
}

/** One act, done undisturbed first: what it finds, what it leaves and how long it takes. */
async function undisturbed(page: Page, name: ActName): Promise<{ before: Found; whole: Found; ms: number }> {
  const before = await tool.prepare(page, name);
  const began = performance.now();
  await tool.run(page, name);
  const ms = performance.now() - began;
  return { before, whole: await tool.look(page), ms };
}

const same = (a: Found, b: Found): boolean => JSON.stringify(a) === JSON.stringify(b);

/** Counts what was to be there after a kill and how much of it is not. @returns when the kill came. */
function count(tally: Tally, found: Found, before: Found, whole: Found, told: Told): 'early' | 'within' | 'late' {
  const here = new Set(found.records.map(([id]) => id));
  const expected = new Set([...before.records.map(([id]) => id), ...told.saved]);
  tally.kills++;
  tally.expected += expected.size;
  tally.lost += [...expected].filter((id) => !here.has(id)).length;
  // Some acts are finished by the opening that follows, so that being halfway no longer shows.
  const isHalfway = !same(found, whole) && !same(found, before);
  if (!told.done) tally.running++;
  if (isHalfway) tally.halfway++;
  return told.done ? 'late' : same(found, before) ? 'early' : 'within';
}

for (const [nth, name] of ACT_NAMES.entries()) {
  test(`${name}: killed at any moment, nothing is lost or doubled, and doing it again ends the same`, async ({ context }) => {
    let page = await reopen(context);
    const { before, whole, ms } = await undisturbed(page, name);
    const aim = new Aim(chances(SEED + nth), ms);
    expect(wrongWith(whole, before, whole, [])).toEqual([]);
    const tally = new Tally(name);
    for (let n = 0; n < KILLS; n++) {
      await tool.prepare(page, name);
      const told = listen(page);
      const way = wayOf(nth + n);
      const kill = await killer(page, way);
      const after = aim.next();
      // Its promise dies with the page.
      tool.run(page, name).catch(() => undefined);
      await told.begun;
      await wait(after);
      await kill();
      page = await reopen(context);
      const found = await tool.look(page);
      expect([n, way, after, wrongWith(found, before, whole, told.saved)]).toEqual([n, way, after, []]);
      aim.came(count(tally, found, before, whole, told));
      await tool.run(page, name);
      expect(await tool.look(page)).toEqual(whole);
    }
    tally.say();
    expect(tally.lost).toBe(0);
  });
}

const atThePlace = (page: Page, place: string) => expect(page.locator(`.place[data-place="${place}"] footer .button-main`)).toBeVisible();

for (const kind of ['check', 'change'] as const) {
  test(`the last button of a ${kind} pressed and the page killed: it is written whole and once, or goes on where it was`, async ({
    context,
  }) => {
    const aim = new Aim(chances(SEED + 100 + kind.length), 60);
    const id = `half-${kind}`;
    const goOn = say(kind === 'check' ? 'today:goOnCheck' : 'today:goOnChange');
    const tally = new Tally(`the last button of a ${kind}`);
    let page = await reopen(context);
    for (let n = 0; n < KILLS; n++) {
      await page.evaluate((what) => killTest.halfDone(what), kind);
      await page.goto(`./#/${kind}`);
      await atThePlace(page, kind);
      const told = listen(page);
      const kill = await killer(page, wayOf(n));
      // Not waited for: the answer would come when all is done.
      void main(page)
        .evaluate((button) => {
          console.debug('{"kill":"begun","ids":[]}');
          (button as HTMLElement).click();
        })
        .catch(() => undefined);
      await told.begun;
      await wait(aim.next());
      await kill();
      page = await context.newPage();
      await page.goto('./');
      await expect(page.locator('.dues')).toBeVisible();
      const ids = (await logOf(page)).map((r) => r.id);
      expect(new Set(ids).size).toBe(ids.length);
      tally.kills++;
      tally.expected++;
      if (ids.includes(id)) {
        aim.came('late');
        await expect(page.getByText(goOn)).toHaveCount(0);
        // What belongs to it came with it.
        if (kind === 'check') await expect(page.locator('.open-alert')).toBeVisible();
        else expect(ids.filter((one) => one.startsWith(`${id}-`)).length).toBeGreaterThan(0);
      } else {
        // Pressed, and not yet written.
        aim.came('early');
        tally.running++;
        await expect(main(page)).toHaveText(goOn);
        await main(page).click();
        // The page before stays until this one is there.
        await atThePlace(page, kind);
        await main(page).click();
        await expect.poll(async () => (await logOf(page)).filter((r) => r.id === id).length).toBe(1);
      }
      await openTestPage(page, './kill-page.ts');
    }
    tally.say();
  });
}

test('the whole browser killed, as a phone does that needs its memory: nothing is lost or doubled', async ({ baseURL }) => {
  const acts: readonly ActName[] = ['check', 'restoreBeside', 'passcode', 'merge', 'change'];
  const chance = chances(SEED + 200);
  const browser = new OwnBrowser();
  const tally = new Tally('the browser');
  try {
    let page = await reopen(await browser.start(), baseURL);
    for (let n = 0; n < Math.ceil(KILLS / 2); n++) {
      const name = acts[n % acts.length] as ActName;
      const { before, whole, ms } = await undisturbed(page, name);
      await tool.prepare(page, name);
      const told = listen(page);
      tool.run(page, name).catch(() => undefined);
      await told.begun;
      await wait(chance() * ms);
      await browser.kill();
      page = await reopen(await browser.start(), baseURL);
      const found = await tool.look(page);
      expect([n, name, wrongWith(found, before, whole, told.saved)]).toEqual([n, name, []]);
      count(tally, found, before, whole, told);
      await tool.run(page, name);
      expect(await tool.look(page)).toEqual(whole);
    }
    tally.say();
    expect(tally.lost).toBe(0);
  } finally {
    await browser.end();
  }
});
