/**
 * What a growth curve is: a formula, its gradient written out, what each
 * parameter means, and how to guess a start from data. The fitting engine knows
 * none of this; a curve knows nothing of fitting.
 *
 * Ages reach a curve counted from the fit's `origin` (0 unless said otherwise),
 * in whatever unit the caller uses; masses likewise.
 */
export interface GrowthCurve {
  /** Short name, also the file's name, e.g. `"logistic"`. */
  readonly name: string;
  /** Name for a heading. */
  readonly title: string;
  /** The equation with the parameters' names, t being age and W mass. */
  readonly equation: string;
  readonly parameters: readonly CurveParameter[];
  /** Positions of parameters the formula is linear in. */
  readonly linear: readonly number[];
  /** True when W is the one linear parameter times something (A f(t)). */
  readonly homogeneous?: boolean;
  /** Position of the parameter that is the final (asymptotic) mass, if there is one. */
  readonly asymptote?: number;
  /** Where the formula is a mass at all, in words. */
  readonly domain: string;
  /** Whether the formula refers to a fixed age (start mass, power of age). */
  readonly usesOrigin: boolean;
  /**
   * W at age t. Writes the derivative of W by parameter j into `out[at + j]`.
   * Returns `NaN` outside the domain; never a wrong number.
   */
  readonly gradient: (
    t: number,
    p: ArrayLike<number>,
    out: Float64Array,
    at: number,
    c: readonly number[],
  ) => number;
  /**
   * `gradient` at every age, row by row; for curves fitted by the thousand. A
   * loop in the curve's own file calls one function only, which the machine can
   * then build into the loop (a loop shared by all curves cannot be).
   */
  readonly everyAge?: (
    t: ArrayLike<number>,
    p: ArrayLike<number>,
    values: Float64Array,
    out: Float64Array,
    c: readonly number[],
  ) => void;
  /** dW/dt at age t: the gain. */
  readonly gain: (t: number, p: ArrayLike<number>, c: readonly number[]) => number;
  /**
   * Guesses to start from; linear parameters may be anything. `wide` asks for
   * more of them, after the few likely ones have not led to an optimum.
   */
  readonly starts: (series: StartSeries, c: readonly number[], wide?: boolean) => number[][];
  /** From how many of the best starts a fit is made; 1 where one optimum is the rule. */
  readonly tries?: number;
  /** Position of a parameter of which each guess is tried once, with its best companions. */
  readonly diverseBy?: number;
  /** Age at which the gain is greatest inside the curve, or `null` where there is none. */
  readonly inflection: (p: ArrayLike<number>, c: readonly number[]) => number | null;
  /** The final mass where it is no parameter of its own; `null` where there is none. */
  readonly finalMass?: (p: ArrayLike<number>, c: readonly number[]) => number | null;
  /** Numbers fixed by the series, e.g. the two ages of Schnute's curve. */
  readonly constants?: (ages: ArrayLike<number>) => number[];
  /** True where the formula has a kink: starts are then ranked on the whole series. */
  readonly kinked?: boolean;
  readonly citations: readonly string[];
}

export interface CurveParameter {
  /** The symbol in the equation. */
  readonly name: string;
  /** What it is, in words that follow "is". */
  readonly meaning: string;
  readonly kind: ParameterKind;
  /** Open limits of the parameter by its nature. */
  readonly lower?: number;
  readonly upper?: number;
}

/** mass: g; age: d (moves with the zero of age); duration: d; rate: 1/d; gain: g/d; shape: a pure number. */
export type ParameterKind = "mass" | "age" | "duration" | "rate" | "gain" | "shape";

/** A series condensed to at most 12 points in order of age, for guessing starts. */
export interface StartSeries {
  readonly t: readonly number[];
  readonly w: readonly number[];
  /** The whole series, where a condensed one does not do. */
  readonly ages: ArrayLike<number>;
  readonly masses: ArrayLike<number>;
  readonly first: number;
  readonly last: number;
  readonly span: number;
  readonly lightest: number;
  readonly heaviest: number;
}

/** The unit of a parameter, from the units of age and mass. */
export function parameterUnit(kind: ParameterKind, ageUnit: string, massUnit: string): string {
  switch (kind) {
    case "mass":
      return massUnit;
    case "age":
    case "duration":
      return ageUnit;
    case "rate":
      return `1/${ageUnit}`;
    case "gain":
      return `${massUnit}/${ageUnit}`;
    case "shape":
      return "1";
  }
}
