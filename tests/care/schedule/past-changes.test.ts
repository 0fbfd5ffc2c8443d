import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import type { LogRecord } from '../../../app/care/log/records.ts';
import type { Interval, Plan } from '../../../app/care/plan/plan.ts';
import { calendarDays } from '../../../app/care/schedule/calendar.ts';
import { DAY_MS, HOUR_MS, WEEKDAYS } from '../../../app/care/schedule/day.ts';
import { type PastChange, pastChanges } from '../../../app/care/schedule/past-changes.ts';
import { withdrawal } from '../log/make.ts';
import { changeAt, checkAt, entriesOf, every, onDays, planWith } from '../supplies/scenario.ts';

const ZONE = 'America/Chicago';
const chicago = (text: string): number => Temporal.PlainDateTime.from(text).toZonedDateTime(ZONE).epochMilliseconds;
const brief = (changes: readonly PastChange[]) => changes.map((c) => [c.id, c.timing, c.why ?? c.daysLate ?? '']);
const past = (plan: Plan, records: LogRecord[], now: string, zone = ZONE) => pastChanges(plan, entriesOf(...records), chicago(now), zone);
const everyOther = planWith([{ interval: every(48) }]);

describe('how a change stood to the schedule', () => {
  it('the first has nothing to be held against; any hour of the due day is on time', () => {
    const records = ['2031-03-04T09:00', '2031-03-06T07:00', '2031-03-08T22:30'].map((t, i) => changeAt(`c${i}`, chicago(t), ZONE));
    expect(brief(past(everyOther, records, '2031-03-09T09:00').changes)).toEqual([
      ['c0', 'first', ''],
      ['c1', 'onTime', ''],
      ['c2', 'onTime', ''],
    ]);
  });

  it.each(['markedThrough', 'leaking', 'loose', 'wetFromOutside'] as const)(
    'early because %s: counted so, and the clock starts again',
    (dressing) => {
      const records = [
        changeAt('c0', chicago('2031-03-04T09:00'), ZONE),
        checkAt('k1', chicago('2031-03-05T08:50'), ZONE, dressing),
        changeAt('c1', chicago('2031-03-05T09:00'), ZONE, { check: 'k1' }),
        changeAt('c2', chicago('2031-03-07T09:00'), ZONE),
      ];
      const { changes, missed } = past(everyOther, records, '2031-03-07T10:00');
      expect(brief(changes)).toEqual([
        ['c0', 'first', ''],
        ['c1', 'early', dressing],
        ['c2', 'onTime', ''],
      ]);
      expect(missed).toEqual([]);
    },
  );

  it('early without such an answer, or with one about another wound or in a withdrawn check: other', () => {
    const at = chicago('2031-03-05T09:00');
    const last = changeAt('c0', chicago('2031-03-04T09:00'), ZONE);
    const why = (...records: LogRecord[]) => past(everyOther, [last, ...records], '2031-03-05T10:00').changes[1]?.why;
    expect(why(changeAt('c1', at, ZONE))).toBe('other');
    expect(why(checkAt('k1', at, ZONE, 'dryInPlace'), changeAt('c1', at, ZONE, { check: 'k1' }))).toBe('other');
    expect(why(checkAt('k1', at, ZONE, 'leaking', 'w2'), changeAt('c1', at, ZONE, { check: 'k1' }))).toBe('other');
    expect(
      why(checkAt('k1', at, ZONE, 'leaking'), withdrawal('v', 'k1', '2031-03-05T15:30'), changeAt('c1', at, ZONE, { check: 'k1' })),
    ).toBe('other');
    const corrected = { ...checkAt('k2', at + 1000, ZONE, 'loose'), amends: 'k1' };
    expect(why(checkAt('k1', at, ZONE, 'leaking'), corrected, changeAt('c1', at, ZONE, { check: 'k1' }))).toBe('loose');
    expect(why(changeAt('c1', at, ZONE, { answers: { drainageAmount: 'light', dressing: 'leaking' } }))).toBe('leaking');
  });

  it('on its due day but long before its hour: early if the dressing gave a reason, else on time', () => {
    const daily = planWith([{ interval: every(24) }]);
    const last = changeAt('c0', chicago('2031-03-04T21:00'), ZONE);
    const at = chicago('2031-03-05T07:00');
    expect(brief(past(daily, [last, changeAt('c1', at, ZONE)], '2031-03-05T08:00').changes)[1]).toEqual(['c1', 'onTime', '']);
    const leaking = [checkAt('k1', at, ZONE, 'leaking'), changeAt('c1', at, ZONE, { check: 'k1' })];
    expect(brief(past(daily, [last, ...leaking], '2031-03-05T08:00').changes)[1]).toEqual(['c1', 'early', 'leaking']);
  });

  it('late by calendar days; a due day is missed once the next due day has come', () => {
    const records = [changeAt('c0', chicago('2031-03-04T09:00'), ZONE), changeAt('c1', chicago('2031-03-07T07:00'), ZONE)];
    expect(past(everyOther, records, '2031-03-07T08:00')).toMatchObject({ changes: [{}, { timing: 'late', daysLate: 1 }], missed: [] });
    const longer = [records[0] as LogRecord, changeAt('c1', chicago('2031-03-10T07:00'), ZONE)];
    const { changes, missed } = past(everyOther, longer, '2031-03-10T08:00');
    expect(brief(changes)[1]).toEqual(['c1', 'late', 4]);
    expect(missed.map((m) => m.day)).toEqual(['2031-03-06', '2031-03-08']);
  });

  it('what is still open: missed up to now, and today is not missed yet', () => {
    const records = [changeAt('c0', chicago('2031-03-04T09:00'), ZONE)];
    const missed = (now: string) => past(everyOther, records, now).missed.map((m) => m.day);
    expect(missed('2031-03-07T23:00')).toEqual([]);
    expect(missed('2031-03-08T00:30')).toEqual(['2031-03-06']);
    expect(missed('2031-03-11T12:00')).toEqual(['2031-03-06', '2031-03-08']);
  });

  it('several times a day is held against the hour, with a quarter of the interval to spare', () => {
    const twice = planWith([{ interval: { kind: 'timesADay', times: 2 } }]);
    const timing = (hours: number) => {
      const start = chicago('2031-03-04T09:00');
      return pastChanges(
        twice,
        entriesOf(changeAt('c0', start, ZONE), changeAt('c1', start + hours * HOUR_MS, ZONE)),
        start + 40 * HOUR_MS,
        ZONE,
        {},
      ).changes[1];
    };
    expect([timing(8.9)?.timing, timing(9)?.timing, timing(15)?.timing]).toEqual(['early', 'onTime', 'onTime']);
    expect(timing(15.1)).toMatchObject({ timing: 'late', daysLate: 1 });
    expect(timing(14.9)?.timing).toBe('onTime');
  });

  it('changes broken off do not count; withdrawn ones neither', () => {
    const records = [
      changeAt('c0', chicago('2031-03-04T09:00'), ZONE),
      changeAt('c1', chicago('2031-03-05T09:00'), ZONE, { stopped: true }),
      changeAt('c2', chicago('2031-03-05T10:00'), ZONE),
      withdrawal('v', 'c2', '2031-03-05T17:00'),
      changeAt('c3', chicago('2031-03-06T09:00'), ZONE),
    ];
    expect(brief(past(everyOther, records, '2031-03-06T10:00').changes)).toEqual([
      ['c0', 'first', ''],
      ['c3', 'onTime', ''],
    ]);
  });

  it('a clock that was wrong: what is dated after now is set apart and moves nothing', () => {
    const records = [
      changeAt('c0', chicago('2031-03-04T09:00'), ZONE),
      changeAt('wrong', chicago('2032-01-01T09:00'), ZONE),
      changeAt('c1', chicago('2031-03-06T09:00'), ZONE),
    ];
    const { changes } = past(everyOther, records, '2031-03-06T10:00');
    expect(brief(changes)).toEqual([
      ['c0', 'first', ''],
      ['c1', 'onTime', ''],
      ['wrong', 'ahead', ''],
    ]);
    const calendar = calendarDays(everyOther, entriesOf(...records), chicago('2031-03-06T10:00'), ZONE);
    expect(calendar.ahead.map((c) => c.id)).toEqual(['wrong']);
  });

  it('on a journey the day is that where the change was done', () => {
    const berlin = 'Europe/Berlin';
    // 23:30 on 5 March in Chicago is 06:30 on 6 March in Berlin, the due day there.
    const at = chicago('2031-03-05T23:30');
    const start = changeAt('c0', chicago('2031-03-04T09:00'), ZONE);
    expect(brief(past(everyOther, [start, changeAt('c1', at, berlin)], '2031-03-06T12:00', berlin).changes)[1]).toEqual([
      'c1',
      'onTime',
      '',
    ]);
    expect(brief(past(everyOther, [start, changeAt('c1', at, ZONE)], '2031-03-06T12:00').changes)[1]).toEqual(['c1', 'early', 'other']);
  });

  it('a wound done early in the sitting of another that was due is on time, not early', () => {
    const plan = planWith([{ interval: every(48) }, { interval: every(72) }], { joinWithinHours: 24 });
    const t = (text: string, id: string, wound: string) => changeAt(id, chicago(text), ZONE, { wound });
    const records = [
      t('2031-03-04T09:00', 'a0', 'w1'),
      t('2031-03-04T09:10', 'b0', 'w2'),
      t('2031-03-06T09:00', 'a1', 'w1'),
      t('2031-03-06T09:20', 'b1', 'w2'),
    ];
    const joined = past(plan, records, '2031-03-06T12:00').changes.find((c) => c.id === 'b1');
    expect(joined).toMatchObject({ timing: 'onTime', joined: true });
    expect(joined?.why).toBeUndefined();
    const { joinWithinHours: _, ...apart } = plan;
    expect(past(apart, records, '2031-03-06T12:00').changes.find((c) => c.id === 'b1')?.timing).toBe('early');
    const bothEarly = [...records.slice(0, 2), t('2031-03-05T09:00', 'a1', 'w1'), t('2031-03-05T09:20', 'b1', 'w2')];
    expect(past(plan, bothEarly, '2031-03-05T12:00').changes.map((c) => c.timing)).toEqual(['first', 'first', 'early', 'early']);
  });

  it('old changes are held against the plan of their own day, when it is at hand', () => {
    const daily = planWith([{ interval: every(24) }], { revision: 1 });
    const newer = planWith([{ interval: every(48) }], { revision: 2 });
    const records = ['2031-03-04T09:00', '2031-03-05T09:00'].map((t, i) => changeAt(`c${i}`, chicago(t), ZONE));
    const now = chicago('2031-03-05T10:00');
    expect(pastChanges(newer, entriesOf(...records), now, ZONE, { older: [daily] }).changes[1]?.timing).toBe('onTime');
    expect(pastChanges(newer, entriesOf(...records), now, ZONE).changes[1]?.timing).toBe('early');
  });

  it('changes of a wound that the plan no longer has are kept, without a verdict', () => {
    const records = [changeAt('c0', chicago('2031-03-04T09:00'), ZONE, { wound: 'gone' })];
    expect(brief(past(everyOther, records, '2031-03-20T09:00').changes)).toEqual([['c0', 'unscheduled', '']]);
    expect(past(everyOther, records, '2031-03-20T09:00').missed).toEqual([]);
  });

  it('a year away: the part asked for comes at once and is the end of the whole', () => {
    for (const interval of [{ kind: 'timesADay', times: 4 }, every(48), onDays('mon', 'tue')] as Interval[]) {
      const plan = planWith([{ interval }]);
      const entries = entriesOf(changeAt('c0', chicago('2030-01-01T09:00'), ZONE));
      const now = chicago('2031-03-06T10:00');
      const since = now - 30 * DAY_MS;
      const all = pastChanges(plan, entries, now, ZONE).missed;
      expect(pastChanges(plan, entries, now, ZONE, { since }).missed).toEqual(all.filter((m) => m.at >= since));
      expect(all.length).toBeGreaterThan(100);
    }
  });

  it('the last weeks of a long log are the end of the whole', () => {
    const plan = planWith([{ interval: every(48) }, { interval: every(72) }], { joinWithinHours: 24 });
    const now = chicago('2031-03-06T10:00');
    const gaps = [2, 1, 3, 2, 5, 2, 2, 1, 2, 4];
    let at = now - 200 * DAY_MS;
    const records = Array.from({ length: 80 }, (_, i) => {
      at += (gaps[i % gaps.length] ?? 2) * DAY_MS;
      return changeAt(`c${i}`, at, ZONE, { wound: i % 3 === 0 ? 'w2' : 'w1' });
    });
    const entries = entriesOf(...records);
    const all = pastChanges(plan, entries, now, ZONE);
    const since = now - 30 * DAY_MS;
    const part = pastChanges(plan, entries, now, ZONE, { since });
    expect(part.changes).toEqual(all.changes.filter((c) => c.at >= since));
    expect(part.missed).toEqual(all.missed.filter((m) => m.at >= since));
    expect(part.changes.length).toBeGreaterThan(5);
  });
});

