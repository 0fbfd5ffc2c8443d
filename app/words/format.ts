import type { GlucoseUnit, TemperatureUnit } from '../care/check/answers.ts';
import { DAY_MS, dayNumber, daysBetween, type LocalDay } from '../care/schedule/day.ts';
import { leftToRight, withoutMarks } from './bidi.ts';
import { directionOf, spoken, TEST_LANGUAGES } from './i18n.ts';

/**
 * The language tag that Intl is asked with; the test languages write numbers
 * and dates as English does. Browsers differ in the digits of plain Arabic: the
 * ones on thermometers, meters and packets are asked for by name.
 */
export function languageTag(language: string = spoken()): string {
  if ((TEST_LANGUAGES as readonly string[]).includes(language)) return 'en';
  return language === 'ar' ? 'ar-u-nu-latn' : language;
}

export const noonOf = (day: LocalDay): number => dayNumber(day) * DAY_MS + DAY_MS / 2;

/** A day as `Tuesday, March 4` (`long`) or `Mar 4, 2031` (`short`). */
export function formatDay(day: LocalDay, style: 'long' | 'short' = 'long'): string {
  const options: Intl.DateTimeFormatOptions =
    style === 'long' ? { weekday: 'long', month: 'long', day: 'numeric' } : { year: 'numeric', month: 'short', day: 'numeric' };
  return new Intl.DateTimeFormat(languageTag(), { ...options, timeZone: 'UTC' }).format(noonOf(day));
}

/** A day on a time axis, as short as it can be: `Mar 4`, or `Mar 2031` for a month. */
export const formatDayTick = (day: LocalDay, style: 'day' | 'month'): string =>
  new Intl.DateTimeFormat(languageTag(), {
    month: 'short',
    ...(style === 'day' ? { day: 'numeric' } : { year: 'numeric' }),
    timeZone: 'UTC',
  }).format(noonOf(day));

export const formatMonth = (month: string): string =>
  new Intl.DateTimeFormat(languageTag(), { year: 'numeric', month: 'long', timeZone: 'UTC' }).format(noonOf(`${month}-15` as LocalDay));

export const formatWeekday = (index: number): string =>
  // 5 January 1970 was a Monday.
  new Intl.DateTimeFormat(languageTag(), { weekday: 'long', timeZone: 'UTC' }).format((4 + index) * DAY_MS + DAY_MS / 2);

/** A weekday for the head of a calendar. Vietnamese calendars write `T2`, which only the narrow form has; in other languages that form is one letter. */
export const formatWeekdayShort = (index: number): string =>
  new Intl.DateTimeFormat(languageTag(), { weekday: spoken() === 'vi' ? 'narrow' : 'short', timeZone: 'UTC' }).format(
    (4 + index) * DAY_MS + DAY_MS / 2,
  );

/** A weekday for the head of a narrow column: its short name, or where that is long, as in Arabic, its letter. */
export function formatWeekdayHead(index: number): string {
  const short = formatWeekdayShort(index);
  if (short.length <= 4) return short;
  return new Intl.DateTimeFormat(languageTag(), { weekday: 'narrow', timeZone: 'UTC' }).format((4 + index) * DAY_MS + DAY_MS / 2);
}

/** `today`, `tomorrow`, a weekday within the week, else the date. */
export function formatNearDay(day: LocalDay, today: LocalDay): string {
  const ahead = daysBetween(today, day);
  if (Math.abs(ahead) <= 1) return new Intl.RelativeTimeFormat(languageTag(), { numeric: 'auto' }).format(ahead, 'day');
  return ahead > 1 && ahead < 7 ? formatWeekday((dayNumber(day) + 3) % 7) : formatDay(day);
}

/** A time of day in a zone, as the language writes it. */
export const formatTime = (at: number | string, zone: string): string =>
  new Intl.DateTimeFormat(languageTag(), { hour: 'numeric', minute: '2-digit', timeZone: zone }).format(new Date(at));

/** `HH:MM` of a plan as the language writes it. */
export const formatClock = (time: string): string =>
  time === '24:00' ? formatTime(0, 'UTC') : formatTime(`1970-01-01T${time}:00Z`, 'UTC');

export const formatNumber = (value: number, digits = 1, language: string = spoken()): string =>
  new Intl.NumberFormat(languageTag(language), { maximumFractionDigits: digits }).format(value);

/** A share of 0 to 1 as `34%`. */
export const formatPercent = (share: number): string => new Intl.NumberFormat(languageTag(), { style: 'percent' }).format(share);

