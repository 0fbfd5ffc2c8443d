/** The parts that the tests use of a package that has no types of its own. */
declare module 'regression' {
  interface Fit {
    equation: [number, number];
    r2: number;
  }
  type Points = readonly (readonly [number, number])[];
  const regression: {
    /** y = equation[0]·x + equation[1]. */
    linear(points: Points, options?: { precision: number }): Fit;
    /** y = equation[0]·e^(equation[1]·x), weighed by y. */
    exponential(points: Points, options?: { precision: number }): Fit;
  };
  export default regression;
}
