/**
 * A local calendar day such as `2031-03-04`. Days are never mixed with
 * instants: a day has no zone, an instant (`2031-03-04T08:00:00Z`) has no day
 * until a zone is named.
 */
export type LocalDay = string & { readonly __day: unique symbol };

/** Monday first, as ISO 8601 numbers them 1 to 7. */
export const WEEKDAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
export type Weekday = (typeof WEEKDAYS)[number];

export const HOUR_MS = 3_600_000;
export const DAY_MS = 24 * HOUR_MS;
/** Clocks of two phones differ a little; a record further ahead of now than this was made by a wrong clock, ms. */
export const AHEAD_MS = 10 * 60_000;

const DAY_SHAPE = /^(\d{4})-(\d{2})-(\d{2})$/;

/** Days since 1970-01-01, or undefined for what is no calendar day (2031-02-30 is not). */
function numberOf(text: string): number | undefined {
  const found = DAY_SHAPE.exec(text);
  if (!found) return undefined;
  const date = Number(found[3]);
  const ms = Date.UTC(Number(found[1]), Number(found[2]) - 1, date);
  const real = new Date(ms);
  // A year below 100 would be taken for one of the last century.
  return real.getUTCDate() === date && real.getUTCMonth() === Number(found[2]) - 1 && real.getUTCFullYear() === Number(found[1])
    ? ms / DAY_MS
    : undefined;
}

/** Whether the text is a real calendar day. */
export const isLocalDay = (text: string): text is LocalDay => numberOf(text) !== undefined;

/**
 * Days since 1970-01-01, so that days can be subtracted without a clock change
 * ever making one 23 or 25 hours long.
 * @throws RangeError when the text is no calendar day.
 */
export function dayNumber(day: LocalDay): number {
  const number = numberOf(day);
  if (number === undefined) throw new RangeError(`not a calendar day: ${day}`);
  return number;
}

/** The calendar day `count` days later (earlier when negative). */
export function addDays(day: LocalDay, count: number): LocalDay {
  return new Date((dayNumber(day) + count) * DAY_MS).toISOString().slice(0, 10) as LocalDay;
}

/** Whole calendar days from `from` to `to`; negative when `to` comes first. */
export function daysBetween(from: LocalDay, to: LocalDay): number {
  return dayNumber(to) - dayNumber(from);
}

/** The weekday of a calendar day. 1970-01-01 was a Thursday. */
export function weekdayOf(day: LocalDay): Weekday {
  return WEEKDAYS[(((dayNumber(day) + 3) % 7) + 7) % 7] as Weekday;
}

const formatters = new Map<string, Intl.DateTimeFormat>();
const FORMATTERS_KEPT = 32;

function formatter(zone: string): Intl.DateTimeFormat {
  let known = formatters.get(zone);
  if (!known) {
    known = new Intl.DateTimeFormat('en-CA-u-ca-gregory-nu-latn', {
      timeZone: zone,
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
      hour: '2-digit',
      minute: '2-digit',
      hourCycle: 'h23',
    });
    // Making one is slow (about 50 µs), so a few are kept; a hostile plan cannot grow the list.
    if (formatters.size >= FORMATTERS_KEPT) formatters.clear();
    formatters.set(zone, known);
  }
  return known;
}

/** Whether the runtime knows this IANA time zone. */
export function isTimeZone(zone: string): boolean {
  try {
    formatter(zone);
    return true;
  } catch {
    return false;
  }
}

/** What a wall clock in `zone` shows at an instant (ms since 1970, UTC). */
export function wallClock(at: number, zone: string): { day: LocalDay; minutes: number } {
  const part: Record<string, string> = {};
  for (const { type, value } of formatter(zone).formatToParts(at)) part[type] = value;
  return {
    day: `${part.year?.padStart(4, '0')}-${part.month}-${part.day}` as LocalDay,
    minutes: Number(part.hour) * 60 + Number(part.minute),
  };
}

/** Minutes past midnight of `HH:MM`, which has been checked. */
export const minutesOf = (time: string): number => Number(time.slice(0, 2)) * 60 + Number(time.slice(3, 5));

/** The local day in `zone` at an instant (ms). */
export function localDay(at: number, zone: string): LocalDay {
  return wallClock(at, zone).day;
}

/**
 * The instant (ms) at which a wall clock in `zone` shows `day` and `minutes`
 * past midnight. A time that a clock change skips gives the instant just after
 * the gap by the same distance; a time that occurs twice gives the first.
 */
export function instantOf(day: LocalDay, minutes: number, zone: string): number {
  const wanted = dayNumber(day) * DAY_MS + minutes * 60_000;
  const offsetAt = (at: number): number => {
    const seen = wallClock(at, zone);
    return dayNumber(seen.day) * DAY_MS + seen.minutes * 60_000 - Math.floor(at / 60_000) * 60_000;
  };
  // The offset a day before and a day after bracket any single clock change.
  const before = wanted - offsetAt(wanted - DAY_MS);
  const after = wanted - offsetAt(wanted + DAY_MS);
  const fits = [before, after].filter((at) => at + offsetAt(at) === wanted);
  return fits.length > 0 ? Math.min(...fits) : before;
}
