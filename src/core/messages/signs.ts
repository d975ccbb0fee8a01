import { asWritten } from "../as-written.js";
import type { Given, GivenAmong, Sentence } from "../wording.js";

/** A line of the observations that is asked about. */
export interface SignGiven {
  readonly animal: string;
  readonly kind: string;
  readonly at: number;
  readonly written: string;
}

/** The same with what it may mean. */
export interface SignRangeGiven extends SignGiven {
  readonly low: number;
  readonly high: number;
  readonly own: string | null;
  /** The unit that fits better; null where none does. */
  readonly fits: string | null;
}

export interface AlertGiven extends SignGiven {
  readonly what: string;
  readonly inDoubt: boolean;
  /** How often within how many hours; null where it was raised by one line. */
  readonly n: number | null;
  readonly hours: number | null;
  /** Bounds of glucose, mg/dL; null for other kinds. */
  readonly from: number | null;
  readonly to: number | null;
  /** Body condition looked at up to this score, of 5; null for other kinds. */
  readonly upTo: number | null;
  /** Where the limit is from. */
  readonly source: string | null;
}

/** Sentences about signs: what an observation means, what is asked about it, what it raises. */
export const signMessages = {
  "sign-unreadable": (p: Given<SignGiven>) => `${line(p)} could not be read: look.`,
  "sign-doubtful": (p: Given<SignGiven>) =>
    `${line(p)} is in doubt or contradicts itself. Until it is decided the worse meaning counts.`,
  "sign-unit-missing": (p: Given<SignRangeGiven>) =>
    `${line(p)} has no unit; ${p.text("fits")} would fit better or as well. Which is it? Until it is decided it counts as ${lowToHigh(p)}.`,
  "sign-unit-doubted": (p: Given<SignRangeGiven>) =>
    `${line(p)} would fit better in ${p.text("fits")}, or has two units. Which is it? Until it is decided it counts as ${lowToHigh(p)}.`,
  "sign-two-readings": (p: Given<SignRangeGiven>) =>
    `${line(p)} gives more than one value. Until it is decided it counts as ${lowToHigh(p)}.`,
  "sign-number-in-doubt": (p: Given<SignRangeGiven>) =>
    `${line(p)} is in doubt: measure again. Until it is decided it counts as ${lowToHigh(p)}.`,
  "sign-no-number": (p: Given<SignRangeGiven>) =>
    `${line(p)} could not be read as a number: look, and measure again. Until then it counts as out of bounds.`,
  "sign-medication-unmarked": (p: Given<SignGiven>) =>
    `What ${p.text("animal")} was given at ${p.instant("at")} ("${asWritten(p.text("written"))}") is marked neither as treatment of an illness nor as routine; it is not counted as illness.`,
  "sign-danger-hold": (p: Given<AlertGiven>) =>
    `Danger, ${asRaised(p, "a danger")} Do not feed until the veterinarian has spoken.`,
  "sign-danger-call": (p: Given<AlertGiven>) =>
    `Danger, ${asRaised(p, "a danger")} Call the veterinarian now; feed as ordered.`,
  "sign-danger-call-unfed": (p: Given<AlertGiven>) =>
    `Danger, ${asRaised(p, "a danger")} Call the veterinarian now.`,
  "sign-look": (p: Given<AlertGiven>) => `Second look, ${asRaised(p, "looked at")}`,
} satisfies Readonly<Record<string, Sentence>>;

const line = (p: GivenAmong<SignGiven>) =>
  `The ${p.text("kind")} of ${p.text("animal")} at ${p.instant("at")}, written "${asWritten(p.text("written"))}",`;

/** What was raised, what was written and when, how often, and what the limit is of. */
function asRaised(p: GivenAmong<AlertGiven>, is: "a danger" | "looked at"): string {
  const repeated = p.raw("n") === null ? "" : ` ${often(p.raw("n"))} in ${p.number("hours")} h;`;
  const limit =
    p.raw("upTo") !== null
      ? ` (${is} up to ${p.number("upTo")} of 5, ${p.text("source")})`
      : p.raw("from") === null
        ? ""
        : ` (${is} outside ${p.number("from")} to ${p.number("to")} mg/dL, ${p.text("source")})`;
  const doubt = p.raw("inDoubt") ? "; in doubt, and counted as the worse meaning" : "";
  // What is raised names the kind of line already, or says where it was written.
  const named = p.text("what").split(/[ ,]+/).includes(p.text("kind"));
  const kind = named ? "" : ` (${p.text("kind")})`;
  return `${p.text("what")}${kind}:${repeated} written "${asWritten(p.text("written"))}" at ${p.instant("at")}${doubt}${limit}.`;
}

function often(n: number | null): string {
  return n === 1 ? "once" : n === 2 ? "twice" : `${n ?? "?"} times`;
}

function lowToHigh(p: GivenAmong<SignRangeGiven>): string {
  const unit = p.text("own") === "degC" ? "°C" : p.text("own");
  return p.raw("low") === p.raw("high")
    ? `${p.number("low")} ${unit}`
    : `anything from ${p.range("low", "high")} ${unit}`;
}
