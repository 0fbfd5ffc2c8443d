import type { RecordOf, StockMovement, Who } from '../log/records.ts';
import { type Entry, standing } from '../log/timeline.ts';
import { AHEAD_MS, type LocalDay } from '../schedule/day.ts';

/** Pieces that expire together. Without `expires` the date is not known. */
export interface Lot {
  amount: number;
  /** The last day on which they may be used. */
  expires?: LocalDay;
}

/** One movement with what it did to the book. Amounts are single pieces. */
export interface Movement {
  /** The id by which other records know it. */
  id: string;
  at: number;
  day: LocalDay;
  movement: StockMovement;
  amount: number;
  by: Who;
  expires?: LocalDay;
  change?: string;
  note?: string;
  /** Was corrected after it was first written. */
  amended: boolean;
  /** On hand by the book, before and after. */
  before: number;
  after: number;
  /**
   * What the book had to be put right by. Above 0: pieces are missing (a count
   * found fewer). Below 0: pieces turned up that the book did not know (a count
   * found more, or more were used than were there).
   */
  difference: number;
}

export interface Ledger {
  item: string;
  /** In time order, those dated ahead first. */
  movements: Movement[];
  received: number;
  used: number;
  wasted: number;
  /** On hand by the book, expired pieces included. Never below 0. */
  onHand: number;
  /** Sum of all differences: received = used + wasted + onHand + difference. */
  difference: number;
  /** Pieces used or thrown away that the book did not know of: the part of `difference` that no count explains, 0 or more. */
  unexplained: number;
  /** What is on hand, first to expire first; pieces without a date last. */
  lots: Lot[];
  /** Somebody has received or counted this item at least once. Before that the book knows nothing about it. */
  tracked: boolean;
}

/** Pieces may be halves or quarters; sums are rounded to 0.0001, so that 0.1 and 0.2 are 0.3. */
export const tidy = (amount: number): number => Math.round(amount * 10_000) / 10_000 + 0;

/** First to expire first, unknown dates last. */
const byExpiry = (a: Lot, b: Lot): number =>
  (a.expires ?? '9999') < (b.expires ?? '9999') ? -1 : (a.expires ?? '9999') > (b.expires ?? '9999') ? 1 : 0;

/** Whether pieces may no longer be used on a day. Days are written so that their letters sort as their dates do. */
export const isExpired = (lot: Lot, on: LocalDay): boolean => lot.expires !== undefined && lot.expires < on;

/** Pieces that may still be used on a day. */
export const usableOn = (lots: readonly Lot[], on: LocalDay): number =>
  tidy(lots.reduce((sum, lot) => sum + (isExpired(lot, on) ? 0 : lot.amount), 0));

/**
 * Takes pieces out of lots, those given first first.
 * @returns the lots that are left and how many pieces were lacking.
 */
export function takeFrom(lots: readonly Lot[], amount: number): { left: Lot[]; lacking: number } {
  let lacking = amount;
  const left: Lot[] = [];
  for (const lot of lots) {
    const taken = Math.min(lot.amount, lacking);
    lacking = tidy(lacking - taken);
    if (tidy(lot.amount - taken) > 0) left.push({ ...lot, amount: tidy(lot.amount - taken) });
  }
  return { left, lacking };
}

/** Lots in the order in which a movement takes them. */
function inOrder(lots: readonly Lot[], movement: StockMovement, on: LocalDay): Lot[] {
  const good = lots.filter((l) => !isExpired(l, on));
  const expired = lots.filter((l) => isExpired(l, on));
  // What is used on a wound is taken as not expired; what is thrown away or no longer there most likely was.
  return movement === 'used' ? [...good, ...expired] : [...expired, ...good];
}

/**
 * The book of one item: every movement that stands (corrected, and not
 * withdrawn) in time order, and what follows from them.
 *
 * Stock never goes below zero. Where more is used than is there, the book is
 * put right by a difference that shows, never in silence. A count sets the
 * truth and its difference stays to be seen.
 *
 * What a wrong clock dated ahead of `now` comes first, whatever its date: when
 * it was is not known, and a count of that time must not overrule what is
 * counted and used since.
 */
export function ledger(entries: readonly Entry[], item: string, now: number = Number.POSITIVE_INFINITY): Ledger {
  const book: Ledger = {
    item,
    movements: [],
    received: 0,
    used: 0,
    wasted: 0,
    onHand: 0,
    difference: 0,
    unexplained: 0,
    lots: [],
    tracked: false,
  };
  const own = standing(entries, 'stock').filter((e) => e.now.item === item);
  const isAhead = (e: Entry): boolean => Date.parse(e.first.at) > now + AHEAD_MS;
  for (const entry of [...own.filter(isAhead), ...own.filter((e) => !isAhead(e))]) enter(book, entry);
  return book;
}

function enter(book: Ledger, { first, now, versions }: Entry<RecordOf<'stock'>>): void {
  const { movement, amount, expires, change, note } = now;
  const before = book.onHand;
  let difference = 0;
  if (movement === 'received') {
    book.received = tidy(book.received + amount);
    book.lots = withLot(book.lots, { amount, ...(expires && { expires }) });
  } else if (movement === 'counted') {
    difference = tidy(before - amount);
    book.lots =
      difference > 0
        ? takeFrom(inOrder(book.lots, movement, first.day), difference).left.sort(byExpiry)
        : withLot(book.lots, { amount: -difference });
  } else {
    book[movement] = tidy(book[movement] + amount);
    const { left, lacking } = takeFrom(inOrder(book.lots, movement, first.day), amount);
    book.lots = left.sort(byExpiry);
    book.unexplained = tidy(book.unexplained + lacking);
    difference = -lacking + 0;
  }
  book.onHand = tidy(book.lots.reduce((sum, lot) => sum + lot.amount, 0));
  book.difference = tidy(book.difference + difference);
  book.tracked ||= movement === 'received' || movement === 'counted';
  book.movements.push({
    id: first.id,
    at: Date.parse(first.at),
    day: first.day,
    movement,
    amount,
    by: now.by.who,
    ...(expires && { expires }),
    ...(change !== undefined && { change }),
    ...(note !== undefined && { note }),
    amended: versions.length > 1,
    before,
    after: book.onHand,
    difference,
  });
}

function withLot(lots: readonly Lot[], lot: Lot): Lot[] {
  if (lot.amount === 0) return [...lots];
  const same = lots.find((l) => l.expires === lot.expires);
  const rest = lots.filter((l) => l !== same);
  return [...rest, { ...lot, amount: tidy(lot.amount + (same?.amount ?? 0)) }].sort(byExpiry);
}

/** Ids of all items that ever moved, in the order they first did. Items of plans long gone are among them: history is kept. */
export function itemsMoved(entries: readonly Entry[]): string[] {
  return [...new Set(standing(entries, 'stock').map((e) => e.now.item))];
}
