import type { GlucoseUnit, TemperatureUnit } from '../care/check/answers.ts';
import { DAY_MS, dayNumber, daysBetween, type LocalDay } from '../care/schedule/day.ts';
import { spoken, TEST_LANGUAGES } from './i18n.ts';

/** The language tag that Intl is asked with; the test languages write numbers and dates as English does. */
export const tag = (): string => ((TEST_LANGUAGES as readonly string[]).includes(spoken()) ? 'en' : spoken());

export const noonOf = (day: LocalDay): number => dayNumber(day) * DAY_MS + DAY_MS / 2;

/** A day as `Tuesday, March 4` (`long`) or `Mar 4, 2031` (`short`). */
export function formatDay(day: LocalDay, style: 'long' | 'short' = 'long'): string {
  const options: Intl.DateTimeFormatOptions =
    style === 'long' ? { weekday: 'long', month: 'long', day: 'numeric' } : { year: 'numeric', month: 'short', day: 'numeric' };
  return new Intl.DateTimeFormat(tag(), { ...options, timeZone: 'UTC' }).format(noonOf(day));
}

export const formatMonth = (month: string): string =>
  new Intl.DateTimeFormat(tag(), { year: 'numeric', month: 'long', timeZone: 'UTC' }).format(noonOf(`${month}-15` as LocalDay));

export const formatWeekday = (index: number): string =>
  // 5 January 1970 was a Monday.
  new Intl.DateTimeFormat(tag(), { weekday: 'long', timeZone: 'UTC' }).format((4 + index) * DAY_MS + DAY_MS / 2);

export const formatWeekdayShort = (index: number): string =>
  new Intl.DateTimeFormat(tag(), { weekday: 'short', timeZone: 'UTC' }).format((4 + index) * DAY_MS + DAY_MS / 2);

/** `today`, `tomorrow`, a weekday within the week, else the date. */
export function formatNearDay(day: LocalDay, today: LocalDay): string {
  const ahead = daysBetween(today, day);
  if (Math.abs(ahead) <= 1) return new Intl.RelativeTimeFormat(tag(), { numeric: 'auto' }).format(ahead, 'day');
  return ahead > 1 && ahead < 7 ? formatWeekday((dayNumber(day) + 3) % 7) : formatDay(day);
}

/** A time of day in a zone, as the language writes it. */
export const formatTime = (at: number | string, zone: string): string =>
  new Intl.DateTimeFormat(tag(), { hour: 'numeric', minute: '2-digit', timeZone: zone }).format(new Date(at));

/** `HH:MM` of a plan as the language writes it. */
export const formatClock = (time: string): string =>
  time === '24:00' ? formatTime(0, 'UTC') : formatTime(`1970-01-01T${time}:00Z`, 'UTC');

export const formatNumber = (value: number, digits = 1): string =>
  new Intl.NumberFormat(tag(), { maximumFractionDigits: digits }).format(value);

const UNIT_SIGNS: Record<TemperatureUnit | GlucoseUnit, string> = { Cel: '°C', '[degF]': '°F', 'mg/dL': 'mg/dL', 'mmol/L': 'mmol/L' };
export const unitSign = (unit: TemperatureUnit | GlucoseUnit): string => UNIT_SIGNS[unit];

/** A reading in the unit the person used. */
export const formatReading = (value: number, unit: TemperatureUnit | GlucoseUnit): string => `${formatNumber(value, 1)} ${unitSign(unit)}`;

const MM_PER_INCH = 25.4;

/** A length in the person's unit. */
export function formatLength(mm: number, unit: 'cm' | 'in'): string {
  return unit === 'cm' ? `${formatNumber(mm / 10)} cm` : `${formatNumber(mm / MM_PER_INCH)} in`;
}

/** A length in mm from one in the person's unit. */
export const lengthToMm = (value: number, unit: 'cm' | 'in'): number => (unit === 'cm' ? value * 10 : value * MM_PER_INCH);

/** Several names as a list: `a, b and c`. */
export const formatList = (items: readonly string[]): string =>
  new Intl.ListFormat(tag(), { style: 'long', type: 'conjunction' }).format(items);

/** The name of a region in the person's language. */
export function regionName(region: string): string {
  return new Intl.DisplayNames([tag()], { type: 'region', fallback: 'code' }).of(region) ?? region;
}

/**
 * A number as typed, with a comma or a point.
 * @returns undefined when it is not a number.
 */
export function parseNumber(text: string): number | undefined {
  // Arabic and Persian digits are typed on such keyboards; they are the same numbers.
  const latin = text.replace(/[٠-٩]/g, (d) => String(d.charCodeAt(0) - 0x0660)).replace(/[۰-۹]/g, (d) => String(d.charCodeAt(0) - 0x06f0));
  const plain = latin.trim().replace(/[,٫]/, '.');
  return /^\d{1,4}(\.\d{1,2})?$/.test(plain) ? Number(plain) : undefined;
}
