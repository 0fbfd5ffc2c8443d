import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, type BrowserContext, chromium, type Page } from '@playwright/test';
import { CHROMIUM_FLAGS, findChromium } from '../tools/chromium.ts';

/** Chance from a seed, so that a kill that found a fault can be made again: mulberry32, public domain. */
export function chances(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Kills a page: closes its target without asking it, or makes its process crash. Prepared beforehand, so that it comes at its moment. */
export async function killer(page: Page, way: 'close' | 'crash'): Promise<() => Promise<void>> {
  if (way === 'close') return () => page.close({ runBeforeUnload: false });
  const session = await page.context().newCDPSession(page);
  return async () => {
    const crashed = page.waitForEvent('crash');
    // It is not answered: who should?
    session.send('Page.crash').catch(() => undefined);
    await crashed;
    await page.close();
  };
}

/** What the page of the acts has said of itself. */
export interface Told {
  saved: string[];
  begun: Promise<void>;
  /** Whether the act came to its end. */
  done: boolean;
}

/** Listens to what the page of the acts says. */
export function listen(page: Page): Told {
  let begin = () => {};
  const begun = new Promise<void>((resolve) => {
    begin = resolve;
  });
  const told: Told = { saved: [], begun, done: false };
  page.on('console', (message) => {
    if (!message.text().startsWith('{"kill"')) return;
    const { kill, ids } = JSON.parse(message.text()) as { kill: string; ids: string[] };
    if (kill === 'begun') begin();
    if (kill === 'done') told.done = true;
    told.saved.push(...ids);
  });
  return told;
}

export const wait = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/**
 * Moments at which to kill, by chance and learning: an act of a few
 * milliseconds is met by drawing them nearer to its beginning whenever a kill
 * came too late, and further from it when one came too early.
 */
export class Aim {
  private reach: number;

  /** @param ms how long the act took undisturbed. A kill needs a while to get there, so the first is aimed early. */
  constructor(
    private readonly chance: () => number,
    ms: number,
  ) {
    this.reach = ms / 2;
  }

  next(): number {
    return this.chance() * this.reach;
  }

  came(when: 'early' | 'within' | 'late'): void {
    this.reach *= when === 'late' ? 0.75 : when === 'early' ? 1.5 : 1;
  }
}

/** What the runs of one act came to. */
export class Tally {
  kills = 0;
  /** Kills of an act that had begun and had not said that it was done. */
  running = 0;
  /** Kills after which the stores held neither what they held before nor all that the act writes. */
  halfway = 0;
  expected = 0;
  lost = 0;

  constructor(readonly act: string) {}

  say(): void {
    const { act, kills, running, halfway, expected, lost } = this;
    console.log(`kills of ${act}: ${kills}, while it ran ${running}, halfway ${halfway}, records expected ${expected}, lost ${lost}`);
  }
}

/** A browser of its own with a profile on disk, whose whole process can be killed as a phone's system kills an app. */
export class OwnBrowser {
  private readonly profile = mkdtempSync(join(tmpdir(), 'tendbook-kill-'));
  private process: ChildProcess | undefined;
  private browser: Browser | undefined;

  async start(): Promise<BrowserContext> {
    const path = process.env.CHROMIUM ?? findChromium() ?? '';
    const args = [...CHROMIUM_FLAGS, '--headless=new', '--remote-debugging-port=0', `--user-data-dir=${this.profile}`, 'about:blank'];
    const child = spawn(path, args, { stdio: ['ignore', 'ignore', 'pipe'] });
    this.process = child;
    const address = await new Promise<string>((resolve, reject) => {
      let heard = '';
      child.stderr?.on('data', (chunk: Buffer) => {
        heard += chunk.toString();
        const found = /DevTools listening on (ws:\S+)/.exec(heard)?.[1];
        if (found) resolve(found);
      });
      child.once('exit', () => reject(new Error(`the browser did not start: ${heard.slice(-500)}`)));
    });
    this.browser = await chromium.connectOverCDP(address);
    return this.browser.contexts()[0] as BrowserContext;
  }

  async kill(): Promise<void> {
    const gone = new Promise((resolve) => this.process?.once('exit', resolve));
    if (this.process?.exitCode === null && this.process.signalCode === null) {
      this.process.kill('SIGKILL');
      await gone;
    }
    await this.browser?.close().catch(() => undefined);
  }

  async end(): Promise<void> {
    await this.kill();
    // Its helpers write for a moment longer.
    rmSync(this.profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 });
  }
}
