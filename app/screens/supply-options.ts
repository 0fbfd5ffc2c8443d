import type { SupplyOptions } from '../care/supplies/forecast.ts';
import type { Book, Settings } from '../store/book.ts';

/** What a forecast of this book's supplies is to go by. */
export const supplyOptions = (book: Book, settings: Settings): SupplyOptions => ({
  leadDays: settings.leadDays,
  closedDays: book.plan.clinic.closedDays ?? [],
  older: [...book.earlierPlans].reverse(),
});
