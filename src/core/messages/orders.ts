import type { Sentence, SentenceParameters } from "../wording.js";

/** Sentences about what is ordered (`series/orders` and the bounds in `planning`), by notice code. */
export const orderMessages = {
  "order-line": (p) => lineText(p),
  "order-since": (p) =>
    `Since ${p.instant("from")}${given(p, "to") ? ` until ${p.instant("to")}` : ""}${given(p, "by") ? `, ordered by ${p.text("by")}` : ""}.`,
  "order-nil-by-mouth": (p) =>
    `NOTHING BY MOUTH since ${p.instant("from")} (written: “${p.text("written")}”)${given(p, "to") ? ` until ${p.instant("to")}; what follows is not ordered: ask` : ""}. It ends every other order.`,
  "order-zero": (p) =>
    `Zero is ordered since ${p.instant("from")} (${p.text("line")}): nothing by mouth. Do not feed until spoken: ask.`,
  "order-nil-from": (p) => `NOTHING BY MOUTH from ${p.instant("at")} (${p.text("line")}).`,
  "order-nil-and-feed": (p) =>
    `Nothing by mouth and feeds are ordered for the same time (${p.text("line")}). Do not feed until spoken: ask.`,
  "order-nil-in-notes": (p) =>
    `The note of an order speaks of nothing by mouth: “${p.text("words")}”. Ask before the next feed.`,
  "order-begins-inside": (p) =>
    `The order changes at ${p.instant("at")}; from then: ${p.text("line")}.`,
  "order-ends-inside": (p) => `Ends at ${p.instant("at")}: ${p.text("line")}. Ask what follows.`,
  "order-not-used": (p) =>
    `A line of the orders could not be used: “${p.text("words")}” (${p.text("file")}, line ${p.text("line")}). Ask what is ordered.`,
  "order-not-used-more": (p) =>
    `${p.text("count")} more lines of its orders could not be used; they stand in the list of rows not used.`,
  "order-of-nobody": (p) =>
    `A line of the orders fits no animal: “${p.text("words")}” (${p.text("file")}, line ${p.text("line")}). Ask whether it is for this one.`,
  "order-cell-unread": (p) =>
    `“${p.text("words")}” (${columnWords(p.text("column"))}${given(p, "diet") ? ` of ${p.text("diet")}` : ""}) could not be read: ask.`,
  "order-end-unread": (p) =>
    `The end “${p.text("words")}” of an order could not be read, or lies before its begin; it is printed as still ordered: ask.`,
  "order-not-ended": (p) =>
    `Not ended: still ordered? Ask. ${p.text("line")}, since ${p.instant("from")}; a newer order does not name it, and it is in no total.`,
  "order-left-standing": (p) =>
    `Another diet was set to zero; this one was not: ${p.text("line")}. Still ordered? Ask.`,
  "order-stands-twice": (p) =>
    `The same line stands twice in the orders and is counted once: ${p.text("line")}. Ordered twice? Ask.`,
  "order-same-diet-twice": (p) =>
    `Two lines for ${p.raw("diet") === null ? "one diet" : p.text("diet")} in one order: ${p.text("line")}. Both are printed; if one is a correction of the other, ask which stands.`,
  "order-ended": (p) =>
    `The last order ended at ${p.instant("at")}: ${p.text("line")}. Nothing was ordered after it.${given(p, "before") ? ` Before it: ${p.text("before")}.` : ""} No order is taken up again by itself: ask now.`,
  "order-part-ended": (p) =>
    `Ended at ${p.instant("at")}: ${p.text("line")}.${given(p, "before") ? ` Before it: ${p.text("before")}.` : ""} Ask whether anything takes its place.`,
  "order-replaced": (p) =>
    p.raw("nil") === true
      ? `Ended by nothing by mouth: ${p.text("line")}, which was written until ${p.instant("to")}.`
      : `Replaced by the order of ${p.instant("since")}: ${p.text("line")}, which was written until ${p.instant("to")}.`,
  "order-times-fewer": (p) =>
    `${p.text("ordered")} feeds a day are ordered${diet(p)}, but only ${p.text("count")} times: ${p.list("times")}. The times are printed; ask about the rest.`,
  "order-times-more": (p) =>
    `${p.text("ordered")} feeds a day are ordered${diet(p)}, but ${p.text("count")} times: ${p.list("times")}. The times are printed; ask.`,
  "order-days-unread": (p) =>
    `The days “${p.text("words")}” could not be read: ${p.text("line")}. Is it ordered today? Ask.`,
  "order-not-today": (p) => `Not ordered for this day (${p.text("days")}): ${p.text("line")}.`,
  "order-no-amount": (p) => `An amount is not ordered${diet(p)}: ask.`,
  "order-no-number": (p) => `How many feeds a day is not ordered${diet(p)}: ask.`,
  "order-new": (p) =>
    `NEW since ${p.instant("since")}.${given(p, "before") ? ` Before: ${p.text("before")}.` : ""}`,
  "order-none": () => "No order in the file: ask now.",
  "order-as-fed": (p) =>
    `Fed in the last 24 hours: ${p.text("feeds")} ${p.raw("feeds") === 1 ? "feed" : "feeds"}, ${p.number("offered", 5)} g offered.`,
  "order-comes": (p) => `Ordered from ${p.instant("at")}: ${p.text("line")}.`,
  "order-times-not-ordered": () => "Times are not ordered: write each time when you feed.",
  "order-usual-hours": (p) =>
    `Its usual hours, last ${p.text("days")} days: about ${p.list("times")}. That is habit, not an order.`,

  // Bounds of amounts.
  "order-feed-over-mass": (p) =>
    `DANGER: a feed of ${p.text("feed")} is ${p.number("pct", 2)} % of the last sure mass (${p.number("mass", 6)} g); the bound is ${p.number("bound", 3)} %. Do not feed until spoken: ask.`,
  "order-feed-under-usual": (p) =>
    `A feed of ${p.text("feed")} is ${p.number("pct", 2)} % of its usual feed (${p.number("usual", 4)} g); the bound is ${p.number("bound", 2)} %: ask.`,
  "order-day-change": (p) =>
    `The day ordered (${p.number("now", 4)} ${p.text("unit")}) is ${p.number("pct", 2)} % ${p.raw("more") === true ? "more" : "less"} than the order before (${p.number("before", 4)} ${p.text("unit")}); the bound is ${p.number("bound", 2)} %: ask.`,
  "order-newcomer-rise": (p) =>
    `A newcomer ${p.raw("thin") === true ? "seen to be thin" : "whose condition is not known"} would get ${p.number("pct", 2)} % more kcal than the day before (${p.number("now", 4)} after ${p.number("before", 4)} kcal); the bound is ${p.number("bound", 2)} %: ask.`,
  "order-diet-energy": (p) =>
    `${p.text("diet")}: the stated ${p.number("stated", 3)} kcal/g is ${p.number("pct", 2)} % off its composition (${p.number("computed", 3)} kcal/g)${p.raw("slip") === "kJ" ? "; is it kJ?" : p.raw("slip") === "hundredth" ? "; is the point misplaced?" : ""}: ask.`,
  "order-not-checked": (p) => `Could not be checked: ${p.text("what")} (${p.text("why")}).`,
} satisfies Readonly<Record<string, Sentence>>;

