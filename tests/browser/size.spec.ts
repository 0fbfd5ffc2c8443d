import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { DIST } from '../tools/static-server.ts';
import { expect, openDemo, test } from './app.ts';

/** Budgets for the patient's first screen, gzip -9, one language. */
const SCRIPT_MOST = 60_000;
const WHOLE_MOST = 95_000;

test.use({ serviceWorkers: 'block' });

test('the first screen stays within its budget', async ({ page, context }) => {
  await openDemo(page);
  const fresh = await context.newPage();
  // The moment the first screen stands; what is asked for after it holds up nothing.
  await fresh.addInitScript(() => {
    new MutationObserver((_, observer) => {
      if (!document.querySelector('.dues')) return;
      observer.disconnect();
      document.documentElement.dataset.stands = String(performance.now());
    }).observe(document, { childList: true, subtree: true });
  });
  await fresh.goto('./');
  await expect(fresh.locator('.dues')).toBeVisible();
  const asked = await fresh.evaluate(() => {
    const stands = Number(document.documentElement.dataset.stands);
    return performance
      .getEntriesByType('resource')
      .filter((entry) => entry.startTime <= stands)
      .map((entry) => new URL(entry.name).pathname);
  });
  asked.push('/');
  const files = [...new Set(asked)].map((path) => ({
    path,
    size: gzipSync(readFileSync(join(DIST, path === '/' ? 'index.html' : path)), { level: 9 }).length,
  }));
  const sum = (pattern: RegExp) => files.filter((f) => pattern.test(f.path)).reduce((total, f) => total + f.size, 0);
  const script = sum(/\.js$/);
  const whole = sum(/./);
  console.log(`first screen: ${script} bytes of script, ${whole} bytes in all (gzip)`);
  expect(script).toBeGreaterThan(10_000);
  expect(script).toBeLessThanOrEqual(SCRIPT_MOST);
  expect(whole).toBeLessThanOrEqual(WHOLE_MOST);
});
