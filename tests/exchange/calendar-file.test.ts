import fc from 'fast-check';
import ICAL from 'ical.js';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import type { Plan } from '../../app/care/plan/plan.ts';
import { comingChanges, type Sitting, type Visit } from '../../app/care/schedule/coming-changes.ts';
import { DAY_MS, type LocalDay } from '../../app/care/schedule/day.ts';
import { alarmOffset, type CalendarFile, calendarFile } from '../../app/exchange/calendar-file.ts';
import { escapeText, fold } from '../../app/exchange/calendar-lines.ts';
import { shiftsBetween, vtimezone } from '../../app/exchange/calendar-zone.ts';
import { changeAt, entriesOf, every, onDays, planWith } from '../care/supplies/scenario.ts';

/** The calendar file read by ical.js, an independent reader of RFC 5545. */

const ZONE = 'America/Chicago';
const WORDS = { calendar: 'Tendbook', change: 'Your plan for today', visit: 'Appointment' };
const NOW = Date.parse('2031-03-04T18:00:00Z');

const fileOf = (more: Partial<CalendarFile> = {}): CalendarFile => ({
  plan: { id: 'alder-street-0417' },
  sittings: [],
  visits: [],
  words: WORDS,
  now: NOW,
  revision: 3,
  ...more,
});
const sitting = (day: string, minutes: number, anyTime = false): Sitting => ({ at: 0, day: day as LocalDay, minutes, anyTime, wounds: [] });
const visit = (clinicDay: string, time: string, zone: string): Visit => ({
  at: 0,
  day: clinicDay as LocalDay,
  clinicDay: clinicDay as LocalDay,
  time,
  zone,
});

function textOf(file: CalendarFile): string {
  const text = calendarFile(file);
  if (text === undefined) throw new Error('nothing written');
  return text;
}

interface Read {
  calendar: ICAL.Component;
  events: ICAL.Event[];
}
function read(text: string): Read {
  const calendar = new ICAL.Component(ICAL.parse(text));
  for (const zone of calendar.getAllSubcomponents('vtimezone')) ICAL.TimezoneService.register(new ICAL.Timezone(zone), undefined);
  return { calendar, events: calendar.getAllSubcomponents('vevent').map((e) => new ICAL.Event(e)) };
}

const changes = (events: readonly ICAL.Event[]): ICAL.Event[] => events.filter((e) => e.uid.includes('-change-'));
/** Minutes from the start to the alarm. */
const alarms = (event: ICAL.Event): number[] =>
  event.component.getAllSubcomponents('valarm').map((a) => (a.getFirstPropertyValue('trigger') as ICAL.Duration).toSeconds() / 60);

function scheduled(plan: Plan, last: number, days = 28, zone = ZONE): { sittings: Sitting[]; visits: Visit[] } {
  return comingChanges(plan, entriesOf(changeAt('c1', last, zone)), last, zone, { days });
}

describe('dressing changes', () => {
  it.each([
    ['spring forward', '2031-02-25T09:00:00-06:00', '2031-03-09'],
    ['fall back', '2031-10-21T09:00:00-05:00', '2031-11-02'],
  ])('stay at nine o’clock across the clock change: %s', (_name, from, shift) => {
    const { sittings } = scheduled(planWith([{ interval: every(48) }]), Date.parse(from));
    const { events } = read(textOf(fileOf({ sittings })));
    const starts = events.map((e) => e.startDate);
    expect(starts).toHaveLength(13);
    expect(starts.map((s) => [s.hour, s.minute, s.zone.tzid])).toEqual(starts.map(() => [9, 0, 'floating']));
    const days = starts.map((s) => s.toString().slice(0, 10));
    expect(days.some((d) => d < shift) && days.some((d) => d > shift)).toBe(true);
    days.slice(1).forEach((d, i) => {
      expect(
        Temporal.PlainDate.from(days[i] as string)
          .add({ days: 2 })
          .toString(),
      ).toBe(d);
    });
  });

  it('wherever the person is it is nine o’clock there', () => {
    const { events } = read(textOf(fileOf({ sittings: [sitting('2031-03-10', 540)] })));
    const start = events[0]?.startDate as ICAL.Time;
    expect(start.toString()).toBe('2031-03-10T09:00:00');
    for (const zone of ['Europe/Berlin', 'Pacific/Apia']) {
      expect(Temporal.PlainDateTime.from(start.toString()).toZonedDateTime(zone).hour).toBe(9);
    }
  });

  it('the person’s own hour, unless there are several changes that day', () => {
    const sittings = [sitting('2031-03-10', 540), sitting('2031-03-11', 480), sitting('2031-03-11', 1200), sitting('2031-03-12', 0, true)];
    const hours = (file: Partial<CalendarFile>) => read(textOf(fileOf({ sittings, ...file }))).events.map((e) => e.startDate.hour);
    expect(hours({ changeTime: '18:00' })).toEqual([18, 8, 20, 18]);
    expect(hours({})).toEqual([9, 8, 20, 9]);
  });

  it('weekdays of a plan come out as whole days at a given hour', () => {
    const { sittings } = scheduled(planWith([{ interval: onDays('mon', 'wed', 'fri') }]), Date.parse('2031-03-04T20:00:00-06:00'), 14);
    const { events } = read(textOf(fileOf({ sittings, changeTime: '08:15' })));
    expect(events.map((e) => e.startDate.toString())).toEqual(['05', '07', '10', '12', '14', '17'].map((d) => `2031-03-${d}T08:15:00`));
  });
});

