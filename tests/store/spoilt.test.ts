import fc from 'fast-check';
import { entries, set } from 'idb-keyval';
import { afterAll, expect, test } from 'vitest';
import { SHELF_VERSION, VERSION_KEY } from '../../app/store/shelf.ts';
import type { Json } from '../care/plan/plans.ts';
import { treesOf } from '../exchange/mutate-tree.ts';
import { ACTS } from './acts.ts';
import old from './fixtures/version-0.json' with { type: 'json' };
import { contentOf, fakeDevice, newShelf, openTab } from './phone.ts';

const RUNS = 120;
let tried = 0;
afterAll(() => console.log(`spoilt phones opened: ${tried}`));

type Content = { book: { [key: string]: Json }; log: { [key: string]: Json } };
const isContent = (value: Json): value is Content => {
  const { book, log } = (value ?? {}) as { book?: unknown; log?: unknown };
  return [book, log].every((part) => typeof part === 'object' && part !== null && !Array.isArray(part));
};

/** Opens a phone that holds this, and looks at what it shows and what is left. */
async function opened(content: Content): Promise<void> {
  const shelf = newShelf();
  for (const store of ['book', 'log'] as const) {
    for (const [key, value] of Object.entries(content[store])) await set(key, value, shelf[store]);
  }
  const before = await contentOf(shelf);
  const { state } = await openTab(shelf, fakeDevice());
  tried++;
  for (const { plan } of state.books) expect(plan.version).toBe(1);
  // What cannot be read is shown as set aside; opening takes nothing away and changes no record.
  const after = await contentOf(shelf);
  for (const [key, value] of Object.entries(before.log)) {
    const page = after.log[key];
    if (Array.isArray(value)) expect(page).toEqual(expect.arrayContaining(value));
    else expect(page).toEqual(value);
  }
  for (const key of Object.keys(before.book)) expect(Object.keys(after.book)).toContain(key);
}

async function realContent(): Promise<Content> {
  const shelf = newShelf();
  await ACTS.check.prepare(shelf, 1);
  const all = async (store: 'book' | 'log') => Object.fromEntries(await entries<string, Json>(shelf[store]));
  return JSON.parse(JSON.stringify({ book: await all('book'), log: await all('log') })) as Content;
}

test('a phone whose stored values were spoilt opens all the same, and nothing stored is lost', async () => {
  const real = await realContent();
  await fc.assert(
    fc.asyncProperty(treesOf(real as unknown as Json), async (content) => {
      fc.pre(isContent(content));
      // A version of the future is a hard stop, which other tests look at; a passcode that was never set asks for itself.
      const { lock: _lock, ...book } = content.book;
      await opened({ ...content, book: { ...book, [VERSION_KEY]: SHELF_VERSION } });
    }),
    { numRuns: RUNS },
  );
});

test('a phone of the first version whose values were spoilt is brought up to date all the same', async () => {
  await fc.assert(
    fc.asyncProperty(treesOf({ book: old.book, log: old.log } as unknown as Json), async (content) => {
      fc.pre(isContent(content));
      await opened(content);
    }),
    { numRuns: RUNS },
  );
});
