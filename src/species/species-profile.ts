import type { Notice } from "../core/notice.js";

/**
 * How sure a number of a profile is. `read`: read in the named source;
 * `textbook`: standard knowledge; `memory`: recalled, not re-read; `common
 * practice`: how nurseries do it, no source; `own choice`: a limit this library
 * sets from the other numbers, as its source says; `computed at an assumed mass`:
 * the source gives an amount and no body mass, and one was assumed; `entered`: the
 * user's own.
 */
export type Sure =
  | "read"
  | "textbook"
  | "memory"
  | "common practice"
  | "own choice"
  | "computed at an assumed mass"
  | "entered";

/** One number with unit, source and how sure it is. */
export interface SourcedValue {
  readonly value: number;
  readonly unit: string;
  readonly source: string;
  readonly sure: Sure;
}

/** A range of numbers, low to high, with unit, source and how sure it is. */
export interface SourcedRange {
  readonly range: readonly [number, number];
  readonly unit: string;
  readonly source: string;
  readonly sure: Sure;
}

/** An age band in days from birth, `toD` not included; `null`: no upper end. */
export interface AgeBand {
  readonly fromD: number;
  readonly toD: number | null;
}

export interface PlausibleMassBand extends AgeBand {
  /** Outside: look again. */
  readonly unusual: SourcedRange;
  /** Outside: reject. */
  readonly impossible: SourcedRange;
}

export interface FeedingRhythmBand extends AgeBand {
  readonly everyH: SourcedRange;
  /** Local clock hours between which feeds are given; `null`: day and night. */
  readonly betweenHours: readonly [number, number] | null;
}

export interface IntakeBand extends AgeBand {
  /** Eaten per day as % of body mass, as fed. */
  readonly share: SourcedRange;
}

export interface EnergyDemandBand extends AgeBand {
  /** Demand as a multiple of 70 W^0.75 kcal/d (W in kg). */
  readonly timesResting: SourcedRange;
}

export interface ExpectedGainBand extends AgeBand {
  readonly setting: "hand-reared" | "wild";
  readonly gain: SourcedRange;
}

/**
 * What is known of a species before a single animal is weighed. Plain data;
 * what no source gives is `null` or an empty list, never an invented number.
 * Defaults for comparison and warning, never a clinical instruction.
 */
export interface SpeciesProfile {
  readonly species: string;
  readonly scientificName: string | null;
  /** Other spellings that mean this species, lower case. */
  readonly otherNames: readonly string[];
  /** True for the template that stands in for a species without a profile. */
  readonly isTemplate: boolean;
  readonly birthMass: SourcedRange | null;
  /** At or above this birth mass pups do better; null where no source gives one. */
  readonly lowBirthMass: SourcedValue | null;
  readonly adultMass: SourcedRange | null;
  readonly bodyTemperature: SourcedRange | null;
  readonly plausibleMass: readonly PlausibleMassBand[];
  readonly feedingRhythm: readonly FeedingRhythmBand[];
  readonly intake: readonly IntakeBand[];
  /** Most that one feed may be, % of body mass; null where no source gives one. */
  readonly feedLimit: SourcedValue | null;
  readonly energyDemand: readonly EnergyDemandBand[];
  readonly expectedGain: readonly ExpectedGainBand[];
  /** Age at which solids are first taken. */
  readonly solidsStart: SourcedRange | null;
  /** Age at which milk or formula ends. */
  readonly weaning: SourcedRange | null;
  /** Length of the fast after weaning, days; null for species without one. */
  readonly postWeaningFast: SourcedRange | null;
  /** Hours after which formula is no longer used, where a diet states none. */
  readonly formulaUseBy: SourcedValue;
  /** Age below which the stricter rules for the very young hold. */
  readonly veryYoung: SourcedValue;
  /** What was overridden by the user, with the value before and after. */
  readonly overridden: readonly OverriddenEntry[];
  readonly notices: readonly Notice[];
}

export interface OverriddenEntry {
  /** Name of the entry, e.g. `"bodyTemperature"`. */
  readonly entry: string;
  /** The profile's own entry as JSON text, and what the user put in its place. */
  readonly before: string;
  readonly after: string;
}