describe('against a plain walk over Temporal dates', () => {
  const ZONES = ['America/Chicago', 'Europe/Berlin', 'Australia/Lord_Howe', 'Pacific/Apia'] as const;
  const gaps = fc.array(fc.integer({ min: 1, max: 9 * 24 * 60 }), { minLength: 1, maxLength: 8 });

  it('on time, early and late by calendar days, and every missed day, for whole days and weekdays (temporal-polyfill)', () => {
    let seen = 0;
    const intervals = fc.oneof(
      fc.integer({ min: 1, max: 5 }).map((d): Interval => every(24 * d)),
      fc.subarray([...WEEKDAYS], { minLength: 1 }).map((days): Interval => onDays(...days)),
    );
    fc.assert(
      fc.property(fc.constantFrom(...ZONES), fc.integer({ min: 15_500, max: 23_000 }), intervals, gaps, (zone, day, interval, minutes) => {
        let z = Temporal.PlainDate.from('1970-01-01').add({ days: day }).toZonedDateTime({ timeZone: zone, plainTime: '12:00' });
        const times = [z, ...minutes.map((m) => (z = z.add({ minutes: m })))];
        const dates = times.map((t) => t.toPlainDate());
        const next = (d: Temporal.PlainDate): Temporal.PlainDate => {
          if (interval.kind === 'hours') return d.add({ days: interval.hours / 24 });
          let after = d.add({ days: 1 });
          while (interval.kind === 'weekdays' && !interval.days.includes(WEEKDAYS[after.dayOfWeek - 1] ?? 'mon'))
            after = after.add({ days: 1 });
          return after;
        };
        const timings = ['first'];
        const missed: string[] = [];
        for (let i = 1; i < dates.length; i += 1) {
          const [before, own] = [dates[i - 1], dates[i]] as [Temporal.PlainDate, Temporal.PlainDate];
          const sign = Temporal.PlainDate.compare(own, next(before));
          timings.push(sign < 0 ? 'early' : sign > 0 ? `late ${next(before).until(own).days}` : 'onTime');
          for (let d = next(before); Temporal.PlainDate.compare(next(d), own) <= 0; d = next(d)) missed.push(d.toString());
        }
        const plan = planWith([{ interval }]);
        const records = times.map((t, i) => changeAt(`c${i}`, t.epochMilliseconds, zone));
        const got = pastChanges(plan, entriesOf(...records), z.epochMilliseconds, zone);
        expect(got.changes.map((c) => (c.timing === 'late' ? `late ${c.daysLate}` : c.timing))).toEqual(timings);
        expect(got.missed.map((m) => m.day)).toEqual(missed);
        seen += times.length;
      }),
      { numRuns: 1500 },
    );
    expect(seen).toBeGreaterThan(5000);
  });
});

