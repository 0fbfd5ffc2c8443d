import type { Entry } from '../log/timeline.ts';
import type { Plan } from '../plan/plan.ts';
import { DAY_MS } from '../schedule/day.ts';
import { looksOf } from '../schedule/looks.ts';
import { pastChanges } from '../schedule/past-changes.ts';

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
  const { changes } = pastChanges(plan, entries, now, zone, { older, since: now - RATE_DAYS * DAY_MS });
  const looks = looksOf(entries);
  return plan.wounds.map(({ id }) => {
    const first = looks.find((l) => l.wound === id && l.dressed)?.at ?? now;
    const days = Math.max(RATE_DAYS_LEAST, Math.min(RATE_DAYS, (now - first) / DAY_MS));
    const early = changes.filter((c) => c.wound === id && c.timing === 'early').length;
    return { wound: id, early, days, perDay: early / days };
  });
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

/** The number of early changes to expect in so many days, with the ends of the range. */
export function extraRange(rate: ExtraRate, ahead: number): { fewest: number; expected: number; most: number } {
  return {
    fewest: extraQuantile(rate, ahead, (1 - RANGE_SHARE) / 2),
    expected: rate.perDay * ahead,
    most: extraQuantile(rate, ahead, (1 + RANGE_SHARE) / 2),
  };
}
