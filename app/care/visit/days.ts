import type { TemperatureAnswer } from '../check/answers.ts';
import { isWholeCheck } from '../check/items.ts';
import type { Outcome } from '../escalation/levels.ts';
import type { WoundSize } from '../healing/sizes.ts';
import type { LocalDay } from '../schedule/day.ts';
import type { PastChange } from '../schedule/past-changes.ts';
import { type AlertLine, alertsPart } from './alerts-part.ts';
import { type DrainageRow, drainagePart, scheduleOf } from './changes-part.ts';
import { daysOf } from './period.ts';
import { inPeriod, planOf, type Scope } from './scope.ts';
import { sizePart } from './size-part.ts';
import { scopeOf, type VisitInput } from './summary.ts';

export interface DayCheck {
  id: string;
  day: LocalDay;
  at: string;
  zone: string;
  /** As it was told at that hour. */
  told: Outcome;
  /** All that the plan asks was answered. */
  whole: boolean;
  temperature: TemperatureAnswer | undefined;
}

/** One look at a wound. How it stood to the schedule is undefined where it was broken off. */
export interface DayChange {
  wound: string;
  row: DrainageRow;
  timing: PastChange | undefined;
}

/** Words that somebody wrote, as they wrote them. */
export interface DayNote {
  id: string;
  day: LocalDay;
  /** `question`: for the next visit. `check` and `change`: written in one. */
  of: 'note' | 'question' | 'check' | 'change' | 'visit';
  text: string;
}

/** All that a log says of one day. */
export interface VisitDay {
  day: LocalDay;
  checks: DayCheck[];
  changes: DayChange[];
  /** Raised on this day, with what was done about them whenever that was. */
  alerts: AlertLine[];
  sizes: { wound: string; size: WoundSize }[];
  photos: number;
  notes: DayNote[];
  /** The person was at the clinic. */
  visit: boolean;
  /** Plan versions that were accepted. */
  plans: number[];
}

/**
 * The days of a period one by one, oldest first, those without an entry too.
 * Each entry stands once, as corrected last, on the day of its first version.
 */
export function visitDays(input: VisitInput): VisitDay[] {
  const scope = scopeOf(input);
  const changes = byDay(changesOf(scope), (c) => c.row.day);
  const sizes = byDay(sizesIn(scope), (s) => s.size.day);
  const alerts = byDay(alertsPart(scope, input.now), (a) => a.day);
  const checks = byDay(checksIn(scope), (c) => c.day);
  const notes = byDay(notesIn(scope), (n) => n.day);
  const photos = byDay(inPeriod(scope, 'photo'), (e) => e.first.day);
  const visits = byDay(inPeriod(scope, 'visit'), (e) => e.first.day);
  const plans = byDay(inPeriod(scope, 'planAccepted'), (e) => e.first.day);
  return daysOf(scope.period).map((day) => ({
    day,
    checks: on(checks, day),
    changes: on(changes, day),
    alerts: on(alerts, day),
    sizes: on(sizes, day),
    photos: on(photos, day).length,
    notes: on(notes, day),
    visit: on(visits, day).length > 0,
    plans: on(plans, day).map((e) => e.now.accepted.revision),
  }));
}

/** Things by their day, so that years of days are not searched again and again. */
function byDay<T>(things: readonly T[], dayOf: (thing: T) => LocalDay): ReadonlyMap<LocalDay, T[]> {
  const days = new Map<LocalDay, T[]>();
  for (const thing of things) {
    const day = dayOf(thing);
    const own = days.get(day);
    if (own) own.push(thing);
    else days.set(day, [thing]);
  }
  return days;
}

const on = <T>(map: ReadonlyMap<LocalDay, T[]>, day: LocalDay): T[] => map.get(day) ?? [];

const checksIn = (scope: Scope): DayCheck[] =>
  inPeriod(scope, 'check').map(({ first, now }) => ({
    id: first.id,
    day: first.day,
    at: first.at,
    zone: first.zone,
    told: now.judgement.told,
    whole: isWholeCheck(planOf(scope, first), now),
    temperature: now.person.temperature,
  }));

function sizesIn(scope: Scope): VisitDay['sizes'] {
  const wounds = new Set([...scope.plan.wounds.map((w) => w.id), ...inPeriod(scope, 'measurement').map((e) => e.now.wound)]);
  return [...wounds].flatMap((wound) => sizePart(scope, wound).inPeriod.map((size) => ({ wound, size })));
}

function changesOf(scope: Scope): DayChange[] {
  const timings = new Map(scheduleOf(scope).changes.map((c) => [c.id, c]));
  const wounds = new Set(inPeriod(scope, 'change').map((e) => e.now.wound));
  return [...wounds]
    .flatMap((wound) => drainagePart(scope, wound).rows.map((row) => ({ wound, row, timing: timings.get(row.change) })))
    .sort((a, b) => Date.parse(a.row.at) - Date.parse(b.row.at));
}

function notesIn(scope: Scope): DayNote[] {
  const found = [
    ...inPeriod(scope, 'check').map(({ first, now }) => ({ first, of: 'check' as const, text: now.person.note })),
    ...inPeriod(scope, 'change').map(({ first, now }) => ({ first, of: 'change' as const, text: now.note })),
    ...inPeriod(scope, 'note').map(({ first, now }) => ({
      first,
      of: now.forVisit ? ('question' as const) : ('note' as const),
      text: now.text,
    })),
    ...inPeriod(scope, 'visit').map(({ first, now }) => ({ first, of: 'visit' as const, text: now.note })),
  ];
  return found
    .filter((n) => n.text !== undefined && n.text.trim() !== '')
    .sort((a, b) => Date.parse(a.first.at) - Date.parse(b.first.at))
    .map(({ first, of, text }) => ({ id: first.id, day: first.day, of, text: text as string }));
}
