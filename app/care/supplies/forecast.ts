import type { Entry } from '../log/timeline.ts';
import { intervalInUse } from '../plan/limits-of.ts';
import type { Plan } from '../plan/plan.ts';
import { comingChanges, visitOf } from '../schedule/coming-changes.ts';
import { addDays, daysBetween, type LocalDay, localDay, weekdayOf } from '../schedule/day.ts';
import { lastFoundOf, looksOf } from '../schedule/looks.ts';
import { COURSES, type Course, type ExtraRate, extraRates, extraTimes } from './extra-changes.ts';
import { isExpired, type Ledger, type Lot, ledger, takeFrom, tidy, usableOn } from './ledger.ts';
import { changesIn, usesOfNext } from './uses.ts';

export interface SupplyOptions {
  /** Days from order to delivery. Default 10 [EV-SUP-03, TH-15: reorder when 10 days are left]. */
  leadDays?: number;
  /** No orders on Saturday and Sunday. */
  skipWeekends?: boolean;
  /** Days on which nobody takes an order. */
  closedDays?: readonly LocalDay[];
  /** How long an order is to last: to the next visit, or this many days from today. Default: to the visit if it comes after the delivery, else 30. */
  orderFor?: 'visit' | number;
  /** Warn this many days before the day to reorder. Default 3. */
  soonDays?: number;
  /** Plans in force before, newest first. */
  older?: readonly Plan[];
}

/** A month of supply is 30 days [TH-15]. */
export const ORDER_DAYS = 30;
export const LEAD_DAYS = 10;
/** How far ahead the days are walked. */
const HORIZON_DAYS = 90;

export interface DayUse {
  day: LocalDay;
  amount: number;
}

export interface ToOrder {
  /** The last day the order is to cover. */
  until: LocalDay;
  reason: 'visit' | 'days';
  /** Pieces needed from today to that day, and how many are to be ordered beyond what is there. */
  need: number;
  pieces: number;
  /** Only where the pack size is known; `pieces` is then whole packs. */
  packs?: number;
  packOf?: number;
}

export interface Forecast {
  item: string;
  /** Pieces that may be used today, and pieces past their day. */
  usable: number;
  expired: number;
  tracked: boolean;
  /** Expected use, days without any left out. */
  perDay: DayUse[];
  /** What the range rests on, for each wound whose changes use the item. */
  extra: ExtraRate[];
  /**
   * The first day on which a change cannot have all it needs. Absent: not
   * within 90 days. `earliest` to `latest` is the range that holds the true day
   * about nine times in ten with one wound, oftener with several.
   */
  runsOut: { earliest?: LocalDay; expected?: LocalDay; latest?: LocalDay };
  /** The very next change that needs the item cannot have it. */
  lackingNext: boolean;
  /** Order on this day at the latest, so that it comes by the earliest day it may run out. May have passed. */
  reorderBy?: LocalDay;
  toOrder: ToOrder;
}

/** What a sitting uses, the same item perhaps for several wounds. */
interface SittingUse {
  day: LocalDay;
  uses: readonly ItemUse[];
}

/** What the next changes of a wound take, and how often they come. */
interface WoundUse {
  wound: string;
  interval: Interval | undefined;
  uses: readonly ItemUse[];
}

/** What all items share: the coming days walked once for each course. */
export interface Outlook {
  plan: Plan;
  entries: readonly Entry[];
  today: LocalDay;
  zone: string;
  options: SupplyOptions;
  rates: readonly ExtraRate[];
  wounds: readonly WoundUse[];
  courses: Readonly<Record<Course, readonly SittingUse[]>>;
}

/** Walks the coming 90 days on each course of early changes. One outlook serves all items. */
export function outlook(plan: Plan, entries: readonly Entry[], now: number, zone: string, options: SupplyOptions = {}): Outlook {
  const rates = extraRates(plan, entries, now, zone, options.older);
  const looks = looksOf(entries);
  const wounds = plan.wounds.map((wound): WoundUse => {
    const own = looks.filter((l) => l.wound === wound.id);
    const found = lastFoundOf(own, now);
    return { wound: wound.id, interval: intervalInUse(wound, found), uses: usesOfNext(wound, found) };
  });
  const usesOf = (id: string): readonly ItemUse[] => wounds.find((w) => w.wound === id)?.uses ?? [];
  const walk = (course: Course): SittingUse[] => {
    const early = new Map(rates.map((r) => [r.wound, extraTimes(r, course, now, HORIZON_DAYS)]));
    const { sittings } = comingChanges(plan, entries, now, zone, { days: HORIZON_DAYS, early });
    return sittings.map((s) => ({ day: s.day, uses: s.wounds.flatMap((w) => usesOf(w.wound)) }));
  };
  const courses = { fewest: walk('fewest'), expected: walk('expected'), most: walk('most') };
  return { plan, entries, today: localDay(now, zone), zone, options, rates, wounds, courses };
}

/**
 * How long one item lasts and how much of it to order.
 *
 * Uses are those of the recipe for the amount found last, at every sitting of
 * the schedule and at this person's early changes; pieces past their day are
 * never counted, the first to expire are taken first. An order never counts on
 * changing less often than the plan says.
 * @param now ms. @param zone the person's IANA time zone now.
 */
export function forecast(
  plan: Plan,
  entries: readonly Entry[],
  item: string,
  now: number,
  zone: string,
  options: SupplyOptions = {},
): Forecast {
  return forecastOf(outlook(plan, entries, now, zone, options), item);
}