describe('visits', () => {
  it.each([
    ['2031-03-07', '10:30', 'America/Chicago'],
    ['2031-03-10', '10:30', 'America/Chicago'],
    ['2031-10-31', '08:00', 'America/Chicago'],
    ['2031-11-03', '08:00', 'America/Chicago'],
    ['2031-03-31', '09:15', 'Europe/Berlin'],
    ['2031-10-27', '09:15', 'Europe/Berlin'],
    ['2031-04-07', '09:15', 'Australia/Lord_Howe'],
    ['2031-01-02', '09:15', 'Australia/Lord_Howe'],
    ['2031-07-02', '00:15', 'Pacific/Apia'],
    ['2031-12-31', '23:45', 'Asia/Kathmandu'],
  ])('%s %s in %s is the instant that Temporal gives', (day, time, zone) => {
    const { events } = read(textOf(fileOf({ visits: [visit(day, time, zone)] })));
    const wanted = Temporal.PlainDateTime.from(`${day}T${time}`).toZonedDateTime(zone).epochMilliseconds;
    expect((events[0]?.startDate.toUnixTime() ?? 0) * 1000).toBe(wanted);
  });

  it('any visit of thirty years, in any of the zones, is the instant that Temporal gives', () => {
    const zones = ['America/Chicago', 'Europe/Berlin', 'Australia/Lord_Howe', 'Pacific/Apia', 'Europe/Dublin', 'Africa/Casablanca'];
    fc.assert(
      fc.property(
        fc.constantFrom(...zones),
        fc.integer({ min: 15_000, max: 26_000 }),
        fc.integer({ min: 5 * 60, max: 1439 }),
        (zone, n, minutes) => {
          const day = Temporal.PlainDate.from('1970-01-01').add({ days: n });
          fc.pre(!(zone === 'Pacific/Apia' && day.toString() === '2011-12-30'));
          const time = `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
          ICAL.TimezoneService.reset();
          const { events } = read(textOf(fileOf({ visits: [visit(day.toString(), time, zone)] })));
          const wanted = day.toZonedDateTime({ timeZone: zone, plainTime: time }).epochMilliseconds;
          expect((events[0]?.startDate.toUnixTime() ?? 0) * 1000).toBe(wanted);
        },
      ),
      { numRuns: 400 },
    );
  });

  it('clock changes of a zone are those that Temporal knows', () => {
    for (const zone of ['America/Chicago', 'Europe/Berlin', 'Australia/Lord_Howe', 'Pacific/Apia', 'Asia/Tokyo']) {
      const wanted: number[] = [];
      for (let z = Temporal.ZonedDateTime.from(`2010-01-01T00:00[${zone}]`).getTimeZoneTransition('next'); z && z.year < 2034; ) {
        wanted.push(z.epochMilliseconds);
        z = z.getTimeZoneTransition('next');
      }
      const got = shiftsBetween(zone, Date.parse('2010-01-01T00:00:00Z'), Date.parse('2034-01-01T00:00:00Z')).map((s) => s.at);
      expect(got).toEqual(wanted);
    }
    expect(vtimezone('Asia/Tokyo', 2031, 2031).filter((l) => l.startsWith('BEGIN'))).toEqual(['BEGIN:VTIMEZONE', 'BEGIN:STANDARD']);
    expect(vtimezone('America/Chicago', 2031, 2031)).toContain('DTSTART:20310309T020000');
  });

  it('each zone is described once, and before it is used', () => {
    const text = textOf(
      fileOf({
        visits: [visit('2031-03-16', '10:30', ZONE), visit('2032-03-16', '10:30', ZONE), visit('2031-04-01', '09:00', 'Europe/Berlin')],
      }),
    );
    expect(text.match(/BEGIN:VTIMEZONE/g)).toHaveLength(2);
    expect(text.lastIndexOf('END:VTIMEZONE')).toBeLessThan(text.indexOf('BEGIN:VEVENT'));
  });
});

describe('alarms', () => {
  const alarmsOf = (file: Partial<CalendarFile>) => read(textOf(fileOf(file))).events.map(alarms);
  const quietHours = { from: '22:00', to: '07:00' };

  it('one each: at the change, two hours before a visit, or as set', () => {
    const file = { sittings: [sitting('2031-03-10', 540)], visits: [visit('2031-03-16', '10:30', ZONE)] };
    expect(alarmsOf(file)).toEqual([[0], [-120]]);
    expect(alarmsOf({ ...file, alarmMinutes: { change: 15, visit: 1440 } })).toEqual([[-15], [-1440]]);
  });

  it('in the quiet hours it rings at their end; before a visit that would be too late for, just before them', () => {
    expect(alarmsOf({ sittings: [sitting('2031-03-10', 360)], quietHours })).toEqual([[60]]);
    expect(alarmsOf({ sittings: [sitting('2031-03-10', 23 * 60)], quietHours })).toEqual([[8 * 60]]);
    expect(alarmsOf({ visits: [visit('2031-03-16', '08:30', ZONE)], quietHours })).toEqual([[-90]]);
    expect(alarmsOf({ visits: [visit('2031-03-16', '06:30', ZONE)], quietHours })).toEqual([[-(8.5 * 60 + 1)]]);
  });

  it('never rings in the quiet hours, and otherwise rings when it was set to', () => {
    const clock = fc.integer({ min: 0, max: 1439 });
    const text = (m: number): string => `${String(Math.floor(m / 60)).padStart(2, '0')}:${String(m % 60).padStart(2, '0')}`;
    fc.assert(
      fc.property(clock, fc.integer({ min: 0, max: 2880 }), clock, clock, fc.boolean(), (start, before, from, to, isVisit) => {
        const isQuiet = (offset: number): boolean => {
          const m = (((start + offset) % 1440) + 1440) % 1440;
          return from <= to ? m >= from && m < to : m >= from || m < to;
        };
        const offset = alarmOffset(start, before, { from: text(from), to: text(to) }, isVisit);
        expect(isQuiet(offset)).toBe(false);
        if (!isQuiet(-before)) expect(offset).toBe(-before + 0);
        if (isVisit) expect(offset).toBeLessThanOrEqual(0);
      }),
      { numRuns: 3000 },
    );
  });
});

describe('importing again', () => {
  it('the same schedule gives the same entries; only the stamp and the sequence differ', () => {
    const { sittings, visits } = scheduled(
      planWith([{ interval: every(48) }], { nextVisit: { day: '2031-03-16' as LocalDay, time: '10:30' } }),
      NOW,
    );
    const first = textOf(fileOf({ sittings, visits }));
    const again = textOf(fileOf({ sittings, visits, now: NOW + DAY_MS, revision: 4 }));
    const plain = (text: string): string => text.replace(/^(DTSTAMP|SEQUENCE):.*\r\n/gm, '');
    expect(plain(again)).toBe(plain(first));
    expect(again).toContain('SEQUENCE:4');
    expect(new Set(read(first).events.map((e) => e.uid)).size).toBe(sittings.length + 1);
  });

  it('after an early change the entries move: no UID of the file before is left at its old day', () => {
    const plan = planWith([{ interval: every(48) }]);
    const before = scheduled(plan, Date.parse('2031-03-04T09:00:00-06:00'), 28).sittings;
    const after = scheduled(plan, Date.parse('2031-03-05T09:00:00-06:00'), 20).sittings;
    const calendar = new Map(read(textOf(fileOf({ sittings: before }))).events.map((e) => [e.uid, e]));
    for (const e of read(textOf(fileOf({ sittings: after, revision: 4, before: { sittings: before.length } }))).events)
      calendar.set(e.uid, e);
    const shown = [...calendar.values()].filter((e) => e.component.getFirstPropertyValue('status') !== 'CANCELLED');
    expect(shown.map((e) => e.startDate.toString().slice(0, 10))).toEqual(after.map((s) => s.day));
    expect(calendar.size).toBe(before.length);
  });

  it('a visit that is no longer planned is cancelled', () => {
    const { events } = read(textOf(fileOf({ before: { visits: 1 } })));
    expect(events.map((e) => [e.uid, e.component.getFirstPropertyValue('status')])).toEqual([
      ['alder-street-0417-visit-1@tendbook', 'CANCELLED'],
    ]);
  });

  it('with nothing to say there is no file', () => {
    expect(calendarFile(fileOf())).toBeUndefined();
  });
});

describe('the text (RFC 5545, sections 3.1 and 3.3.11)', () => {
  const TEXTS = [
    'Su plan de hoy: limpiar, secar; después llamar a la clínica si algo cambió desde ayer — ¿mañana también?',
    'خطة اليوم: اغسل يديك، ثم افتح الصندوق؛ واتصل بالعيادة إذا تغير شيء منذ الأمس، شكراً لك يا عزيزتي',
    '今天的计划：请先洗手，然后打开盒子；如果与昨天相比有任何变化，请致电诊所。谢谢您的配合与耐心，祝您一切顺利。',
    'comma, semicolon; backslash \\ and\nanother line, \\n not a line',
    '👩🏽‍⚕️'.repeat(20),
  ];

  it.each(TEXTS)('comes back as it was: %s', (text) => {
    const words = { calendar: text, change: text, visit: text, changeDetail: text, visitDetail: text };
    const { calendar, events } = read(
      textOf(fileOf({ words, sittings: [sitting('2031-03-10', 540)], visits: [visit('2031-03-16', '10:30', ZONE)] })),
    );
    // ical.js does not know NAME (RFC 7986), so it leaves the escapes as they are.
    expect(calendar.getFirstPropertyValue('name')).toBe(escapeText(text));
    expect(events.map((e) => [e.summary, e.description])).toEqual([
      [text, text],
      [text, text],
    ]);
  });

  const octets = (line: string): number => new TextEncoder().encode(line).length;

  it('no line is longer than 75 octets, all end in CRLF, no character is broken', () => {
    for (const text of TEXTS) {
      const file = textOf(
        fileOf({
          words: { calendar: text, change: text, visit: text, changeDetail: text.repeat(5) },
          sittings: [sitting('2031-03-10', 540)],
        }),
      );
      expect(file.endsWith('\r\n')).toBe(true);
      const lines = file.split('\r\n');
      expect(lines.every((l) => octets(l) <= 75 && !/[\r\n\uFFFD]/.test(l) && l.isWellFormed())).toBe(true);
      expect(lines.filter((l) => l.startsWith(' ')).length).toBeGreaterThan(3);
    }
  });

  it('any text folds and unfolds, and comes back from ical.js', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 200 }), (text) => {
        expect(fold(text).split('\r\n').join('\n').replaceAll('\n ', '')).toBe(text.replaceAll('\r\n', '\n').replaceAll('\n ', ''));
      }),
    );
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', minLength: 1, maxLength: 200 }), (text) => {
        fc.pre(!/(?![\t\n])\p{Cc}/u.test(text));
        const folded = fold(`SUMMARY:${escapeText(text)}`);
        expect(folded.split('\r\n').every((l) => octets(l) <= 75)).toBe(true);
        const back = new ICAL.Component(ICAL.parse(`BEGIN:VEVENT\r\n${folded}\r\nEND:VEVENT`));
        expect(back.getFirstPropertyValue('summary')).toBe(text);
      }),
    );
  });

  it('a text cannot smuggle a property in', () => {
    const words = { ...WORDS, change: 'x\r\nBEGIN:VEVENT\rATTACH:http://example.invalid\u0000' };
    const text = textOf(fileOf({ words, sittings: [sitting('2031-03-10', 540)] }));
    expect(read(text).events).toHaveLength(1);
    expect(text).not.toMatch(/^ATTACH/m);
    expect(text).not.toContain('\u0000');
  });

  it('says whose it is and that it is published', () => {
    const { calendar } = read(textOf(fileOf({ sittings: [sitting('2031-03-10', 540)] })));
    expect(['version', 'prodid', 'method', 'calscale'].map((p) => calendar.getFirstPropertyValue(p))).toEqual([
      '2.0',
      '-//Tendbook//Tendbook//EN',
      'PUBLISH',
      'GREGORIAN',
    ]);
    const [event] = changes(read(textOf(fileOf({ sittings: [sitting('2031-03-10', 540)] }))).events);
    expect(event?.component.getFirstPropertyValue('dtstamp')?.toString()).toBe('2031-03-04T18:00:00Z');
  });

  it('refuses a time of day that is none', () => {
    for (const changeTime of ['24:00', '9:00', '09:60', '']) {
      expect(() => calendarFile(fileOf({ changeTime, sittings: [sitting('2031-03-10', 540)] })), changeTime).toThrow(RangeError);
    }
  });
});
