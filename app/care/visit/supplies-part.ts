import type { LocalDay } from '../schedule/day.ts';
import { ledger, tidy } from '../supplies/ledger.ts';
import { supplies } from '../supplies/orders.ts';
import { byRevision, isIn, type Scope } from './scope.ts';

/** One item: what the period used, and what is left now. */
export interface SupplyLine {
  item: string;
  /** Absent only for an item of an older plan that is no longer at hand. */
  name: string | undefined;
  used: number;
  wasted: number;
  received: number;
  /** Pieces that may still be used; undefined where nobody has counted or received any. */
  left: number | undefined;
  expired: number;
  /** The day on which a change cannot have all it needs; absent where that is not within 90 days or not known. */
  runsOut: LocalDay | undefined;
  /** The same, if early changes go on as of late: nine times in ten no sooner. */
  earliest: LocalDay | undefined;
  /** The next change cannot have what it needs. */
  lackingNext: boolean;
}

/**
 * Supplies as they stand at the end of the period, in the order of the
 * catalogue: items the plan uses, and any other that moved in the period.
 */
export function suppliesPart(scope: Scope): SupplyLine[] {
  const { plan, entries, end, zone, earlierPlans, period } = scope;
  return supplies(plan, entries, end, zone, { older: byRevision(earlierPlans) }).flatMap(({ item, forecast }): SupplyLine[] => {
    const moved = ledger(entries, item.id).movements.filter((m) => isIn(period, m.day));
    if (!item.inRecipe && moved.length === 0) return [];
    const sum = (kind: 'used' | 'wasted' | 'received'): number =>
      tidy(moved.reduce((all, m) => all + (m.movement === kind ? m.amount : 0), 0));
    const { tracked, usable, expired, runsOut, lackingNext } = forecast;
    return [
      {
        item: item.id,
        name: item.name,
        used: sum('used'),
        wasted: sum('wasted'),
        received: sum('received'),
        left: tracked ? usable : undefined,
        expired,
        runsOut: tracked ? runsOut.expected : undefined,
        earliest: tracked ? runsOut.earliest : undefined,
        lackingNext: tracked && lackingNext,
      },
    ];
  });
}
