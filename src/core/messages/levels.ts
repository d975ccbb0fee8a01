import { asWritten } from "../as-written.js";
import type { Given, Sentence } from "../wording.js";

/** Sentences of the levels: why an animal stands where it does, and what is to be measured first. */
/** Where a limit is from, for whoever stands at the animal: whose word it is; the citation stands with the limits. */
const plainSource = (source: string): string =>
  /veterinarian|common practice|study/.test(source) ? source : "published for the species";

export const levelMessages = {
  "level-temperature": (
    p: Given<{
      animal: string;
      what: string;
      degC: number;
      from: number;
      to: number;
      written: string;
      at: number;
      inDoubt: boolean;
      low: number;
      high: number;
      margin: number;
      danger: boolean;
      known: boolean;
      source: string;
    }>,
  ) =>
    `${p.raw("danger") ? "Danger" : "Second look"}, ${p.text("what")}: ${p.raw("known") ? `${p.raw("from") === p.raw("to") ? p.number("degC") : `${p.number("from")} to ${p.number("to")}`} °C, ` : ""}written "${asWritten(p.text("written"))}" at ${p.instant("at")}${p.raw("inDoubt") ? "; in doubt, and counted as the worse meaning" : ""}. The range is ${p.range("low", "high")} °C (${plainSource(p.text("source"))})${p.raw("margin") ? `, a thermometer may err by ${p.number("margin")} °C` : ""}.`,
  "level-temperature-doubted": (
    p: Given<{ animal: string; written: string; at: number; under: number | null }>,
  ) =>
    `Temperature first: the last of ${p.text("animal")}, written "${asWritten(p.text("written"))}" at ${p.instant("at")}, is in doubt: measure again.${p.raw("under") === null ? "" : ` Under ${p.number("under")} °C do not feed, call.`}`,
  "level-vomit-and-regurgitation": (
    p: Given<{ animal: string; n: number; hours: number; at: number }>,
  ) =>
    `Danger, repeated vomit: something of ${p.text("animal")} came up ${p.count("n", "time")} in ${p.number("hours")} h, vomit among it, last at ${p.instant("at")}. Do not feed until the veterinarian has spoken.`,
  "level-temperature-trend": (
    p: Given<{ animal: string; n: number; from: number; to: number; since: number }>,
  ) =>
    `Second look, temperature trend: the last ${p.number("n")} of ${p.text("animal")} since ${p.instant("since")} only ${(p.raw("to") ?? 0) > (p.raw("from") ?? 0) ? "rise" : "fall"}, from ${p.number("from")} to ${p.number("to")} °C (inside the range; common practice).`,
  "level-temperature-first": (
    p: Given<{ animal: string; hours: number | null; limit: number; under: number | null }>,
  ) =>
    `Temperature first: ${p.raw("hours") === null ? `none is written of ${p.text("animal")}` : `the last of ${p.text("animal")} is ${hoursOrDays(p.raw("hours"))} old (limit ${p.number("limit", 3)} h in the very young)`}.${p.raw("under") === null ? "" : ` Under ${p.number("under")} °C do not feed, call.`}`,
  "level-loss": (
    p: Given<{
      animal: string;
      now: number;
      at: number;
      loss: number;
      from: string;
      before: number;
      beforeAt: number;
      limit: number;
      source: string;
      danger: boolean;
      doubted: boolean;
    }>,
  ) =>
    `${p.raw("danger") ? "Danger" : "Second look"}, loss: ${p.text("animal")} weighs ${p.number("now", 5)} g (${p.instant("at")}), ${p.number("loss", 3)} % less than ${reference(p.text("from"))} (${p.number("before", 5)} g, ${p.instant("beforeAt")}); ${p.raw("danger") ? "a danger" : "looked at"} from ${p.number("limit")} %, ${p.text("source")}.${p.raw("doubted") ? " The reading is in doubt: weigh again now; if it is confirmed, or that is impossible within the hour, call." : ""}`,
  "level-below-floor": (p: Given<{ animal: string; now: number; at: number; floor: number }>) =>
    `Danger, loss: ${p.text("animal")} weighs ${p.number("now", 5)} g (${p.instant("at")}), below the ${p.number("floor", 5)} g that the veterinarian set.`,
  "level-no-feed": (
    p: Given<{
      animal: string;
      hours: number;
      from: number;
      limit: number;
      refused: number;
      running: boolean;
      danger: boolean;
    }>,
  ) =>
    p.raw("refused") !== 0
      ? `${p.raw("danger") ? "Danger, not eating" : "Second look, not eating"}: ${p.text("animal")} ate nothing of ${p.count("refused", "feed")} ${p.raw("running") ? "since" : "from"} ${p.instant("from")}, ${p.number("hours", 3)} h.`
      : `${p.raw("danger") ? "Danger, no feed" : "Second look, a feed missed or not written"}: no feed of ${p.text("animal")} is written for ${hoursOrDays(p.raw("hours"))} ${p.raw("running") ? "since" : "from"} ${p.instant("from")} (${p.raw("danger") ? "a danger" : "looked at"} beyond ${hoursOrDays(p.raw("limit"))}, by its own feeds and order). Ask whether it was fed.`,
  "level-feed-above": (
    p: Given<{
      animal: string;
      at: number;
      fed: number;
      pct: number;
      bound: number;
      doubted: boolean;
    }>,
  ) =>
    `Danger, feed far above bounds: ${p.text("animal")} ${p.raw("doubted") ? "may have had" : "had"} ${p.number("fed")} g at ${p.instant("at")}, ${p.number("pct", 3)} % of its mass (bound ${p.number("bound")} %).`,
  "level-fed-while-nil": (
    p: Given<{ feeds: number; offered: number; first: number; since: number }>,
  ) =>
    `Danger: FED WHILE NOTHING BY MOUTH WAS ORDERED (since ${p.instant("since")}): ${p.count("feeds", "feed")}, ${p.number("offered")} g offered, the first at ${p.instant("first")}. Tell the veterinarian now; do not feed until spoken.`,
  "level-urine-none": (p: Given<{ animal: string; hours: number; times: number; at: number }>) =>
    `Danger, no urine: of ${p.text("animal")} it is written ${p.number("times")} times in a row that there was none, over ${p.number("hours", 3)} h up to ${p.instant("at")}.`,
  "level-no-output": (p: Given<{ animal: string; hours: number; kinds: readonly string[] }>) =>
    `No ${p.list("kinds")} of ${p.text("animal")} was ever written, ${p.number("hours", 3)} h after it came: look, and write what you see.`,
  "level-silence": (
    p: Given<{
      animal: string;
      hours: number;
      last: number;
      limit: number;
      everWritten: boolean;
      mass: number | null;
      massAt: number | null;
    }>,
  ) =>
    `Go and look now: ${p.raw("everWritten") ? `nothing is written of ${p.text("animal")} since ${p.instant("last")}` : `nothing was ever written of ${p.text("animal")}, here since ${p.instant("last")}`}, ${duration(p.raw("hours"))}, while others are written (looked at after ${p.number("limit", 3)} h).${p.raw("mass") === null ? "" : ` Last weighed ${p.instant("massAt")}: ${p.number("mass", 5)} g.`}`,
  "level-silence-danger": (p: Given<{ animal: string; signs: readonly string[] }>) =>
    `Danger: ${p.text("animal")} is silent, and before that there was: ${p.list("signs")}.`,
  "level-missed-feed-danger": (p: Given<{ animal: string; signs: readonly string[] }>) =>
    `Danger: a feed of ${p.text("animal")} is missed or not written, and beside it there was: ${p.list("signs")}.`,
  "level-weigh-first": (p: Given<{ animal: string; hours: number | null; limit: number }>) =>
    p.raw("hours") === null
      ? `Weigh first: no usable weighing of ${p.text("animal")} is on record.`
      : `Weigh first: the last usable weighing of ${p.text("animal")} is ${hoursOrDays(p.raw("hours"))} old (limit ${p.number("limit", 3)} h).`,
  "level-mass-doubted": (p: Given<{ animal: string; mass: number; at: number }>) =>
    `Weigh first: the last reading of ${p.text("animal")}, ${p.number("mass", 6)} g at ${p.instant("at")}, may be a slip of the pen.`,
  "level-newcomer": (p: Given<{ animal: string; hours: number }>) =>
    `${p.text("animal")} came ${p.number("hours", 3)} h ago and no order is in the file: ask now.`,
  "level-records-end": (p: Given<{ end: number; hours: number }>) =>
    `The records end at ${p.instant("end")}, ${duration(p.raw("hours"))} before: nothing can be said of now. Look at every animal.`,
  "level-nobody-judged": (p: Given<{ animal: string }>) =>
    `${p.text("animal")} cannot be judged by its mass: fewer than two weighings, or the last is older than two days.`,
  // The first week of a newcomer, and what is expected in it.
  "first-week-hours": (p: Given<{ hours: number; admitted: number }>) =>
    `Here for ${p.number("hours", 3)} h, since ${p.instant("admitted")}.`,
  "first-week-change": (p: Given<{ now: number; at: number; pct: number; n: number }>) =>
    `Mass ${p.number("now", 5)} g (${p.instant("at")}): ${p.number("pct", 2)} % against the first of ${p.count("n", "reading")}.`,
  "first-week-after": (p: Given<{ hours: number | null }>) =>
    p.raw("hours") === null ? "not written yet" : `${p.number("hours", 3)} h after it came`,
  "first-week-first-urine": (p: Given<{ when: string }>) => `First urine: ${p.text("when")}.`,
  "first-week-first-stool": (p: Given<{ when: string }>) => `First stool: ${p.text("when")}.`,
  "first-week-intake": (p: Given<{ feeds: number; eaten: string; kept: string; times: number }>) =>
    `${p.count("feeds", "feed")}: eaten ${p.text("eaten")}, kept ${p.text("kept")}${p.raw("times") === 0 ? "" : ` (something came up ${p.number("times")} times; not weighed, it counts from none to all of the 6 h before)`}.`,
  "first-week-no-fluids": () => "No fluids are written.",
  "first-week-fluids": (p: Given<{ n: number }>) => `Fluids written ${p.number("n")} times:`,
  "first-week-exam-whole": () => "The written examination of the first 24 h has every item.",
  "first-week-exam-missing": (p: Given<{ missing: readonly string[] }>) =>
    `Of the written examination of the first 24 h these are missing: ${p.list("missing")}.`,
  "first-week-signs": () => "What was measured and seen since admission.",
  "first-week-mass": (p: Given<{ look: number | null; danger: number | null; source: string }>) =>
    `Mass: a dip of about 2 % in the first days is expected, regained within the week (common practice, no source); ${p.raw("look") === null ? "no loss is looked at" : `looked at from ${p.number("look")} %`}, ${p.raw("danger") === null ? "none is a danger" : `a danger from ${p.number("danger")} %`} (${p.text("source")}).`,
  "first-week-output": () =>
    "Urine and stool: each at least once in the first 48 h (common practice, no source).",
  "first-week-glucose": (
    p: Given<{
      look: readonly number[] | null;
      danger: readonly number[] | null;
      source: string;
    }>,
  ) =>
    `Glucose: ${outsideWords("looked at", p.raw("look"))}, ${outsideWords("a danger", p.raw("danger"))} (${p.text("source")}; no source for these species).`,
  "first-week-temperature": (
    p: Given<{ low: number; high: number; source: string; sure: string }>,
  ) => `Temperature: ${p.range("low", "high")} °C (${p.text("source")}; ${p.text("sure")}).`,
  "first-week-no-range": (p: Given<{ species: string }>) =>
    `Temperature: no range is known for the ${p.text("species")}; the veterinarian can enter one in study.json.`,
  "level-instruction-unknown": (p: Given<{ name: string; known: readonly string[] }>) =>
    `study.json has a standing instruction for "${p.text("name")}", which is the name of no reason: it will never be printed. Names are: ${p.list("known")}.`,
  "level-answer-astray": (
    p: Given<{ name: string; animal: string; at: number; by: string | null }>,
  ) =>
    `answers.csv answers "${p.text("name")}" for ${p.text("animal")} (${p.instant("at")}), which is the name of no reason: it answers nothing. Write the name that the pages give the reason.`,
  "level-limit-unknown": (p: Given<{ name: string; known: readonly string[] }>) =>
    `study.json sets a limit "${p.text("name")}" that does not exist or has the wrong form; the default stands. Limits are: ${p.list("known")}.`,
} satisfies Readonly<Record<string, Sentence>>;

/** "looked at outside 60 to 250 mg/dL". */
const outsideWords = (what: string, range: readonly number[] | null | undefined) =>
  range == null ? `never ${what}` : `${what} outside ${range[0]} to ${range[1]} mg/dL`;

/** "6.5 h", and in whole days from two on: so old is a weighing, so long nothing was fed. */
function hoursOrDays(hours: number | null | undefined): string {
  if (hours == null) return "? h";
  return hours < 48 ? `${Math.round(10 * hours) / 10} h` : duration(hours);
}

/** "5 h", and in days from two on. */
function duration(hours: number | undefined): string {
  if (hours === undefined) return "? h";
  return hours < 48 ? `${Math.floor(hours)} h` : `${Math.floor(hours / 24)} days`;
}

function reference(from: string): string {
  if (from === "admission") return "at admission";
  if (from === "birth") return "at birth";
  if (from === "best of 14 days") return "its best level of the last 14 days";
  if (from === "course") return "its course in this fast or moult";
  if (from === "begin") return "at the beginning of its fast or moult";
  if (from === "end of the fast") return "at the end of its fast or moult";
  return "in the two days before";
}
