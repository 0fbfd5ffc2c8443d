import type { Code } from '../check/questions.ts';
import { type Band, bandRank } from '../check/questions.ts';
import type { ChangeRecord } from '../log/records.ts';
import { type Entry, standing } from '../log/timeline.ts';
import { AHEAD_MS, type LocalDay } from './day.ts';

/** One time a wound was looked at under its dressing, as the schedule needs it. */
export interface Look {
  /** The id by which other records know the change. */
  id: string;
  wound: string;
  /** When it was entered, ms; the person's day and zone at that moment. */
  at: number;
  day: LocalDay;
  zone: string;
  plan: ChangeRecord['plan'];
  /** Dressed again afterwards. A change broken off before that is a look only. */
  dressed: boolean;
  found: Band | undefined;
  /** What the old dressing was like, as answered in the same sitting. */
  dressing: Code<'dressing'> | undefined;
}

/**
 * Every change that stands, in time order.
 *
 * The time is that of the first version: a correction says what was done, not when.
 */
export function looksOf(entries: readonly Entry[]): Look[] {
  const dressings = new Map<string, Readonly<Record<string, { dressing?: Code<'dressing'> }>>>();
  for (const check of standing(entries, 'check')) {
    for (const version of check.versions) dressings.set(version.id, check.now.wounds);
  }
  return standing(entries, 'change')
    .map(({ first, now }): Look => {
      const seen = now.check === undefined ? undefined : dressings.get(now.check);
      const answered = seen && Object.hasOwn(seen, now.wound) ? seen[now.wound]?.dressing : undefined;
      const amount = now.answers?.drainageAmount;
      return {
        id: first.id,
        wound: now.wound,
        at: Date.parse(first.at),
        day: first.day,
        zone: first.zone,
        plan: first.plan,
        dressed: now.stopped !== true,
        found: amount === undefined || bandRank(amount as Band) < 0 ? undefined : (amount as Band),
        dressing: now.answers?.dressing ?? answered,
      };
    })
    .sort((a, b) => a.at - b.at || (a.id < b.id ? -1 : 1));
}

/** Whether a record is dated after now: the phone's clock was wrong then, or is wrong now. */
export const isAhead = (look: Look, now: number): boolean => look.at > now + AHEAD_MS;

/**
 * The amount found last. One dated ahead counts only where there is no other:
 * its date would else hide every later look until that day comes.
 */
export function lastFoundOf(looks: readonly Look[], now: number): Band | undefined {
  const found = looks.filter((l) => l.found !== undefined);
  return (found.findLast((l) => !isAhead(l, now)) ?? found.at(-1))?.found;
}
