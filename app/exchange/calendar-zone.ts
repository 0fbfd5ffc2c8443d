import { DAY_MS, dayNumber, wallClock } from '../care/schedule/day.ts';

const MINUTE_MS = 60_000;

/** Minutes that a zone's wall clock is ahead of UTC at an instant (ms, whole minutes). */
function offsetAt(at: number, zone: string): number {
  const { day, minutes } = wallClock(at, zone);
  return (dayNumber(day) * DAY_MS) / MINUTE_MS + minutes - Math.floor(at / MINUTE_MS);
}

interface Shift {
  at: number;
  from: number;
  to: number;
}

/** The instants (ms) at which a zone's clocks change, in order. Looked for a week at a time: no zone changes twice within one. */
export function shiftsBetween(zone: string, start: number, end: number): Shift[] {
  const shifts: Shift[] = [];
  for (let at = start; at < end; at += 7 * DAY_MS) {
    let low = at;
    let high = Math.min(at + 7 * DAY_MS, end);
    const from = offsetAt(low, zone);
    const to = offsetAt(high, zone);
    if (from === to) continue;
    while (high - low > MINUTE_MS) {
      const middle = Math.floor((low + high) / 2 / MINUTE_MS) * MINUTE_MS;
      if (offsetAt(middle, zone) === from) low = middle;
      else high = middle;
    }
    shifts.push({ at: high, from, to });
  }
  return shifts;
}

const two = (n: number): string => String(n).padStart(2, '0');

function offsetText(minutes: number): string {
  const size = Math.abs(minutes);
  return `${minutes < 0 ? '-' : '+'}${two(Math.floor(size / 60))}${two(size % 60)}`;
}

/** What the wall clock shows at an instant when it is `offset` minutes ahead of UTC. */
const wallText = (at: number, offset: number): string =>
  new Date(at + offset * MINUTE_MS).toISOString().slice(0, 19).replaceAll(/[-:]/g, '');

/**
 * A VTIMEZONE (RFC 5545, 3.6.5) with every clock change of the years, read from
 * the platform's own zone data. No rules are guessed for later years.
 * @param zone an IANA name. @param firstYear @param lastYear both included.
 */
export function vtimezone(zone: string, firstYear: number, lastYear: number): string[] {
  const start = Date.UTC(firstYear, 0, 1) - DAY_MS;
  const shifts = shiftsBetween(zone, start, Date.UTC(lastYear + 1, 0, 2));
  const first = offsetAt(start, zone);
  const standard = Math.min(first, ...shifts.map((s) => s.to));
  return [
    'BEGIN:VTIMEZONE',
    `TZID:${zone}`,
    ...[{ at: start, from: first, to: first }, ...shifts].flatMap(({ at, from, to }) => {
      const kind = to > standard ? 'DAYLIGHT' : 'STANDARD';
      return [
        `BEGIN:${kind}`,
        `DTSTART:${wallText(at, from)}`,
        `TZOFFSETFROM:${offsetText(from)}`,
        `TZOFFSETTO:${offsetText(to)}`,
        `END:${kind}`,
      ];
    }),
    'END:VTIMEZONE',
  ];
}
