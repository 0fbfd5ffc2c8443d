import { del, get } from 'idb-keyval';
import * as z from 'zod/mini';
import { assertWritable, changeValue, type Shelf } from './shelf.ts';

/** An edge being traced on a photo, kept from the first stroke on so that a phone call loses nothing. */
const draft = z.object({
  shares: z.array(z.tuple([z.number(), z.number()])).check(z.maxLength(20_000)),
  /** Corners of a card, tapped by hand. */
  card: z.catch(z.optional(z.array(z.tuple([z.number(), z.number()])).check(z.maxLength(4))), undefined),
});
export type TraceDraft = z.infer<typeof draft>;

const keyOf = (photo: string): string => `trace:${photo}`;

export async function readTrace(shelf: Shelf, photo: string): Promise<TraceDraft | undefined> {
  const parsed = draft.safeParse(await get<unknown>(keyOf(photo), shelf.book));
  return parsed.success ? parsed.data : undefined;
}

export const saveTrace = (shelf: Shelf, photo: string, trace: TraceDraft): Promise<void> => changeValue(shelf, keyOf(photo), () => trace);

export async function dropTrace(shelf: Shelf, photo: string): Promise<void> {
  await assertWritable(shelf);
  await del(keyOf(photo), shelf.book);
}
