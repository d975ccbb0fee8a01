import type { DateStyle } from "../../units/read-time.js";

/**
 * How a file or sheet is laid out, step by step, as study.json keeps it under
 * `layouts`: what a person agreed to, in words, to be read and changed by hand.
 * Columns are named by the heading that stands in the file.
 */
export type LayoutStep =
  /** The heading stands in this line (or in these two, one below the other). */
  | { readonly layout: "heading"; readonly lines: readonly number[] }
  /** All rows are about one animal, which is named outside them. */
  | { readonly layout: "one animal"; readonly animal: string }
  /** All rows are of one day, which is named outside them; the rows hold clock times. */
  | { readonly layout: "one day"; readonly date: string }
  /** A line with nothing but an animal's name is about the rows below it. */
  | { readonly layout: "animal above its rows" }
  /** A line with nothing but a day is about the rows below it, which hold clock times. */
  | { readonly layout: "day above its rows" }
  | AcrossStep
  /** A blank means what stands above it. */
  | { readonly layout: "as above"; readonly columns: readonly string[] }
  /** What the mark in numbers that is not the study's decimal mark means. */
  | {
      readonly layout: "numbers";
      readonly columns: readonly string[];
      readonly mark: "comma" | "point";
      readonly means: "decimal" | "thousands";
    }
  /** Days as a spreadsheet counts them, from 1900 or from 1904. */
  | {
      readonly layout: "day numbers";
      readonly columns: readonly string[];
      readonly from: 1900 | 1904;
    }
  /** Dates in an order of their own. */
  | {
      readonly layout: "dates";
      readonly columns: readonly string[];
      readonly style: DateStyle;
    }
  /** Clock of twelve hours without am and pm: the order of the rows tells which half. */
  | {
      readonly layout: "twelve hours";
      readonly time: string;
      readonly date?: string | undefined;
      readonly animal?: string | undefined;
    }
  /** Times before `until` (HH:MM) belong to the morning after the date they stand under. */
  | {
      readonly layout: "night under the evening's date";
      readonly time: string;
      readonly date?: string | undefined;
      readonly animal?: string | undefined;
      readonly until: string;
    }
  /** "60/75 (15 left)": 60 eaten of 75 offered. */
  | { readonly layout: "eaten of offered"; readonly column: string }
  /** Times mean what they say, however odd their order looks. */
  | { readonly layout: "times as written" }
  /** Not records: a copy, a summary. */
  | { readonly layout: "leave out" };

/** Headings are days, animals or clock times; each cell below is an amount. */
export interface AcrossStep {
  readonly layout: "across";
  readonly headings: "days" | "animals" | "times";
  /** Heading of the amounts, with their unit where it is not ours: "mass_g", "mass (kg)". */
  readonly amount: string;
  /** Columns that stand beside the animals and are none. */
  readonly beside?: readonly string[] | undefined;
  /** The clock time (HH:MM) of days that are written without one. */
  readonly clock?: string | undefined;
  /** For days written without a year. */
  readonly year?: number | undefined;
  /** For days of the month alone. */
  readonly month?: number | undefined;
  readonly style?: DateStyle | undefined;
  /** The column with the date, where headings are clock times. */
  readonly date?: string | undefined;
}

export type StepOf<Name extends LayoutStep["layout"]> = Extract<LayoutStep, { layout: Name }>;
