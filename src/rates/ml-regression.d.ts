/** The part of the package that is used; it ships no declarations of its own. */
declare module "ml-regression" {
  /** y = A x^B by least squares on logarithms. */
  export class PowerRegression {
    constructor(x: readonly number[], y: readonly number[]);
    readonly A: number;
    readonly B: number;
    predict(x: number): number;
  }
  /** y = slope x + intercept. */
  export class SimpleLinearRegression {
    constructor(x: readonly number[], y: readonly number[]);
    readonly slope: number;
    readonly intercept: number;
  }
  /** Rows of x and of y; weights one row a column of x, the intercept last. */
  export class MultivariateLinearRegression {
    constructor(x: readonly (readonly number[])[], y: readonly (readonly number[])[]);
    readonly weights: readonly (readonly number[])[];
  }
}
