import { type Collected, type Collecting, collect } from '../exchange/code-sequence.ts';
import type { Shelf } from '../store/shelf.ts';
import { changeIn, readValue } from '../store/values.ts';

/** Parts of a plan in several codes, kept until the last one is in, so that a closed app or a phone's own camera loses none. */
const KEY = 'incomingParts';

const isText = (value: unknown): value is string => typeof value === 'string';
const partsIn = (value: unknown): string[] => (Array.isArray(value) ? value.filter(isText) : []);
const collected = (parts: readonly string[]): Collected | undefined =>
  parts.reduce<Collected | undefined>((state, part) => collect(state, part).state, undefined);

/** What has been collected so far. */
export const keptParts = async (shelf: Shelf): Promise<Collected | undefined> => collected(partsIn(await readValue(shelf, 'book', KEY)));

/**
 * Takes in one more part.
 * @param text a bare part, as `planFromText` gives it.
 */
export async function takePart(shelf: Shelf, text: string): Promise<Collecting> {
  let outcome: Collecting = { event: 'notAPart', state: undefined };
  await changeIn(shelf, 'book', KEY, (old) => {
    const parts = partsIn(old);
    outcome = collect(collected(parts), text);
    if (outcome.event === 'added') return [...parts, text];
    return outcome.event === 'complete' || outcome.event === 'damaged' ? [] : parts;
  });
  return outcome;
}

export const forgetParts = (shelf: Shelf): Promise<void> => changeIn(shelf, 'book', KEY, () => []);
