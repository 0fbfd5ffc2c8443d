import type { MeasureMethod } from '../log/records.ts';
import { dayNumber, daysBetween, type LocalDay } from '../schedule/day.ts';
import { type AreaSize, SEEN_LEAST_MM2, type WoundSize, withArea } from './sizes.ts';
import type { Spread } from './spread.ts';
import { tQuantile } from './student.ts';

/**
 * Fewer weekly areas than these say nothing dependable: what was foretold from
 * four differed from what came about, from five on it agreed [EV-HEA-18,
 * Cukjati 2001].
 */
export const LEAST_WEEKLY_VALUES = 5;
/** The stated ranges are to hold the truth nineteen times in twenty. */
export const RANGE_SHARE = 0.95;
/** How far beyond the last measurement the course is drawn: the next weekly measurement, no further. */
export const DAYS_AHEAD = 7;
/** Rates nearer to 0 than this, per week, are rounding. */
const HAIR = 1e-9;

/**
 * An exponential course a0·e^(−kt) [EV-HEA-04, EV-HEA-11] through weekly areas.
 *
 * It describes the weeks that were measured. It gives no closing date (an
 * exponential never reaches 0) and no odds, and is to be read by a clinician.
 */
export interface FittedCourse {
  kind: 'fitted';
  /** The areas it rests on, one for each week, oldest first. */
  values: readonly AreaSize[];
  /** No one way of measuring had enough weeks, so all were taken together: say so, with the methods. */
  mixed: boolean;
  /** In the order they first appear. */
  methods: readonly MeasureMethod[];
  /** Days of the first and the last of the values. */
  from: LocalDay;
  to: LocalDay;
  /** k per week; positive where the wound gets smaller. The range is the confidence interval of k. */
  ratePerWeek: Spread;
  /**
   * Weeks in which the area halved at this rate, ln 2/k. It says the same as k in
   * a unit one can picture, for the clinician's chart; it is no date, for it
   * starts anew with every day. Only where the whole range of k says that the
   * wound got smaller: elsewhere one end would be "never".
   */
  halvingWeeks: Spread | undefined;
  /** What the line through ln(area) needs to be drawn; weeks are counted from `from`. */
  line: CourseLine;
}

export interface CourseLine {
  /** ln of the fitted area (mm²) in the middle of the weeks, and that middle. */
  meanLn: number;
  meanWeek: number;
  /** Σ(week − mean)². */
  sumOfSquares: number;
  /** Standard deviation of ln(area) round the line, n − 2 degrees of freedom. */
  sd: number;
  /** Student's t of the range. */
  t: number;
}

export type Course =
  | FittedCourse
  /** So many weeks have a value; `LEAST_WEEKLY_VALUES` are needed. Nothing is foretold. */
  | { kind: 'tooFew'; weeks: number; needed: number }
  /** The last area is 0: there is no course to speak of. */
  | { kind: 'nothingLeft'; on: AreaSize };

/**
 * At most one area a week: the first of each seven days, counted from the first
 * of all. Five of them are at least four weeks apart from first to last.
 */
export function weeklyValues(sizes: readonly AreaSize[]): AreaSize[] {
  const byDay = [...sizes].sort((a, b) => dayNumber(a.day) - dayNumber(b.day));
  const weeks = new Map<number, AreaSize>();
  for (const size of byDay) {
    const week = Math.floor(daysBetween((byDay[0] as AreaSize).day, size.day) / 7);
    if (!weeks.has(week)) weeks.set(week, size);
  }
  return [...weeks.values()];
}

/** Sizes measured in one way, the way used last first. */
function byWay(sizes: readonly AreaSize[]): AreaSize[][] {
  const ways = new Map<string, AreaSize[]>();
  for (const size of sizes) {
    const key = `${size.method} ${size.way}`;
    const own = ways.get(key) ?? [];
    own.push(size);
    // Taken out and put in again, so that the way used last stands last.
    ways.delete(key);
    ways.set(key, own);
  }
  return [...ways.values()].reverse();
}

/**
 * The course of a wound's area.
 *
 * It is worked out within one way of measuring: the one used last among those
 * with enough weeks. Only where none has enough are all taken together, and the
 * course then says `mixed`. A wound that had closed and opened begins anew.
 * @param sizes oldest first.
 */
