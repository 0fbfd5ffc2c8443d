import { existsSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { type BrowserContext, chromium } from '@playwright/test';
import { CHROMIUM_FLAGS, ensureChromium, NO_CHROMIUM } from './chromium.ts';
import { DIST, serveFolder } from './static-server.ts';

interface Look {
  width: number;
  height: number;
  scheme?: 'light' | 'dark';
  /** A language of the app, or one of its test languages. */
  language?: string;
}

export interface Site {
  /** A phone of its own, for pictures. */
  phone: (look: Look) => Promise<BrowserContext>;
  close: () => Promise<void>;
}

const LOCALES: Record<string, string> = { en: 'en-US', es: 'es-MX', fr: 'fr-FR', ar: 'ar-EG', vi: 'vi-VN' };

/** The built site behind a server and in a browser of its own. Ends the process with a word where there is none. */
export async function openSite(): Promise<Site> {
  if (!existsSync(`${DIST}index.html`)) {
    console.error('There is no built site yet. Run "npm run build" first.');
    process.exit(1);
  }
  const executablePath = ensureChromium();
  if (!executablePath) {
    console.error(NO_CHROMIUM);
    process.exit(1);
  }
  const server = await serveFolder(0);
  const browser = await chromium.launch({ executablePath, args: CHROMIUM_FLAGS });
  return {
    phone: async ({ width, height, scheme = 'light', language = 'en' }) => {
      const context = await browser.newContext({
        baseURL: `http://localhost:${(server.address() as AddressInfo).port}/`,
        viewport: { width, height },
        colorScheme: scheme,
        locale: LOCALES[language] ?? language,
        timezoneId: 'America/Chicago',
        serviceWorkers: 'block',
      });
      // No browser knows the test languages.
      if (language.startsWith('qp'))
        await context.addInitScript((l) => Object.defineProperty(navigator, 'languages', { get: () => [l] }), language);
      return context;
    },
    close: async () => {
      await browser.close();
      server.close();
    },
  };
}
