import fc from 'fast-check';

/** Ways to spoil bytes: bits flipped, cut, doubled, moved, filled over, other bytes put in. One to three at a time. */
export function mutationsOf(real: Uint8Array): fc.Arbitrary<Uint8Array<ArrayBuffer>> {
  const place = fc.nat(real.length - 1);
  const length = fc.integer({ min: 1, max: Math.max(1, Math.min(2_000, real.length - 1)) });
  const one = fc.oneof(
    fc.tuple(place, fc.nat(7)).map(([at, bit]) => (b: Uint8Array) => {
      const next = b.slice();
      next[at % next.length] = (next[at % next.length] as number) ^ (1 << bit);
      return next;
    }),
    place.map((at) => (b: Uint8Array) => b.slice(0, at)),
    place.map((at) => (b: Uint8Array) => b.slice(at)),
    fc.tuple(place, length).map(
      ([at, n]) =>
        (b: Uint8Array) =>
          Uint8Array.of(...b.subarray(0, at), ...b.subarray(at + n)),
    ),
    fc.tuple(place, length).map(
      ([at, n]) =>
        (b: Uint8Array) =>
          Uint8Array.of(...b.subarray(0, at + n), ...b.subarray(at)),
    ),
    fc.tuple(place, place, length).map(([at, to, n]) => (b: Uint8Array) => {
      const next = b.slice();
      next.copyWithin(to % next.length, at % next.length, (at % next.length) + n);
      return next;
    }),
    fc.tuple(place, fc.uint8Array({ minLength: 1, maxLength: 40 })).map(
      ([at, more]) =>
        (b: Uint8Array) =>
          Uint8Array.of(...b.subarray(0, at), ...more, ...b.subarray(at)),
    ),
    fc.tuple(place, length, fc.constantFrom(0, 0x20, 0x30, 0xff)).map(
      ([at, n, byte]) =>
        (b: Uint8Array) =>
          b.slice().fill(byte, at, at + n),
    ),
  );
  return fc
    .array(one, { minLength: 1, maxLength: 3 })
    .map((steps) => new Uint8Array(steps.reduce<Uint8Array>((b, step) => (b.length === 0 ? b : step(b)), real)));
}
