import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import type { LogRecord } from '../../../app/care/log/records.ts';
import type { Interval } from '../../../app/care/plan/plan.ts';
import { DAY_MS, type LocalDay, WEEKDAYS } from '../../../app/care/schedule/day.ts';
import { forecast, orderDay, type SupplyOptions } from '../../../app/care/supplies/forecast.ts';
import { demoPlan } from '../plan/plans.ts';
import { changeAt, checkAt, entriesOf, every, onDays, planWith, seeded, stock, type WoundSpec } from './scenario.ts';

const day = (text: string): LocalDay => text as LocalDay;
const ZONES = ['America/Chicago', 'Europe/Berlin', 'Australia/Lord_Howe', 'Pacific/Apia'] as const;

/**
 * The brute-force model: Temporal dates, one piece at a time out of a bag, one
 * day at a time. It shares no code with the unit.
 */
interface Bag {
  pieces: { expires: string }[];
}
interface Told {
  perDay: Record<string, number>;
  runsOut: string | undefined;
  lacking: number;
}

function datesOf(interval: Interval, last: Temporal.ZonedDateTime, end: Temporal.PlainDate): string[] {
  const dates: string[] = [];
  if (interval.kind === 'weekdays') {
    for (let d = last.toPlainDate().add({ days: 1 }); Temporal.PlainDate.compare(d, end) < 0; d = d.add({ days: 1 })) {
      if (interval.days.includes(WEEKDAYS[d.dayOfWeek - 1] ?? 'mon')) dates.push(d.toString());
    }
    return dates;
  }
  const hours = interval.kind === 'hours' ? interval.hours : 24 / interval.times;
  for (let n = 1; ; n += 1) {
    const z = hours % 24 === 0 ? last.add({ days: (n * hours) / 24 }) : last.add({ hours: n * hours });
    if (Temporal.PlainDate.compare(z.toPlainDate(), end) >= 0) return dates;
    dates.push(z.toPlainDate().toString());
  }
}

function bruteForce(
  wounds: { interval: Interval; amount: number; last: Temporal.ZonedDateTime }[],
  bag: Bag,
  today: Temporal.PlainDate,
  days: number,
): Told {
  const end = today.add({ days });
  const dates = wounds.map((w) => datesOf(w.interval, w.last, end));
  const told: Told = { perDay: {}, runsOut: undefined, lacking: 0 };
  for (let d = today; Temporal.PlainDate.compare(d, end) < 0; d = d.add({ days: 1 })) {
    const name = d.toString();
    bag.pieces = bag.pieces.filter((p) => p.expires >= name).sort((a, b) => (a.expires < b.expires ? -1 : 1));
    wounds.forEach(({ amount }, i) => {
      for (const _ of (dates[i] ?? []).filter((date) => date === name)) {
        told.perDay[name] = (told.perDay[name] ?? 0) + amount;
        for (let p = 0; p < amount; p += 1) {
          if (bag.pieces.shift()) continue;
          told.runsOut ??= name;
          told.lacking += 1;
        }
      }
    });
  }
  return told;
}

const intervalArb: fc.Arbitrary<Interval> = fc.oneof(
  fc.integer({ min: 1, max: 7 }).map((d) => every(24 * d)),
  fc.constantFrom(12, 36, 60, 90).map(every),
  fc.integer({ min: 1, max: 4 }).map((times): Interval => ({ kind: 'timesADay', times })),
  fc.subarray([...WEEKDAYS], { minLength: 1 }).map((days) => onDays(...days)),
);
const specArb = fc.record({ interval: intervalArb, amount: fc.integer({ min: 1, max: 3 }) });
const lotArb = fc.record({
  amount: fc.integer({ min: 0, max: 40 }),
  days: fc.option(fc.integer({ min: -5, max: 100 }), { nil: undefined }),
});

