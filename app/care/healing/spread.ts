/** A figure with the range it may lie in. `low` ≤ `value` ≤ `high`. */
export interface Spread {
  value: number;
  low: number;
  high: number;
}
