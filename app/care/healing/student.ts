/**
 * P(|T| ≤ √df · tan θ) for Student's t with a whole number of degrees of
 * freedom, by its finite series (Abramowitz and Stegun, Handbook of
 * Mathematical Functions, 26.7.3 and 26.7.4, from memory).
 */
function centralShare(theta: number, df: number): number {
  const cos = Math.cos(theta);
  const odd = df % 2 === 1;
  let term = odd ? cos : 1;
  let sum = 0;
  for (let j = 1; j <= Math.floor(df / 2); j += 1) {
    sum += term;
    term *= cos * cos * (odd ? (2 * j) / (2 * j + 1) : (2 * j - 1) / (2 * j));
  }
  return odd ? (2 / Math.PI) * (theta + Math.sin(theta) * sum) : Math.sin(theta) * sum;
}

/** Halvings of the interval in which the angle is sought; more change nothing in a double. */
const HALVINGS = 60;

/**
 * The value that Student's t stays below with probability `p`.
 * @param p above 0, below 1. @param df degrees of freedom, a whole number from 1.
 * @throws RangeError for anything else.
 */
export function tQuantile(p: number, df: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`not a probability between 0 and 1: ${p}`);
  if (!Number.isInteger(df) || df < 1) throw new RangeError(`not a number of degrees of freedom: ${df}`);
  if (p < 0.5) return -tQuantile(1 - p, df);
  let low = 0;
  let high = Math.PI / 2;
  for (let i = 0; i < HALVINGS; i += 1) {
    const middle = (low + high) / 2;
    if (centralShare(middle, df) < 2 * p - 1) low = middle;
    else high = middle;
  }
  return Math.sqrt(df) * Math.tan(low);
}
