import * as z from 'zod/mini';
import type { Shelf } from './shelf.ts';
import { changeIn, deleteIn, readValue } from './values.ts';

/** An edge being traced on a photo, kept from the first stroke on so that a phone call loses nothing. */
const draft = z.object({
  shares: z.array(z.tuple([z.number(), z.number()])).check(z.maxLength(20_000)),
  /** Corners of a card, tapped by hand. */
  card: z.catch(z.optional(z.array(z.tuple([z.number(), z.number()])).check(z.maxLength(4))), undefined),
});
export type TraceDraft = z.infer<typeof draft>;

const keyOf = (photo: string): string => `trace:${photo}`;

export async function readTrace(shelf: Shelf, photo: string): Promise<TraceDraft | undefined> {
  const parsed = draft.safeParse(await readValue(shelf, 'book', keyOf(photo)));
  return parsed.success ? parsed.data : undefined;
}

export const saveTrace = (shelf: Shelf, photo: string, trace: TraceDraft): Promise<void> =>
  changeIn(shelf, 'book', keyOf(photo), () => trace);

export const dropTrace = (shelf: Shelf, photo: string): Promise<void> => deleteIn(shelf, 'book', [keyOf(photo)]);
