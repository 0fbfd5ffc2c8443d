import { type LogRecord, readRecords } from '../care/log/records.ts';
import { openAlerts, timeline } from '../care/log/timeline.ts';
import { type Plan, readPlan } from '../care/plan/plan.ts';
import { type PlanOfTwo, planOfTwo } from '../care/plan/two-books.ts';
import { type Book, bookKey, changedBook, keepMonthsIn, plansIn, readBook } from './book.ts';
import { keepMonths, monthOf, monthsOf, monthsToKeep, readMonths } from './log.ts';
import { PagesIn, type Taken } from './pages-in.ts';
import { deletedPhotos, keepPhoto, photoIds } from './photos.ts';
import type { Shelf } from './shelf.ts';
import { changeIn, readValue } from './values.ts';

/** One person's book from another device, read and checked. */
export interface BookIn {
  plan: Plan;
  /** Oldest first; what cannot be read is kept whole. */
  earlierPlans: readonly unknown[];
  acceptedAt: string;
  /** Months that the other device keeps loaded, as far as it said. */
  keepMonths?: readonly string[];
}

/** What taking in a book did to its log and its plan. */
export interface TookIn extends Taken {
  book: string;
  plan: PlanOfTwo;
}

/** How the work is followed and stopped. */
export interface FollowingIn {
  /** Told how much is done, 0 to 1. */
  onProgress?: (share: number) => void;
  /** Stops between two months or photos; the signal's reason is thrown, and what was done stays. */
  signal?: AbortSignal;
}

const sum = (a: Taken, b: Taken): Taken => ({ added: a.added + b.added, known: a.known + b.known, aside: a.aside + b.aside });

/** Plans each once, those that can be read in the order they were issued behind those that cannot. */
function inOrder(plans: readonly unknown[], inForce: Plan): unknown[] {
  const different = new Map(plans.map((plan) => [JSON.stringify(plan), plan]));
  different.delete(JSON.stringify(inForce));
  const issued = (value: unknown): string => {
    const reading = readPlan(value);
    return reading.ok ? `${reading.plan.issued} ${String(reading.plan.revision).padStart(6, '0')}` : '';
  };
  return [...different.values()].sort((a, b) => (issued(a) < issued(b) ? -1 : issued(a) > issued(b) ? 1 : 0));
}

const readable = (plans: readonly unknown[]): Plan[] => plans.map((plan) => readPlan(plan)).flatMap((r) => (r.ok ? [r.plan] : []));

/** What would become of the plan in force; see `planOfTwo`. */
export const planVerdictIn = (here: Book | undefined, there: BookIn): PlanOfTwo =>
  planOfTwo(here, { plan: there.plan, earlierPlans: readable(there.earlierPlans) });

/** Lays a book from elsewhere over a stored one. */
function mergedHead(old: unknown, id: string, there: BookIn): { value: unknown; plan: PlanOfTwo } {
  const here = readBook(old);
  const verdict = planVerdictIn(here, there);
  const isTaken = verdict === 'new' || verdict === 'taken';
  const plan = isTaken || !here ? there.plan : here.plan;
  const earlierPlans = inOrder([...plansIn(old), ...there.earlierPlans, there.plan], plan);
  const months = [...new Set([...keepMonthsIn(old), ...(there.keepMonths ?? [])])].sort();
  const acceptedAt = isTaken || !here ? there.acceptedAt : here.acceptedAt;
  const rest = here ? (old as object) : {};
  return { value: { ...rest, id, plan, earlierPlans, acceptedAt, keepMonths: months }, plan: verdict };
}

/** Takes in a book without its log: the plan in force and those before it. Nothing of the one here is lost. */
export async function takeHead(shelf: Shelf, id: string, there: BookIn): Promise<PlanOfTwo> {
  let plan: PlanOfTwo = 'same';
  await changeIn(shelf, 'book', bookKey(id), (old) => {
    const merged = mergedHead(old, id, there);
    plan = merged.plan;
    return merged.value;
  });
  return plan;
}

/** Takes in a book whose plan cannot be read: whole beside what is here, where it is shown as set aside. */
export async function takeOddHead(shelf: Shelf, id: string, value: unknown, pages: PagesIn): Promise<void> {
  let isKept = true;
  await changeIn(shelf, 'book', bookKey(id), (old) => {
    const here = readBook(old);
    if (here) return changedBook(old, { earlierPlans: inOrder([...plansIn(old).slice(0, -1), ...plansIn(value)], here.plan) as Plan[] });
    isKept = old === undefined || JSON.stringify(old) === JSON.stringify(value);
    return old ?? value;
  });
  if (!isKept) await pages.takeAside([value]);
}

