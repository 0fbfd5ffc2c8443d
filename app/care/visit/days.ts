import type { TemperatureAnswer } from '../check/answers.ts';
import { isWholeCheck } from '../check/items.ts';
import type { Outcome } from '../escalation/levels.ts';
import type { LocalDay } from '../schedule/day.ts';
import type { PastChange } from '../schedule/past-changes.ts';
import { type AlertLine, alertsPart } from './alerts-part.ts';
import { type DrainageRow, drainagePart, scheduleOf } from './changes-part.ts';
import { daysOf } from './period.ts';
import { inPeriod, planOf, type Scope } from './scope.ts';
import { type Size, sizePart } from './size-part.ts';
import { scopeOf, type VisitInput } from './summary.ts';

export interface DayCheck {
  id: string;
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
  sizes: { wound: string; size: Size }[];
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
  const changes = changesOf(scope);
  const sizes = [...new Set(changes.map((c) => c.wound).concat(woundsIn(scope)))].flatMap((wound) =>
    sizePart(scope, wound).inPeriod.map((size) => ({ wound, size })),
  );
  const alerts = alertsPart(scope, input.now);
  const checks = inPeriod(scope, 'check');
  const photos = inPeriod(scope, 'photo');
  const visits = inPeriod(scope, 'visit');
  const plans = inPeriod(scope, 'planAccepted');
  const notes = notesOf(scope);
  return daysOf(scope.period).map((day) => ({
    day,
    checks: checks
      .filter((e) => e.first.day === day)
      .map(({ first, now }) => ({
        id: first.id,
        at: first.at,
        zone: first.zone,
        told: now.judgement.told,
        whole: isWholeCheck(planOf(scope, first), now),
        temperature: now.person.temperature,
      })),
    changes: changes.filter((c) => c.row.day === day),
    alerts: alerts.filter((a) => a.day === day),
    sizes: sizes.filter((s) => s.size.day === day),
    photos: photos.filter((e) => e.first.day === day).length,
    notes: notes.filter((n) => n.day === day).map(({ day: _, ...note }) => note),
    visit: visits.some((e) => e.first.day === day),
    plans: plans.filter((e) => e.first.day === day).map((e) => e.now.accepted.revision),
  }));
}

const woundsIn = (scope: Scope): string[] => [
  ...scope.plan.wounds.map((w) => w.id),
  ...inPeriod(scope, 'measurement').map((e) => e.now.wound),
];

function changesOf(scope: Scope): DayChange[] {
  const timings = new Map(scheduleOf(scope).changes.map((c) => [c.id, c]));
  const wounds = new Set(inPeriod(scope, 'change').map((e) => e.now.wound));
  return [...wounds]
    .flatMap((wound) => drainagePart(scope, wound).rows.map((row) => ({ wound, row, timing: timings.get(row.change) })))
    .sort((a, b) => Date.parse(a.row.at) - Date.parse(b.row.at));
}

function notesOf(scope: Scope): (DayNote & { day: LocalDay })[] {
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