describe('the forecast against the brute-force model, over random plans', () => {
  it('use by the day, the day it runs out and the pieces to order are the same', () => {
    let ranOut = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...ZONES),
        fc.integer({ min: Date.UTC(2026, 0, 1), max: Date.UTC(2032, 0, 1) }),
        fc.array(specArb, { minLength: 1, maxLength: 3 }),
        fc.array(lotArb, { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 1, max: 60 }),
        (zone, ms, specs, lots, orderFor) => {
          const at = Math.floor(ms / 60_000) * 60_000;
          const z = new Temporal.ZonedDateTime(BigInt(at) * 1_000_000n, zone);
          // A change in the second of two equal hours keeps the hour, not the second of them.
          fc.pre(z.toPlainDateTime().toZonedDateTime(zone).epochMilliseconds === at);
          const today = z.toPlainDate();
          const plan = planWith(specs.map(({ interval, amount }): WoundSpec => ({ interval, uses: [{ item: 'loose', amount }] })));
          const changes = specs.map((_, i) => changeAt(`c${i}`, at, zone, { wound: `w${i + 1}` }));
          const came = lots.map(({ amount, days }, i): LogRecord => {
            const expires = days === undefined ? {} : { expires: day(today.add({ days }).toString()) };
            return {
              ...stock('received', amount, { item: 'loose', ...expires }),
              id: `r${i}`,
              at: new Date(at).toISOString(),
              day: day(today.toString()),
              zone,
            };
          });
          const bag = (): Bag => ({
            pieces: lots.flatMap(({ amount, days }) =>
              Array.from({ length: amount }, () => ({ expires: days === undefined ? '9999' : today.add({ days }).toString() })),
            ),
          });
          const wounds = specs.map((s) => ({ ...s, last: z }));
          const told = bruteForce(wounds, bag(), today, 90);
          const got = forecast(plan, entriesOf(...changes, ...came), 'loose', at, zone, { orderFor });
          expect(Object.fromEntries(got.perDay.map((u) => [u.day, u.amount]))).toEqual(told.perDay);
          expect(got.runsOut.expected).toBe(told.runsOut);
          expect(got.runsOut.latest === undefined || (told.runsOut !== undefined && got.runsOut.latest >= told.runsOut)).toBe(true);
          if (told.runsOut) expect((got.runsOut.earliest ?? '9999') <= told.runsOut).toBe(true);
          expect(got.usable).toBe(bag().pieces.filter((p) => p.expires >= today.toString()).length);
          // Never less than the days need, never more than the usual monthly arithmetic adds.
          const { lacking, perDay } = bruteForce(wounds, bag(), today, orderFor);
          const needed = Object.values(perDay).reduce((a, b) => a + b, 0);
          expect(got.toOrder.pieces).toBeGreaterThanOrEqual(lacking);
          expect(got.toOrder.pieces - lacking).toBeLessThanOrEqual(Math.max(0, got.toOrder.need - needed));
          if (told.runsOut) ranOut += 1;
        },
      ),
      { numRuns: 150 },
    );
    expect(ranOut).toBeGreaterThan(60);
  });

  it('with early changes the range and its middle are those of a plain walk in hours, ten times as many runs', () => {
    const now = Date.parse('2031-06-01T09:00:00Z');
    const ago = [26, 24, 23, 21, 19.5, 17.5, 15.5, 14.5, 12.5, 10.5, 8.5, 7.5, 5.5, 3.5, 1.5];
    const plan = planWith([{ interval: every(48) }]);
    const changes = ago.map((d, i) => changeAt(`c${i}`, now - d * DAY_MS, 'UTC'));
    const entries = entriesOf(...changes, stock('counted', 14, { when: '2031-06-01T08:00' }));
    const got = forecast(plan, entries, 'foam', now, 'UTC');
    const [seen] = got.extra;
    expect(seen).toMatchObject({ early: 4, days: 26 });

    const random = seeded(4);
    const outs: number[] = [];
    for (let run = 0; run < 2000; run += 1) {
      // Gamma(4.5, 26) by halves: half of a chi-square with nine degrees of freedom.
      let chi = 0;
      for (let j = 0; j < 9; j += 1) chi += (Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())) ** 2;
      const rate = chi / 2 / 26;
      let age = 1.5 * 24;
      let used = 0;
      for (let hour = 0; used < 15; hour += 1) {
        if (age >= 48 || random() < 1 - Math.exp(-rate / 24)) {
          used += 1;
          age = 0;
        }
        age += 1;
        if (used === 15) outs.push(Math.floor((hour + 9) / 24));
      }
    }
    outs.sort((a, b) => a - b);
    const inDays = (d: LocalDay | undefined): number => Temporal.PlainDate.from('2031-06-01').until(d ?? '9999-01-01').days;
    const near = (d: LocalDay | undefined, share: number): number => Math.abs(inDays(d) - (outs[Math.floor(share * outs.length)] ?? 0));
    expect(near(got.runsOut.earliest, 0.05)).toBeLessThanOrEqual(1);
    expect(near(got.runsOut.expected, 0.5)).toBeLessThanOrEqual(1);
    expect(near(got.runsOut.latest, 0.95)).toBeLessThanOrEqual(1);
    // 14 pieces every other day last to day 28 at most; with these early changes less.
    expect(inDays(got.runsOut.expected)).toBeLessThan(28);
  });
});

describe('expiry', () => {
  const zone = 'UTC';
  const now = Date.parse('2031-03-04T10:00:00Z');
  const plan = planWith([{ interval: every(24) }]);
  const last = changeAt('c0', now, zone);
  const outlookFor = (...records: LogRecord[]) => forecast(plan, entriesOf(last, ...records), 'foam', now, zone);

  it('expired pieces are never counted', () => {
    const got = outlookFor(stock('received', 30, { expires: day('2031-03-03') }), stock('received', 2));
    expect(got).toMatchObject({ usable: 2, expired: 30, runsOut: { expected: '2031-03-07' } });
    expect(got.toOrder.pieces).toBe(30);
  });

  it('pieces that expire before their turn do not count either', () => {
    const got = outlookFor(stock('received', 30, { expires: day('2031-03-08') }));
    expect(got.runsOut.expected).toBe('2031-03-09');
    expect(got.usable).toBe(30);
  });
});

