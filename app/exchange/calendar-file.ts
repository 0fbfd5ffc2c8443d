import type { Plan } from '../care/plan/plan.ts';
import type { Sitting, Visit } from '../care/schedule/coming-changes.ts';
import { addDays, type LocalDay, localDay } from '../care/schedule/day.ts';
import { fold, line, stampUtc, textLine } from './calendar-lines.ts';
import { vtimezone } from './calendar-zone.ts';

/** The sentences of the file. A lock screen shows them to anybody: no word about wounds or health belongs in `change` and `visit`. */
export interface CalendarWords {
  /** Name of the calendar. */
  calendar: string;
  /** Title of a dressing change, for instance "Tendbook: your plan for today". */
  change: string;
  /** Title of a clinic visit. */
  visit: string;
  /** A longer text, shown only when the entry is opened. */
  changeDetail?: string;
  visitDetail?: string;
}

/** `HH:MM` on a wall clock. From 22:00 to 07:00 goes over midnight. */
export interface QuietHours {
  from: string;
  to: string;
}

export interface CalendarFile {
  plan: Pick<Plan, 'id'>;
  sittings: readonly Sitting[];
  visits: readonly Visit[];
  /** `HH:MM` at which to remind of a change that is the only one of its day. Without it: the hour it is due, or 09:00 where the plan names only a weekday. */
  changeTime?: string;
  quietHours?: QuietHours;
  /** Minutes before the start at which the phone reminds. Default: 0 for a change, 120 for a visit. */
  alarmMinutes?: { change?: number; visit?: number };
  words: CalendarWords;
  /** ms. */
  now: number;
  /** Counts up with every file made, so that a later one replaces an earlier one (RFC 5545, SEQUENCE). */
  revision: number;
  /** How many changes and visits the file before this one held; those no longer there are cancelled. */
  before?: { sittings?: number; visits?: number };
}

const ANY_TIME = '09:00';
const DAY_MINUTES = 24 * 60;
const ALARM_MINUTES = { change: 0, visit: 120 };

/**
 * The schedule as an iCalendar file (RFC 5545), so that the phone's own
 * calendar reminds while the app is closed.
 *
 * - Changes are floating local time: nine o'clock wherever the person is.
 *   Visits carry the clinic's zone and its VTIMEZONE.
 * - An entry is known by the plan and its place in the row (first coming
 *   change, second …), not by its day: after an early change the next import
 *   moves the entries, and none of the old days is left behind.
 * - An alarm in the quiet hours rings at their end; that of a visit which
 *   would then have begun rings just before them.
 * @returns the text with CRLF line ends, or undefined when there is nothing to write.
 * @throws RangeError for a time of day that is none.
 */
export function calendarFile(file: CalendarFile): string | undefined {
  const gone = cancelled(file);
  if (file.sittings.length + file.visits.length + gone.length === 0) return undefined;
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Tendbook//Tendbook//EN',
    'CALSCALE:GREGORIAN',
    'METHOD:PUBLISH',
    textLine('NAME', file.words.calendar),
    ...zonesOf(file.visits),
    ...file.sittings.flatMap((sitting, i) => changeEvent(file, sitting, i)),
    ...file.visits.flatMap((visit, i) => visitEvent(file, visit, i)),
    ...gone,
    'END:VCALENDAR',
  ];
  return lines.map((l) => `${fold(l)}\r\n`).join('');
}

type EventKind = 'change' | 'visit';

/** `HH:MM` as minutes past midnight. */
function minutesOf(time: string): number {
  const found = /^([01]\d|2[0-3]):([0-5]\d)$/.exec(time);
  if (!found) throw new RangeError(`not a time of day: ${time}`);
  return Number(found[1]) * 60 + Number(found[2]);
}

const wall = (day: LocalDay, minutes: number): string =>
  `${day.replaceAll('-', '')}T${String(Math.floor(minutes / 60)).padStart(2, '0')}${String(minutes % 60).padStart(2, '0')}00`;

function head({ plan, now, revision }: CalendarFile, kind: EventKind, place: number): string[] {
  return [
    'BEGIN:VEVENT',
    line('UID', `${plan.id}-${kind}-${place + 1}@tendbook`),
    line('DTSTAMP', stampUtc(now)),
    line('SEQUENCE', String(revision)),
  ];
}

