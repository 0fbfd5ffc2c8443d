import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import {
  addDays,
  DAY_MS,
  dayNumber,
  daysBetween,
  HOUR_MS,
  instantOf,
  isLocalDay,
  isTimeZone,
  type LocalDay,
  localDay,
  WEEKDAYS,
  wallClock,
  weekdayOf,
} from '../../../app/care/schedule/day.ts';
import { longestGapHours, nextDue } from '../../../app/care/schedule/due.ts';

/** Calendar and clock against temporal-polyfill, an independent implementation of the Temporal standard. */

const ZONES = ['America/Chicago', 'Asia/Tokyo', 'Pacific/Apia', 'Europe/Berlin', 'Australia/Lord_Howe'] as const;
const MINUTE = 60_000;
const RUNS = { numRuns: 3000 };

const day = (text: string): LocalDay => text as LocalDay;
const dayArb: fc.Arbitrary<LocalDay> = fc
  .integer({ min: Date.UTC(1972, 0, 1) / DAY_MS, max: Date.UTC(2099, 11, 31) / DAY_MS })
  .map((n) => Temporal.PlainDate.from('1970-01-01').add({ days: n }).toString() as LocalDay);
const zoneArb = fc.constantFrom(...ZONES);

/** Instants on the minute at which a zone's offset changes. */
function changesOf(zone: string, year: number): number[] {
  const found: number[] = [];
  let at: Temporal.ZonedDateTime | null = Temporal.ZonedDateTime.from(`${year}-01-01T00:00[${zone}]`);
  while (at) {
    at = at.getTimeZoneTransition('next');
    if (!at || at.year !== year) break;
    found.push(at.epochMilliseconds);
  }
  return found;
}
const CHANGES = ZONES.flatMap((zone) => [2011, 2024, 2026, 2031].flatMap((year) => changesOf(zone, year).map((at) => ({ zone, at }))));

/** Half anywhere in the years 1972 to 2099, half within two days of a clock change. */
const instantArb: fc.Arbitrary<{ zone: string; at: number }> = fc.oneof(
  fc.record({ zone: zoneArb, at: fc.integer({ min: Date.UTC(1972, 0, 2), max: Date.UTC(2099, 0, 1) }) }),
  fc.record({ change: fc.constantFrom(...CHANGES), away: fc.integer({ min: -2 * DAY_MS, max: 2 * DAY_MS }) }).map(({ change, away }) => ({
    zone: change.zone,
    at: change.at + away,
  })),
);

/** Wall-clock times, half of them within two days of a clock change. */
const wallArb: fc.Arbitrary<{ zone: string; day: LocalDay; minutes: number }> = fc.oneof(
  fc.record({ zone: zoneArb, day: dayArb, minutes: fc.integer({ min: 0, max: 1439 }) }),
  instantArb.map(({ zone, at }) => {
    // The wall clock read as if no change came between: times that are skipped are among them.
    const before = new Temporal.ZonedDateTime(BigInt(at - DAY_MS) * 1_000_000n, zone).toPlainDateTime().add({ days: 1 });
    return { zone, day: before.toPlainDate().toString() as LocalDay, minutes: before.hour * 60 + before.minute };
  }),
);

const oracle = (d: LocalDay, minutes: number, zone: string): number =>
  Temporal.PlainDate.from(d).toPlainDateTime().add({ minutes }).toZonedDateTime(zone, { disambiguation: 'compatible' }).epochMilliseconds;

describe('calendar days', () => {
  it('real days are days; others are not', () => {
    for (const text of ['2031-03-04', '2028-02-29', '2000-02-29', '1999-12-31']) expect(isLocalDay(text)).toBe(true);
    for (const text of [
      '2031-02-29',
      '1900-02-29',
      '2031-02-30',
      '2031-13-01',
      '2031-00-10',
      '2031-04-31',
      '2031-3-4',
      '31-03-04',
      '2031-03-04T',
      ' 2031-03-04',
      '',
    ]) {
      expect(isLocalDay(text), text).toBe(false);
    }
  });

  it('agrees with Temporal on which texts are days', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1970, max: 2199 }), fc.integer({ min: 0, max: 14 }), fc.integer({ min: 0, max: 33 }), (y, m, d) => {
        const text = `${y}-${String(m).padStart(2, '0')}-${String(d).padStart(2, '0')}`;
        let real = true;
        try {
          Temporal.PlainDate.from(text, { overflow: 'reject' });
        } catch {
          real = false;
        }
        expect(isLocalDay(text)).toBe(real);
      }),
      RUNS,
    );
  });

  it('adding, counting and naming days agree with Temporal', () => {
    fc.assert(
      fc.property(dayArb, fc.integer({ min: -20_000, max: 20_000 }), (d, n) => {
        const plain = Temporal.PlainDate.from(d);
        const later = plain.add({ days: n });
        expect(addDays(d, n)).toBe(later.toString());
        expect(daysBetween(d, addDays(d, n))).toBe(n);
        expect(dayNumber(d)).toBe(Temporal.PlainDate.from('1970-01-01').until(plain).days);
        expect(weekdayOf(d)).toBe(WEEKDAYS[plain.dayOfWeek - 1]);
      }),
      RUNS,
    );
  });

  it('days before 1970 have their weekday too', () => {
    expect(weekdayOf(day('1969-07-20'))).toBe('sun');
    expect(weekdayOf(day('1970-01-01'))).toBe('thu');
  });

  it('refuses what is no day', () => {
    expect(() => dayNumber(day('2031-02-30'))).toThrow(RangeError);
    expect(() => addDays(day('tomorrow'), 1)).toThrow(RangeError);
  });
});

