import type { Clinic } from '../plan/plan.ts';
import { addDays, DAY_MS, instantOf, minutesOf, wallClock, weekdayOf } from '../schedule/day.ts';
import type { Outcome } from './levels.ts';

/** Whether anybody answers at the clinic now. */
export interface HourFacts {
  open: boolean;
  hasOutOfHours: boolean;
  /** Whether the clinic opens within 24 hours. */
  opensSoon: boolean;
}

/**
 * The level as it must be told at this hour: a call today that nobody can take
 * today (closed, no out-of-hours phone, not opening within 24 hours) is a call now.
 */
export function levelForTheHour(level: Outcome, hour: HourFacts): Outcome {
  return level === 'callToday' && !hour.open && !hour.hasOutOfHours && !hour.opensSoon ? 'callNow' : level;
}

/** Where a call goes. `department`: no phone answers, go to an emergency department. */
export type Call =
  | { to: 'clinic'; phone: string }
  | { to: 'outOfHours'; phone: string }
  | { to: 'clinicWhenOpen'; phone: string; opensAt: number }
  | { to: 'department' }
  | { to: 'emergency'; phone: string }
  | { to: 'nobody' };

/**
 * Whether the clinic is open at an instant (ms), and when it next opens within
 * 24 hours. Opening hours are wall-clock times in the clinic's own zone.
 */
export function clinicHours(
  clinic: Pick<Clinic, 'hours' | 'zone' | 'closedDays'>,
  at: number,
): { open: boolean; opensAt: number | undefined } {
  const now = wallClock(at, clinic.zone);
  // Across a 23-hour day the day after next begins within 24 hours.
  const spans = [0, 1, 2]
    .map((ahead) => addDays(now.day, ahead))
    .filter((day) => !(clinic.closedDays ?? []).includes(day))
    .flatMap((day) =>
      clinic.hours
        .filter((h) => h.day === weekdayOf(day))
        .map((h) => ({ from: instantOf(day, minutesOf(h.opens), clinic.zone), to: instantOf(day, minutesOf(h.closes), clinic.zone) })),
    );
  const open = spans.some((s) => at >= s.from && at < s.to);
  const next = spans.map((s) => s.from).filter((from) => from > at && from - at <= DAY_MS);
  return { open, opensAt: next.length > 0 ? Math.min(...next) : undefined };
}

/**
 * Whom to call for a level at this hour, and the level as it must be told.
 * @param clinic the plan's clinic.
 * @param emergencyNumber the plan's number, else the region's.
 * @param at the clock, ms.
 */
export function whoToCall(clinic: Clinic, emergencyNumber: string, level: Outcome, at: number): { told: Outcome; call: Call } {
  const { open, opensAt } = clinicHours(clinic, at);
  const out = clinic.outOfHoursPhone;
  const told = levelForTheHour(level, { open, hasOutOfHours: out !== undefined, opensSoon: opensAt !== undefined });
  if (told === 'emergency') return { told, call: { to: 'emergency', phone: emergencyNumber } };
  if (told === 'carryOn' || told === 'mention' || told === 'unfinished') return { told, call: { to: 'nobody' } };
  if (open) return { told, call: { to: 'clinic', phone: clinic.phone } };
  if (out !== undefined) return { told, call: { to: 'outOfHours', phone: out } };
  if (told === 'callToday' && opensAt !== undefined) return { told, call: { to: 'clinicWhenOpen', phone: clinic.phone, opensAt } };
  return { told, call: { to: 'department' } };
}
