import { DAY_MS, dayNumber, wallClock } from '../care/schedule/day.ts';

const MINUTE_MS = 60_000;
/** The furthest a zone is from UTC, in minutes; what seems further is a reading of a calendar before ours. */
const FURTHEST = 14 * 60;

const two = (n: number): string => String(n).padStart(2, '0');

/**
 * An instant as the wall clock of a zone shows it, with the offset from UTC:
 * `2031-03-04T09:00:00.000-06:00` (ISO 8601, FHIR dateTime and instant).
 * @param at an instant in UTC, as a record has it.
 */
export function zonedTime(at: string, zone: string): string {
  const ms = Date.parse(at);
  const { day, minutes } = wallClock(ms, zone);
  const offset = dayNumber(day) * (DAY_MS / MINUTE_MS) + minutes - Math.floor(ms / MINUTE_MS);
  if (Math.abs(offset) > FURTHEST) return new Date(ms).toISOString();
  const wall = new Date(ms + offset * MINUTE_MS).toISOString().slice(0, -1);
  const [hours, rest] = [Math.floor(Math.abs(offset) / 60), Math.abs(offset) % 60];
  return `${wall}${offset < 0 ? '-' : '+'}${two(hours)}:${two(rest)}`;
}