const given = (p: SentenceParameters, name: string) =>
  p.raw(name) !== null && p.raw(name) !== undefined;
const diet = (p: SentenceParameters) => (given(p, "diet") ? ` for ${p.text("diet")}` : "");

function columnWords(column: string): string {
  if (column === "feeds_per_day") return "feeds a day";
  if (column === "feed_times") return "times";
  if (column === "diet_id") return "diet";
  return column === "g_per_day" ? "amount of a day" : "amount of a feed";
}

function lineText(p: SentenceParameters): string {
  const times = p.raw("times");
  const some = Array.isArray(times) && times.length > 0;
  const parts = [
    given(p, "perFeed") ? `${p.text("perFeed")} a feed` : null,
    given(p, "perDay") ? `${p.text("perDay")} a day` : null,
    given(p, "feeds")
      ? `${p.text("feeds")} ${p.raw("feeds") === 1 ? "feed" : "feeds"} a day`
      : given(p, "feedsUnread")
        ? p.text("feedsUnread")
        : null,
    some
      ? `at ${(times as readonly string[]).join(", ")}`
      : given(p, "timesUnread")
        ? `at “${p.text("timesUnread")}”`
        : null,
    given(p, "days") ? p.text("days") : null,
    given(p, "notes") ? `“${p.text("notes")}”` : null,
  ].filter((part) => part !== null);
  const name = given(p, "diet") ? p.text("diet") : "diet not named";
  if (p.raw("means") === "nil by mouth") {
    const written = [p.raw("diet"), p.raw("perFeed"), p.raw("feedsUnread"), p.raw("notes")];
    return `nothing by mouth (written: ${written.filter((w) => w !== null).join(", ")})`;
  }
  return parts.length === 0 ? name : `${name}: ${parts.join(", ")}`;
}
