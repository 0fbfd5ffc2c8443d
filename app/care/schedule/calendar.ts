import type { Entry } from '../log/timeline.ts';
import type { Plan } from '../plan/plan.ts';
import { COMING_DAYS, comingChanges, visitOf } from './coming-changes.ts';
import { addDays, DAY_MS, daysBetween, type LocalDay, localDay } from './day.ts';
import { type EarlyReason, type PastChange, pastChanges } from './past-changes.ts';

/** One thing on one day of the calendar. `change` is the id of the record. */
export type CalendarMark =
  | { kind: 'done'; wound: string; change: string; joined: boolean }
  | { kind: 'early'; wound: string; change: string; why: EarlyReason }
  | { kind: 'late'; wound: string; change: string; daysLate: number }
  | { kind: 'missed'; wound: string }
  /** `since`: the day it had been due, where that has passed. */
  | { kind: 'due'; wound: string; minutes: number; anyTime: boolean; since?: LocalDay }
  /** `time` on the clock of the clinic's `zone`. */
  | { kind: 'visit'; time: string; zone: string }
  | { kind: 'review' };

export interface CalendarDay {
  day: LocalDay;
  when: 'past' | 'today' | 'coming';
  marks: CalendarMark[];
}

export interface Calendar {
  days: CalendarDay[];
  /** Changes dated after now by a wrong clock: on no day, but not hidden either. */
  ahead: PastChange[];
}

export interface CalendarOptions {
  /** Days before today. Default 28. */
  past?: number;
  /** Days from today on, today included. Default 28. */
  coming?: number;
  /** Plans in force before. */
  older?: readonly Plan[];
}

/**
 * The past and the coming weeks, a day at a time: what was done and how it
 * stood to the schedule, what was missed, what is due, visits and the review.
 * A past change stands on the day the person had where they were.
 * @param now ms. @param zone the person's IANA time zone now.
 */
export function calendarDays(plan: Plan, entries: readonly Entry[], now: number, zone: string, options: CalendarOptions = {}): Calendar {
  const past = options.past ?? COMING_DAYS;
  const coming = options.coming ?? COMING_DAYS;
  const today = localDay(now, zone);
  // Two days more, because a day begins up to 26 hours earlier in another zone.
  const since = now - (past + 2) * DAY_MS;
  const { changes, missed } = pastChanges(plan, entries, now, zone, { since, ...(options.older && { older: options.older }) });
  const days: CalendarDay[] = Array.from({ length: past + coming }, (_, i) => ({
    day: addDays(today, i - past),
    when: i < past ? 'past' : i === past ? 'today' : 'coming',
    marks: [],
  }));
  const put = (day: LocalDay, mark: CalendarMark): void => {
    days[daysBetween(today, day) + past]?.marks.push(mark);
  };
  for (const change of changes) {
    if (change.timing !== 'ahead') put(change.day, doneMark(change));
  }
  for (const { day, wound } of missed) put(day, { kind: 'missed', wound });
  for (const sitting of comingChanges(plan, entries, now, zone, { days: coming }).sittings) {
    for (const { wound, due, state } of sitting.wounds) {
      const late = state === 'overdue' ? { since: due.day } : {};
      put(sitting.day, { kind: 'due', wound, minutes: sitting.minutes, anyTime: sitting.anyTime, ...late });
    }
  }
  const visit = visitOf(plan, zone);
  if (visit) put(visit.day, { kind: 'visit', time: visit.time, zone: visit.zone });
  if (plan.reviewBy !== undefined) put(plan.reviewBy, { kind: 'review' });
  return { days, ahead: changes.filter((c) => c.timing === 'ahead') };
}

function doneMark({ id, wound, timing, why, daysLate, joined }: PastChange): CalendarMark {
  if (timing === 'early') return { kind: 'early', wound, change: id, why: why ?? 'other' };
  if (timing === 'late') return { kind: 'late', wound, change: id, daysLate: daysLate ?? 0 };
  return { kind: 'done', wound, change: id, joined: joined === true };
}
