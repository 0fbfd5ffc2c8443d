import { describe, expect, it } from 'vitest';
import { LEVELS, type Outcome } from '../../../app/care/escalation/levels.ts';
import { type Call, clinicHours, levelForTheHour, whoToCall } from '../../../app/care/escalation/who-to-call.ts';
import type { Clinic } from '../../../app/care/plan/plan.ts';
import { HOUR_MS, type LocalDay, minutesOf } from '../../../app/care/schedule/day.ts';

/** Times are written with their offset, so that each expectation can be read off a wall clock. */
const at = (text: string): number => Date.parse(text);
const day = (text: string): LocalDay => text as LocalDay;

const PHONE = '+1 312 555 0142';
const NIGHT = '+1 312 555 0199';
const NUMBER = '911';

function clinic(own: Partial<Clinic> = {}): Clinic {
  return {
    name: 'Lakeside Foot Clinic',
    phone: PHONE,
    zone: 'America/Chicago',
    hours: (['mon', 'tue', 'wed', 'thu', 'fri'] as const).flatMap((d) => [
      { day: d, opens: '08:00', closes: '12:00' },
      { day: d, opens: '13:00', closes: '17:00' },
    ]),
    ...own,
  };
}
const call = (own: Partial<Clinic>, level: Outcome, when: string): Call => whoToCall(clinic(own), NUMBER, level, at(when)).call;

