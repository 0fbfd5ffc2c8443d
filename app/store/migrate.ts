import { getMany, set, update } from 'idb-keyval';
import { readPlan } from '../care/plan/plan.ts';
import { bookKey } from './book.ts';
import { bookEntries, NewerShelfError, SHELF_VERSION, type Shelf, VERSION_KEY } from './shelf.ts';

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
  const all = await bookEntries(shelf);
  const stored = all.get(VERSION_KEY);
  if (typeof stored === 'number' && stored > SHELF_VERSION) throw new NewerShelfError();
  let version = typeof stored === 'number' ? stored : all.has('plan') ? 0 : SHELF_VERSION;
  if (version === stored) return;
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
  const [plan, acceptedAt] = await getMany<unknown>(['plan', 'acceptedAt'], shelf.book);
  const reading = readPlan(plan);
  if (!reading.ok) return;
  const { person, clinic } = reading.plan;
  const [all] = await getMany<unknown>(['all'], shelf.log);
  const pages = new Map<string, unknown[]>();
  for (const value of Array.isArray(all) ? all : []) {
    const old = value as { day?: unknown };
    const month = typeof old?.day === 'string' && /^\d{4}-\d{2}-\d{2}$/.test(old.day) ? old.day.slice(0, 7) : '0000-00';
    const upgraded = typeof value === 'object' && value !== null ? { zone: clinic.zone, device: 'before-version-1', ...value } : value;
    pages.set(month, [...(pages.get(month) ?? []), upgraded]);
  }
  for (const [month, records] of pages) {
    await update<unknown[]>(
      `${person.id}/${month}`,
      (old) => {
        const have = new Set((old ?? []).map((r) => (r as { id?: unknown }).id));
        return [...(old ?? []), ...records.filter((r) => !have.has((r as { id?: unknown }).id))];
      },
      shelf.log,
    );
  }
  const first = [...pages.keys()].sort().filter((m) => m !== '0000-00');
  await update<unknown>(
    bookKey(person.id),
    (old) =>
      old ?? {
        id: person.id,
        plan,
        earlierPlans: [],
        acceptedAt: typeof acceptedAt === 'string' ? acceptedAt : `${reading.plan.issued}T00:00:00.000Z`,
        keepMonths: first.slice(0, 3),
      },
    shelf.book,
  );
}