/** The size of a file as `340 kB` or `1.2 MB`. */
export function formatBytes(bytes: number): string {
  const isLarge = bytes >= 1_000_000;
  const unit = { style: 'unit', unit: isLarge ? 'megabyte' : 'kilobyte', maximumFractionDigits: isLarge ? 1 : 0 } as const;
  return new Intl.NumberFormat(languageTag(), unit).format(bytes / (isLarge ? 1_000_000 : 1_000));
}

const UNIT_SIGNS: Record<TemperatureUnit | GlucoseUnit, string> = { Cel: '°C', '[degF]': '°F', 'mg/dL': 'mg/dL', 'mmol/L': 'mmol/L' };
/** What a device shows stands as there in every language: the degree before its letter, the number before its unit. */
const asOnDevice = (shown: string): string => (directionOf(spoken()) === 'rtl' ? leftToRight(shown) : shown);

export const unitSign = (unit: TemperatureUnit | GlucoseUnit): string => asOnDevice(UNIT_SIGNS[unit]);

/** A reading in the unit the person used. */
export const formatReading = (value: number, unit: TemperatureUnit | GlucoseUnit): string =>
  asOnDevice(`${formatNumber(value, 1)} ${UNIT_SIGNS[unit]}`);

const MM_PER_INCH = 25.4;

type LengthUnit = 'cm' | 'in';
/** Signs of units of length where they are not the Latin ones. */
const LENGTH_SIGNS: Readonly<Record<string, Record<LengthUnit, string>>> = { ar: { cm: 'سم', in: 'بوصة' } };
export const lengthSign = (unit: LengthUnit, language: string = spoken()): string => LENGTH_SIGNS[language]?.[unit] ?? unit;

/** A length in the person's unit. @param language another language than the one in use. */
export const formatLength = (mm: number, unit: LengthUnit, language: string = spoken()): string =>
  `${formatNumber(unit === 'cm' ? mm / 10 : mm / MM_PER_INCH, 1, language)} ${lengthSign(unit, language)}`;

/** A length in mm from one in the person's unit. */
export const lengthToMm = (value: number, unit: LengthUnit): number => (unit === 'cm' ? value * 10 : value * MM_PER_INCH);

const MM2_PER_SQUARE = { cm: 100, in: MM_PER_INCH ** 2 } as const;
/** An area in mm² in squares of the person's unit. */
export const areaIn = (mm2: number, unit: 'cm' | 'in'): number => mm2 / MM2_PER_SQUARE[unit];
export const areaSign = (unit: 'cm' | 'in'): string => `${lengthSign(unit)}²`;

/** An area in the person's unit. The smaller it is, the more decimal places it has, or it would round to nothing. */
export function formatArea(mm2: number, unit: 'cm' | 'in'): string {
  const value = areaIn(mm2, unit);
  return `${formatNumber(value, value < 0.1 ? 3 : value < 1 ? 2 : 1)} ${areaSign(unit)}`;
}

/** The sign of the gram where it is not the Latin one. */
const GRAM_SIGNS: Readonly<Record<string, string>> = { ar: 'غرام' };
export const weightSign = (): string => GRAM_SIGNS[spoken()] ?? 'g';
/** A weight in grams. */
export const formatWeight = (grams: number): string => `${formatNumber(grams, 2)} ${weightSign()}`;

/** Several names as a list: `a, b and c`. */
export const formatList = (items: readonly string[]): string =>
  new Intl.ListFormat(languageTag(), { style: 'long', type: 'conjunction' }).format(items);

/** Texts in a row. Arabic has a comma and a semicolon of its own. */
export function inARow(texts: readonly string[], mark: ',' | ';' = ','): string {
  const own = spoken() === 'ar' ? { ',': '،', ';': '؛' }[mark] : mark;
  return texts.join(`${own} `);
}

/** The name of a language in the language that is spoken now. */
export const languageName = (language: string): string =>
  new Intl.DisplayNames([languageTag()], { type: 'language' }).of(language) ?? language;

/** The name of a region in the person's language. */
export function regionName(region: string): string {
  return new Intl.DisplayNames([languageTag()], { type: 'region', fallback: 'code' }).of(region) ?? region;
}

/** Arabic and Persian digits are typed on such keyboards; they are the same numbers. Marks of direction may come with them. */
export const latinDigits = (text: string): string =>
  withoutMarks(text)
    .replace(/[٠-٩]/g, (d) => String(d.charCodeAt(0) - 0x0660))
    .replace(/[۰-۹]/g, (d) => String(d.charCodeAt(0) - 0x06f0));

/**
 * A number as typed, with a point, a comma, or the decimal sign or comma of Arabic.
 * @returns undefined when it is not a number.
 */
export function parseNumber(text: string): number | undefined {
  const plain = latinDigits(text).trim().replace(/[,٫،]/, '.');
  return /^\d{1,4}(\.\d{1,2})?$/.test(plain) ? Number(plain) : undefined;
}
