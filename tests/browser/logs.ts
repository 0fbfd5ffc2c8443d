import { expect, type Page } from '@playwright/test';
import type { LogRecord } from '../../app/care/log/records.ts';
import type { Plan } from '../../app/care/plan/plan.ts';
import { main, visit } from './app.ts';

/** Takes in a plan as its file's text would be pasted. */
export async function takePlan(page: Page, plan: Plan): Promise<void> {
  await visit(page, 'open');
  await page.locator('textarea').fill(JSON.stringify({ tendbook: 'plan', plan }));
  await main(page).click();
  await expect(page.locator('.place[data-place="confirm"]')).toBeVisible();
  await main(page).click();
  await expect(page).toHaveURL(/#\/today$/);
  await expect(page.locator('.dues')).toBeVisible();
}

/** Lays records into a book's pages as if they had been written day by day, and opens the app anew. */
export async function putRecords(page: Page, book: string, records: readonly LogRecord[]): Promise<void> {
  await page.evaluate(
    ({ book: id, records: all }) =>
      new Promise<void>((resolve, reject) => {
        const request = indexedDB.open('tendbook-log');
        request.onerror = () => reject(request.error);
        request.onsuccess = () => {
          const transaction = request.result.transaction('log', 'readwrite');
          const store = transaction.objectStore('log');
          for (const month of new Set(all.map((r) => r.day.slice(0, 7)))) {
            const key = `${id}/${month}`;
            const got = store.get(key);
            got.onsuccess = () => store.put([...((got.result as unknown[]) ?? []), ...all.filter((r) => r.day.startsWith(month))], key);
          }
          transaction.oncomplete = () => {
            request.result.close();
            resolve();
          };
          transaction.onerror = () => reject(transaction.error);
        };
      }),
    { book, records: records.map((r): { day: string } => r) },
  );
  await page.reload();
}

/** Lays the bytes of a photo into the photo store. */
export async function putPhoto(page: Page, id: string, colour: string): Promise<void> {
  await page.evaluate(
    async ({ id: key, colour: fill }) => {
      const canvas = new OffscreenCanvas(1200, 900);
      const context = canvas.getContext('2d');
      if (!context) throw new Error('no canvas');
      context.fillStyle = fill;
      context.fillRect(0, 0, 1200, 900);
      context.fillStyle = '#933';
      context.beginPath();
      context.ellipse(600, 450, 220, 160, 0, 0, 7);
      context.fill();
      const bytes = await canvas.convertToBlob({ type: 'image/jpeg' });
      await new Promise<void>((resolve, reject) => {
        const request = indexedDB.open('tendbook-photos');
        // The app makes the store when it first looks for a photo.
        request.onupgradeneeded = () => request.result.createObjectStore('photos');
        request.onerror = () => reject(request.error);
        request.onsuccess = () => {
          const transaction = request.result.transaction('photos', 'readwrite');
          transaction.objectStore('photos').put(bytes, key);
          transaction.oncomplete = () => {
            request.result.close();
            resolve();
          };
        };
      });
    },
    { id, colour },
  );
}
