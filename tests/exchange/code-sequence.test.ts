import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Collected, collect, missingParts, PART_HEAD, PARTS_MOST, partsOf, readPart } from '../../app/exchange/code-sequence.ts';
import { DIGITS_MOST, fromDigits, toDigits } from '../../app/exchange/digits.ts';

const bytes = (max = 2_000) => fc.uint8Array({ minLength: 40, maxLength: max });
/** Bytes and how many digits a part may have; at most the parts that are allowed. */
const cut = fc.tuple(bytes(), fc.integer({ min: 60, max: 900 })).chain(([own, most]) => {
  const parts = partsOf(own, most);
  return parts
    ? fc.tuple(fc.constant(own), fc.constant(parts), fc.shuffledSubarray(parts, { minLength: parts.length }))
    : fc.constant(undefined);
});
const sets = cut.filter((c) => c !== undefined);

/** Collects one code after another. */
const run = (texts: readonly string[], from?: Collected) =>
  texts.reduce((last, text) => collect(last.state, text), { event: 'notAPart', state: from } as ReturnType<typeof collect>);

describe('bytes as digits', () => {
  test('come back, noughts in front and none at all included', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 800 }), (own) => {
        expect(fromDigits(toDigits(own))).toEqual(own);
      }),
    );
    for (const own of [[], [0], [0, 0, 0], [255], [0, 1]]) expect([...(fromDigits(toDigits(Uint8Array.from(own))) ?? [])]).toEqual(own);
  });

  test('are the number whose bytes they are, a one before them (reference: BigInt of Buffer’s hex)', () => {
    expect(toDigits(Uint8Array.of(0xff))).toBe(String(0x1ff));
    expect(toDigits(Uint8Array.of(0x12, 0x34))).toBe(String(0x11234));
  });

  test.each(['', '0', '01', '-1', '1.5', ' 1', '1e9', '２', 'abc', '2', '15', '16', '257257'])(
    '%j is refused or not what toDigits writes',
    (text) => {
      const own = fromDigits(text);
      if (own) expect(toDigits(own)).toBe(text);
      else expect(own).toBeUndefined();
    },
  );

  test('a run beyond all sizes is refused before it is looked at', () => {
    expect(fromDigits('1'.repeat(DIGITS_MOST + 1))).toBeUndefined();
  });
});

describe('a sequence', () => {
  test('comes together in any order, with progress', () => {
    fc.assert(
      fc.property(sets, ([own, parts, order]) => {
        let state: Collected | undefined;
        order.forEach((text, i) => {
          const step = collect(state, text);
          expect(step.event).toBe(i === order.length - 1 ? 'complete' : 'added');
          state = step.state;
          expect(state && missingParts(state)).toHaveLength(parts.length - 1 - i);
          if (step.event === 'complete') expect(step.text).toBe(`s${toDigits(own)}`);
        });
      }),
    );
  });

  test('repeats change nothing and are told', () => {
    fc.assert(
      fc.property(sets, fc.nat(), ([, parts], where) => {
        const first = parts[where % parts.length] as string;
        const once = collect(undefined, first);
        expect(collect(once.state, first)).toEqual({ event: 'repeat', state: once.state });
        expect(run(parts.flatMap((p) => [p, p])).event).toBe('repeat');
      }),
    );
  });

  test('parts of another set are told, keep what is there, and can be gone over to', () => {
    fc.assert(
      fc.property(sets, sets, ([one, ours], [other, theirs]) => {
        fc.pre(toDigits(one) !== toDigits(other));
        const state = collect(undefined, ours[0] as string).state;
        for (const text of theirs) expect(collect(state, text)).toEqual({ event: 'foreign', state });
        expect(run(ours.slice(1), state).event).toBe('complete');
        expect(run(theirs).event).toBe('complete');
      }),
    );
  });

  test('anything else is no part and changes nothing', () => {
    const [first] = partsOf(
      Uint8Array.from({ length: 100 }, (_, i) => i),
      150,
    ) as [string];
    const { state } = collect(undefined, first);
    for (const text of [
      '',
      'p',
      first.slice(0, 15),
      first.slice(1),
      `${first}x`,
      `x${first}`,
      `https://x.example/#plan=${first}`,
      '5550142',
    ]) {
      expect(collect(state, text)).toEqual({ event: 'notAPart', state });
      expect(collect(undefined, text)).toEqual({ event: 'notAPart', state: undefined });
    }
    fc.assert(
      fc.property(fc.string(), (text) => {
        expect(collect(state, text).event).toBe('notAPart');
      }),
    );
  });

  test('a damaged digit is noticed once all are there, and the set starts again', () => {
    fc.assert(
      fc.property(sets, fc.nat(), fc.nat(), ([, parts], which, where) => {
        const at = which % parts.length;
        const text = parts[at] as string;
        const place = PART_HEAD + 1 + (where % (text.length - PART_HEAD - 1));
        const spoilt = text.slice(0, place) + ((Number(text[place]) + 1) % 10) + text.slice(place + 1);
        const list = parts.map((p, i) => (i === at ? spoilt : p));
        expect(run(list)).toEqual({ event: 'damaged', state: undefined });
      }),
    );
  });

  test('one number with two contents is damage, not a repeat', () => {
    const [first] = partsOf(
      Uint8Array.from({ length: 100 }, (_, i) => i),
      150,
    ) as [string];
    const { state } = collect(undefined, first);
    expect(collect(state, `${first.slice(0, -1)}${(Number(first.at(-1)) + 1) % 10}`)).toEqual({ event: 'damaged', state: undefined });
  });

  test.each(['p0003', 'p0403', 'p0101', 'p0013', `p01${PARTS_MOST + 1}`, 'p9999'])('%s … is no part: its numbers make no sense', (head) => {
    expect(readPart(`${head}0123456789123`)).toBeUndefined();
  });

  test('no part is longer than asked for, and more than the most are refused', () => {
    fc.assert(
      fc.property(bytes(6_000), fc.integer({ min: 60, max: 2_000 }), (own, most) => {
        const parts = partsOf(own, most);
        const fits = own.length * Math.log10(256) < (most - 4) * PARTS_MOST * 0.97;
        if (fits) expect(parts).toBeDefined();
        for (const text of parts ?? []) expect(text.length - PART_HEAD).toBeLessThanOrEqual(most);
        if (parts) expect(parts.length).toBeGreaterThan(1);
        expect((parts ?? []).length).toBeLessThanOrEqual(PARTS_MOST);
      }),
    );
  });

  test('the states are plain data that a draft can keep', () => {
    const { state } = run(
      (
        partsOf(
          Uint8Array.from({ length: 300 }, (_, i) => i),
          300,
        ) ?? []
      ).slice(0, 2),
    );
    expect(JSON.parse(JSON.stringify(state))).toEqual(state);
  });
});
