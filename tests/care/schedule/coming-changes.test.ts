import fc from 'fast-check';
import { RRuleTemporal } from 'rrule-temporal';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import type { Interval } from '../../../app/care/plan/plan.ts';
import { comingChanges, dueNow, type Sitting } from '../../../app/care/schedule/coming-changes.ts';
import { DAY_MS, HOUR_MS, WEEKDAYS } from '../../../app/care/schedule/day.ts';
import { isDayWise, longestGapHours, meanGapHours, nextDue, nthDue } from '../../../app/care/schedule/due.ts';
import { withdrawal } from '../log/make.ts';
import { changeAt, entriesOf, every, onDays, planWith } from '../supplies/scenario.ts';

/** The coming changes against rrule-temporal (RFC 5545 rules) and temporal-polyfill, both independent of this code. */

const ZONES = ['America/Chicago', 'Europe/Berlin', 'Australia/Lord_Howe', 'Pacific/Apia'] as const;
const MINUTE = 60_000;

/** Clock changes of the zones, so that half of the cases lie at one. */
const SHIFTS = ZONES.flatMap((zone) => {
  const found: { zone: string; at: number }[] = [];
  let at: Temporal.ZonedDateTime | null = Temporal.ZonedDateTime.from(`2012-01-01T00:00[${zone}]`);
  while (at && at.year < 2033) {
    at = at.getTimeZoneTransition('next');
    if (at && at.year < 2033) found.push({ zone, at: at.epochMilliseconds });
  }
  return found;
});

/** The last change: on the minute, half of them in the three weeks before a clock change. */
const lastArb = fc
  .oneof(
    fc.record({ zone: fc.constantFrom(...ZONES), at: fc.integer({ min: Date.UTC(2012, 0, 1), max: Date.UTC(2032, 0, 1) }) }),
    fc
      .record({ shift: fc.constantFrom(...SHIFTS), before: fc.integer({ min: 0, max: 21 * DAY_MS }) })
      .map(({ shift, before }) => ({ zone: shift.zone, at: shift.at - before })),
  )
  .map(({ zone, at }) => ({ zone, at: Math.floor(at / MINUTE) * MINUTE }));

const zoned = (at: number, zone: string): Temporal.ZonedDateTime => new Temporal.ZonedDateTime(BigInt(at) * 1_000_000n, zone);
const follow = (at: number, zone: string, interval: Interval, days = 28, now = at) =>
  comingChanges(planWith([{ interval }]), entriesOf(changeAt('c1', at, zone)), now, zone, { days }).sittings;

