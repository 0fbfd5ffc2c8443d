import type { Entry } from '../log/timeline.ts';
import type { Plan } from '../plan/plan.ts';
import { visitOf } from '../schedule/coming-changes.ts';
import { addDays, daysBetween, type LocalDay } from '../schedule/day.ts';
import { type CatalogueItem, catalogue } from './catalogue.ts';
import { type Forecast, forecastOf, type Outlook, outlook, type SupplyOptions } from './forecast.ts';
import { ledger } from './ledger.ts';

/** An item as the supplies screen shows it. */
export interface Supply {
  item: CatalogueItem;
  forecast: Forecast;
  warning: SupplyWarning | undefined;
}

/** One line of an order. */
export interface OrderLine {
  item: string;
  /** Absent only for an item of an older plan that is no longer at hand. */
  name: string | undefined;
  pieces: number;
  /** Only where the pack size is known; `pieces` is then whole packs. */
  packs: number | undefined;
  packOf: number | undefined;
  /** Pieces that may still be used today. */
  usable: number;
  /** The last day the order is to cover. */
  until: LocalDay;
  /** Nobody has counted it yet, so the order takes it that nothing is there. */
  tracked: boolean;
}

/**
 * How pressing it is, mildest first.
 *
 * - `soon`: the day to reorder comes within a few days.
 * - `now`: what is ordered today may come no earlier than it runs out.
 * - `out`: the next change that needs it cannot have it.
 */
export const WARNING_LEVELS = ['soon', 'now', 'out'] as const;
export type WarningLevel = (typeof WARNING_LEVELS)[number];

export interface SupplyWarning {
  item: string;
  name: string | undefined;
  level: WarningLevel;
  usable: number;
  /** Pieces past their day that lie among the others. */
  expired: number;
  /** The expected day, and the earliest in the range. */
  runsOut: LocalDay | undefined;
  earliest: LocalDay;
  reorderBy: LocalDay;
  /** It may run out before the clinic's next visit. */
  beforeVisit: boolean;
}

const SOON_DAYS = 3;

/** Every item of the catalogue with its forecast, in the order of the catalogue. One walk through the schedule serves all. */
export function supplies(plan: Plan, entries: readonly Entry[], now: number, zone: string, options: SupplyOptions = {}): Supply[] {
  const from = outlook(plan, entries, now, zone, options);
  return from.items.map((item) => {
    const forecast = forecastOf(from, item.id);
    return { item, forecast, warning: warningOf(from, item, forecast) };
  });
}

/** What to order so that it lasts to the next visit or for 30 days; items that are needed and short, in the order of the catalogue. */
export function orderList(plan: Plan, entries: readonly Entry[], now: number, zone: string, options: SupplyOptions = {}): OrderLine[] {
  return supplies(plan, entries, now, zone, options)
    .filter(({ forecast }) => forecast.toOrder.pieces > 0)
    .map(({ item, forecast: { toOrder, usable, tracked } }) => ({
      item: item.id,
      name: item.name,
      pieces: toOrder.pieces,
      packs: toOrder.packs,
      packOf: toOrder.packOf,
      usable,
      until: toOrder.until,
      tracked,
    }));
}

/**
 * The items to warn about today, most pressing first. An item that nobody has
 * received or counted yet gives no warning: the book knows nothing about it.
 */
export function supplyWarnings(
  plan: Plan,
  entries: readonly Entry[],
  now: number,
  zone: string,
  options: SupplyOptions = {},
): SupplyWarning[] {
  const steps = supplyWarningSteps(plan, entries, now, zone, options);
  let step = steps.next();
  while (!step.done) step = steps.next();
  return step.value;
}

/** The same, an item a step: on a slow phone the whole would hold up a tap. */
export function* supplyWarningSteps(
  plan: Plan,
  entries: readonly Entry[],
  now: number,
  zone: string,
  options: SupplyOptions = {},
): Generator<undefined, SupplyWarning[]> {
  const tracked = catalogue(plan, entries, options.older).filter(({ id }) => ledger(entries, id).tracked);
  if (tracked.length === 0) return [];
  const from = outlook(plan, entries, now, zone, options);
  const warnings: SupplyWarning[] = [];
  for (const item of tracked) {
    yield;
    const warning = warningOf(from, item, forecastOf(from, item.id));
    if (warning) warnings.push(warning);
  }
  return warnings.sort((a, b) => WARNING_LEVELS.indexOf(b.level) - WARNING_LEVELS.indexOf(a.level) || daysBetween(b.earliest, a.earliest));
}

function warningOf({ plan, zone, today, options }: Outlook, item: CatalogueItem, forecast: Forecast): SupplyWarning | undefined {
  const { tracked, reorderBy, runsOut, usable, expired, lackingNext } = forecast;
  const { earliest } = runsOut;
  if (!tracked || earliest === undefined || reorderBy === undefined) return undefined;
  const isWithin = (days: number): boolean => daysBetween(addDays(today, days), reorderBy) <= 0;
  const level = lackingNext ? 'out' : isWithin(0) ? 'now' : isWithin(options.soonDays ?? SOON_DAYS) ? 'soon' : undefined;
  if (!level) return undefined;
  const visit = visitOf(plan, zone)?.day;
  const beforeVisit = visit !== undefined && daysBetween(earliest, visit) > 0;
  return { item: item.id, name: item.name, level, usable, expired, runsOut: runsOut.expected, earliest, reorderBy, beforeVisit };
}
