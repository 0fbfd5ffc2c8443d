import type { Entry } from '../log/timeline.ts';
import { intervalInUse } from '../plan/limits-of.ts';
import type { Interval, Plan } from '../plan/plan.ts';
import { comingChanges, joinMsOf, startsOf, visitOf } from '../schedule/coming-changes.ts';
import { addDays, DAY_MS, dayNumber, daysBetween, type LocalDay, localDay, wallClock, weekdayOf } from '../schedule/day.ts';
import { lastFoundOf, looksOf } from '../schedule/looks.ts';
import { evenClock, walk } from '../schedule/walk.ts';
import { type CatalogueItem, catalogue } from './catalogue.ts';
import { gamma, repeatable, waiting } from './chance.ts';
import { type ExtraRate, extraRates, RANGE_SHARE } from './extra-changes.ts';
import { isExpired, type Lot, ledger, takeFrom, tidy, usableOn } from './ledger.ts';
import { changesIn, type ItemUse, usesOfNext } from './uses.ts';

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
const MINUTE_MS = 60_000;

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
  /** Use as the plan has it, without early changes; days without any are left out. */
  perDay: DayUse[];
  /** What the range rests on, for each wound whose changes use the item. */
  extra: ExtraRate[];
  /**
   * The first day on which a change cannot have all it needs. Absent: not
   * within 90 days. `earliest` to `latest` is the range that holds the true day
   * about nine times in ten, if early changes go on at the rate of late.
   * `expected` is the middle of it, or as the plan has it if none was early.
   */
  runsOut: { earliest?: LocalDay; expected?: LocalDay; latest?: LocalDay };
  /** The very next change that needs the item cannot have it. */
  lackingNext: boolean;
  /** Order on this day at the latest, so that it comes by the earliest day it may run out. May have passed. */
  reorderBy?: LocalDay;
  toOrder: ToOrder;
}

/** The wounds of a sitting and its day. */
interface SittingOn {
  day: LocalDay;
  wounds: readonly string[];
}

/** What the next changes of a wound take, and how often they come. */
interface WoundUse {
  wound: string;
  interval: Interval | undefined;
  uses: readonly ItemUse[];
}

/** What all items share: the coming days as the plan has them, and as they may go. */
export interface Outlook {
  plan: Plan;
  entries: readonly Entry[];
  /** ms. */
  now: number;
  today: LocalDay;
  zone: string;
  options: SupplyOptions;
  rates: readonly ExtraRate[];
  wounds: readonly WoundUse[];
  items: readonly CatalogueItem[];
  /** Every change done when due. */
  scheduled: readonly SittingOn[];
  /** The same weeks many times over, with early changes by chance. */
  runs: readonly (readonly SittingOn[])[];
}

/** So many runs put the ends of a nine-in-ten range within about two in a hundred. */
const RUNS = 200;

/**
 * Walks the coming 90 days: once as the plan has them, and 200 times with
 * early changes by chance. One outlook serves all items.
 *
 * In each run every wound gets a rate of early changes that agrees with what
 * was seen (Gamma(early + ½, days), see `extraQuantile`), and its dressings fail
 * at that rate; an early change starts the interval again, so it costs only the
 * rest of one. The chance is repeatable: the same log gives the same forecast.
 */
export function outlook(plan: Plan, entries: readonly Entry[], now: number, zone: string, options: SupplyOptions = {}): Outlook {
  const today = localDay(now, zone);
  const rates = extraRates(plan, entries, now, zone, options.older);
  const looks = looksOf(entries);
  const wounds = plan.wounds.map((wound): WoundUse => {
    const own = looks.filter((l) => l.wound === wound.id);
    const found = lastFoundOf(own, now);
    return { wound: wound.id, interval: intervalInUse(wound, found), uses: usesOfNext(wound, found) };
  });
  const scheduled = comingChanges(plan, entries, now, zone, { days: HORIZON_DAYS }).sittings.map(
    (s): SittingOn => ({ day: s.day, wounds: s.wounds.map((w) => w.wound) }),
  );
  const starts = startsOf(plan, entries, now, zone);
  const names = Array.from({ length: HORIZON_DAYS }, (_, i) => addDays(today, i));
  const clock = evenClock(dayNumber(today) * DAY_MS + wallClock(now, zone).minutes * MINUTE_MS - Math.floor(now / MINUTE_MS) * MINUTE_MS);
  const first = clock.day(now);
  const runs = Array.from({ length: RUNS }, (_, i) => {
    const random = repeatable(7919 * (i + 1));
    const perDay = new Map(rates.map((r) => [r.wound, gamma(r.early + 0.5, random) / r.days]));
    const fails = (wound: string, at: number): number => Math.max(at, now) + (waiting(random) / (perDay.get(wound) ?? 0)) * DAY_MS;
    const run: SittingOn[] = [];
    for (const step of walk(starts, now, joinMsOf(plan), clock, fails)) {
      const day = names[clock.day(step.at) - first];
      if (day === undefined) break;
      run.push({ day, wounds: step.wounds.map((w) => w.wound) });
    }
    return run;
  });
  return { plan, entries, now, today, zone, options, rates, wounds, items: catalogue(plan, entries, options.older), scheduled, runs };
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
  const book = ledger(from.entries, item, from.now);
  const perChange = new Map(from.wounds.map((w) => [w.wound, piecesOf(w.uses, item)]));
  const usesIn = (sittings: readonly SittingOn[]): DayUse[] =>
    sittings
      .map(({ day, wounds }) => ({ day, amount: wounds.reduce((sum, w) => tidy(sum + (perChange.get(w) ?? 0)), 0) }))
      .filter(({ amount }) => amount > 0);
  const scheduled = usesIn(from.scheduled);
  const runs = scheduled.length === 0 ? [] : from.runs.map(usesIn);
  const extra = from.rates.filter((r) => (perChange.get(r.wound) ?? 0) > 0);
  const drawn = drawDown(book.lots, scheduled);
  const runsOut = rangeOf(
    drawn.runsOut,
    runs.map((uses) => drawDown(book.lots, uses).runsOut),
    extra.some((r) => r.early > 0),
  );
  const usable = usableOn(book.lots, today);
  return {
    item,
    usable,
    expired: tidy(book.onHand - usable),
    tracked: book.tracked,
    perDay: byDay(scheduled),
    extra,
    runsOut,
    lackingNext: drawn.lackingNext,
    reorderBy: runsOut.earliest && orderDay(runsOut.earliest, options),
    toOrder: toOrder(from, item, book.lots, scheduled, extra.some((r) => r.early > 0) ? runs : []),
  };
}

