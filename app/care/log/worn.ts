import { HOUR_MS, type LocalDay } from '../schedule/day.ts';
import { type Entry, standing } from './timeline.ts';

/** One dressing, from the change that put it on to the change that took it off. */
export interface Worn {
  /** The change that took it off. */
  change: string;
  /** ms since 1970, UTC. */
  on: number;
  off: number;
  /** Day and zone in which it was taken off. */
  offDay: LocalDay;
  offZone: string;
  /** Whole hours, at least one. */
  hours: number;
}

/**
 * The dressings that were taken off a wound, the newest first. Changes that
 * were broken off, or dated after now by a wrong clock, put nothing on.
 * @param now ms. @param mostHours longer ones are left out: something in between was not written down.
 */
export function wornDressings(entries: readonly Entry[], woundId: string, now: number, mostHours: number): Worn[] {
  const changes = standing(entries, 'change')
    .filter((e) => e.now.wound === woundId && !e.now.stopped)
    .map((e) => e.first)
    .filter((c) => Date.parse(c.at) <= now);
  return changes
    .flatMap((c, i): Worn[] => {
      const before = changes[i - 1];
      if (!before) return [];
      const [on, off] = [Date.parse(before.at), Date.parse(c.at)];
      return [{ change: c.id, on, off, offDay: c.day, offZone: c.zone, hours: Math.max(1, Math.round((off - on) / HOUR_MS)) }];
    })
    .filter((w) => w.hours <= mostHours)
    .reverse();
}