describe('wall clocks', () => {
  it('knows zones of the IANA database and no others', () => {
    for (const zone of [...ZONES, 'UTC']) expect(isTimeZone(zone)).toBe(true);
    for (const zone of ['Mars/Olympus', '', 'America/Chicago; DROP', '../../etc']) expect(isTimeZone(zone)).toBe(false);
  });

  it('clock changes of both kinds are among the cases, for every zone that has them', () => {
    const kinds = CHANGES.map(({ zone, at }) => {
      const offset = (ms: number): number => new Temporal.ZonedDateTime(BigInt(ms) * 1_000_000n, zone).offsetNanoseconds;
      return `${zone} ${offset(at) > offset(at - MINUTE) ? 'forward' : 'back'}`;
    });
    for (const zone of ['America/Chicago', 'Europe/Berlin', 'Australia/Lord_Howe', 'Pacific/Apia']) {
      expect(kinds).toContain(`${zone} forward`);
      expect(kinds).toContain(`${zone} back`);
    }
  });

  it('shows the day and minute that Temporal shows', () => {
    fc.assert(
      fc.property(instantArb, ({ zone, at }) => {
        const there = new Temporal.ZonedDateTime(BigInt(at) * 1_000_000n, zone);
        expect(wallClock(at, zone)).toEqual({ day: there.toPlainDate().toString(), minutes: there.hour * 60 + there.minute });
        expect(localDay(at, zone)).toBe(there.toPlainDate().toString());
      }),
      RUNS,
    );
  });

  it('finds the instant that Temporal finds, skipped and doubled times included', () => {
    fc.assert(
      fc.property(wallArb, ({ zone, day: d, minutes }) => {
        expect(instantOf(d, minutes, zone)).toBe(oracle(d, minutes, zone));
      }),
      RUNS,
    );
  });

  it('midnight at the end of a day (1440 minutes) is midnight at the start of the next', () => {
    fc.assert(
      fc.property(wallArb, ({ zone, day: d }) => {
        expect(instantOf(d, 1440, zone)).toBe(instantOf(addDays(d, 1), 0, zone));
      }),
    );
  });

  it.each([
    ['spring, Chicago: 02:30 is skipped and becomes 03:30', 'America/Chicago', '2031-03-09', 150, '2031-03-09T03:30:00-05:00'],
    ['autumn, Chicago: 01:30 comes twice, the first counts', 'America/Chicago', '2031-11-02', 90, '2031-11-02T01:30:00-05:00'],
    ['spring, Berlin: 02:30 is skipped and becomes 03:30', 'Europe/Berlin', '2031-03-30', 150, '2031-03-30T03:30:00+02:00'],
    ['autumn, Berlin: 02:30 comes twice, the first counts', 'Europe/Berlin', '2031-10-26', 150, '2031-10-26T02:30:00+02:00'],
    [
      'spring, Lord Howe: half an hour is skipped, 02:15 becomes 02:45',
      'Australia/Lord_Howe',
      '2031-10-05',
      135,
      '2031-10-05T02:45:00+11:00',
    ],
    ['autumn, Lord Howe: 01:45 comes twice, the first counts', 'Australia/Lord_Howe', '2031-04-06', 105, '2031-04-06T01:45:00+11:00'],
    ['Apia skipped 30 December 2011 whole', 'Pacific/Apia', '2011-12-30', 720, '2011-12-31T12:00:00+14:00'],
    ['Tokyo never changes', 'Asia/Tokyo', '2031-03-30', 150, '2031-03-30T02:30:00+09:00'],
  ])('%s (IANA time zone database)', (_name, zone, d, minutes, expected) => {
    expect(instantOf(day(d), minutes, zone)).toBe(Date.parse(expected));
  });

  it('goes on after more zones than it keeps', () => {
    const zones = Intl.supportedValuesOf('timeZone').slice(0, 80);
    const at = Date.UTC(2031, 2, 4, 9, 7);
    for (const zone of [...zones, ...zones]) {
      expect(wallClock(at, zone).minutes % 60).toBe(new Temporal.ZonedDateTime(BigInt(at) * 1_000_000n, zone).minute);
    }
  });
});

