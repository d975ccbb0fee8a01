import type { Given, GivenAmong, Sentence } from "../wording.js";

export interface LineGiven {
  readonly means: string;
  readonly diet: string | null;
  readonly perFeed: string | null;
  /** The cell that orders nothing by mouth. */
  readonly nilWords: string | null;
  readonly perDay: string | null;
  readonly feeds: number | null;
  readonly feedsUnread: string | null;
  readonly times: readonly string[];
  readonly timesUnread: string | null;
  readonly days: string | null;
  readonly notes: string | null;
}

// What sentences of one family are given.
type NothingGiven = { from: number | null; to: number | null; line: string; written: string };
type TimesGiven = { diet: string | null; times: readonly string[]; count: number; ordered: number };

/** Sentences about what is ordered (`series/orders` and the bounds in `planning`), by notice code. */
export const orderMessages = {
  "order-line": (p: Given<LineGiven>) => lineText(p),
  "order-since": (p: Given<{ from: number; to: number | null; by: string | null }>) =>
    `Since ${p.instant("from")}${p.raw("to") !== null ? ` until ${p.instant("to")}` : ""}${p.raw("by") !== null ? `, ordered by ${p.text("by")}` : ""}.`,
  "order-nil-by-mouth": (p: Given<NothingGiven>) =>
    `NOTHING BY MOUTH since ${p.instant("from")} (written: “${p.text("written")}”)${p.raw("to") !== null ? ` until ${p.instant("to")}; what follows is not ordered: ask` : ""}. It ends every other order.`,
  "order-zero": (p: Given<NothingGiven>) =>
    `Zero is ordered since ${p.instant("from")} (${p.text("line")}): nothing by mouth. Do not feed until spoken: ask.`,
  "order-nil-says-more": (p: Given<{ words: string }>) =>
    `“${p.text("words")}” says more than nothing by mouth: ask from when and until when before anything is given.`,
  "order-nil-from": (p: Given<{ at: number; line: string }>) =>
    `NOTHING BY MOUTH from ${p.instant("at")} (${p.text("line")}).`,
  "order-nil-and-feed": (p: Given<{ line: string }>) =>
    `Nothing by mouth and feeds are ordered for the same time (${p.text("line")}). Do not feed until spoken: ask.`,
  "order-nil-in-notes": (p: Given<{ words: string }>) =>
    `The note of an order speaks of nothing by mouth: “${p.text("words")}”. Ask before the next feed.`,
  "order-begins-inside": (p: Given<{ at: number; line: string }>) =>
    `The order changes at ${p.instant("at")}; from then: ${p.text("line")}.`,
  "order-ends-inside": (p: Given<{ at: number; line: string }>) =>
    `Ends at ${p.instant("at")}: ${p.text("line")}. Ask what follows.`,
  "order-not-used": (p: Given<{ words: string; file: string; line: number }>) =>
    `A line of the orders could not be used: “${p.text("words")}” (${p.text("file")}, line ${p.text("line")}). Ask what is ordered.`,
  "order-not-used-more": (p: Given<{ count: number }>) =>
    `${p.text("count")} more lines of its orders could not be used; they stand in the list of rows not used.`,
  "order-of-nobody": (p: Given<{ words: string; file: string; line: number }>) =>
    `A line of the orders fits no animal: “${p.text("words")}” (${p.text("file")}, line ${p.text("line")}). Ask whether it is for this one.`,
  "order-cell-unread": (p: Given<{ column: string; words: string; diet: string | null }>) =>
    `“${p.text("words")}” (${columnWords(p.text("column"))}${p.raw("diet") !== null ? ` of ${p.text("diet")}` : ""}) could not be read: ask.`,
  "order-end-unread": (p: Given<{ column: string; words: string; diet: string | null }>) =>
    `The end “${p.text("words")}” of an order could not be read, or lies before its begin; it is printed as still ordered: ask.`,
  "order-not-ended": (p: Given<{ line: string; from: number }>) =>
    `Not ended: still ordered? Ask. ${p.text("line")}, since ${p.instant("from")}; a newer order does not name it, and it is in no total.`,
  "order-left-standing": (p: Given<{ line: string }>) =>
    `Another diet was set to zero; this one was not: ${p.text("line")}. Still ordered? Ask.`,
  "order-stands-twice": (p: Given<{ line: string }>) =>
    `The same line stands twice in the orders and is counted once: ${p.text("line")}. Ordered twice? Ask.`,
  "order-same-diet-twice": (p: Given<{ diet: string | null; line: string }>) =>
    `Two lines for ${p.raw("diet") === null ? "one diet" : p.text("diet")} in one order: ${p.text("line")}. Both are printed; if one is a correction of the other, ask which stands.`,
  "order-ended": (p: Given<{ line: string; at: number; before: string | null }>) =>
    `The last order ended at ${p.instant("at")}: ${p.text("line")}. Nothing was ordered after it.${p.raw("before") !== null ? ` Before it: ${p.text("before")}.` : ""} No order is taken up again by itself: ask now.`,
  "order-part-ended": (p: Given<{ line: string; at: number; before: string | null }>) =>
    `Ended at ${p.instant("at")}: ${p.text("line")}.${p.raw("before") !== null ? ` Before it: ${p.text("before")}.` : ""} Ask whether anything takes its place.`,
  "order-replaced": (p: Given<{ line: string; to: number; since: number; nil: boolean }>) =>
    p.raw("nil") === true
      ? `Ended by nothing by mouth: ${p.text("line")}, which was written until ${p.instant("to")}.`
      : `Replaced by the order of ${p.instant("since")}: ${p.text("line")}, which was written until ${p.instant("to")}.`,
  "order-times-fewer": (p: Given<TimesGiven>) =>
    `${p.count("ordered", "feed")} a day ${p.agree("ordered", "is", "are")} ordered${diet(p)}, but only ${p.text("count")} times: ${p.list("times")}. The times are printed; ask about the rest.`,
  "order-times-more": (p: Given<TimesGiven>) =>
    `${p.count("ordered", "feed")} a day ${p.agree("ordered", "is", "are")} ordered${diet(p)}, but ${p.text("count")} times: ${p.list("times")}. The times are printed; ask.`,
  "order-days-unread": (p: Given<{ line: string; words: string }>) =>
    `The days “${p.text("words")}” could not be read: ${p.text("line")}. Is it ordered today? Ask.`,
  "order-not-today": (p: Given<{ line: string; days: string }>) =>
    `Not ordered for this day (${p.text("days")}): ${p.text("line")}.`,
  "order-nothing-today": (p: Given<{ line: string }>) =>
    `Nothing is ordered for this day: every line in force is for other days (${p.text("line")}). Ask now.`,
  "order-no-amount": (p: Given<{ diet: string | null }>) =>
    `An amount is not ordered${diet(p)}: ask.`,
  "order-no-number": (p: Given<{ diet: string | null }>) =>
    `How many feeds a day is not ordered${diet(p)}: ask.`,
  "order-new": (p: Given<{ since: number; before: string | null }>) =>
    `NEW since ${p.instant("since")}.${p.raw("before") !== null ? ` Before: ${p.text("before")}.` : ""}`,
  "order-none": () => "No order in the file: ask now.",
  "order-as-fed": (p: Given<{ feeds: number; offered: number }>) =>
    `Fed in the last 24 hours: ${p.text("feeds")} ${p.raw("feeds") === 1 ? "feed" : "feeds"}, ${p.number("offered", 5)} g offered.`,
  "order-comes": (p: Given<{ at: number; line: string }>) =>
    `Ordered from ${p.instant("at")}: ${p.text("line")}.`,
  "order-times-not-ordered": () => "Times are not ordered: write each time when you feed.",
  "order-usual-hours": (p: Given<{ days: number; times: readonly string[] }>) =>
    `Its usual hours, last ${p.count("days", "day")}: about ${p.list("times")}. That is habit, not an order.`,

  // Bounds of amounts.
  "order-feed-over-mass": (p: Given<{ feed: string; pct: number; mass: number; bound: number }>) =>
    `DANGER: a feed of ${p.text("feed")} is ${p.number("pct", 2)} % of the last sure mass (${p.number("mass", 6)} g); the bound is ${p.number("bound", 3)} %. Do not feed until spoken: ask.`,
  "order-amounts-disagree": (p: Given<{ feed: string }>) =>
    `The amounts of one feed do not fit each other (${p.text("feed")}): ask which is meant.`,
  "order-feed-under-usual": (
    p: Given<{ feed: string; pct: number; usual: number; bound: number }>,
  ) =>
    `A feed of ${p.text("feed")} is ${p.number("pct", 2)} % of its usual feed (${p.number("usual", 4)} g); the bound is ${p.number("bound", 2)} %: ask.`,
  "order-day-change": (
    p: Given<{
      now: number;
      before: number;
      unit: string;
      pct: number;
      more: boolean;
      bound: number;
    }>,
  ) =>
    `The day ordered (${p.number("now", 4)} ${p.text("unit")}) is ${p.number("pct", 2)} % ${p.raw("more") === true ? "more" : "less"} than the order before (${p.number("before", 4)} ${p.text("unit")}); the bound is ${p.number("bound", 2)} %: ask.`,
  "order-newcomer-rise": (
    p: Given<{ now: number; before: number; pct: number; bound: number; thin: boolean }>,
  ) =>
    `A newcomer ${p.raw("thin") === true ? "seen to be thin" : "whose condition is not known"} would get ${p.number("pct", 2)} % more kcal than the day before (${p.number("now", 4)} after ${p.number("before", 4)} kcal); the bound is ${p.number("bound", 2)} %: ask.`,
  "order-diet-energy": (
    p: Given<{ diet: string; stated: number; computed: number; pct: number; slip: string | null }>,
  ) =>
    `${p.text("diet")}: the stated ${p.number("stated", 3)} kcal/g is ${p.number("pct", 2)} % off its composition (${p.number("computed", 3)} kcal/g)${p.raw("slip") === "kJ" ? "; is it kJ?" : p.raw("slip") === "hundredth" ? "; is the point misplaced?" : ""}: ask.`,
  "order-outgrown": (
    p: Given<{
      since: number;
      pct: number;
      before: number;
      mass: number;
      unit: string;
      perKgThen: number;
      perKg: number;
      eatenPerKg: number | null;
      low: number | null;
      high: number | null;
      source: string | null;
    }>,
  ) =>
    `The order was not raised since ${p.instant("since")}, while the mass grew ${p.number("pct", 2)} % (${p.number("before", 4)} to ${p.number("mass", 4)} g): ordered ${p.number("perKg", 3)} ${p.text("unit")}/kg a day, ${p.number("perKgThen", 3)} then; ${p.raw("eatenPerKg") === null ? "what was eaten is not known" : `eaten ${p.number("eatenPerKg", 3)}`}. ${p.raw("low") === null || p.raw("high") === null ? "No source gives a range for its age." : `${p.text("source")} gives ${p.number("low", 3)} to ${p.number("high", 3)} kcal/kg.`} That it gains as expected does not say that it is fed enough: ask.`,
  "order-not-checked": (p: Given<{ what: string; why: string }>) =>
    `Could not be checked: ${p.text("what")} (${p.text("why")}).`,
} satisfies Readonly<Record<string, Sentence>>;

