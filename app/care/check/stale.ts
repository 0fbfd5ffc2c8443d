import { HOUR_MS, type LocalDay, localDay } from '../schedule/day.ts';

/** What runs over midnight is still one sitting; after this long it is not. Common practice. */
const SITTING_MS = 4 * HOUR_MS;

/**
 * Whether a check or change under way was begun on an earlier day and left: its
 * answers say how things were then and must not pass for today's.
 * @param startedAt UTC instant. @param now ms. @param leftAt UTC instant at which it was last gone on with, where that is known.
 */
export function isStale(startedAt: string, now: number, today: LocalDay, zone: string, leftAt: string = startedAt): boolean {
  return now - Date.parse(leftAt) > SITTING_MS && localDay(Date.parse(startedAt), zone) < today;
}
