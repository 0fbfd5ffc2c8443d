/**
 * Numbers in (0, 1) that look like chance but are the same every time, so that a
 * forecast does not change from one look to the next (Park and Miller's minimal
 * standard generator, multiplier 48271; from memory).
 */
export function repeatable(seed: number): () => number {
  const modulus = 2_147_483_647;
  let state = (Math.abs(Math.trunc(seed)) % (modulus - 1)) + 1;
  return () => {
    state = (state * 48_271) % modulus;
    return state / modulus;
  };
}

/** A waiting time with mean 1. */
export const waiting = (random: () => number): number => -Math.log(random());

/** A standard normal number (Box and Muller 1958, from memory). */
const normal = (random: () => number): number => Math.sqrt(2 * waiting(random)) * Math.cos(2 * Math.PI * random());

/**
 * A number from the gamma distribution with this shape and rate 1 (Marsaglia
 * and Tsang 2000, from memory).
 * @param shape above 0; below 1 by way of shape + 1.
 */
export function gamma(shape: number, random: () => number): number {
  if (shape < 1) return gamma(shape + 1, random) * random() ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = normal(random);
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(random()) < x ** 2 / 2 + d - d * v + d * Math.log(v)) return d * v;
  }
}
