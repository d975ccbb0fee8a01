import type { CovarianceShape } from "./covariance.js";
import type { ResidualStructure } from "./residual.js";

export interface LinearMixedData {
  readonly response: ArrayLike<number>;
  readonly fixed: {
    readonly names: readonly string[];
    readonly columns: readonly ArrayLike<number>[];
  };
  /** Outermost first; none for generalised least squares. */
  readonly levels: readonly RandomLevel[];
  /** Innermost grouping for serial correlation when there is no random level. */
  readonly serialGroup?: ArrayLike<string | number>;
  readonly residual?: ResidualStructure;
}

/** Random effects of one grouping level. */
export interface RandomLevel {
  readonly name: string;
  /** Group of each row. */
  readonly group: ArrayLike<string | number>;
  /**
   * True where each outer group uses the same labels again for groups of its own
   * (plot 1 of every block). Without it a label that stands in two outer groups is
   * refused: it may be one group that crosses them (see `crossedLevel`).
   */
  readonly nested?: boolean;
  readonly names: readonly string[];
  /** One column per random effect; a column of ones is a random intercept. */
  readonly columns: readonly ArrayLike<number>[];
  readonly covariance?: CovarianceShape;
}
