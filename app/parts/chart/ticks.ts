import { addDays, dayNumber, daysBetween, type LocalDay } from '../../care/schedule/day.ts';

/** The width of a text in px. Names of things drawn are bold. */
export type WidthOf = (text: string, sizePx: number, isBold?: boolean) => number;

/**
 * About the width of a text, for a sans-serif face, where it cannot be
 * measured: wide rather than narrow, so that what is reckoned to fit does fit.
 * Scripts whose characters fill a square count more.
 */
export const guessWidth: WidthOf = (text, sizePx) => {
  let ems = 0;
  for (const c of text) ems += (c.codePointAt(0) ?? 0) >= 0x2e80 ? 1 : /[mwMW@%]/.test(c) ? 0.95 : 0.62;
  return ems * sizePx;
};

/** The smallest of 1, 2 and 5 times a power of ten that is at least this, for a positive number. */
export function niceStep(atLeast: number): number {
  const power = 10 ** Math.floor(Math.log10(atLeast));
  const times = [1, 2, 5, 10].find((n) => n * power >= atLeast * (1 - 1e-9)) ?? 10;
  return Number((times * power).toPrecision(12));
}

/**
 * Evenly spaced round numbers that reach from `low` to `high` or a little
 * past, at most `most` of them (at least three, for an axis may have to pass
 * through zero).
 */
export function niceTicks(low: number, high: number, most: number): number[] {
  const wanted = Math.max(3, Math.floor(most));
  // One value alone still needs an axis around it.
  const [from, to] = high > low ? [low, high] : [low - Math.max(Math.abs(low) / 10, 0.5), low + Math.max(Math.abs(low) / 10, 0.5)];
  for (let step = niceStep((to - from) / (wanted - 1)); ; step = niceStep(step * 1.5)) {
    const first = Math.floor(from / step + 1e-9);
    const last = Math.ceil(to / step - 1e-9);
    if (last - first + 1 > wanted) continue;
    // Whole multiples, so that 0.1 + 0.2 never shows as 0.30000000000000004.
    return Array.from({ length: last - first + 1 }, (_, i) => Number(((first + i) * step).toPrecision(12)));
  }
}

/** How a day on the axis is written: day and month, or month and year. */
export type DayStyle = 'day' | 'month';

export interface DayTick {
  day: LocalDay;
  text: string;
  /** Middle of the text, px from the beginning of the axis. */
  x: number;
}

const DAY_STEPS = [1, 2, 7, 14, 28];
const MONTH_STEPS = [1, 2, 3, 6, 12, 24, 60, 120, 240, 600];
const GAP_EM = 0.9;
/** Beyond this a day without its year could be meant twice. */
const DAYS_WITHOUT_YEAR = 200;

/** Days before `to`, every so many, oldest first; the last day itself among them, for it is the one looked for. */
const everyDays = (from: LocalDay, to: LocalDay, step: number): LocalDay[] =>
  Array.from({ length: Math.floor(daysBetween(from, to) / step) + 1 }, (_, i) => addDays(to, -i * step)).reverse();

/** First days of months, every so many months. */
function everyMonths(from: LocalDay, to: LocalDay, step: number): LocalDay[] {
  const monthNumber = (day: LocalDay): number => Number(day.slice(0, 4)) * 12 + Number(day.slice(5, 7)) - 1;
  const start = monthNumber(from) + (from.endsWith('-01') ? 0 : 1);
  const first = Math.ceil(start / step) * step;
  const days: LocalDay[] = [];
  for (let month = first; month <= monthNumber(to); month += step) {
    days.push(`${String(Math.floor(month / 12)).padStart(4, '0')}-${String((month % 12) + 1).padStart(2, '0')}-01` as LocalDay);
  }
  return days;
}

/**
 * The days to write under a time axis: as many as fit without touching, at
 * steps that a calendar has.
 * @param widthPx of the axis, from the beginning of `from` to the end of `to`.
 * @param roomPx beside the axis, at its beginning and end, into which a text may reach.
 * @param say writes a day.
 */
export function dayTicks(
  from: LocalDay,
  to: LocalDay,
  widthPx: number,
  sizePx: number,
  roomPx: readonly [number, number],
  say: (day: LocalDay, style: DayStyle) => string,
  widthOf: WidthOf,
): DayTick[] {
  const days = daysBetween(from, to) + 1;
  const place = (day: LocalDay, style: DayStyle): DayTick & { half: number } => {
    const text = say(day, style);
    const half = widthOf(text, sizePx) / 2;
    const middle = ((dayNumber(day) - dayNumber(from) + 0.5) / days) * widthPx;
    const least = half - roomPx[0];
    const most = widthPx + roomPx[1] - half;
    return { day, text, half, x: Math.max(least, Math.min(most, middle)) };
  };
  const fits = (ticks: readonly (DayTick & { half: number })[]): boolean =>
    ticks.every((t, i) => {
      const before = ticks[i - 1];
      return !before || t.x - t.half - (before.x + before.half) >= GAP_EM * sizePx;
    });
  const tries = [
    // Far more texts than could ever fit need not be tried.
    ...DAY_STEPS.filter((step) => days <= DAYS_WITHOUT_YEAR && (days / step) * sizePx <= 2 * widthPx).map(
      (step) => () => everyDays(from, to, step).map((d) => place(d, 'day')),
    ),
    ...MONTH_STEPS.map((step) => () => everyMonths(from, to, step).map((d) => place(d, 'month'))),
  ];
  for (const make of tries) {
    const ticks = make();
    if (ticks.length > 0 && fits(ticks)) return ticks.map(({ day, text, x }) => ({ day, text, x }));
  }
  const last = place(to, days <= DAYS_WITHOUT_YEAR ? 'day' : 'month');
  return [{ day: last.day, text: last.text, x: last.x }];
}
