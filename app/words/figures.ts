import { type GlucoseUnit, MGDL_PER_MMOL, type TemperatureUnit } from '../care/check/answers.ts';
import { daysBetween, type LocalDay } from '../care/schedule/day.ts';
import { formatReading, inARow, languageTag, noonOf } from './format.ts';
import { t } from './i18n.ts';

/** A day of a period whose year is known, such as `Mar 4`. */
export const formatShortDay = (day: LocalDay): string =>
  new Intl.DateTimeFormat(languageTag(), { month: 'short', day: 'numeric', timeZone: 'UTC' }).format(noonOf(day));

/** Days that follow each other as one span: first and last. */
function spansOf(days: readonly LocalDay[]): [LocalDay, LocalDay][] {
  const spans: [LocalDay, LocalDay][] = [];
  for (const day of days) {
    const last = spans.at(-1);
    if (last && daysBetween(last[1], day) === 1) last[1] = day;
    else spans.push([day, day]);
  }
  return spans;
}

/** A span of days with the month said once, such as `Mar 4 – 6`. */
export const formatSpan = (from: LocalDay, to: LocalDay): string =>
  new Intl.DateTimeFormat(languageTag(), { month: 'short', day: 'numeric', timeZone: 'UTC' }).formatRange(noonOf(from), noonOf(to));

/** Days in order, those that follow each other as a span. Past `most` spans only the number of the days left over is said. */
export function formatDays(days: readonly LocalDay[], most = 8): string {
  const spans = spansOf(days);
  const shown = spans.slice(0, most).map(([from, to]) => (from === to ? formatShortDay(from) : formatSpan(from, to)));
  const left = spans.slice(most).reduce((sum, [from, to]) => sum + daysBetween(from, to) + 1, 0);
  return inARow([...shown, ...(left > 0 ? [t('visit:moreDays', { count: left })] : [])]);
}

/** A time in the largest unit that still says it well: minutes under two hours, hours under two days, else days. */
export function formatDuration(minutes: number): string {
  const [value, unit] = minutes < 120 ? [minutes, 'minute'] : minutes < 48 * 60 ? [minutes / 60, 'hour'] : [minutes / (24 * 60), 'day'];
  return new Intl.NumberFormat(languageTag(), { style: 'unit', unit, unitDisplay: 'long', maximumFractionDigits: 0 }).format(value);
}

/** A share as a whole percentage. */
export const formatShare = (share: number): string =>
  new Intl.NumberFormat(languageTag(), { style: 'percent', maximumFractionDigits: 0 }).format(share);

/** A temperature of a plan, in the person's unit. */
export const formatCelsius = (celsius: number, unit: TemperatureUnit): string =>
  formatReading(unit === 'Cel' ? celsius : (celsius * 9) / 5 + 32, unit);

/** A difference of temperatures in the person's unit: without the 32 of the scale [EV-TMP-14]. */
export const formatDifference = (celsius: number, unit: TemperatureUnit): string =>
  formatReading(unit === 'Cel' ? celsius : (celsius * 9) / 5, unit);

/** Glucose of a plan in the person's unit. */
export const formatGlucose = (mgdl: number, unit: GlucoseUnit): string =>
  formatReading(unit === 'mg/dL' ? Math.round(mgdl) : mgdl / MGDL_PER_MMOL, unit);