function changeEvent(file: CalendarFile, sitting: Sitting, place: number): string[] {
  const { words } = file;
  const minutes = changeMinutes(file, sitting);
  return [
    ...head(file, 'change', place),
    line('DTSTART', wall(sitting.day, minutes)),
    'DURATION:PT30M',
    // Others who look for a free hour need not see it.
    'TRANSP:TRANSPARENT',
    'CLASS:PRIVATE',
    textLine('SUMMARY', words.change),
    ...(words.changeDetail === undefined ? [] : [textLine('DESCRIPTION', words.changeDetail)]),
    ...alarm(file, 'change', minutes, words.change),
    'END:VEVENT',
  ];
}

function changeMinutes({ sittings, changeTime }: CalendarFile, sitting: Sitting): number {
  const alone = sittings.filter((s) => s.day === sitting.day).length === 1;
  if (changeTime !== undefined && alone) return minutesOf(changeTime);
  return sitting.anyTime ? minutesOf(changeTime ?? ANY_TIME) : sitting.minutes;
}

function visitEvent(file: CalendarFile, visit: Visit, place: number): string[] {
  const { words } = file;
  const minutes = minutesOf(visit.time);
  return [
    ...head(file, 'visit', place),
    `DTSTART;TZID=${visit.zone}:${wall(visit.clinicDay, minutes)}`,
    'DURATION:PT30M',
    'CLASS:PRIVATE',
    textLine('SUMMARY', words.visit),
    ...(words.visitDetail === undefined ? [] : [textLine('DESCRIPTION', words.visitDetail)]),
    ...alarm(file, 'visit', minutes, words.visit),
    'END:VEVENT',
  ];
}

/** The entries of the file before that have no place any more. */
function cancelled(file: CalendarFile): string[] {
  const day = localDay(file.now, 'UTC');
  const entry = (kind: EventKind, place: number): string[] => [
    ...head(file, kind, place),
    line('DTSTART', wall(day, minutesOf(ANY_TIME))),
    'STATUS:CANCELLED',
    textLine('SUMMARY', file.words[kind]),
    'END:VEVENT',
  ];
  const from = (kind: EventKind, had: number, has: number): string[] =>
    Array.from({ length: Math.max(0, had - has) }, (_, i) => entry(kind, has + i)).flat();
  return [
    ...from('change', file.before?.sittings ?? 0, file.sittings.length),
    ...from('visit', file.before?.visits ?? 0, file.visits.length),
  ];
}

function alarm(file: CalendarFile, kind: EventKind, start: number, words: string): string[] {
  const offset = alarmOffset(start, file.alarmMinutes?.[kind] ?? ALARM_MINUTES[kind], file.quietHours, kind === 'visit');
  return [
    'BEGIN:VALARM',
    'ACTION:DISPLAY',
    line('TRIGGER', offset < 0 ? `-PT${-offset}M` : `PT${offset}M`),
    textLine('DESCRIPTION', words),
    'END:VALARM',
  ];
}

/**
 * Minutes from the start of an entry to its alarm, below 0 before it.
 * @param start minutes past midnight. @param before minutes wanted before the start.
 * @param mustPrecede the alarm is of no use after the start.
 */
export function alarmOffset(start: number, before: number, quiet: QuietHours | undefined, mustPrecede: boolean): number {
  const wanted = -before + 0;
  if (!quiet) return wanted;
  const from = minutesOf(quiet.from);
  const length = round(minutesOf(quiet.to) - from);
  const into = round(start + wanted - from);
  if (into >= length) return wanted;
  const atEnd = wanted + length - into;
  return mustPrecede && atEnd > 0 ? wanted - into - 1 : atEnd;
}

/** Minutes on the face of the clock. */
const round = (minutes: number): number => ((minutes % DAY_MINUTES) + DAY_MINUTES) % DAY_MINUTES;

function zonesOf(visits: readonly Visit[]): string[] {
  return [...new Set(visits.map((v) => v.zone))].flatMap((zone) => {
    const days = visits.filter((v) => v.zone === zone).map((v) => v.clinicDay);
    const sorted = [...days].sort() as [LocalDay, ...LocalDay[]];
    // A week to either side, for the alarm and for travellers.
    return vtimezone(zone, Number(addDays(sorted[0], -7).slice(0, 4)), Number(addDays(sorted.at(-1) as LocalDay, 7).slice(0, 4)));
  });
}