describe('one wound, each change done when due', () => {
  it('whole days: the days and hours that an RFC 5545 rule gives, across clock changes (rrule-temporal)', () => {
    let cases = 0;
    fc.assert(
      fc.property(lastArb, fc.integer({ min: 1, max: 14 }), ({ zone, at }, days) => {
        const start = zoned(at, zone);
        // A last change in the second of two equal hours is one an RFC 5545 rule cannot begin at.
        fc.pre(start.toPlainDateTime().toZonedDateTime(zone).epochMilliseconds === at);
        const rule = new RRuleTemporal({ freq: 'DAILY', interval: days, count: Math.ceil(28 / days) + 2, tzid: zone, dtstart: start });
        const end = start.toPlainDate().add({ days: 28 });
        const wanted = rule
          .all()
          .slice(1)
          .filter((z) => Temporal.PlainDate.compare(z.toPlainDate(), end) < 0)
          .map((z) => z.epochMilliseconds);
        const got = follow(at, zone, every(24 * days));
        // An RFC 5545 rule leaves out a time of day that a clock change skips (3.3.10); a dressing is due all the same, right after the gap.
        const minutes = start.hour * 60 + start.minute;
        expect(got.filter((s) => s.minutes === minutes).map((s) => s.at)).toEqual(wanted);
        for (const s of got.filter((s) => s.minutes !== minutes)) {
          expect(Temporal.PlainDate.from(s.day).toZonedDateTime({ timeZone: zone, plainTime: start.toPlainTime() }).epochMilliseconds).toBe(
            s.at,
          );
        }
        for (const s of got) {
          const there = zoned(s.at, zone);
          expect([s.day, s.minutes]).toEqual([there.toPlainDate().toString(), there.hour * 60 + there.minute]);
        }
        cases += got.length;
      }),
      { numRuns: 1500 },
    );
    expect(cases).toBeGreaterThan(5000);
  });

  it('chosen weekdays: the days that an RFC 5545 rule gives (rrule-temporal)', () => {
    const codes = { mon: 'MO', tue: 'TU', wed: 'WE', thu: 'TH', fri: 'FR', sat: 'SA', sun: 'SU' } as const;
    fc.assert(
      fc.property(lastArb, fc.subarray([...WEEKDAYS], { minLength: 1 }), ({ zone, at }, days) => {
        const today = zoned(at, zone).toPlainDate();
        const noon = today.add({ days: 1 }).toZonedDateTime({ timeZone: zone, plainTime: '12:00' });
        const rule = new RRuleTemporal({ freq: 'WEEKLY', byDay: days.map((d) => codes[d]), count: 30, tzid: zone, dtstart: noon });
        const wanted = rule
          .all()
          .map((z) => z.toPlainDate())
          .filter((d) => Temporal.PlainDate.compare(d, today.add({ days: 28 })) < 0)
          .map(String);
        const got = follow(at, zone, onDays(...days));
        expect(got.map((s) => s.day)).toEqual(wanted);
        expect(got.every((s) => s.anyTime)).toBe(true);
      }),
      { numRuns: 1000 },
    );
  });

  it('hours that are no whole days pass as hours (temporal-polyfill)', () => {
    fc.assert(
      fc.property(
        lastArb,
        fc.integer({ min: 4, max: 100 }).filter((h) => h % 24 !== 0),
        ({ zone, at }, hours) => {
          const wanted: string[] = [];
          const end = zoned(at, zone).toPlainDate().add({ days: 10 });
          for (let z = zoned(at, zone).add({ hours }); Temporal.PlainDate.compare(z.toPlainDate(), end) < 0; z = z.add({ hours })) {
            wanted.push(z.toString());
          }
          expect(follow(at, zone, every(hours), 10).map((s) => zoned(s.at, zone).toString())).toEqual(wanted);
        },
      ),
      { numRuns: 1000 },
    );
  });

  it('the first of the due times is the next one, the others follow it by the interval', () => {
    const intervals: Interval[] = [every(48), every(36), { kind: 'timesADay', times: 3 }, onDays('mon', 'thu')];
    fc.assert(
      fc.property(lastArb, fc.constantFrom(...intervals), ({ zone, at }, interval) => {
        expect(nthDue(interval, at, zone, 1)).toEqual(nextDue(interval, at, zone));
        for (let n = 1; n < 12; n += 1) expect(nthDue(interval, at, zone, n + 1).at).toBeGreaterThan(nthDue(interval, at, zone, n).at);
      }),
    );
    expect(intervals.map(isDayWise)).toEqual([true, true, false, true]);
    expect(intervals.map(meanGapHours)).toEqual([48, 36, 8, 84]);
  });

  it('a time of day that one clock change skips is back the day after: 02:30, 03:30, 02:30 in Chicago', () => {
    const last = Date.parse('2031-03-08T02:30:00-06:00');
    expect(follow(last, 'America/Chicago', every(24), 4).map((s) => s.minutes)).toEqual([210, 150, 150]);
  });
});

