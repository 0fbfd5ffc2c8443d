import type { Entry } from '../log/timeline.ts';
import type { Plan } from '../plan/plan.ts';
import { DAY_MS } from '../schedule/day.ts';
import { type PastChange, pastChanges } from '../schedule/past-changes.ts';

/** How far back early changes are counted, and the least number of days they are spread over, so that one in the first hours does not look like ten a week. Our judgement. */
export const RATE_DAYS = 28;
export const RATE_DAYS_LEAST = 7;
/** The stated range is to hold what really happens nine times in ten. */
export const RANGE_SHARE = 0.9;

/** How often one wound's dressing was changed early of late. */
export interface ExtraRate {
  wound: string;
  /** Early changes counted, and the days they are spread over. */
  early: number;
  days: number;
  /** early / days. */
  perDay: number;
}

/** Early changes of each wound of the plan in the last 28 days, or since its first change where that is less. */
export function extraRates(plan: Plan, entries: readonly Entry[], now: number, zone: string, older: readonly Plan[] = []): ExtraRate[] {
  const { changes } = pastChanges(plan, entries, now, zone, { older });
  return plan.wounds.map(({ id }) =>
    rateOf(
      id,
      changes.filter((c) => c.wound === id && c.timing !== 'ahead'),
      now,
    ),
  );
}

function rateOf(wound: string, changes: readonly PastChange[], now: number): ExtraRate {
  const known = changes[0] ? (now - changes[0].at) / DAY_MS : 0;
  const days = Math.max(RATE_DAYS_LEAST, Math.min(RATE_DAYS, known));
  const early = changes.filter((c) => c.timing === 'early' && c.at > now - RATE_DAYS * DAY_MS).length;
  return { wound, early, days, perDay: early / days };
}

/**
 * The number of early changes in the coming days that is not passed with
 * probability `share`: the least k with P(N ≤ k) ≥ share.
 *
 * Early changes are taken to come at random at a steady rate (Poisson). The
 * rate is not known but estimated from `early` in `days`, with Jeffreys' prior,
 * so it is Gamma(early + ½, days); the number in the coming `ahead` days is
 * then Gamma–Poisson, that is negative binomial:
 * P(0) = p^r, P(k+1) = P(k) (r+k)/(k+1) (1−p), r = early + ½, p = days/(days+ahead).
 * Source: Gelman and others, Bayesian Data Analysis, section on the Poisson
 * model (from memory). The usual exact limits for the rate itself (Garwood 1936,
 * from memory) leave out the chance of the coming days, so they would be too
 * narrow here.
 */
export function extraQuantile(rate: Pick<ExtraRate, 'early' | 'days'>, ahead: number, share: number): number {
  const r = rate.early + 0.5;
  const p = rate.days / (rate.days + ahead);
  let chance = p ** r;
  let sum = chance;
  let k = 0;
  while (sum < share && chance > 1e-15) {
    chance *= ((r + k) / (k + 1)) * (1 - p);
    k += 1;
    sum += chance;
  }
  return k;
}

/** How the coming early changes may go: as seldom as the range allows, as of late, as often as it allows. */
export const COURSES = ['fewest', 'expected', 'most'] as const;
export type Course = (typeof COURSES)[number];

/** The number of early changes in so many days, on each course. */
export function extraRange(rate: ExtraRate, ahead: number): Record<Course, number> {
  return {
    fewest: extraQuantile(rate, ahead, (1 - RANGE_SHARE) / 2),
    expected: rate.perDay * ahead,
    most: extraQuantile(rate, ahead, (1 + RANGE_SHARE) / 2),
  };
}

/**
 * Instants (ms) of the early changes on a course, so that at the end of every
 * day their number is the one `extraRange` gives for it. The expected ones are
 * spread evenly.
 */
export function extraTimes(rate: ExtraRate, course: Course, now: number, days: number): number[] {
  if (course === 'expected') {
    const count = Math.floor(rate.perDay * days + 0.5);
    return Array.from({ length: count }, (_, j) => now + ((j + 0.5) / rate.perDay) * DAY_MS);
  }
  const times: number[] = [];
  for (let day = 1; day <= days; day += 1) {
    const more = extraRange(rate, day)[course] - times.length;
    for (let j = 1; j <= more; j += 1) times.push(now + (day - 1 + j / (more + 1)) * DAY_MS);
  }
  return times;
}
