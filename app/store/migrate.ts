import { set } from 'idb-keyval';
import { readRecords } from '../care/log/records.ts';
import { readPlan } from '../care/plan/plan.ts';
import { isLocalDay } from '../care/schedule/day.ts';
import { bookKey } from './book.ts';
import { asPage, idOf, mustStayLoaded } from './log.ts';
import { NewerShelfError, SHELF_VERSION, type Shelf, VERSION_KEY } from './shelf.ts';
import { changeIn, readAll, readValues } from './values.ts';

/**
 * Steps from one version of the stores to the next, oldest first. A step only
 * adds: it never deletes what it read, it can run twice, and it is never edited
 * once it has shipped. Each has a fixture in tests/store/fixtures that is kept.
 */
const STEPS: readonly { from: number; run: (shelf: Shelf) => Promise<void> }[] = [{ from: 0, run: monthPages }];

/**
 * Brings the stores up to this app's version.
 * @throws NewerShelfError when a newer app wrote them; nothing is written then.
 */
export async function migrate(shelf: Shelf): Promise<void> {
  const all = await readAll(shelf, 'book');
  const stored = all.get(VERSION_KEY);
  if (typeof stored === 'number' && stored > SHELF_VERSION) throw new NewerShelfError();
  let version = typeof stored === 'number' ? stored : all.has('plan') ? 0 : SHELF_VERSION;
  if (stored === SHELF_VERSION) return;
  for (const step of STEPS) {
    if (step.from < version) continue;
    await step.run(shelf);
    version = step.from + 1;
  }
  await set(VERSION_KEY, version, shelf.book);
}

/**
 * 0 → 1. Version 0 kept one person's plan under `plan`, all records in one list
 * under `all`, and knew neither zones nor devices.
 */
async function monthPages(shelf: Shelf): Promise<void> {
  const [plan, acceptedAt] = await readValues(shelf, 'book', ['plan', 'acceptedAt']);
  const [all] = await readValues(shelf, 'log', ['all']);
  const reading = readPlan(plan);
  if (!reading.ok) {
    // Without a plan nobody knows whose log this is. A book that cannot be read is set aside whole, and shown.
    await changeIn(shelf, 'book', bookKey(BEFORE), (old) => old ?? { id: BEFORE, plan, acceptedAt, log: all });
    return;
  }
  const { person, clinic } = reading.plan;
  const pages = new Map<string, unknown[]>();
  const kept = new Set<string>();
  for (const value of asPage(all)) {
    const upgraded = { zone: clinic.zone, device: BEFORE, ...(value as object) };
    const [record] = readRecords([upgraded]).records;
    const day = (value as { day?: unknown } | null)?.day;
    const month = typeof day === 'string' && isLocalDay(day) ? day.slice(0, 7) : NO_MONTH;
    // What cannot be read stays exactly as it was.
    pages.set(month, [...(pages.get(month) ?? []), record ? upgraded : value]);
    if (record && mustStayLoaded(record)) kept.add(month);
  }
  for (const [month, records] of pages) {
    await changeIn(shelf, 'log', `${person.id}/${month}`, (old) => {
      const page = asPage(old);
      const have = new Set(page.map(idOf));
      return [...page, ...records.filter((r) => !have.has(idOf(r)))];
    });
  }
  const first = [...pages.keys()].sort().filter((m) => m !== NO_MONTH);
  await changeIn(
    shelf,
    'book',
    bookKey(person.id),
    (old) =>
      old ?? {
        id: person.id,
        plan,
        earlierPlans: [],
        acceptedAt: typeof acceptedAt === 'string' ? acceptedAt : `${reading.plan.issued}T00:00:00.000Z`,
        keepMonths: [...new Set([...first.slice(0, 3), ...kept])].sort(),
      },
  );
}

/** Who made a record before devices had ids, and the book of a log whose plan cannot be read. */
const BEFORE = 'before-version-1';
/** The page of what has no day. */
const NO_MONTH = '0000-00';