/** Takes records into a book's log, whatever months they are of, the newest month first. */
export async function takeRecords(
  shelf: Shelf,
  book: Pick<Book, 'id' | 'keepMonths'> & { plan?: Plan | undefined },
  pages: PagesIn,
  records: readonly LogRecord[],
  { onProgress, signal }: FollowingIn = {},
): Promise<Taken> {
  const begun = [...(book.plan ? [book.plan.issued.slice(0, 7)] : []), ...pages.measuredMonths()];
  // Before the records: an alert of an old month must be seen as soon as it is there.
  await keepMonths(shelf, book, monthsToKeep(records, begun));
  const months = [...new Set(records.map(monthOf))].sort().reverse();
  let taken: Taken = { added: 0, known: 0, aside: 0 };
  for (const [i, month] of months.entries()) {
    signal?.throwIfAborted();
    taken = sum(
      taken,
      await pages.takeMonth(
        month,
        records.filter((r) => monthOf(r) === month),
      ),
    );
    onProgress?.((i + 1) / months.length);
  }
  return taken;
}

/** Takes values as another device stored them into a book's log; what cannot be read is kept aside first. */
export async function takeValues(
  shelf: Shelf,
  book: Pick<Book, 'id' | 'keepMonths'> & { plan?: Plan | undefined },
  pages: PagesIn,
  values: readonly unknown[],
): Promise<Taken> {
  const { records, unreadable } = readRecords(values);
  const aside = await pages.takeAside(unreadable);
  return sum(aside, await takeRecords(shelf, book, pages, records));
}

/** Keeps the gravest open alert of a book with it, so that it is seen from the other books too. */
export async function noteOpenAlertOf(shelf: Shelf, id: string): Promise<void> {
  const { records } = await readMonths(shelf, id, await monthsOf(shelf, id));
  const openAlert = openAlerts(timeline(records))[0]?.alert.told;
  await changeIn(shelf, 'book', bookKey(id), (old) => (readBook(old) ? changedBook(old, { openAlert }) : old));
}

/** Stores a photo that is not here yet, unless it was deleted here. @returns whether it was stored. */
export async function takePhoto(
  shelf: Shelf,
  id: string,
  bytes: Blob,
  here: ReadonlySet<string>,
  deleted: ReadonlySet<string>,
): Promise<boolean> {
  if (here.has(id) || deleted.has(id)) return false;
  await keepPhoto(shelf, id, bytes);
  return true;
}

/**
 * Takes one person's book in: the union of both logs, the newer plan, photos
 * that are missing. May be stopped and done again.
 * @param odd what of it could not be read, to be kept aside first.
 * @throws the signal's reason when it was stopped; NewerShelfError and the like when the store refuses.
 */
export async function takeBook(
  shelf: Shelf,
  there: BookIn,
  log: { records: readonly LogRecord[]; odd: readonly unknown[]; photos: readonly { id: string; bytes: Blob }[] },
  { onProgress, signal }: FollowingIn = {},
): Promise<TookIn & { photos: number }> {
  const id = there.plan.person.id;
  const here = readBook(await readValue(shelf, 'book', bookKey(id)));
  signal?.throwIfAborted();
  await beginTaking(shelf);
  const pages = await PagesIn.open(shelf, id);
  // What is here but cannot be read goes on standing in its place; what comes in unreadable is kept before anything else.
  const aside = await pages.takeAside(log.odd);
  const plan = await takeHead(shelf, id, there);
  const book = here ?? { id, plan: there.plan, keepMonths: [] };
  const steps = log.photos.length + 1;
  const ofMonths = { ...(signal && { signal }), onProgress: (share: number) => onProgress?.(share / steps) };
  let taken: Taken;
  try {
    taken = await takeRecords(shelf, book, pages, log.records, ofMonths);
  } finally {
    // Stopped half way too: an alert that is in must be seen from the other books.
    await noteOpenAlertOf(shelf, id);
  }
  const [stored, deleted] = [new Set(await photoIds(shelf)), await deletedPhotos(shelf, id)];
  let photos = 0;
  for (const [i, photo] of log.photos.entries()) {
    signal?.throwIfAborted();
    if (await takePhoto(shelf, photo.id, photo.bytes, stored, deleted)) photos++;
    onProgress?.((i + 2) / steps);
  }
  await endTaking(shelf);
  return { ...sum(aside, taken), book: id, plan, photos };
}

/** Set while something is taken in, so that a phone that was switched off in the middle can say so. */
const TAKING_KEY = 'takingIn';
export const beginTaking = (shelf: Shelf): Promise<void> => changeIn(shelf, 'book', TAKING_KEY, () => true);
export const endTaking = (shelf: Shelf): Promise<void> => changeIn(shelf, 'book', TAKING_KEY, () => false);
/** Whether the last taking in was not finished. */
export const wasCutShort = async (shelf: Shelf): Promise<boolean> => (await readValue(shelf, 'book', TAKING_KEY)) === true;
