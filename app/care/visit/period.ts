import { type Entry, standing } from '../log/timeline.ts';
import type { Plan } from '../plan/plan.ts';
import { addDays, daysBetween, type LocalDay, localDay } from '../schedule/day.ts';

/** The days a summary speaks of, both ends included. */
export interface Period {
  from: LocalDay;
  to: LocalDay;
  /** Calendar days, both ends included. */
  days: number;
  /** What the first day goes by: the last visit, the acceptance of the plan, the beginning of the log, or a choice. */
  since: 'visit' | 'plan' | 'log' | 'chosen';
  /** The last visit before the last day, if one is written down. */
  lastVisit: LocalDay | undefined;
  /** The first day that was asked for, where the log begins only later. */
  asked: LocalDay | undefined;
  /** The last day is today, and so is not over. */
  endsToday: boolean;
}

export interface PeriodInput {
  plan: Plan;
  entries: readonly Entry[];
  from?: LocalDay | undefined;
  to?: LocalDay | undefined;
  now: number;
  zone: string;
  monthsNotLoaded?: readonly string[] | undefined;
}

/** The last visit before a day. One on the day itself is the visit the summary is for. */
export function lastVisitBefore(entries: readonly Entry[], day: LocalDay) {
  return standing(entries, 'visit').findLast((e) => e.first.day < day)?.first;
}

/** The first day of the log, with the months that are not loaded. */
function beginning(entries: readonly Entry[], months: readonly string[]): LocalDay | undefined {
  const days = entries.filter((e) => !e.voided).map((e) => e.first.day);
  return [...days, ...months.map((m) => `${m}-01` as LocalDay)].sort()[0];
}

/**
 * The period of a summary. Without a choice it begins on the day of the last
 * visit, for what was written later that day was in no summary yet; without a
 * visit on the day the plan in force was first accepted. It never begins before
 * the log does: those days were not missed. It never ends after today.
 */
export function periodOf({ plan, entries, from, to, now, zone, monthsNotLoaded = [] }: PeriodInput): Period {
  const today = localDay(now, zone);
  const last = to !== undefined && to < today ? to : today;
  const visit = lastVisitBefore(entries, last)?.day;
  const accepted = standing(entries, 'planAccepted').find((e) => {
    const own = e.first.accepted;
    return own.id === plan.id && own.revision === plan.revision;
  })?.first.day;
  const began = beginning(entries, monthsNotLoaded);
  const wanted = from ?? visit ?? accepted ?? began ?? last;
  const since = from !== undefined ? 'chosen' : visit !== undefined ? 'visit' : accepted !== undefined ? 'plan' : 'log';
  const first = [began !== undefined && began > wanted ? began : wanted, last].sort()[0] as LocalDay;
  return {
    from: first,
    to: last,
    days: daysBetween(first, last) + 1,
    since,
    lastVisit: visit,
    asked: first > wanted ? wanted : undefined,
    endsToday: last === today,
  };
}

/** Every day of a period in order. */
export const daysOf = ({ from, days }: Pick<Period, 'from' | 'days'>): LocalDay[] =>
  Array.from({ length: days }, (_, i) => addDays(from, i));