describe('when a change is due', () => {
  const hours = fc.integer({ min: 4, max: 336 });

  it('whole days keep the time of day across clock changes, as Temporal adds days', () => {
    fc.assert(
      fc.property(instantArb, fc.integer({ min: 1, max: 14 }), ({ zone, at }, days) => {
        const last = Math.floor(at / MINUTE) * MINUTE;
        const due = new Temporal.ZonedDateTime(BigInt(last) * 1_000_000n, zone).add({ days });
        // A time of day that comes twice: the change itself may have been in the second; the due time is the first.
        const first = due.toPlainDateTime().toZonedDateTime(zone, { disambiguation: 'compatible' });
        expect(nextDue({ kind: 'hours', hours: 24 * days }, last, zone)).toEqual({
          at: first.epochMilliseconds,
          day: first.toPlainDate().toString(),
        });
      }),
      RUNS,
    );
  });

  it('hours that are no whole days are elapsed hours', () => {
    fc.assert(
      fc.property(instantArb, hours, ({ zone, at }, h) => {
        fc.pre(h % 24 !== 0);
        const due = nextDue({ kind: 'hours', hours: h }, at, zone);
        const expected = new Temporal.ZonedDateTime(BigInt(at) * 1_000_000n, zone).add({ hours: h });
        expect(due).toEqual({ at: expected.epochMilliseconds, day: expected.toPlainDate().toString() });
      }),
      RUNS,
    );
  });

  it('several times a day divides the day', () => {
    expect([1, 2, 3, 4].map((times) => longestGapHours({ kind: 'timesADay', times }))).toEqual([24, 12, 8, 6]);
    const last = Date.parse('2031-03-08T09:00:00-06:00');
    expect(nextDue({ kind: 'timesADay', times: 2 }, last, 'America/Chicago').at).toBe(last + 12 * HOUR_MS);
    expect(nextDue({ kind: 'timesADay', times: 1 }, last, 'America/Chicago').at).toBe(Date.parse('2031-03-09T09:00:00-05:00'));
  });

  it('chosen weekdays: the next chosen day, from its start, never the same day', () => {
    const days = fc.subarray([...WEEKDAYS], { minLength: 1 });
    fc.assert(
      fc.property(instantArb, days, ({ zone, at }, chosen) => {
        let date = new Temporal.ZonedDateTime(BigInt(at) * 1_000_000n, zone).toPlainDate().add({ days: 1 });
        while (!chosen.includes(WEEKDAYS[date.dayOfWeek - 1] ?? 'mon')) date = date.add({ days: 1 });
        const start = date.toPlainDateTime().toZonedDateTime(zone, { disambiguation: 'compatible' });
        expect(nextDue({ kind: 'weekdays', days: chosen }, at, zone)).toEqual({ at: start.epochMilliseconds, day: date.toString() });
      }),
      RUNS,
    );
  });

  it('the longest gap between chosen weekdays is the longest run of other days and one', () => {
    expect(longestGapHours({ kind: 'weekdays', days: ['mon', 'wed', 'fri'] })).toBe(72);
    expect(longestGapHours({ kind: 'weekdays', days: ['fri', 'mon', 'wed'] })).toBe(72);
    expect(longestGapHours({ kind: 'weekdays', days: ['sun'] })).toBe(168);
    expect(longestGapHours({ kind: 'weekdays', days: [...WEEKDAYS] })).toBe(24);
    fc.assert(
      fc.property(fc.shuffledSubarray([...WEEKDAYS], { minLength: 1 }), (chosen) => {
        let longest = 0;
        let run = 1;
        for (let i = 0; i < 21; i += 1) {
          if (chosen.includes(WEEKDAYS[i % 7] ?? 'mon')) {
            longest = i >= 7 ? Math.max(longest, run) : longest;
            run = 1;
          } else run += 1;
        }
        expect(longestGapHours({ kind: 'weekdays', days: chosen })).toBe(24 * longest);
      }),
    );
  });

  it('the longest gap of an interval in hours is that many hours', () => {
    expect(longestGapHours({ kind: 'hours', hours: 48 })).toBe(48);
  });
});
