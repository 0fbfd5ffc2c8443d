import { readFileSync } from 'node:fs';
import type { Download, Page } from '@playwright/test';
import { parse } from 'csv-parse/sync';
import { unzipSync } from 'fflate';
import type { Bundle, FhirResource } from 'fhir/r4';
import { doChange, doCheck, expect, main, openDemo, TUESDAY_MORNING, test, title, visit } from './app.ts';
import { say } from './say.ts';

/** From the log to the file in one of its forms, without photos. */
async function handOver(page: Page, way: string): Promise<Download> {
  await visit(page, 'log');
  await page.getByRole('link', { name: say('log:handOver') }).click();
  await page.getByRole('button', { name: say(`handOver:way.${way}.name`) }).click();
  await expect(title(page)).toHaveText(say('handOver:back'));
  await main(page).click();
  await expect(title(page)).toHaveText(say('handOver:ready'));
  await expect(main(page)).toBeEnabled();
  const [download] = await Promise.all([page.waitForEvent('download'), main(page).click()]);
  await expect(page.getByRole('status')).toContainText(download.suggestedFilename());
  return download;
}

/** One day: a check with more pain, the call it asks for, a change, a note that looks like a formula. */
async function aDay(page: Page): Promise<void> {
  await openDemo(page, TUESDAY_MORNING);
  await doCheck(page);
  await doChange(page);
  await visit(page, 'note');
  await page.getByLabel(say('log:noteField')).fill('=cmd|"/c calc"!A1\nMay I shower? 🦶');
  await main(page).click();
  await expect(page).toHaveURL(/#\/log$/);
}

test('a day goes into a file for the clinic’s system and comes out as it was', async ({ page }) => {
  await aDay(page);
  const download = await handOver(page, 'system');
  expect(download.suggestedFilename()).toBe('tendbook-log-record-2031-03-04.json');
  const bundle = JSON.parse(readFileSync(await download.path(), 'utf8')) as Bundle;
  const resources = (bundle.entry ?? []).map((e) => e.resource as FhirResource);
  const ofType = <T extends FhirResource['resourceType']>(type: T) =>
    resources.filter((r) => r.resourceType === type) as Extract<FhirResource, { resourceType: T }>[];
  expect([bundle.type, bundle.timestamp]).toEqual(['collection', '2031-03-04T16:00:00.000Z']);
  expect(ofType('QuestionnaireResponse')).toHaveLength(2);
  expect(ofType('Procedure').map((p) => [p.status, p.outcome?.text])).toEqual([
    ['completed', expect.stringContaining(say('handOver:file.path.recipe'))],
  ]);
  const temperature = ofType('Observation').find((o) => o.code.coding?.[0]?.code === '8310-5');
  expect([temperature?.valueQuantity?.value, temperature?.valueQuantity?.code, temperature?.effectiveDateTime]).toEqual([
    36.8,
    'Cel',
    '2031-03-04T10:00:00.000-06:00',
  ]);
  const drainage = ofType('Observation').find((o) => o.code.coding?.[0]?.code === '39116-9');
  expect(drainage?.valueCodeableConcept?.text).toBe(say('check:drainageAmount.said.light'));
  expect(ofType('Communication').map((c) => c.payload?.[0]?.contentString)).toContain('=cmd|"/c calc"!A1\nMay I shower? 🦶');
  expect(ofType('Media')).toEqual([]);
  // The sample is marked as invented, so that nobody takes it for a person's.
  expect(bundle.meta?.security?.[0]?.code).toBe('HTEST');
});

test('the same day goes into tables that a reader of CSV opens, and no cell of them is a formula', async ({ page }) => {
  await aDay(page);
  const download = await handOver(page, 'tables');
  expect(download.suggestedFilename()).toBe('tendbook-log-tables-nela-2031-03-04.zip');
  const files = unzipSync(readFileSync(await download.path()));
  const table = (name: string): Record<string, string>[] => parse(new TextDecoder().decode(files[name]), { bom: true, columns: true });
  expect(table('checks.csv').map((r) => [r.day, r.temperature_c, r.pain, r.dressing])).toEqual([
    ['2031-03-04', '36.8', 'usual', 'dryInPlace'],
  ]);
  expect(table('changes.csv').map((r) => [r.band, r.drainage_amount, r.stopped])).toEqual([['light', 'light', 'no']]);
  expect(table('notes.csv').map((r) => r.text)).toEqual(['\'=cmd|"/c calc"!A1\nMay I shower? 🦶']);
  expect(table('stock.csv').every((r) => r.movement === 'used' && Number(r.pieces) > 0)).toBe(true);
});

test('it works without a network', async ({ page, context }) => {
  await aDay(page);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.waitForTimeout(1000);
  await context.setOffline(true);
  await page.reload();
  const download = await handOver(page, 'system');
  expect(readFileSync(await download.path(), 'utf8')).toContain('"resourceType":"Bundle"');
});
