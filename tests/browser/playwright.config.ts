import { defineConfig } from '@playwright/test';
import { CHROMIUM_FLAGS, findChromium } from '../tools/chromium.ts';

const PORT = Number(process.env.PORT ?? 4179);

export default defineConfig({
  testDir: '.',
  testMatch: '*.spec.ts',
  outputDir: '../../test-results',
  snapshotPathTemplate: '{testDir}/transcripts/{arg}{ext}',
  fullyParallel: true,
  workers: 2,
  timeout: 60_000,
  forbidOnly: true,
  // A machine with two busy cores can be late by chance once; a fault is there twice. The runner names what needed a second try.
  retries: 1,
  reporter: 'list',
  use: {
    baseURL: `http://localhost:${PORT}/`,
    browserName: 'chromium',
    launchOptions: { executablePath: process.env.CHROMIUM ?? findChromium() ?? '', args: CHROMIUM_FLAGS },
    viewport: { width: 390, height: 844 },
    locale: 'en-US',
    timezoneId: 'America/Chicago',
    actionTimeout: 10_000,
    trace: 'off',
  },
  webServer: {
    command: `npx tsx tests/tools/serve.ts ${PORT}`,
    cwd: '../..',
    url: `http://localhost:${PORT}/`,
    reuseExistingServer: false,
  },
});
