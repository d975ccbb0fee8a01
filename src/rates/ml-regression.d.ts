/** The part of the package that is used; it ships no declarations of its own. */
declare module "ml-regression" {
  /** y = A x^B by least squares on logarithms. */
  export class PowerRegression {
    constructor(x: readonly number[], y: readonly number[]);
    readonly A: number;
    readonly B: number;
    predict(x: number): number;
  }
}
