import { HOUR_MS, type LocalDay, localDay } from '../schedule/day.ts';

/** A check that runs over midnight is still one sitting; after this long it is not. Common practice. */
const SITTING_MS = 4 * HOUR_MS;

/**
 * Whether a check under way was begun on an earlier day and left: its answers
 * say how things were then and must not pass for today's.
 * @param startedAt UTC instant. @param now ms.
 */
export function isStale(startedAt: string, now: number, today: LocalDay, zone: string): boolean {
  const at = Date.parse(startedAt);
  return now - at > SITTING_MS && localDay(at, zone) < today;
}
