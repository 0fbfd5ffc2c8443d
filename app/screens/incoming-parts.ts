import { type Collected, type Collecting, type CollectingBytes, collect } from '../exchange/code-sequence.ts';
import type { Shelf } from '../store/shelf.ts';
import { changeIn, readValue } from '../store/values.ts';

/** Parts of what comes in several codes, kept until the last one is in, so that a closed app or a phone's own camera loses none. */
export interface PartsKept<C extends Collecting | CollectingBytes> {
  key: string;
  collect: (state: Collected | undefined, text: string) => C;
}

const PLAN: PartsKept<Collecting> = { key: 'incomingParts', collect };

const isText = (value: unknown): value is string => typeof value === 'string';
const partsIn = (value: unknown): string[] => (Array.isArray(value) ? value.filter(isText) : []);

const collected = <C extends Collecting | CollectingBytes>(kept: PartsKept<C>, parts: readonly string[]): Collected | undefined =>
  parts.reduce<Collected | undefined>((state, part) => kept.collect(state, part).state, undefined);

/** What has been collected of a kind so far. */
export const keptOf = async <C extends Collecting | CollectingBytes>(shelf: Shelf, kept: PartsKept<C>): Promise<Collected | undefined> =>
  collected(kept, partsIn(await readValue(shelf, 'book', kept.key)));

/** Takes in one more part of a kind. */
export async function takeInto<C extends Collecting | CollectingBytes>(shelf: Shelf, kept: PartsKept<C>, text: string): Promise<C> {
  let outcome = kept.collect(undefined, '');
  await changeIn(shelf, 'book', kept.key, (old) => {
    const parts = partsIn(old);
    outcome = kept.collect(collected(kept, parts), text);
    if (outcome.event === 'added') return [...parts, text];
    return outcome.event === 'complete' || outcome.event === 'damaged' ? [] : parts;
  });
  return outcome;
}

export const forget = (shelf: Shelf, kept: Pick<PartsKept<Collecting>, 'key'>): Promise<void> =>
  changeIn(shelf, 'book', kept.key, () => []);

/** What has been collected of a plan so far. */
export const keptParts = (shelf: Shelf): Promise<Collected | undefined> => keptOf(shelf, PLAN);

/**
 * Takes in one more part of a plan.
 * @param text a bare part, as `planFromText` gives it.
 */
export const takePart = (shelf: Shelf, text: string): Promise<Collecting> => takeInto(shelf, PLAN, text);

export const forgetParts = (shelf: Shelf): Promise<void> => forget(shelf, PLAN);