describe('clinic hours on the clinic’s own wall clock', () => {
  // 2031-03-04 is a Tuesday; Chicago is at -06:00 until 9 March 2031.
  it.each([
    ['one minute before opening: closed', '2031-03-04T07:59:00-06:00', false, '2031-03-04T08:00:00-06:00'],
    ['on the minute of opening: open', '2031-03-04T08:00:00-06:00', true, '2031-03-04T13:00:00-06:00'],
    ['in the morning: open, and opens again after lunch', '2031-03-04T10:00:00-06:00', true, '2031-03-04T13:00:00-06:00'],
    ['on the minute of closing for lunch: closed', '2031-03-04T12:00:00-06:00', false, '2031-03-04T13:00:00-06:00'],
    ['in the lunch gap: closed until 13:00', '2031-03-04T12:30:00-06:00', false, '2031-03-04T13:00:00-06:00'],
    ['in the afternoon: open, and opens again tomorrow', '2031-03-04T16:59:00-06:00', true, '2031-03-05T08:00:00-06:00'],
    ['after closing: closed until tomorrow', '2031-03-04T17:00:00-06:00', false, '2031-03-05T08:00:00-06:00'],
  ])('%s', (_name, now, open, opens) => {
    expect(clinicHours(clinic(), at(now))).toEqual({ open, opensAt: at(opens) });
  });

  it('Friday evening: does not open within 24 hours', () => {
    expect(clinicHours(clinic(), at('2031-03-07T18:00:00-06:00'))).toEqual({ open: false, opensAt: undefined });
  });

  it('opens in exactly 24 hours: counts; in 24 hours and a minute: does not', () => {
    const only = clinic({ hours: [{ day: 'wed', opens: '09:00', closes: '10:00' }] });
    expect(clinicHours(only, at('2031-03-04T09:00:00-06:00')).opensAt).toBe(at('2031-03-05T09:00:00-06:00'));
    expect(clinicHours(only, at('2031-03-04T08:59:00-06:00')).opensAt).toBeUndefined();
  });

  it('a closed day is closed, and the next opening is looked for after it', () => {
    const closedDays = [day('2031-03-04')];
    expect(clinicHours(clinic({ closedDays }), at('2031-03-04T10:00:00-06:00'))).toEqual({
      open: false,
      opensAt: at('2031-03-05T08:00:00-06:00'),
    });
    expect(clinicHours(clinic({ closedDays }), at('2031-03-03T18:00:00-06:00'))).toEqual({ open: false, opensAt: undefined });
  });

  it('a person in another zone changes nothing: Tokyo’s Wednesday is still Chicago’s Tuesday', () => {
    expect(clinicHours(clinic(), at('2031-03-05T00:30:00+09:00'))).toEqual({ open: true, opensAt: at('2031-03-04T13:00:00-06:00') });
  });

  it('open until midnight and from midnight on: open all night', () => {
    const always = clinic({
      hours: (['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const).map((d) => ({ day: d, opens: '00:00', closes: '24:00' })),
    });
    for (let hour = 0; hour < 24 * 10; hour += 1)
      expect(clinicHours(always, at('2031-03-04T23:30:00-06:00') + hour * HOUR_MS).open).toBe(true);
  });

  it('a clinic without hours never opens', () => {
    expect(clinicHours(clinic({ hours: [] }), at('2031-03-04T10:00:00-06:00'))).toEqual({ open: false, opensAt: undefined });
  });
});

describe('clinic hours when the clocks change', () => {
  const sundays: Partial<Clinic> = { hours: [{ day: 'sun', opens: '08:00', closes: '12:00' }] };

  // Clock changes of 2031: EU 30 March and 26 October, USA 9 March and 2 November.
  it('America/Chicago, spring: opens at 08:00 daylight time', () => {
    const { opensAt } = clinicHours(clinic(sundays), at('2031-03-08T20:00:00-06:00'));
    expect(opensAt).toBe(at('2031-03-09T08:00:00-05:00'));
    expect(clinicHours(clinic(sundays), at('2031-03-09T08:00:00-05:00')).open).toBe(true);
    expect(clinicHours(clinic(sundays), at('2031-03-09T07:59:00-05:00')).open).toBe(false);
  });

  it('America/Chicago, autumn: closes at 12:00 standard time', () => {
    expect(clinicHours(clinic(sundays), at('2031-11-02T11:59:00-06:00')).open).toBe(true);
    expect(clinicHours(clinic(sundays), at('2031-11-02T12:00:00-06:00')).open).toBe(false);
  });

  it('America/Chicago, autumn: the 25-hour day does not make 24 hours longer', () => {
    expect(clinicHours(clinic(sundays), at('2031-11-01T09:00:00-05:00')).opensAt).toBe(at('2031-11-02T08:00:00-06:00'));
    expect(clinicHours(clinic(sundays), at('2031-11-01T08:30:00-05:00')).opensAt).toBeUndefined();
  });

  it('Europe/Berlin, spring: opening hours inside the skipped hour start after it', () => {
    const berlin = clinic({ zone: 'Europe/Berlin', hours: [{ day: 'sun', opens: '02:30', closes: '05:00' }] });
    expect(clinicHours(berlin, at('2031-03-29T20:00:00+01:00')).opensAt).toBe(at('2031-03-30T03:30:00+02:00'));
    expect(clinicHours(berlin, at('2031-03-30T04:59:00+02:00')).open).toBe(true);
  });

  it('Europe/Berlin, spring: across the 23-hour day, the day after next can be within 24 hours', () => {
    const berlin = clinic({ zone: 'Europe/Berlin', hours: [{ day: 'mon', opens: '00:15', closes: '08:00' }] });
    const { told, call: to } = whoToCall(berlin, NUMBER, 'callToday', at('2031-03-29T23:30:00+01:00'));
    expect(to).toEqual({ to: 'clinicWhenOpen', phone: PHONE, opensAt: at('2031-03-31T00:15:00+02:00') });
    expect(told).toBe('callToday');
  });

  it('Europe/Berlin, autumn: an hour that comes twice opens the first time', () => {
    const berlin = clinic({ zone: 'Europe/Berlin', hours: [{ day: 'sun', opens: '02:30', closes: '05:00' }] });
    expect(clinicHours(berlin, at('2031-10-25T20:00:00+02:00')).opensAt).toBe(at('2031-10-26T02:30:00+02:00'));
    expect(clinicHours(berlin, at('2031-10-26T02:40:00+01:00')).open).toBe(true);
  });

  it('Pacific/Apia, 13 hours ahead: the clinic’s Monday is still Sunday in UTC', () => {
    const apia = clinic({ zone: 'Pacific/Apia', hours: [{ day: 'mon', opens: '08:00', closes: '16:00' }] });
    expect(clinicHours(apia, at('2031-03-02T20:00:00Z'))).toEqual({ open: true, opensAt: undefined });
    expect(clinicHours(apia, at('2031-03-02T18:00:00Z'))).toEqual({ open: false, opensAt: at('2031-03-02T19:00:00Z') });
  });

  it('Pacific/Apia, 2011: Saturday came right after Thursday and is within 24 hours (IANA time zone database)', () => {
    const saturdays = clinic({ zone: 'Pacific/Apia', hours: [{ day: 'sat', opens: '08:00', closes: '16:00' }] });
    expect(clinicHours(saturdays, at('2011-12-29T12:00:00-10:00')).opensAt).toBe(at('2011-12-31T08:00:00+14:00'));
  });
});

describe('whom to call', () => {
  const OPEN = '2031-03-04T10:00:00-06:00';
  const NIGHT_TIME = '2031-03-04T22:00:00-06:00';
  const WEEKEND = '2031-03-07T18:00:00-06:00';
  const outOfHoursPhone = NIGHT;

  it('open: the clinic, for a call today and a call now', () => {
    expect(call({}, 'callToday', OPEN)).toEqual({ to: 'clinic', phone: PHONE });
    expect(call({ outOfHoursPhone }, 'callNow', OPEN)).toEqual({ to: 'clinic', phone: PHONE });
  });

  it('closed with an out-of-hours phone: that phone, for both', () => {
    for (const level of ['callToday', 'callNow'] as const) {
      expect(whoToCall(clinic({ outOfHoursPhone }), NUMBER, level, at(WEEKEND))).toEqual({
        told: level,
        call: { to: 'outOfHours', phone: NIGHT },
      });
    }
  });

  it('call today, closed, opening within 24 hours: the clinic when it opens', () => {
    expect(call({}, 'callToday', NIGHT_TIME)).toEqual({ to: 'clinicWhenOpen', phone: PHONE, opensAt: at('2031-03-05T08:00:00-06:00') });
    expect(call({ outOfHoursPhone }, 'callToday', NIGHT_TIME)).toEqual({ to: 'outOfHours', phone: NIGHT });
  });

  it('call today, closed over the weekend, nobody out of hours: told as call now, emergency department', () => {
    expect(whoToCall(clinic(), NUMBER, 'callToday', at(WEEKEND))).toEqual({ told: 'callNow', call: { to: 'department' } });
  });

  it('call now, closed, nobody out of hours: emergency department, though the clinic opens in the morning', () => {
    expect(whoToCall(clinic(), NUMBER, 'callNow', at(NIGHT_TIME))).toEqual({ told: 'callNow', call: { to: 'department' } });
  });

  it('emergency: the emergency number at any hour', () => {
    for (const when of [OPEN, NIGHT_TIME, WEEKEND]) {
      expect(whoToCall(clinic({ outOfHoursPhone }), '112', 'emergency', at(when))).toEqual({
        told: 'emergency',
        call: { to: 'emergency', phone: '112' },
      });
    }
  });

  it('carry on, mention and unfinished: nobody, at any hour', () => {
    for (const level of ['carryOn', 'mention', 'unfinished'] as const) {
      for (const when of [OPEN, NIGHT_TIME, WEEKEND]) {
        expect(whoToCall(clinic({ outOfHoursPhone }), NUMBER, level, at(when))).toEqual({ told: level, call: { to: 'nobody' } });
      }
    }
  });

  it('the hour never lowers a level, and lifts only a call today that nobody can take', () => {
    const both = [true, false];
    const hours = both.flatMap((open) => both.flatMap((hasOutOfHours) => both.map((opensSoon) => ({ open, hasOutOfHours, opensSoon }))));
    for (const level of [...LEVELS, 'unfinished'] as const) {
      const lifted = hours.filter((hour) => levelForTheHour(level, hour) !== level);
      expect(lifted).toEqual(level === 'callToday' ? [{ open: false, hasOutOfHours: false, opensSoon: false }] : []);
    }
    expect(levelForTheHour('callToday', { open: false, hasOutOfHours: false, opensSoon: false })).toBe('callNow');
  });

  it('reads opening times', () => {
    expect([minutesOf('00:00'), minutesOf('08:05'), minutesOf('13:30'), minutesOf('24:00')]).toEqual([0, 485, 810, 1440]);
  });
});
