import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type BrowserContext, chromium, type Page } from '@playwright/test';
import type { LogRecord } from '../../app/care/log/records.ts';
import { openDemo } from '../browser/app.ts';
import { CHROMIUM_FLAGS, ensureChromium, NO_CHROMIUM } from '../tools/chromium.ts';
import { serveFolder } from '../tools/static-server.ts';

/** How much slower the processor of a phone is than this one: the factor of Lighthouse's mobile settings. */
export const SLOWER = 4;

/** A folder served on this machine. */
export interface Site {
  address: string;
  close(): void;
}

/** Serves the built site, or another folder without the site's headers. */
export async function serve(folder?: string): Promise<Site> {
  const server = await (folder === undefined ? serveFolder(0) : serveFolder(0, folder, () => ({})));
  return {
    address: `http://localhost:${(server.address() as AddressInfo).port}/`,
    close: () => {
      server.closeAllConnections();
      server.close();
    },
  };
}

/** A Chromium of its own, with a new profile, in the shape of a phone. */
export interface Phone {
  context: BrowserContext;
  /** On which other programs can steer it. */
  port: number;
  close(): Promise<void>;
}

/** @throws with what to do, when there is no Chromium. */
export async function takePhone(address: string): Promise<Phone> {
  const executablePath = ensureChromium();
  if (!executablePath) throw new Error(NO_CHROMIUM);
  const profile = mkdtempSync(join(tmpdir(), 'tendbook-bench-'));
  const context = await chromium.launchPersistentContext(profile, {
    executablePath,
    args: [...CHROMIUM_FLAGS, '--remote-debugging-port=0'],
    baseURL: address,
    viewport: { width: 390, height: 844 },
    locale: 'en-US',
    timezoneId: 'America/Chicago',
  });
  // Functions of this program that run in the page call this helper of its compiler.
  await context.addInitScript('globalThis.__name = (f) => f');
  return {
    context,
    port: Number(readFileSync(join(profile, 'DevToolsActivePort'), 'utf8').split('\n')[0]),
    close: async () => {
      await context.close();
      rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
    },
  };
}

/** Opens the site and waits until its service worker has taken everything in and rules the page. */
export async function install(page: Page): Promise<void> {
  await page.goto('./');
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.reload();
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
}

/** A page with the demo plan accepted, and the app installed. */
export async function demoPage(phone: Phone): Promise<Page> {
  const page = phone.context.pages()[0] ?? (await phone.context.newPage());
  await install(page);
  await openDemo(page);
  return page;
}

/** Lets the processor of a page be as slow as a phone's. */
export async function slowDown(page: Page): Promise<void> {
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
}

/** Puts records into the open book's log, as the app itself would have stored them. */
export async function putRecords(page: Page, book: string, records: readonly LogRecord[]): Promise<void> {
  const months = new Map<string, LogRecord[]>();
  for (const record of records) {
    const key = `${book}/${record.day.slice(0, 7)}`;
    months.set(key, [...(months.get(key) ?? []), record]);
  }
  await page.evaluate(
    async (pages) => {
      const opening = indexedDB.open('tendbook-log');
      const db = await new Promise<IDBDatabase>((resolve, reject) => {
        opening.onsuccess = () => resolve(opening.result);
        opening.onerror = () => reject(opening.error);
      });
      const writing = db.transaction('log', 'readwrite');
      for (const [key, value] of pages) writing.objectStore('log').put(value, key);
      await new Promise<void>((resolve, reject) => {
        writing.oncomplete = () => resolve();
        writing.onerror = () => reject(writing.error);
      });
      db.close();
    },
    [...months],
  );
}
