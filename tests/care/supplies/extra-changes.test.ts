import { describe, expect, it } from 'vitest';
import type { LogRecord } from '../../../app/care/log/records.ts';
import { DAY_MS, HOUR_MS, type LocalDay, localDay } from '../../../app/care/schedule/day.ts';
import { extraQuantile, extraRange, extraRates, RANGE_SHARE } from '../../../app/care/supplies/extra-changes.ts';
import { forecast } from '../../../app/care/supplies/forecast.ts';
import { changeAt, checkAt, entriesOf, every, planWith, seeded, stock } from './scenario.ts';

const ZONE = 'UTC';
const NOW = Date.parse('2031-06-01T09:00:00Z');
const rate = (early: number, days: number) => ({ wound: 'w1', early, days, perDay: early / days });

describe('how often this person changes early', () => {
  const plan = planWith([{ interval: every(48) }]);
  const log = (...daysAgo: number[]): LogRecord[] => daysAgo.map((d, i) => changeAt(`c${i}`, NOW - d * DAY_MS, ZONE));
  const rateOf = (...records: LogRecord[]) => extraRates(plan, entriesOf(...records), NOW, ZONE)[0];

  it('counts the early ones of the last 28 days', () => {
    expect(rateOf(...log(40, 38, 37, 35, 33, 32, 10, 8, 7, 5))).toMatchObject({ early: 1, days: 28 });
    expect(rateOf(...log(26, 24, 23, 21, 20, 18))).toMatchObject({ early: 2, days: 26 });
  });

  it('spreads what happened in the first days over a week at least', () => {
    expect(rateOf(...log(2, 1))).toEqual(rate(1, 7));
    expect(rateOf()).toEqual(rate(0, 7));
  });
});

describe('the chance of so many early changes', () => {
  /** P(N ≤ k) by plain integration of Poisson(λ·ahead) over Gamma(early + ½, days), independent of the recursion. */
  function integrated(early: number, days: number, ahead: number, k: number): number {
    // λ = u², so that the density is smooth at 0 although the prior is not.
    const weight = (u: number): number => u ** (2 * early) * Math.exp(-(u ** 2) * days);
    const poissonUpTo = (mean: number): number => {
      let term = Math.exp(-mean);
      let sum = term;
      for (let j = 1; j <= k; j += 1) {
        term *= mean / j;
        sum += term;
      }
      return sum;
    };
    const step = 0.0005;
    let above = 0;
    let whole = 0;
    for (let u = step / 2; u < 3; u += step) {
      above += weight(u) * poissonUpTo(u ** 2 * ahead);
      whole += weight(u);
    }
    return above / whole;
  }

  it.each([
    [0, 28, 30],
    [1, 28, 30],
    [4, 28, 30],
    [12, 28, 60],
    [0, 7, 14],
    [2, 9, 90],
  ])('%d in %d days, for the coming %d: the quantiles are those of the integral', (early, days, ahead) => {
    for (const share of [0.05, 0.5, 0.95]) {
      const k = extraQuantile({ early, days }, ahead, share);
      expect(integrated(early, days, ahead, k)).toBeGreaterThanOrEqual(share - 1e-6);
      if (k > 0) expect(integrated(early, days, ahead, k - 1)).toBeLessThan(share + 1e-6);
    }
  });

  it('no early change in four weeks does not promise none', () => {
    expect(extraRange(rate(0, 28), 30)).toMatchObject({ fewest: 0, expected: 0 });
    expect(extraRange(rate(0, 28), 30).most).toBeGreaterThan(0);
  });

  it('more seen, longer ahead: more expected; the expected lies in the range', () => {
    for (let early = 0; early < 15; early += 1) {
      for (const ahead of [1, 7, 30, 90]) {
        const { fewest, expected, most } = extraRange(rate(early, 28), ahead);
        expect(fewest).toBeLessThanOrEqual(expected);
        expect(most).toBeGreaterThanOrEqual(Math.floor(expected));
        expect(extraRange(rate(early + 1, 28), ahead).most).toBeGreaterThanOrEqual(most);
        expect(extraRange(rate(early, 28), ahead + 10).most).toBeGreaterThanOrEqual(most);
      }
    }
  });
});

/**
 * The claim: the true day lies between the earliest and the latest nine times
 * in ten (RANGE_SHARE = 0.9). The test: people whose dressings fail at random at
 * a steady rate, each failure changed at once, which starts the interval again.
 * Four weeks of their log go in, then their stock runs down. Tolerance: whole
 * changes and whole days make a range hold a little more than it claims, chance
 * in 150 people a little less: each rate between 0.84 and 1, all together
 * between 0.88 and 0.99.
 */
describe('the stated range holds the true day about as often as it claims', () => {
  const PEOPLE = 150;
  const STOCK = 18;

  function live(random: () => number, hazard: number, hours: number): { records: LogRecord[]; out: LocalDay } {
    const wait = (): number => (-Math.log(1 - random()) / hazard) * DAY_MS;
    let at = NOW - 28 * DAY_MS - random() * hours * HOUR_MS;
    const records: LogRecord[] = [changeAt('c0', at, ZONE)];
    for (let n = 1; ; n += 1) {
      const fails = wait();
      const next = at + Math.min(fails, hours * HOUR_MS);
      if (next > NOW) break;
      at = next;
      const check = fails < hours * HOUR_MS ? [checkAt(`k${n}`, at, ZONE, 'leaking')] : [];
      records.push(...check, changeAt(`c${n}`, at, ZONE, { check: `k${n}` }));
    }
    // From now on: the dressing is as old as it is, and fails at the same rate.
    for (let used = 0; used <= STOCK; used += 1) at = Math.min(at + hours * HOUR_MS, Math.max(at, NOW) + wait());
    return { records, out: localDay(at, ZONE) };
  }

  const shares: number[] = [];
  it.each([
    [0.03, 48],
    [0.1, 48],
    [0.25, 48],
    [0.1, 72],
    [0.2, 24],
    [0.5, 72],
  ])('failing %d times a day, changed every %d hours', (hazard, hours) => {
    const random = seeded(Math.round(hazard * 1000) + hours);
    const plan = planWith([{ interval: every(hours) }]);
    let held = 0;
    for (let i = 0; i < PEOPLE; i += 1) {
      const { records, out } = live(random, hazard, hours);
      const entries = entriesOf(...records, stock('counted', STOCK, { when: '2031-06-01T08:59' }));
      const { earliest, latest } = forecast(plan, entries, 'foam', NOW, ZONE).runsOut;
      if ((earliest === undefined || earliest <= out) && (latest === undefined || latest >= out)) held += 1;
    }
    shares.push(held / PEOPLE);
    expect(held / PEOPLE).toBeGreaterThanOrEqual(0.84);
  });

  it('all rates together', () => {
    const mean = shares.reduce((a, b) => a + b, 0) / shares.length;
    expect(shares).toHaveLength(6);
    expect(RANGE_SHARE).toBe(0.9);
    expect(mean).toBeGreaterThanOrEqual(0.88);
    expect(mean).toBeLessThanOrEqual(0.99);
  });
});
