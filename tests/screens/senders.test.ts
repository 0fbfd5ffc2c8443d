import 'fake-indexeddb/auto';
import { describe, expect, it } from 'vitest';
import { partsOf } from '../../app/exchange/code-sequence.ts';
import type { PublicKey } from '../../app/exchange/signature.ts';
import { forgetParts, keptParts, takePart } from '../../app/screens/incoming-parts.ts';
import { knownSenders, standingOf, trustSender } from '../../app/screens/welcome/senders.ts';
import { newShelf } from '../store/phone.ts';

const key = (letter: string): PublicKey => ({ kty: 'EC', crv: 'P-256', x: `${letter.repeat(42)}A`, y: `${'B'.repeat(42)}A` });
const [clinic, other] = [key('C'), key('D')];

describe('senders', () => {
  it('a first key is to be compared, then known; another one is warned of', async () => {
    const shelf = newShelf();
    expect(standingOf(await knownSenders(shelf), 'nela', clinic)).toBe('first');
    await trustSender(shelf, 'nela', clinic);
    const known = await knownSenders(shelf);
    expect(standingOf(known, 'nela', clinic)).toBe('known');
    expect(standingOf(known, 'nela', other)).toBe('other');
    expect(standingOf(known, 'nela', undefined)).toBe('unsignedNow');
  });

  it('a clinic that one person trusts is known to the next on the same phone, without a sender nothing is', async () => {
    const shelf = newShelf();
    await trustSender(shelf, 'nela', clinic);
    const known = await knownSenders(shelf);
    expect(standingOf(known, 'ansel', clinic)).toBe('known');
    expect(standingOf(known, 'ansel', other)).toBe('first');
    expect(standingOf(known, 'ansel', undefined)).toBe('unsigned');
  });
});

describe('parts of a plan in several codes', () => {
  const parts = partsOf(
    Uint8Array.from({ length: 900 }, (_, i) => (i * 7) % 256),
    800,
  ) as string[];

  it('are kept until the last one is in, in any order, and then let go', async () => {
    const shelf = newShelf();
    const [first, ...rest] = [...parts].reverse() as [string, ...string[]];
    expect((await takePart(shelf, first)).event).toBe('added');
    expect(Object.keys((await keptParts(shelf))?.parts ?? {})).toHaveLength(1);
    expect((await takePart(shelf, first)).event).toBe('repeat');
    const events = [];
    for (const part of rest) events.push((await takePart(shelf, part)).event);
    expect(events.at(-1)).toBe('complete');
    expect(await keptParts(shelf)).toBeUndefined();
  });

  it('can be started over', async () => {
    const shelf = newShelf();
    await takePart(shelf, parts[0] as string);
    await forgetParts(shelf);
    expect(await keptParts(shelf)).toBeUndefined();
  });
});
