import { type Entry, standing } from '../log/timeline.ts';
import type { Plan, Side, Wound } from '../plan/plan.ts';
import { SIDES } from '../plan/plan.ts';
import { addDays, instantOf, type LocalDay } from '../schedule/day.ts';
import { type AlertLine, alertsPart } from './alerts-part.ts';
import {
  type CodePart,
  codeOf,
  codePart,
  type GlucosePart,
  glucosePart,
  type TemperaturePart,
  temperaturePart,
  type WarmthPart,
  warmthPart,
} from './answers-part.ts';
import { type ChangesPart, changesPart, type DrainagePart, drainagePart, scheduleOf } from './changes-part.ts';
import { type ChecksPart, checksOf, checksPart, countedDays } from './checks-part.ts';
import { type Mention, mentionPart, type Seen, seenPart } from './findings-part.ts';
import { lastVisitBefore, type Period, periodOf } from './period.ts';
import { type PhotosPart, photosPart } from './photos-part.ts';
import { type PlanInForce, plansPart } from './plans-part.ts';
import { inPeriod, isAheadOf, type Scope, woundOf } from './scope.ts';
import { type SizePart, sizePart } from './size-part.ts';
import { type SupplyLine, suppliesPart } from './supplies-part.ts';

export interface VisitInput {
  /** The plan in force. */
  plan: Plan;
  /** Plans in force before, in any order. */
  earlierPlans: readonly Plan[];
  /** The log as it stands: at least the months of the period and the month before, and the stock movements of all months. */
  entries: readonly Entry[];
  /** The first and the last day. Without them from the last visit to today. */
  from?: LocalDay | undefined;
  to?: LocalDay | undefined;
  /** The clock, ms. */
  now: number;
  /** The person's IANA time zone now. */
  zone: string;
  /** Months (`YYYY-MM`) of the log that `entries` does not hold. */
  monthsNotLoaded?: readonly string[] | undefined;
  /** How many stored values could not be read. */
  unreadable?: number | undefined;
}

/** Words the person wrote down for the visit. */
export interface VisitWords {
  id: string;
  day: LocalDay;
  text: string;
}

export interface FootPart {
  side: Side;
  pain: CodePart;
  warmth: WarmthPart;
}

export interface WoundPart {
  id: string;
  /** The wound of the plan in force, else of an earlier one; undefined where none at hand has it. */
  wound: Wound | undefined;
  changes: ChangesPart;
  drainage: DrainagePart;
  size: SizePart;
  photos: PhotosPart;
}

/** What the log cannot tell. */
export interface Gaps {
  /** Months of the period that are not loaded. */
  monthsNotLoaded: string[];
  /** Stored entries that could not be read. */
  unreadable: number;
  /** Entries dated after now by a wrong clock; they are in no figure. */
  ahead: number;
}

/** Everything an appointment needs of a log, without words. */
export interface VisitSummary {
  callMe: string;
  clinic: string;
  period: Period;
  plans: PlanInForce[];
  questions: VisitWords[];
  alerts: AlertLine[];
  checks: ChecksPart;
  wounds: WoundPart[];
  temperature: TemperaturePart;
  feet: FootPart[];
  offloading: CodePart & { asked: boolean };
  glucose: GlucosePart;
  mention: Mention[];
  seen: Seen[];
  /** What was written at the end of a check, which the person was told is kept for the visit. */
  written: VisitWords[];
  supplies: SupplyLine[];
  gaps: Gaps;
}

/** The period that is asked for, and the part of the log that it is worked out from. */
export function scopeOf(input: VisitInput): Scope {
  const { plan, earlierPlans, entries: all, now, zone } = input;
  const settled = all.filter((e) => !isAheadOf(e, now));
  const period = periodOf({ ...input, entries: settled });
  const end = period.endsToday ? now : instantOf(addDays(period.to, 1), 0, zone) - 1;
  const entries = settled.filter((e) => e.first.day <= period.to);
  return { plan, earlierPlans, entries, all, period, end, zone };
}

/**
 * What a log says about a period, as plain figures for the appointment.
 *
 * Withdrawn records count nowhere; a corrected one counts once, with its
 * corrected value and at the time of its first version. A record belongs to the
 * day the person had when they wrote it. What is missing is undefined or counted
 * as missing, never as zero.
 */
export function visitSummary(input: VisitInput): VisitSummary {
  const { plan, entries: all, now, monthsNotLoaded = [], unreadable = 0 } = input;
  const scope = scopeOf(input);
  const { period } = scope;
  const checks = checksOf(scope);
  const days = countedDays(scope, checks, monthsNotLoaded);
  const schedule = scheduleOf(scope);
  return {
    callMe: plan.person.callMe,
    clinic: plan.clinic.name,
    period,
    plans: plansPart(scope),
    questions: questionsOf(scope),
    alerts: alertsPart(scope, now),
    checks: checksPart(scope, days, checks),
    wounds: woundIds(scope).map((id) => ({
      id,
      wound: woundOf(scope, id),
      changes: changesPart(scope, schedule, id),
      drainage: drainagePart(scope, id),
      size: sizePart(scope, id),
      photos: photosPart(scope, id),
    })),
    temperature: temperaturePart(plan, days, checks),
    feet: SIDES.filter((side) => plan.wounds.some((w) => w.side === side) || checks.some((c) => c.now.feet[side] !== undefined)).map(
      (side) => ({
        side,
        pain: codePart(
          'pain',
          days,
          checks.map((c) => ({ day: c.day, code: codeOf(c.now.feet[side] ?? {}, 'pain') })),
        ),
        warmth: warmthPart(plan, days, checks, side),
      }),
    ),
    offloading: {
      asked: plan.asks.includes('offloading'),
      ...codePart(
        'offloading',
        days,
        checks.map((c) => ({ day: c.day, code: codeOf(c.now.person, 'offloading') })),
      ),
    },
    glucose: glucosePart(plan, days, checks),
    mention: mentionPart(scope, checks),
    seen: seenPart(scope, checks),
    written: checks.flatMap(({ id, day, now: { person } }) => (person.note?.trim() ? [{ id, day, text: person.note.trim() }] : [])),
    supplies: suppliesPart(scope),
    gaps: {
      monthsNotLoaded: monthsNotLoaded.filter((m) => m >= period.from.slice(0, 7) && m <= period.to.slice(0, 7)),
      unreadable,
      ahead: all.filter((e) => !e.voided && isAheadOf(e, now)).length,
    },
  };
}

/** Questions written since the last visit, whatever the period: until then nobody could answer them. */
function questionsOf({ entries, period }: Scope): VisitWords[] {
  const visit = lastVisitBefore(entries, period.to);
  const since = visit ? Date.parse(visit.at) : Number.NEGATIVE_INFINITY;
  return standing(entries, 'note')
    .filter((e) => e.now.forVisit === true && Date.parse(e.first.at) > since)
    .map((e) => ({ id: e.first.id, day: e.first.day, text: e.now.text }));
}

/** The wounds of the plan in force, and those of earlier plans that the period speaks of. */
function woundIds(scope: Scope): string[] {
  const spoken = (['change', 'measurement', 'photo'] as const).flatMap((kind) => inPeriod(scope, kind).map((e) => e.now.wound));
  return [...new Set([...scope.plan.wounds.map((w) => w.id), ...spoken])];
}
