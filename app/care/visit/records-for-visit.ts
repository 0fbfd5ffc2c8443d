import { recordsSince } from '../log/period.ts';
import type { LogRecord } from '../log/records.ts';
import { type Entry, standing, timeline } from '../log/timeline.ts';
import { addDays, type LocalDay } from '../schedule/day.ts';
import { type Look, looksOf } from '../schedule/looks.ts';
import { EARLY_REASONS } from '../schedule/past-changes.ts';
import { RATE_DAYS } from '../supplies/extra-changes.ts';
import { itemsMoved, ledger } from '../supplies/ledger.ts';
import { lastVisitBefore } from './period.ts';

/** Early changes are counted over these days before the end of a period; two more, because a day begins up to 26 hours earlier in another zone. */
const LOOK_BACK_DAYS = RATE_DAYS + 2;

/**
 * The part of a log from a day on, with as much of what was before as it takes
 * for `visitSummary` to say the same of any period from that day on as it would
 * with the whole log: the sizes, the last change of each wound and those of the
 * four weeks before, the stock, the plans in force, the last visit and what was
 * asked since. In the order the records came in.
 */
export function recordsForVisit(records: readonly LogRecord[], from: LocalDay): LogRecord[] {
  const entries = timeline(records);
  const first = earliest(entries);
  return recordsSince(records, from, [
    ...entries.filter((e) => KEPT_WHOLE.includes(e.first.kind) || e === first),
    ...questionsBefore(entries, from),
    ...changesBefore(entries, from),
    ...lastPhotos(entries, from),
    ...itemsMoved(entries).flatMap((item) => stockBefore(entries, item, from, first)),
  ]);
}

/** Few in number, and each may matter however old it is. */
const KEPT_WHOLE: readonly LogRecord['kind'][] = ['planAccepted', 'visit', 'measurement', 'ownItem'];

/** The entry that says on which day the log began. */
const earliest = (entries: readonly Entry[]): Entry | undefined =>
  entries.filter((e) => !e.voided).reduce<Entry | undefined>((a, b) => (a && a.first.day <= b.first.day ? a : b), undefined);

function questionsBefore(entries: readonly Entry[], from: LocalDay): Entry[] {
  const visit = lastVisitBefore(entries, from);
  const since = visit ? Date.parse(visit.at) : Number.NEGATIVE_INFINITY;
  return standing(entries, 'note').filter((e) => e.now.forVisit === true && Date.parse(e.first.at) > since);
}

/**
 * Changes of the days that are looked back over, the last one before those and
 * the last amount found before those, of each wound; checks that gave a reason
 * to change early, and those since the dressing was last changed.
 */
function changesBefore(entries: readonly Entry[], from: LocalDay): Entry[] {
  const looks = looksOf(entries).filter((l) => l.day < from);
  const start = addDays(from, -LOOK_BACK_DAYS);
  const wounds = [...new Set(looks.map((l) => l.wound))];
  const wanted = new Set<string>();
  let sinceDay = from;
  for (const wound of wounds) {
    const own = looks.filter((l) => l.wound === wound);
    const older = own.filter((l) => l.day < start);
    const kept = [...own.filter((l) => l.day >= start), older.findLast((l) => l.dressed), older.findLast((l) => l.found !== undefined)];
    for (const look of kept) if (look) wanted.add(look.id);
    const last = own.findLast((l) => l.dressed)?.day;
    if (last !== undefined && last < sinceDay) sinceDay = last;
  }
  const changes = standing(entries, 'change').filter((e) => wanted.has(e.first.id));
  const reasons = new Set(looks.filter((l) => wanted.has(l.id) && isEarlyReason(l)).map((l) => l.id));
  const named = new Set(changes.filter((e) => reasons.has(e.first.id)).map((e) => e.now.check));
  const checks = standing(entries, 'check').filter(
    (e) => (e.first.day >= sinceDay && e.first.day < from) || e.versions.some((v) => named.has(v.id)),
  );
  return [...changes, ...checks];
}

const isEarlyReason = ({ dressing }: Look): boolean => EARLY_REASONS.some((r) => r === dressing);

/** The last photo of each wound, to stand beside a later one. */
function lastPhotos(entries: readonly Entry[], from: LocalDay): Entry[] {
  const photos = standing(entries, 'photo').filter((e) => e.first.day < from);
  return [...new Map(photos.map((e) => [e.now.wound, e])).values()];
}

/**
 * The movements of an item from the newest delivery or count on that leads to
 * the same pieces at hand as all movements do.
 * @param first comes along anyway.
 */
function stockBefore(entries: readonly Entry[], item: string, from: LocalDay, first: Entry | undefined): Entry[] {
  const own = standing(entries, 'stock').filter((e) => e.now.item === item);
  const next = own.findIndex((e) => e.first.day >= from);
  const before = next < 0 ? own : own.slice(0, next);
  const stateOf = (movements: readonly Entry[]): string => {
    const { lots, tracked } = ledger(movements, item);
    return JSON.stringify([lots, tracked]);
  };
  const wanted = stateOf(before);
  // A later movement that comes along anyway must not stand alone.
  const comesAnyway = before.findIndex((e) => e === first || e.versions.some((v) => v.day >= from));
  for (let start = comesAnyway < 0 ? before.length : comesAnyway; start > 0; start--) {
    const movement = before[start]?.now.movement;
    const isStart = movement === undefined || movement === 'received' || movement === 'counted';
    const part = before.slice(start);
    if (isStart && stateOf(part) === wanted) return part;
  }
  return before;
}