describe('when and how much to order', () => {
  const zone = 'America/Chicago';
  const now = Date.parse('2031-03-04T09:00:00-06:00');
  const last = changeAt('c0', now, zone);
  const at = (pieces: number, options: SupplyOptions = {}, more: Parameters<typeof planWith>[1] = {}) =>
    forecast(
      planWith([{ interval: every(48) }], more),
      entriesOf(last, stock('counted', pieces, { when: '2031-03-04T14:00' })),
      'foam',
      now,
      zone,
      options,
    );

  it('ten days before the earliest day it may run out, over closed days backwards [EV-SUP-03 CMS refill rule, TH-15]', () => {
    const got = at(10);
    expect(got.reorderBy).toBe(orderDay(got.runsOut.earliest as LocalDay));
    expect(orderDay(day('2031-03-26'))).toBe('2031-03-16');
    expect(orderDay(day('2031-03-26'), { skipWeekends: true })).toBe('2031-03-14');
    expect(orderDay(day('2031-03-26'), { skipWeekends: true, closedDays: [day('2031-03-14')] })).toBe('2031-03-13');
    expect(orderDay(day('2031-03-26'), { leadDays: 3 })).toBe('2031-03-23');
  });

  it('for thirty days, in whole packs; nothing when there is enough', () => {
    expect(at(0).toOrder).toEqual({ until: '2031-04-02', reason: 'days', need: 15, pieces: 20, packs: 2, packOf: 10 });
    expect(at(5).toOrder).toMatchObject({ pieces: 10, packs: 1 });
    expect(at(15).toOrder).toMatchObject({ pieces: 0, packs: 0 });
  });

  it('to the visit, if what is ordered today can still be used before it; else for thirty days', () => {
    const visit = (d: string) => ({ nextVisit: { day: day(d), time: '10:30' } });
    expect(at(0, {}, visit('2031-03-20')).toOrder).toMatchObject({ until: '2031-03-20', reason: 'visit', need: 9 });
    expect(at(0, {}, visit('2031-03-10')).toOrder).toMatchObject({ until: '2031-04-02', reason: 'days' });
    expect(at(0, { orderFor: 'visit' }, visit('2031-03-10')).toOrder).toMatchObject({ until: '2031-03-10', reason: 'visit' });
    expect(at(0, { orderFor: 'visit' }, visit('2031-02-10')).toOrder).toMatchObject({ reason: 'days' });
    expect(at(0, { orderFor: 14 }).toOrder).toMatchObject({ until: '2031-03-17', need: 7 });
  });

  it('a person who changes early of late is told to order more, and to order sooner', () => {
    const log = (early: boolean): LogRecord[] => {
      const records: LogRecord[] = [];
      for (let d = 28, n = 0; d >= 0; n += 1) {
        const t = now - d * DAY_MS;
        if (early && n % 2 === 1) records.push(checkAt(`k${n}`, t, zone, 'leaking'));
        records.push(changeAt(`c${n}`, t, zone, early && n % 2 === 1 ? { check: `k${n}` } : {}));
        d -= early && n % 2 === 0 ? 1 : 2;
      }
      return [...records, stock('counted', 12, { when: '2031-03-04T14:59' })];
    };
    const plan = planWith([{ interval: every(48), uses: [{ item: 'foam', amount: 1 }] }], { supplies: [{ id: 'foam', name: 'Foam' }] });
    const calm = forecast(plan, entriesOf(...log(false)), 'foam', now, zone);
    const leaky = forecast(plan, entriesOf(...log(true)), 'foam', now, zone);
    expect([calm.extra[0]?.early, (leaky.extra[0]?.early ?? 0) > 5]).toEqual([0, true]);
    expect(leaky.toOrder.pieces).toBeGreaterThan(calm.toOrder.pieces);
    expect((leaky.reorderBy ?? '') < (calm.reorderBy ?? '')).toBe(true);
  });

  it('an item that no recipe uses is never short', () => {
    const got = forecast(demoPlan(), entriesOf(stock('counted', 3, { item: 'mine' })), 'mine', now, zone);
    expect(got).toMatchObject({ usable: 3, perDay: [], extra: [], lackingNext: false });
    expect([got.runsOut.earliest, got.reorderBy, got.toOrder.pieces]).toEqual([undefined, undefined, 0]);
  });

  it('halves of a tube make whole ones', () => {
    const plan = planWith([{ interval: every(24), uses: [{ item: 'loose', amount: 0.5 }] }]);
    expect(forecast(plan, entriesOf(last), 'loose', now, zone, { orderFor: 29 }).toOrder).toMatchObject({ need: 14.5, pieces: 15 });
  });

  it('the same log gives the same forecast', () => {
    expect(at(7)).toEqual(at(7));
  });
});
