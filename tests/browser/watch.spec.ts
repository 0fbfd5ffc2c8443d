import { expect, test, title } from './app.ts';

/** The watch over every journey must itself be able to fail. */

test.describe('a journey that asks anything of another origin', () => {
  test.use({ expected: /./ });
  const ask = () => fetch('https://clinic.example/').catch(() => undefined);

  test.fail('fails', async ({ page }) => {
    await page.route('**/blank', (route) => route.fulfill({ contentType: 'text/html', body: '<!doctype html><title>blank</title>' }));
    await page.goto('./blank');
    await page.evaluate(ask);
  });

  test.fail('fails, from a phone of the test’s own too', async ({ browser, baseURL }) => {
    const context = await browser.newContext({ baseURL: baseURL as string });
    const page = await context.newPage();
    await page.route('**/blank', (route) => route.fulfill({ contentType: 'text/html', body: '<!doctype html><title>blank</title>' }));
    await page.goto('./blank');
    await page.evaluate(ask);
    await context.close();
  });

  test('cannot: the app’s own policy lets no request out', async ({ page }) => {
    await page.goto('./');
    await expect(title(page)).toBeVisible();
    await expect(page.evaluate(() => fetch('https://clinic.example/').then(() => 'asked'))).rejects.toThrow();
  });
});