export function courseOf(sizes: readonly WoundSize[]): Course {
  const all = withArea(sizes);
  const closed = all.findLastIndex((s) => s.areaMm2 < SEEN_LEAST_MM2);
  const last = all.at(-1);
  if (last && closed === all.length - 1) return { kind: 'nothingLeft', on: last };
  const open = all.slice(closed + 1);
  const pure = byWay(open)
    .map(weeklyValues)
    .find((own) => own.length >= LEAST_WEEKLY_VALUES);
  const values = pure ?? weeklyValues(open);
  if (values.length < LEAST_WEEKLY_VALUES) return { kind: 'tooFew', weeks: values.length, needed: LEAST_WEEKLY_VALUES };
  return lineThrough(values, pure === undefined);
}

const sumOf = (numbers: readonly number[]): number => numbers.reduce((sum, n) => sum + n, 0);

/** Least squares on ln(area), which weighs equal shares alike, small wound or large. */
function lineThrough(values: readonly AreaSize[], mixed: boolean): FittedCourse {
  const [first, last] = [values[0], values.at(-1)] as [AreaSize, AreaSize];
  const n = values.length;
  const points = values.map((v) => ({ week: daysBetween(first.day, v.day) / 7, ln: Math.log(v.areaMm2) }));
  const meanWeek = sumOf(points.map((p) => p.week)) / n;
  const meanLn = sumOf(points.map((p) => p.ln)) / n;
  const sumOfSquares = sumOf(points.map((p) => (p.week - meanWeek) ** 2));
  const slope = sumOf(points.map((p) => (p.week - meanWeek) * (p.ln - meanLn))) / sumOfSquares;
  const residuals = sumOf(points.map((p) => (p.ln - meanLn - slope * (p.week - meanWeek)) ** 2));
  const sd = Math.sqrt(residuals / (n - 2));
  const t = tQuantile((1 + RANGE_SHARE) / 2, n - 2);
  const half = (t * sd) / Math.sqrt(sumOfSquares);
  const ratePerWeek = { value: -slope, low: -slope - half, high: -slope + half };
  const halving = (k: number): number => Math.LN2 / k;
  return {
    kind: 'fitted',
    values,
    mixed,
    methods: [...new Set(values.map((v) => v.method))],
    from: first.day,
    to: last.day,
    ratePerWeek,
    halvingWeeks:
      trendOf(ratePerWeek) === 'smaller'
        ? { value: halving(ratePerWeek.value), low: halving(ratePerWeek.high), high: halving(ratePerWeek.low) }
        : undefined,
    line: { meanLn, meanWeek, sumOfSquares, sd, t },
  };
}

/** What the whole range of a rate says; `notShown` where it holds both. */
export function trendOf(ratePerWeek: Spread): 'smaller' | 'larger' | 'notShown' {
  if (ratePerWeek.low > HAIR) return 'smaller';
  return ratePerWeek.high < -HAIR ? 'larger' : 'notShown';
}

/** The fitted area on a day, mm². */
export interface CoursePoint {
  areaMm2: number;
  /** Where the course itself may run (confidence interval). */
  course: readonly [low: number, high: number];
  /** Where one measurement of that day may lie (prediction interval). */
  single: readonly [low: number, high: number];
}

/**
 * The course on a day, from its first value to a week after its last; undefined
 * outside of that. Beyond, the range would still look like knowledge while the
 * model is a guess.
 */
export function courseAt(course: FittedCourse, day: LocalDay): CoursePoint | undefined {
  if (daysBetween(course.from, day) < 0 || daysBetween(course.to, day) > DAYS_AHEAD) return undefined;
  const { meanLn, meanWeek, sumOfSquares, sd, t } = course.line;
  const off = daysBetween(course.from, day) / 7 - meanWeek;
  const ln = meanLn - course.ratePerWeek.value * off;
  const share = 1 / course.values.length + off ** 2 / sumOfSquares;
  const within = (variance: number): [number, number] => {
    const half = t * sd * Math.sqrt(variance);
    return [Math.exp(ln - half), Math.exp(ln + half)];
  };
  return { areaMm2: Math.exp(ln), course: within(share), single: within(1 + share) };
}
