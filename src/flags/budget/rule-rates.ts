/** Openings per 100 healthy animal-weeks, with 95 % Monte Carlo limits. */
export interface MeasuredRate {
  readonly per100Weeks: number;
  readonly low: number;
  readonly high: number;
}

/** What named healthy animals: the weighings, danger rules, rules of practice, and all of the list. */
export interface NamedHealthy {
  readonly list: MeasuredRate;
  readonly weighings: MeasuredRate;
  readonly danger: MeasuredRate;
  readonly practice: MeasuredRate;
}

/**
 * How well the pages of a simulated nursery are kept: "full", everything written;
 * "demo", as in the demo study; "tired", a tenth of the refusals blank and 3 % of
 * the feeds not written besides.
 */
export interface MeasuredWorld extends NamedHealthy {
  readonly pages: "full" | "demo" | "tired";
  readonly animals: number;
  readonly animalWeeks: number;
  /** Without the arrival phase, whose exam finds newcomers cold. */
  readonly afterArrival: NamedHealthy;
}

/** Measured by the bench `flags-rules` at the default limits. */
export interface MeasuredRuleRates {
  readonly kind: "measured-rule-rates";
  readonly seeds: readonly number[];
  readonly worlds: readonly MeasuredWorld[];
}

/** How often healthy animals stood as danger or measure first, and whether planted dangers stood. */
export interface MeasuredLevelWorld {
  /** "full", every line written; "tired", 5 % of feeds not written and 15 % of refusals blank. */
  readonly pages: "full" | "tired";
  /** Healthy animal-weeks after the first seven days. */
  readonly animalWeeks: number;
  /** Pages on which a danger stood that the page before had not, in 100 of those weeks, ... */
  readonly dangerPer100Weeks: number;
  /** ... and the upper 95 % limit of that. */
  readonly upTo: number;
  readonly measureFirstPct: number;
  /** Dangers that were planted and written, and how many stood as danger on the next page. */
  readonly planted: number;
  readonly found: number;
}

/** Measured by the bench `levels` at the default limits. */
export interface MeasuredLevelRates {
  readonly kind: "measured-level-rates";
  readonly seed: number;
  readonly worlds: readonly MeasuredLevelWorld[];
}
