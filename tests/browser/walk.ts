import type { Page } from '@playwright/test';
import { doChange, doCheck, openDemo, TUESDAY_MORNING } from './app.ts';
import { walkAlerts, walkChange, walkCheck, walkEmpty, walkSettings, walkStart, walkSupplies } from './walk-care.ts';
import { walkKeeping, walkLock } from './walk-keep.ts';
import { liveThreeWeeks, walkCourse, walkLog, walkPhotos, walkVisit } from './walk-log.ts';
import type { Leg, See } from './walk-see.ts';

/** Every leg in an order in which each finds what it needs. */
export async function walkAll(page: Page, see: See): Promise<void> {
  await walkStart(page, see);
  for (const leg of [walkEmpty, walkSettings, walkSupplies, walkCheck, walkChange, walkPhotos]) await leg(page, see);
  await liveThreeWeeks(page);
  for (const leg of [walkLog, walkCourse, walkVisit, walkKeeping, walkAlerts, walkLock]) await leg(page, see);
}

/** A book open, for a leg that is walked alone. */
export async function readyFor(page: Page, leg: Leg): Promise<void> {
  if (leg === walkStart) return;
  await openDemo(page, TUESDAY_MORNING);
  if (leg === walkChange) await doCheck(page);
  if (leg === walkLog || leg === walkVisit) {
    await doCheck(page);
    await doChange(page);
  }
  if (leg === walkLog || leg === walkCourse || leg === walkVisit) await liveThreeWeeks(page);
}
