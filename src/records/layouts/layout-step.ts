import { z } from "zod";

const words = z.string().trim().min(1);
const headers = z.array(words).min(1);
const styles = z.enum(["year-month-day", "day-month-year", "month-day-year"]);

/**
 * How a file or sheet is laid out, step by step, as study.json keeps it under
 * `layouts`: what a person agreed to, in words, to be read and changed by hand.
 * Columns are named by the heading that stands in the file.
 */
export const layoutStep = z.discriminatedUnion("layout", [
  /** The heading stands in this line (or in these two, one below the other). */
  z.strictObject({ layout: z.literal("heading"), lines: z.array(z.number().int().min(1)).max(2) }),
  /** All rows are about one animal, which is named outside them. */
  z.strictObject({ layout: z.literal("one animal"), animal: words }),
  /** All rows are of one day, which is named outside them; the rows hold clock times. */
  z.strictObject({ layout: z.literal("one day"), date: words }),
  /** A line with nothing but an animal's name is about the rows below it. */
  z.strictObject({ layout: z.literal("animal above its rows") }),
  /** Headings are days, animals or clock times; each cell below is an amount. */
  z.strictObject({
    layout: z.literal("across"),
    headings: z.enum(["days", "animals", "times"]),
    /** Heading of the amounts, with their unit where it is not ours: "mass_g", "mass (kg)". */
    amount: words,
    /** Columns that stand beside the animals and are none. */
    beside: z.array(words).optional(),
    /** For days written without a year. */
    year: z.number().int().min(1950).max(2199).optional(),
    style: styles.optional(),
    /** The column with the date, where headings are clock times. */
    date: words.optional(),
  }),
  /** A blank means what stands above it. */
  z.strictObject({ layout: z.literal("as above"), columns: headers }),
  /** Days as a spreadsheet counts them, from 1900 or from 1904. */
  z.strictObject({
    layout: z.literal("day numbers"),
    columns: headers,
    from: z.union([z.literal(1900), z.literal(1904)]),
  }),
  /** Dates in an order of their own. */
  z.strictObject({ layout: z.literal("dates"), columns: headers, style: styles }),
  /** Clock of twelve hours without am and pm: the order of the rows tells which half. */
  z.strictObject({
    layout: z.literal("twelve hours"),
    time: words,
    date: words.optional(),
    animal: words.optional(),
  }),
  /** Times before `until` belong to the morning after the date they stand under. */
  z.strictObject({
    layout: z.literal("night under the evening's date"),
    time: words,
    date: words.optional(),
    until: z.string().regex(/^\d\d:\d\d$/),
  }),
  /** "60/75 (15 left)": 60 eaten of 75 offered. */
  z.strictObject({ layout: z.literal("eaten of offered"), column: words }),
  /** Times mean what they say, however odd their order looks. */
  z.strictObject({ layout: z.literal("times as written") }),
  /** Not records: a copy, a summary. */
  z.strictObject({ layout: z.literal("leave out") }),
]);

export type LayoutStep = z.infer<typeof layoutStep>;
export type StepOf<Name extends LayoutStep["layout"]> = Extract<LayoutStep, { layout: Name }>;
