import { z } from "zod";
import type { LayoutStep } from "./layout-step.js";

const words = z.string().trim().min(1);
const headers = z.array(words).min(1);
const clock = z.string().regex(/^\d\d:\d\d$/);
const styles = z.enum(["year-month-day", "day-month-year", "month-day-year"]);

/** What study.json may hold under `layouts`, for each file, sheet or block of columns. */
export const layoutSchema: z.ZodType<LayoutStep> = z.discriminatedUnion("layout", [
  z.strictObject({ layout: z.literal("heading"), lines: z.array(z.number().int().min(1)).max(2) }),
  z.strictObject({ layout: z.literal("one animal"), animal: words }),
  z.strictObject({ layout: z.literal("one day"), date: words }),
  z.strictObject({ layout: z.literal("animal above its rows") }),
  z.strictObject({ layout: z.literal("day above its rows") }),
  z.strictObject({
    layout: z.literal("across"),
    headings: z.enum(["days", "animals", "times"]),
    amount: words,
    beside: z.array(words).optional(),
    clock: clock.optional(),
    year: z.number().int().min(1950).max(2199).optional(),
    month: z.number().int().min(1).max(12).optional(),
    style: styles.optional(),
    date: words.optional(),
  }),
  z.strictObject({
    layout: z.literal("numbers"),
    columns: headers,
    mark: z.enum(["comma", "point"]),
    means: z.enum(["decimal", "thousands"]),
  }),
  z.strictObject({ layout: z.literal("as above"), columns: headers }),
  z.strictObject({
    layout: z.literal("day numbers"),
    columns: headers,
    from: z.union([z.literal(1900), z.literal(1904)]),
  }),
  z.strictObject({ layout: z.literal("dates"), columns: headers, style: styles }),
  z.strictObject({
    layout: z.literal("twelve hours"),
    time: words,
    date: words.optional(),
    animal: words.optional(),
  }),
  z.strictObject({
    layout: z.literal("night under the evening's date"),
    time: words,
    date: words.optional(),
    animal: words.optional(),
    until: clock,
  }),
  z.strictObject({ layout: z.literal("eaten of offered"), column: words }),
  z.strictObject({ layout: z.literal("times as written") }),
  z.strictObject({ layout: z.literal("leave out") }),
]);
