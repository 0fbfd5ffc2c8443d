import type { AlertRecord, LoggedRule, OutcomeCode } from '../log/records.ts';
import { standing } from '../log/timeline.ts';
import type { LocalDay } from '../schedule/day.ts';
import { isAheadOf, isIn, type Scope } from './scope.ts';

const MINUTE_MS = 60_000;

/** What was done about an alert, once. */
export interface AlertAnswer {
  id: string;
  what: OutcomeCode;
  said: string | undefined;
  day: LocalDay;
  at: string;
  zone: string;
  /** Whole minutes from the alert; undefined where two clocks disagree so that it would lie before it. */
  minutesAfter: number | undefined;
}

export interface AlertLine {
  id: string;
  day: LocalDay;
  at: string;
  zone: string;
  /** The level as it was told at that hour. */
  told: AlertRecord['told'];
  fired: LoggedRule[];
  /** In the order they were written. */
  answers: AlertAnswer[];
  /** Whole minutes until somebody was reached; undefined while nobody was, or where clocks disagree. */
  answeredAfter: number | undefined;
  /** Nobody has been reached yet. */
  open: boolean;
  /** Raised before the period and still open. */
  carriedOver: boolean;
}

/**
 * The alerts of the period in time order, each with what was done about it,
 * whenever that was written. One from before that nobody has answered stands
 * with them, and so does one that a wrong clock dated ahead: no alert is hidden.
 */
export function alertsPart(scope: Scope, now: number): AlertLine[] {
  const outcomes = standing(scope.all, 'outcome');
  return standing(scope.all, 'alert').flatMap((entry): AlertLine[] => {
    // An alert is told as it was raised: nothing may correct it to a milder one.
    const alert = entry.first;
    const answers = outcomes
      .filter((o) => o.now.alerts.includes(alert.id))
      .map((o): AlertAnswer => {
        const { id, day, at, zone } = o.first;
        return { id, what: o.now.what, said: o.now.said, day, at, zone, minutesAfter: minutesBetween(alert.at, at) };
      });
    const closing = answers.find((a) => a.what !== 'couldNotReach');
    const before = alert.day < scope.period.from;
    const carriedOver = before && closing === undefined;
    const ahead = scope.period.endsToday && isAheadOf(entry, now);
    if (!isIn(scope.period, alert.day) && !carriedOver && !ahead) return [];
    const { id, day, at, zone, told, fired } = alert;
    return [{ id, day, at, zone, told, fired, answers, answeredAfter: closing?.minutesAfter, open: closing === undefined, carriedOver }];
  });
}

function minutesBetween(from: string, to: string): number | undefined {
  const minutes = Math.floor((Date.parse(to) - Date.parse(from)) / MINUTE_MS);
  return minutes < 0 ? undefined : minutes;
}
