import { addDays, daysBetween, isLocalDay, type LocalDay, weekdayOf } from '../schedule/day.ts';
import type { DraftPlan, DraftWound } from './draft.ts';
import { emergencyNumbersFor } from './emergency-numbers.ts';
import type { FindingRule, Firing } from './finding-rule.ts';
import type { Clinic } from './plan.ts';
import { runsOutOn } from './runs-out.ts';

/** A plan is looked at again within four weeks [EV-LCD-06: evaluate at least monthly; EV-HEA-08: measure every one to four weeks]. */
export const REVIEW_DAYS_MOST = 28;

/** A day half typed is no day yet. */
const isDay = (text: LocalDay | undefined): text is LocalDay => text !== undefined && isLocalDay(text);
const isTime = (text: string): boolean => /^([01]\d|2[0-3]):[0-5]\d$/.test(text);

/** Whether the clinic has hours on a day. Without any hours at all nothing can be said of a single day. */
const isClosedOn = ({ hours, closedDays }: Clinic, day: LocalDay): boolean =>
  hours.length > 0 && (!hours.some((h) => h.day === weekdayOf(day)) || (closedDays ?? []).includes(day));

/** A clinic closed for longer has another trouble than the day of a visit. */
const CLOSED_DAYS_MOST = 60;

/**
 * The next day on which the clinic is open, the day itself included; the last
 * open one before it where the next would be later than `latest`.
 * @returns the day itself where the plan has no hours, or no open day near it.
 */
export function openDayNear(clinic: Clinic, day: LocalDay, latest: LocalDay): LocalDay {
  const near = (step: 1 | -1): LocalDay | undefined => {
    for (let ahead = 0; ahead <= CLOSED_DAYS_MOST; ahead++) {
      const next = addDays(day, step * ahead);
      if (!isClosedOn(clinic, next)) return next;
    }
    return undefined;
  };
  const after = near(1);
  return after !== undefined && after <= latest ? after : (near(-1) ?? day);
}

const plainName = (label: string | undefined): string => (label ?? '').trim().toLowerCase();

/** Wounds that nobody could tell apart by what they are called. */
function alike(wounds: readonly DraftWound[]): DraftWound[] {
  return wounds.filter((wound, i) => {
    const { site, side } = wound;
    if (site === undefined || side === undefined) return false;
    const there = wounds.filter((w) => w.site === site && w.side === side);
    const name = plainName(wound.label);
    const taken = wounds.slice(0, i).some((w) => there.includes(w) && plainName(w.label) === name);
    return there.length > 1 && (name === '' || taken);
  });
}

/** Places that carry the body's weight when standing. */
const UNDER_THE_FOOT: readonly (string | undefined)[] = ['ballInner', 'ballMiddle', 'ballOuter', 'arch', 'heelUnder'];

const perWound =
  (test: (wound: DraftWound, draft: DraftPlan) => readonly Firing[]) =>
  ({ draft }: { draft: DraftPlan }): readonly Firing[] =>
    draft.wounds.flatMap((wound) => test(wound, draft).map((firing) => ({ wound: wound.id, ...firing })));

/** Where the wounds are, how large, and what keeps weight off them. */
export const WOUND_RULES = [
  {
    id: 'place-open',
    gravity: 'stops',
    source: ['cautious'],
    variants: ['both', 'site', 'side'],
    when: perWound(({ site, side }) => {
      if (site === undefined && side === undefined) return [{ variant: 'both' }];
      if (site === undefined) return [{ variant: 'site' }];
      return side === undefined ? [{ variant: 'side' }] : [];
    }),
  },
  {
    id: 'same-place',
    gravity: 'stops',
    source: ['cautious'],
    when: ({ draft }) => alike(draft.wounds).map(({ id }) => ({ wound: id })),
  },
  {
    id: 'no-offloading',
    gravity: 'warns',
    source: ['practice', 'EV-HEA-08'],
    when: perWound(({ site }, { device }) => (UNDER_THE_FOOT.includes(site) && device === undefined ? [{}] : [])),
  },
  {
    id: 'no-size',
    gravity: 'tells',
    source: ['practice', 'EV-HEA-08'],
    when: perWound(({ baseline }) => (baseline === undefined ? [{}] : [])),
  },
] as const satisfies readonly FindingRule[];

/** What is known of the clinic. */
export const CLINIC_RULES = [
  {
    id: 'no-out-of-hours-phone',
    gravity: 'warns',
    source: ['practice', 'EV-INF-10'],
    when: ({ draft }) => ((draft.clinic.outOfHoursPhone ?? '').trim() === '' ? [{}] : []),
  },
  {
    id: 'no-emergency-number',
    gravity: 'warns',
    source: ['practice'],
    when: ({ draft, context }) =>
      (draft.clinic.emergencyNumber ?? '').trim() === '' ? [{ params: { number: emergencyNumbersFor(context.region).join(' / ') } }] : [],
  },
  {
    id: 'no-hours',
    gravity: 'warns',
    source: ['practice'],
    when: ({ draft }) => (draft.clinic.hours.length === 0 ? [{}] : []),
  },
] as const satisfies readonly FindingRule[];

/** Review, visit, and what must last until then. */
export const DATE_RULES = [
  {
    id: 'review-date',
    gravity: 'warns',
    source: ['EV-LCD-06', 'EV-HEA-08'],
    variants: ['missing', 'past', 'late'],
    when: ({ draft, context }) => {
      if (!isDay(draft.reviewBy)) return [{ variant: 'missing', params: { most: REVIEW_DAYS_MOST } }];
      const days = daysBetween(context.today, draft.reviewBy);
      if (days < 0) return [{ variant: 'past', params: { day: draft.reviewBy } }];
      return days > REVIEW_DAYS_MOST ? [{ variant: 'late', params: { days, most: REVIEW_DAYS_MOST } }] : [];
    },
  },
  {
    id: 'supplies-run-out',
    gravity: 'warns',
    source: ['practice'],
    when: ({ draft, context: { today, onHand = {} } }) => {
      const visit = [draft.nextVisit?.day, draft.reviewBy].find(isDay);
      if (visit === undefined) return [];
      return draft.supplies.flatMap(({ id, name }) => {
        const stock = Object.hasOwn(onHand, id) ? onHand[id] : undefined;
        const day = stock === undefined ? undefined : runsOutOn(draft.wounds, id, stock, today, visit);
        return day === undefined ? [] : [{ params: { item: id, name, day, visit } }];
      });
    },
  },
  {
    id: 'visit-day',
    gravity: 'warns',
    source: ['practice'],
    variants: ['past', 'closed'],
    when: ({ draft, context }) => {
      const day = draft.nextVisit?.day;
      if (!isDay(day)) return [];
      if (day < context.today) return [{ variant: 'past', params: { day } }];
      return isClosedOn(draft.clinic, day) ? [{ variant: 'closed', params: { day } }] : [];
    },
  },
  {
    id: 'visit-time',
    gravity: 'stops',
    source: ['cautious'],
    when: ({ draft: { nextVisit } }) =>
      nextVisit && isDay(nextVisit.day) && !isTime(nextVisit.time) ? [{ params: { day: nextVisit.day } }] : [],
  },
] as const satisfies readonly FindingRule[];