describe('the calendar', () => {
  it('shows four weeks back and four ahead, each thing on its day', () => {
    const plan = planWith([{ interval: every(48) }], {
      nextVisit: { day: '2031-03-16' as never, time: '10:30' },
      reviewBy: '2031-03-01' as never,
    });
    const records = [
      changeAt('c0', chicago('2031-02-20T09:00'), ZONE),
      checkAt('k1', chicago('2031-02-21T09:00'), ZONE, 'leaking'),
      changeAt('c1', chicago('2031-02-21T09:00'), ZONE, { check: 'k1' }),
      changeAt('c2', chicago('2031-02-24T09:00'), ZONE),
      changeAt('c3', chicago('2031-03-02T09:00'), ZONE),
    ];
    const { days } = calendarDays(plan, entriesOf(...records), chicago('2031-03-06T10:00'), ZONE);
    expect(days).toHaveLength(56);
    expect([days[0]?.day, days[28]?.day, days[55]?.day]).toEqual(['2031-02-06', '2031-03-06', '2031-04-02']);
    expect([days[27]?.when, days[28]?.when, days[29]?.when]).toEqual(['past', 'today', 'coming']);
    const on = (day: string) => days.find((d) => d.day === day)?.marks;
    expect(on('2031-02-20')).toEqual([{ kind: 'done', wound: 'w1', change: 'c0', joined: false }]);
    expect(on('2031-02-21')).toEqual([{ kind: 'early', wound: 'w1', change: 'c1', why: 'leaking' }]);
    expect(on('2031-02-24')).toEqual([{ kind: 'late', wound: 'w1', change: 'c2', daysLate: 1 }]);
    expect(on('2031-02-26')).toEqual([{ kind: 'missed', wound: 'w1' }]);
    expect(on('2031-03-01')).toEqual([{ kind: 'review' }]);
    expect(on('2031-03-04')).toEqual([{ kind: 'missed', wound: 'w1' }]);
    expect(on('2031-03-06')).toEqual([{ kind: 'due', wound: 'w1', minutes: 600, anyTime: false, since: '2031-03-04' }]);
    expect(on('2031-03-08')).toEqual([{ kind: 'due', wound: 'w1', minutes: 600, anyTime: false }]);
    expect(on('2031-03-16')).toContainEqual({ kind: 'visit', time: '10:30', zone: 'America/Chicago' });
  });

  it('no change of the last four weeks is left out, and none stands twice', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 27 * 24 * 60 }), { maxLength: 40 }),
        fc.constantFrom(ZONE, 'Pacific/Apia'),
        (ago, zone) => {
          const now = chicago('2031-03-20T10:00');
          const records = ago.map((m, i) => changeAt(`c${i}`, now - m * 60_000, zone));
          const marks = calendarDays(everyOther, entriesOf(...records), now, zone).days.flatMap((d) => d.marks);
          const shown = marks.flatMap((m) => ('change' in m ? [m.change] : []));
          expect(shown.sort()).toEqual(records.map((r) => r.id).sort());
        },
      ),
    );
  });

  it('an empty log shows what is due and nothing else', () => {
    const { days, ahead } = calendarDays(everyOther, [], chicago('2031-03-06T10:00'), ZONE);
    expect(ahead).toEqual([]);
    expect(days.slice(0, 28).every((d) => d.marks.length === 0)).toBe(true);
    expect(days[28]?.marks).toEqual([{ kind: 'due', wound: 'w1', minutes: 600, anyTime: false }]);
  });
});