/** The forecast of one item from an outlook that is already at hand. */
export function forecastOf(from: Outlook, item: string): Forecast {
  const { today, options } = from;
  const book = ledger(from.entries, item);
  const expected = usesOfItem(from.courses.expected, item);
  const drawn = drawDown(book.lots, expected);
  const runsOut = {
    earliest: drawDown(book.lots, usesOfItem(from.courses.most, item)).runsOut,
    expected: drawn.runsOut,
    latest: drawDown(book.lots, usesOfItem(from.courses.fewest, item)).runsOut,
  };
  const usable = usableOn(book.lots, today);
  const users = from.wounds.filter((w) => w.uses.some((u) => u.item === item)).map((w) => w.wound);
  return {
    item,
    usable,
    expired: tidy(book.onHand - usable),
    tracked: book.tracked,
    perDay: byDay(expected),
    extra: from.rates.filter((r) => users.includes(r.wound)),
    runsOut,
    lackingNext: drawn.lackingNext,
    reorderBy: runsOut.earliest && orderDay(runsOut.earliest, options),
    toOrder: toOrder(from, item, book.lots, expected),
  };
}

const piecesOf = (uses: readonly ItemUse[], item: string): number =>
  tidy(uses.reduce((sum, u) => sum + (u.item === item ? u.amount : 0), 0));

const usesOfItem = (course: readonly SittingUse[], item: string): DayUse[] =>
  course.map(({ day, uses }) => ({ day, amount: piecesOf(uses, item) })).filter(({ amount }) => amount > 0);

function byDay(uses: readonly DayUse[]): DayUse[] {
  const days = new Map<LocalDay, number>();
  for (const { day, amount } of uses) days.set(day, tidy((days.get(day) ?? 0) + amount));
  return [...days].map(([day, amount]) => ({ day, amount }));
}

export interface DrawnDown {
  /** The day of the first use that did not get all it wanted. */
  runsOut: LocalDay | undefined;
  /** That was the very first use. */
  lackingNext: boolean;
  /** Pieces wanted and not got, over all uses. */
  lacking: number;
}

/**
 * Takes the uses out of the lots, both in the order given. What has expired by
 * the day of a use is not taken for it.
 */
export function drawDown(lots: readonly Lot[], uses: readonly DayUse[]): DrawnDown {
  let left = lots;
  const drawn: DrawnDown = { runsOut: undefined, lackingNext: false, lacking: 0 };
  uses.forEach(({ day, amount }, i) => {
    const good = left.filter((lot) => !isExpired(lot, day));
    const taken = takeFrom(good, amount);
    left = taken.left;
    if (taken.lacking === 0) return;
    drawn.runsOut ??= day;
    drawn.lackingNext ||= i === 0;
    drawn.lacking = tidy(drawn.lacking + taken.lacking);
  });
  return drawn;
}

/** The last day to order so that it comes by `needed`, moved back over days on which nobody takes an order. */
export function orderDay(needed: LocalDay, options: Pick<SupplyOptions, 'leadDays' | 'skipWeekends' | 'closedDays'> = {}): LocalDay {
  let day = addDays(needed, -(options.leadDays ?? LEAD_DAYS));
  const isShut = (d: LocalDay): boolean =>
    options.closedDays?.includes(d) === true || (options.skipWeekends === true && ['sat', 'sun'].includes(weekdayOf(d)));
  while (isShut(day)) day = addDays(day, -1);
  return day;
}

/** The days an order is to cover, today included. */
function coverage({ plan, today, zone, options }: Outlook): Pick<ToOrder, 'until' | 'reason'> & { days: number } {
  const visit = visitOf(plan, zone)?.day;
  const ahead = visit === undefined ? -1 : daysBetween(today, visit);
  const afterDelivery = ahead > (options.leadDays ?? LEAD_DAYS);
  const toVisit = options.orderFor === 'visit' ? ahead >= 0 : options.orderFor === undefined && afterDelivery;
  const wanted = toVisit ? ahead + 1 : typeof options.orderFor === 'number' ? options.orderFor : ORDER_DAYS;
  const days = Math.min(Math.max(wanted, 1), HORIZON_DAYS);
  return { until: addDays(today, days - 1), reason: toVisit ? 'visit' : 'days', days };
}

function toOrder(from: Outlook, item: string, lots: readonly Lot[], expected: readonly DayUse[]): ToOrder {
  const { until, reason, days } = coverage(from);
  const within = expected.filter(({ day }) => daysBetween(day, until) >= 0);
  const walked = tidy(within.reduce((sum, u) => sum + u.amount, 0));
  // The usual arithmetic of suppliers is the floor: a month that happens to begin after a change would else come out one short.
  const usual = tidy(from.wounds.reduce((sum, w) => sum + piecesOf(w.uses, item) * (w.interval ? changesIn(w.interval, days) : 0), 0));
  const need = Math.max(walked, usual);
  const lacking = tidy(drawDown(lots, within).lacking + (need - walked));
  const spare = tidy(usableOn(lots, until) - walked);
  const short = Math.max(0, drawDown(lots, within).lacking, spare > 0 ? need - walked - spare : lacking);
  const packOf = packSize(from, item);
  if (packOf === undefined) return { until, reason, need, pieces: Math.ceil(short) };
  const packs = Math.ceil(tidy(short / packOf));
  return { until, reason, need, pieces: packs * packOf, packs, packOf };
}
