import { BANDS } from '../check/questions.ts';
import type { Plan } from './plan.ts';

/** One thing that a new plan changes, as a key for words with its values. */
export interface PlanChange {
  what:
    | 'clinicName'
    | 'phone'
    | 'outOfHoursPhone'
    | 'emergencyNumber'
    | 'hours'
    | 'woundAdded'
    | 'woundRemoved'
    | 'keepDry'
    | 'recipe'
    | 'expectedDrainage'
    | 'donts'
    | 'device'
    | 'asks'
    | 'escalation'
    | 'reviewBy'
    | 'nextVisit'
    | 'supplies';
  wound?: string;
  from?: string | undefined;
  to?: string | undefined;
}

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

/** What the clinic knows of each of these wounds, in their order. */
const knownOf = (plan: Plan, wounds: readonly string[]): unknown => wounds.map((id) => plan.wounds.find((w) => w.id === id)?.known);

/** What `next` changes against `now`, in the order it matters to the person. */
export function planChanges(now: Plan, next: Plan): PlanChange[] {
  const changes: PlanChange[] = [];
  const text = (what: PlanChange['what'], from: string | undefined, to: string | undefined): void => {
    if (from !== to) changes.push({ what, from, to });
  };
  const whole = (what: PlanChange['what'], from: unknown, to: unknown): void => {
    if (!same(from, to)) changes.push({ what });
  };
  text('clinicName', now.clinic.name, next.clinic.name);
  text('phone', now.clinic.phone, next.clinic.phone);
  text('outOfHoursPhone', now.clinic.outOfHoursPhone, next.clinic.outOfHoursPhone);
  text('emergencyNumber', now.clinic.emergencyNumber, next.clinic.emergencyNumber);
  whole('hours', [now.clinic.hours, now.clinic.zone, now.clinic.closedDays], [next.clinic.hours, next.clinic.zone, next.clinic.closedDays]);
  for (const wound of next.wounds) {
    const old = now.wounds.find((w) => w.id === wound.id);
    // One id on another place is another wound to the person: the new place must be named.
    if (!old || old.site !== wound.site || old.side !== wound.side) {
      changes.push({ what: 'woundAdded', wound: wound.id });
      continue;
    }
    if (old.keepDry !== wound.keepDry) changes.push({ what: 'keepDry', wound: wound.id });
    if (!same(old.expectedDrainage, wound.expectedDrainage)) changes.push({ what: 'expectedDrainage', wound: wound.id });
    if (BANDS.some((b) => !same(old.bands[b], wound.bands[b]))) changes.push({ what: 'recipe', wound: wound.id });
  }
  for (const old of now.wounds) if (!next.wounds.some((w) => w.id === old.id)) changes.push({ what: 'woundRemoved', wound: old.id });
  whole('donts', [now.donts, now.ownDonts], [next.donts, next.ownDonts]);
  whole('device', now.device, next.device);
  whole('asks', [now.asks, now.warmthSites], [next.asks, next.warmthSites]);
  const kept = next.wounds.filter((w) => now.wounds.some((old) => old.id === w.id)).map((w) => w.id);
  whole('escalation', [now.escalation, knownOf(now, kept)], [next.escalation, knownOf(next, kept)]);
  text('reviewBy', now.reviewBy, next.reviewBy);
  whole('nextVisit', now.nextVisit, next.nextVisit);
  whole('supplies', now.supplies, next.supplies);
  return changes;
}

/** Whether an arriving plan may take effect, against the one now in use. */
export type PlanVerdict = 'new' | 'update' | 'same' | 'older' | 'conflict' | 'otherPlan';

/**
 * - `new`: nothing in use yet for this person.
 * - `update`: a later version of the plan in use.
 * - `same`: the very plan in use.
 * - `older`: refused, a later version is in use.
 * - `conflict`: refused, the same version number with other content.
 * - `otherPlan`: another plan for the same person, for instance from another clinic; the person must decide.
 */
export function planVerdict(now: Plan | undefined, next: Plan): PlanVerdict {
  if (!now) return 'new';
  if (now.id !== next.id) return next.issued < now.issued ? 'older' : 'otherPlan';
  if (next.revision < now.revision) return 'older';
  if (next.revision > now.revision) return 'update';
  return same(now, next) ? 'same' : 'conflict';
}
