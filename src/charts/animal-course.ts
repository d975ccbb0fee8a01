/** A number with the range it may lie in. */
export interface TimedRange {
  readonly at: number;
  readonly value: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}

export interface TimedMass {
  readonly at: number;
  readonly massG: number;
}

export interface TimedNumber {
  readonly at: number;
  readonly value: number;
}

/** Something written down: one mark in the row of its kind. */
export interface TimedMark {
  readonly at: number;
  readonly kind: string;
  readonly words: string | null;
}

/** What the others have at one time: nine in ten of them, the middle half and the middle. */
export interface TimedBand {
  readonly at: number;
  readonly n: number;
  readonly low: number;
  readonly lowerQuarter: number;
  readonly middle: number;
  readonly upperQuarter: number;
  readonly high: number;
}

/** Contemporaries at the animal's own age: bands where there are eight and more, else their dots. */
export interface CourseOthers {
  readonly masses: readonly TimedBand[];
  readonly massDots: readonly TimedMass[];
  readonly gains: readonly TimedBand[];
  /** Who they are: "16 contemporaries". */
  readonly are: string;
}

/** What the animal was expected to weigh, with its 95 % interval. */
export interface CourseExpected {
  readonly points: readonly TimedRange[];
  /** What stands beside its end: "expected of it". */
  readonly words: string;
}

/** What is missing at the end: drawn from what it weighs to what was expected. */
export interface CourseMissing {
  readonly fromG: number;
  readonly toG: number;
  /** "440 g missing" and "(351 to 529)". */
  readonly words: readonly string[];
}

/** The gain over some days, written under them. */
export interface CourseSlope {
  readonly from: number;
  readonly to: number;
  readonly words: string;
}

/** The day that fits a change of gain best, and the days between which it may lie. */
export interface CourseChange {
  readonly at: number;
  readonly earliest: number;
  readonly latest: number;
  /** What stands beside the line: "slower from about 26 Mar", "20 to 26 Mar fit the records". */
  readonly label: readonly string[];
  /** What it is, for the caption. */
  readonly words: string;
}

export interface AnimalCourseData {
  readonly name: string;
  readonly zone: string;
  /** First and last instant shown, the same in every panel. */
  readonly from: number;
  readonly to: number;
  readonly masses: readonly TimedMass[];
  /** Days of that window. */
  readonly gainDays: number;
  /** Gain over the window that ends there, g/d. */
  readonly gains: readonly TimedRange[];
  /** Eaten, g a day; a range without a value where refusals are unknown. */
  readonly intake: readonly TimedRange[];
  readonly planned: readonly TimedNumber[];
  readonly temperatures: readonly TimedNumber[];
  readonly marks: readonly TimedMark[];
  /** Order of the rows of marks; kinds not named come last, by name. */
  readonly kinds?: readonly string[];
  /** Kinds whose words are written beside their marks. */
  readonly worded?: readonly string[];
  readonly change?: CourseChange | null;
  readonly others?: CourseOthers | null;
  readonly expected?: CourseExpected | null;
  readonly missing?: CourseMissing | null;
  readonly slopes?: readonly CourseSlope[];
  /** Temperatures between which nothing is raised, °C. */
  readonly usualC?: readonly [low: number, high: number] | null;
}
