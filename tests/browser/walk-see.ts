import type { Page } from '@playwright/test';
import { visit } from './app.ts';

/**
 * A walk through every screen of the patient's app, in any language: what is
 * pressed is found by its place and its code, never by its words. Each leg
 * begins with a book open and may be walked alone; `see` is called wherever
 * there is something new to see.
 */
export type See = (name: string) => Promise<void>;
export type Leg = (page: Page, see: See) => Promise<void>;

/** Waits until what comes later on a page is there too. */
export const LATER_MS = 800;

export const foot = (page: Page, nth: number) => page.locator('footer.foot .button').nth(nth);
/** Goes to a place and looks at it. */
export async function look(page: Page, see: See, place: string, name = place): Promise<void> {
  await visit(page, place);
  await see(name);
}
export async function lookAt(page: Page, see: See, places: readonly string[]): Promise<void> {
  for (const place of places) await look(page, see, place);
}
export async function seeToday(page: Page, see: See, name: string): Promise<void> {
  await visit(page, 'today');
  await page.waitForTimeout(LATER_MS);
  await see(name);
}