describe('what is due now', () => {
  const zone = 'Europe/Berlin';
  const last = Date.parse('2031-03-04T09:00:00+01:00');
  const plan = planWith([{ interval: every(48) }]);
  const entries = entriesOf(changeAt('c1', last, zone));
  const at = (text: string): number => Date.parse(text);

  it('is due all through the due day, and keeps its hour for the days after', () => {
    const [first, second] = comingChanges(plan, entries, at('2031-03-06T15:00:00+01:00'), zone).sittings;
    expect([first?.day, first?.minutes, first?.wounds[0]?.state]).toEqual(['2031-03-06', 540, 'due']);
    expect([second?.day, second?.minutes]).toEqual(['2031-03-08', 540]);
  });

  it('is overdue from the next day: due now, and counted on from now', () => {
    const now = at('2031-03-07T07:30:00+01:00');
    const [first, second] = comingChanges(plan, entries, now, zone).sittings;
    expect(first?.at).toBe(now);
    expect(first?.wounds).toEqual([{ wound: 'w1', state: 'overdue', due: { at: last + 48 * HOUR_MS, day: '2031-03-06' } }]);
    expect([second?.day, second?.minutes]).toEqual(['2031-03-09', 450]);
  });

  it('several times a day: overdue once a quarter of the interval has passed', () => {
    const twice = planWith([{ interval: { kind: 'timesADay', times: 2 } }]);
    const state = (hours: number) => dueNow(twice, entries, 'w1', last + hours * HOUR_MS, zone)?.state;
    expect([state(11), state(15), state(15.1)]).toEqual(['due', 'due', 'overdue']);
    expect(comingChanges(twice, entries, last + 13 * HOUR_MS, zone).sittings[0]?.at).toBe(last + 13 * HOUR_MS);
  });

  it('a wound never changed in this log is due now', () => {
    const now = at('2031-03-07T07:30:00+01:00');
    expect(comingChanges(plan, [], now, zone).sittings[0]).toMatchObject({ at: now, wounds: [{ wound: 'w1', state: 'first' }] });
  });

  it('a change broken off does not put the next one off', () => {
    const stopped = entriesOf(changeAt('c1', last, zone), changeAt('c2', last + 40 * HOUR_MS, zone, { stopped: true }));
    expect(dueNow(plan, stopped, 'w1', last + 41 * HOUR_MS, zone)?.due.at).toBe(last + 48 * HOUR_MS);
  });

  it('a withdrawn change does not count, a corrected one counts from when it was done', () => {
    const records = [
      changeAt('c1', last, zone),
      changeAt('c2', last + 24 * HOUR_MS, zone),
      changeAt('c3', last + 30 * HOUR_MS, zone, { amends: 'c2' }),
    ];
    expect(dueNow(plan, entriesOf(...records), 'w1', last + 31 * HOUR_MS, zone)?.due.at).toBe(last + 72 * HOUR_MS);
    const withdrawn = entriesOf(...records, withdrawal('v', 'c2', '2031-03-05T16:00'));
    expect(withdrawn.some((e) => e.voided)).toBe(true);
    expect(dueNow(plan, withdrawn, 'w1', last + 33 * HOUR_MS, zone)?.due.at).toBe(last + 48 * HOUR_MS);
  });

  it('a clock that was a year ahead, and was put right, does not put the next change off a year', () => {
    const ahead = entriesOf(changeAt('c1', last, zone), changeAt('c2', last + 365 * DAY_MS, zone));
    expect(dueNow(plan, ahead, 'w1', last + HOUR_MS, zone)?.due.day).toBe('2031-03-06');
    const only = entriesOf(changeAt('c2', last + 365 * DAY_MS, zone));
    expect(dueNow(plan, only, 'w1', last, zone)?.state).toBe('first');
  });

  it('another phone a few minutes ahead is no wrong clock', () => {
    const entries = entriesOf(changeAt('c1', last + 5 * MINUTE, zone));
    expect(dueNow(plan, entries, 'w1', last, zone)?.due.day).toBe('2031-03-06');
  });

  it('records written down out of order give the same as in order', () => {
    const records = [0, 48, 96].map((h, i) => changeAt(`c${i}`, last + h * HOUR_MS, zone));
    const now = last + 100 * HOUR_MS;
    expect(comingChanges(plan, entriesOf(...[...records].reverse()), now, zone)).toEqual(
      comingChanges(plan, entriesOf(...records), now, zone),
    );
  });

  it('on a journey the hour of the day is that of the last change on the clock where the person is now', () => {
    const now = last + HOUR_MS;
    const [next] = comingChanges(plan, entries, now, 'America/Chicago').sittings;
    // 09:00 in Berlin was 02:00 in Chicago.
    expect([next?.day, next?.minutes]).toEqual(['2031-03-06', 120]);
  });

  it('a wound for which the plan only says "call us" has no due time', () => {
    const none = planWith([{ interval: every(48) }]);
    const wound = none.wounds[0] as (typeof none.wounds)[0];
    const calls = { ...none, wounds: [{ ...wound, bands: { ...wound.bands, light: { callUs: true as const } } }] };
    expect(comingChanges(calls, entries, last, zone).sittings).toEqual([]);
    expect(dueNow(calls, entries, 'w1', last, zone)).toBeUndefined();
    expect(dueNow(calls, entries, 'w9', last, zone)).toBeUndefined();
  });

  it('the interval is that of the amount found last', () => {
    const [wound] = plan.wounds;
    if (!wound || !('recipe' in wound.bands.light)) throw new Error('no recipe');
    const daily = { recipe: { ...wound.bands.light.recipe, change: every(24) } };
    const both = { ...plan, wounds: [{ ...wound, bands: { ...wound.bands, moderate: daily } }] };
    const more = entriesOf(changeAt('c1', last, zone, { answers: { drainageAmount: 'moderate' } }));
    expect(dueNow(both, more, 'w1', last + HOUR_MS, zone)?.due.day).toBe('2031-03-05');
    // A look dated ahead by a wrong clock does not hide the later, true one; where it is the only one it counts.
    const ahead = changeAt('c9', last + 90 * DAY_MS, zone, { answers: { drainageAmount: 'moderate' } });
    expect(dueNow(both, entriesOf(changeAt('c1', last, zone), ahead), 'w1', last + HOUR_MS, zone)?.due.day).toBe('2031-03-06');
    const noLook = changeAt('c1', last, zone, { answers: {} });
    expect(dueNow(both, entriesOf(noLook, ahead), 'w1', last + HOUR_MS, zone)?.due.day).toBe('2031-03-05');
    const unsure = entriesOf(changeAt('c1', last, zone, { answers: { drainageAmount: 'unsure' } }));
    expect(dueNow(both, unsure, 'w1', last + HOUR_MS, zone)?.due.day).toBe('2031-03-06');
  });
});