const diet = (p: GivenAmong<{ diet: string | null }>) =>
  p.raw("diet") === null ? "" : ` for ${p.text("diet")}`;

function columnWords(column: string): string {
  if (column === "feeds_per_day") return "feeds a day";
  if (column === "feed_times") return "times";
  if (column === "diet_id") return "diet";
  return column === "g_per_day" ? "amount of a day" : "amount of a feed";
}

function lineText(p: Given<LineGiven>): string {
  const times = p.raw("times") ?? [];
  const parts = [
    p.raw("perFeed") !== null ? `${p.text("perFeed")} a feed` : null,
    p.raw("perDay") !== null ? `${p.text("perDay")} a day` : null,
    p.raw("feeds") !== null
      ? `${p.text("feeds")} ${p.raw("feeds") === 1 ? "feed" : "feeds"} a day`
      : p.raw("feedsUnread") !== null
        ? p.text("feedsUnread")
        : null,
    times.length > 0
      ? `at ${times.join(", ")}`
      : p.raw("timesUnread") !== null
        ? `at “${p.text("timesUnread")}”`
        : null,
    p.raw("days") !== null ? p.text("days") : null,
    p.raw("notes") !== null ? `“${p.text("notes")}”` : null,
  ].filter((part) => part !== null);
  const name = p.raw("diet") !== null ? p.text("diet") : "diet not named";
  if (p.raw("means") === "nil by mouth") {
    const cells = ["diet", "perFeed", "nilWords", "feedsUnread", "notes"] as const;
    const written = new Set(cells.map((cell) => p.raw(cell)).filter((w) => w !== null));
    return `nothing by mouth (written: ${[...written].join(", ")})`;
  }
  return parts.length === 0 ? name : `${name}: ${parts.join(", ")}`;
}
