/** A bell-shaped blur passes from 16 to 84 per cent of brightness within two standard deviations. */
const [LOW, HIGH] = [0.1587, 0.8413];

/**
 * How soft an edge is by the course of brightness across it: half the way, in
 * steps of the course, on which its steepest rise or fall goes from 16 to 84
 * per cent, which for a bell-shaped blur is its standard deviation.
 * @returns undefined where the course does not go so far on both sides.
 */
export function softness(course: readonly number[]): number | undefined {
  const [low, high] = [Math.min(...course), Math.max(...course)];
  const rises = course.map((_, i) => (course[i + 2] ?? Number.NaN) - (course[i - 2] ?? Number.NaN)).map((v) => (Number.isNaN(v) ? 0 : v));
  const steepest = rises.reduce((best, v, i) => (Math.abs(v) > Math.abs(rises[best] as number) ? i : best), 0);
  const shares = course.map((v) => ((rises[steepest] as number) > 0 ? (v - low) / (high - low) : (high - v) / (high - low)));
  const after = shares.findIndex((v, i) => i > steepest && v >= HIGH);
  const before = shares.findLastIndex((v, i) => i < steepest && v <= LOW);
  const at = (i: number, share: number): number =>
    i + (share - (shares[i] as number)) / ((shares[i + 1] as number) - (shares[i] as number));
  return after < 0 || before < 0 ? undefined : (at(after - 1, HIGH) - at(before, LOW)) / 2;
}

export const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;

export const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;