const NEVER = '9999-12-31' as LocalDay;

/** The ends and the middle of the days on which the runs ran out; as the plan has it where no early change was seen. */
function rangeOf(planned: LocalDay | undefined, runs: readonly (LocalDay | undefined)[], hasExtra: boolean): Forecast['runsOut'] {
  const days = runs.map((d) => d ?? NEVER).sort();
  const tail = Math.floor(((1 - RANGE_SHARE) / 2) * days.length);
  const known = (day: LocalDay | undefined): LocalDay | undefined => (day === NEVER ? undefined : day);
  if (days.length === 0) return { earliest: planned, expected: planned, latest: planned };
  const expected = hasExtra ? (days[Math.floor(days.length / 2)] ?? NEVER) : (planned ?? NEVER);
  // The runs know no clock changes, so the planned day may lie a day outside of theirs.
  const [earliest] = [expected, days[tail] ?? NEVER].sort();
  const latest = [expected, days[days.length - 1 - tail] ?? NEVER].sort()[1];
  return { earliest: known(earliest), expected: known(expected), latest: known(latest) };
}

const piecesOf = (uses: readonly ItemUse[], item: string): number =>
  tidy(uses.reduce((sum, u) => sum + (u.item === item ? u.amount : 0), 0));

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
  /** What is there after the last use. */
  left: readonly Lot[];
}

/**
 * Takes the uses out of the lots, both in the order given. What has expired by
 * the day of a use is not taken for it.
 */
export function drawDown(lots: readonly Lot[], uses: readonly DayUse[]): DrawnDown {
  const drawn: DrawnDown = { runsOut: undefined, lackingNext: false, lacking: 0, left: lots };
  uses.forEach(({ day, amount }, i) => {
    const good = drawn.left.filter((lot) => !isExpired(lot, day));
    const taken = takeFrom(good, amount);
    drawn.left = taken.left;
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

/**
 * @param scheduled uses as the plan has them.
 * @param runs uses with early changes; none where none were seen.
 */
function toOrder(
  from: Outlook,
  item: string,
  lots: readonly Lot[],
  scheduled: readonly DayUse[],
  runs: readonly (readonly DayUse[])[],
): ToOrder {
  const { until, reason, days } = coverage(from);
  const within = (uses: readonly DayUse[]): DayUse[] => uses.filter(({ day }) => day <= until);
  const planned = total(within(scheduled));
  // The usual arithmetic of suppliers is the floor: a month that happens to begin after a change would else come out one short.
  const usual = tidy(from.wounds.reduce((sum, w) => sum + piecesOf(w.uses, item) * (w.interval ? changesIn(w.interval, days) : 0), 0));
  const { lacking, left } = drawDown(lots, within(scheduled));
  const short = tidy(lacking + Math.max(0, usual - planned - usableOn(left, until)));
  const need = Math.max(planned, usual, middle(runs.map((uses) => total(within(uses)))));
  const wanted = Math.max(short, middle(runs.map((uses) => drawDown(lots, within(uses)).lacking)));
  const packOf = from.items.find((i) => i.id === item)?.packOf;
  if (packOf === undefined) return { until, reason, need, pieces: Math.ceil(wanted) };
  const packs = Math.ceil(tidy(wanted / packOf));
  return { until, reason, need, pieces: packs * packOf, packs, packOf };
}

const total = (uses: readonly DayUse[]): number => tidy(uses.reduce((sum, u) => sum + u.amount, 0));
const middle = (amounts: readonly number[]): number => [...amounts].sort((a, b) => a - b)[Math.floor(amounts.length / 2)] ?? 0;