/** No wound of a sitting is later than due, nor earlier than the plan allows for joining. */
function holdsItsDueTimes(sitting: Sitting, now: number, joinWithinHours: number, intervals: readonly Interval[]): void {
  for (const { wound, due, state } of sitting.wounds) {
    const isWeekday = intervals[Number(wound.slice(1)) - 1]?.kind === 'weekdays';
    if (state === 'overdue') expect(sitting.at).toBeLessThanOrEqual(now);
    else if (isWeekday) expect(sitting.day <= due.day).toBe(true);
    else expect(sitting.at).toBeLessThanOrEqual(Math.max(due.at, now));
    expect((due.at - sitting.at) / HOUR_MS).toBeLessThanOrEqual(joinWithinHours);
  }
}

describe('several wounds', () => {
  const zone = 'America/Chicago';
  const start = Date.parse('2031-03-04T09:00:00-06:00');

  it('due within the plan’s hours: one sitting, at the earlier time', () => {
    const plan = planWith([{ interval: every(48) }, { interval: every(48) }], { joinWithinHours: 6 });
    const entries = entriesOf(changeAt('a', start, zone), changeAt('b', start + 5 * HOUR_MS, zone, { wound: 'w2' }));
    const { sittings } = comingChanges(plan, entries, start + 6 * HOUR_MS, zone);
    expect(sittings[0]).toMatchObject({ day: '2031-03-06', minutes: 540 });
    expect(sittings[0]?.wounds.map((w) => w.wound)).toEqual(['w1', 'w2']);
    expect(sittings.every((s) => s.wounds.length === 2 && s.minutes === 540)).toBe(true);
  });

  it('further apart than that: two sittings', () => {
    const plan = planWith([{ interval: every(48) }, { interval: every(48) }], { joinWithinHours: 4 });
    const entries = entriesOf(changeAt('a', start, zone), changeAt('b', start + 5 * HOUR_MS, zone, { wound: 'w2' }));
    expect(comingChanges(plan, entries, start + 6 * HOUR_MS, zone).sittings.every((s) => s.wounds.length === 1)).toBe(true);
  });

  it('a wound due on a weekday joins the sitting of that day, at its hour', () => {
    const plan = planWith([{ interval: every(24) }, { interval: onDays('thu') }]);
    const entries = entriesOf(changeAt('a', start, zone), changeAt('b', start, zone, { wound: 'w2' }));
    const { sittings } = comingChanges(plan, entries, start + HOUR_MS, zone, { days: 4 });
    expect(sittings.map((s) => [s.day, s.minutes, s.wounds.length])).toEqual([
      ['2031-03-05', 540, 1],
      ['2031-03-06', 540, 2],
      ['2031-03-07', 540, 1],
    ]);
  });

  const intervalArb: fc.Arbitrary<Interval> = fc.oneof(
    fc.integer({ min: 1, max: 7 }).map((d) => every(24 * d)),
    fc.integer({ min: 4, max: 96 }).map(every),
    fc.integer({ min: 1, max: 4 }).map((times): Interval => ({ kind: 'timesADay', times })),
    fc.subarray([...WEEKDAYS], { minLength: 1 }).map((days) => onDays(...days)),
  );

  it('with one to four wounds none is ever later than due, none waits longer than its interval, none is left out', () => {
    fc.assert(
      fc.property(
        lastArb,
        fc.array(fc.tuple(intervalArb, fc.integer({ min: 0, max: 100 })), { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 0, max: 24 }),
        ({ zone, at }, wounds, joinWithinHours) => {
          const intervals = wounds.map(([interval]) => interval);
          const plan = planWith(
            intervals.map((interval) => ({ interval })),
            { joinWithinHours },
          );
          const records = wounds.map(([, hours], i) => changeAt(`c${i}`, at - hours * HOUR_MS, zone, { wound: `w${i + 1}` }));
          const { sittings } = comingChanges(plan, entriesOf(...records), at, zone, { days: 14 });
          for (let i = 1; i < sittings.length; i += 1) expect(sittings[i]?.at).toBeGreaterThan(sittings[i - 1]?.at ?? 0);
          for (const s of sittings) holdsItsDueTimes(s, at, joinWithinHours, intervals);
          wounds.forEach(([interval], i) => {
            const own = sittings.filter((s) => s.wounds.some((w) => w.wound === `w${i + 1}`)).map((s) => s.at);
            const longest = (longestGapHours(interval) + 26) * HOUR_MS;
            const ends = [...own, at + 13 * DAY_MS];
            ends.forEach((end, j) => {
              expect(end - (ends[j - 1] ?? at)).toBeLessThanOrEqual(longest);
            });
          });
        },
      ),
      { numRuns: 800 },
    );
  });
});

describe('visits and the review', () => {
  it('a visit is an instant of the clinic’s zone and a day of the person’s', () => {
    const plan = planWith([{ interval: every(48) }], {
      nextVisit: { day: '2031-03-16' as never, time: '22:30' },
      reviewBy: '2031-03-20' as never,
    });
    const now = Date.parse('2031-03-04T12:00:00Z');
    const { visits, review } = comingChanges(plan, [], now, 'Europe/Berlin');
    expect(visits).toEqual([
      { at: Date.parse('2031-03-16T22:30:00-05:00'), day: '2031-03-17', clinicDay: '2031-03-16', time: '22:30', zone: 'America/Chicago' },
    ]);
    expect(review).toBe('2031-03-20');
    expect(comingChanges(plan, [], now, 'Europe/Berlin', { days: 10 })).toMatchObject({ visits: [], review: undefined });
    expect(comingChanges(plan, [], now + 60 * DAY_MS, 'Europe/Berlin')).toMatchObject({ visits: [], review: undefined });
  });
});
