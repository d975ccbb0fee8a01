import type { Given, GivenAmong, Sentence } from "../wording.js";

export interface SlipGiven {
  readonly kind: string;
  readonly netG: number;
  readonly suggestedG: number | null;
  readonly zBefore: number;
  readonly zAfter: number | null;
  readonly other: string | null;
}

export interface FeedSlipGiven {
  readonly kind: string;
  readonly suggestedG: number | null;
  readonly usualG: number | null;
  readonly massPct: number | null;
  readonly eatenLowG: number;
  readonly eatenHighG: number;
  readonly otherAnimalId: string | null;
  readonly at: number;
  readonly offeredG: number;
}

export interface DecisionGiven {
  readonly animal: string;
  readonly massG: number | null;
  readonly offeredG: number | null;
  readonly kind: string | null;
  readonly value: string | null;
  readonly at: number;
  readonly decision: string;
  readonly by: string;
  readonly on: string;
  readonly why: string;
  readonly newMassG: number | null;
  readonly newTareG: number | null;
  readonly newAt: number | null;
  readonly newAnimal: string | null;
  readonly newOfferedG: number | null;
  readonly newRefusedG: number | null;
  readonly newValue: string | null;
  readonly newUnit: string | null;
  /** The row that was perhaps meant; null where the decision was applied or none is near. */
  readonly near: string | null;
  readonly nearAnimal: string | null;
  readonly nearAt: number | null;
  readonly nearFile: string | null;
  readonly nearLine: number | null;
}

/** Sentences of the `series` room, by notice code. */
export const seriesMessages = {
  "series-no-weighings": () => "No usable weighing.",
  "series-age-unknown": () =>
    "The birth date is not known: gains are counted from admission, and weight-for-age is not computed.",
  "series-age-from-mass": () =>
    "The birth date was estimated from mass, so weight-for-age would be circular and is not computed.",
  "series-age-of-unknown-basis": () =>
    "A birth date is written, but not how it is known (birth_date_basis): weight-for-age is not computed until it is.",
  "series-age-range": (p: Given<{ days: number }>) =>
    `The birth date is known to within ${p.count("days", "day")} only; what depends on age is given at both ends.`,
  "series-tares-blank": (p: Given<{ count: number; of: number }>) =>
    `${p.number("count")} of ${p.count("of", "weighing")} ${p.agree("count", "has", "have")} no known net mass (tare blank, or not below the reading).`,
  "series-slips": (p: Given<{ count: number }>) =>
    `${p.count("count", "weighing")} ${p.agree("count", "looks like a slip", "look like slips")} of the pen and ${p.agree("count", "stands", "stand")} for no day until decided.`,
  "series-suspected-slip": (p: Given<SlipGiven>) => slipSentence(p),
  "series-feed-slips": (p: Given<{ count: number }>) =>
    `${p.count("count", "feed")} ${p.agree("count", "looks like a slip", "look like slips")} of the pen; what was eaten then is a range until decided.`,
  "series-suspected-feed": (p: Given<FeedSlipGiven>) => feedSlipSentence(p),
  "series-tare-blank": () => "The tare is blank, so the net mass is not known.",
  "series-tare-not-below": () => "The tare is not below the reading, so there is no net mass.",
  "series-other-stands": () => "Another weighing stands for this day.",
  "series-only-weighing": (_: Given<{ condition: string }>) =>
    "The only usable weighing of its day.",
  "series-usual-condition": (p: Given<{ n: number; condition: string }>) =>
    `Dry and before a meal, nearest the animal's usual time, among ${p.number("n")}.`,
  "series-best-of-unusual": (p: Given<{ n: number; condition: string }>) =>
    `None of ${p.count("n", "weighing")} that day is known to be dry and before a meal; this one is nearest to it.`,
  "series-mass-impossible": () => "This mass is impossible for the species at this age.",
  "series-left-out": (p: Given<{ by: string; on: string; why: string; decision: string }>) =>
    `Left out as decided by ${p.text("by")} on ${p.text("on")}: ${p.text("why")}.`,
  "series-stands-as-decided": (
    p: Given<{ by: string; on: string; decision: string; why: string }>,
  ) => `Decided by ${p.text("by")} on ${p.text("on")} (${p.text("decision")}): ${p.text("why")}.`,
  "series-decision-applied": (p: Given<DecisionGiven>) =>
    `Decision applied: ${decidedAbout(p)}: ${p.text("decision")}${changes(p)}; decided by ${p.text("by")} on ${p.text("on")}: ${p.text("why")}.`,
  "series-decision-without-row": (p: Given<DecisionGiven>) =>
    `Decision not applied: no row says ${decidedAbout(p)} (${p.text("decision")}, ${p.text("by")}). ${
      p.raw("near") === null
        ? "No row is near it."
        : `Perhaps meant: ${p.text("nearAnimal")}, ${p.instant("nearAt")}, ${p.text("near")} (${p.text("nearFile")} line ${p.number("nearLine", 9)}).`
    } Write the animal, time and value as they stand in the row.`,
  "series-gap": (p: Given<{ days: number; from: number }>) =>
    `No usable weighing for ${p.count("days", "day")} from ${p.instant("from")}.`,
  "series-no-mass-near": (p: Given<{ days: number; at: number }>) =>
    `No usable weighing within ${p.count("days", "day")} of ${p.instant("at")}.`,
} satisfies Readonly<Record<string, Sentence>>;

/** The row that a decision names. */
const decidedAbout = (p: GivenAmong<DecisionGiven>) => {
  const has = (name: keyof DecisionGiven) => p.raw(name) !== null;
  const what = has("offeredG")
    ? `a feed of ${p.number("offeredG", 7)} g`
    : has("kind")
      ? [p.text("kind"), ...(has("value") ? [p.text("value")] : [])].join(" ")
      : `a reading of ${p.number("massG", 7)} g`;
  return `${p.text("animal")}, ${p.instant("at")}, ${what}`;
};

/** The new values of a correction, in words. */
const changes = (p: GivenAmong<DecisionGiven>) => {
  const given = (name: keyof DecisionGiven, text: string) => (p.raw(name) === null ? [] : [text]);
  const parts = [
    ...given("newMassG", `reading ${p.number("newMassG", 7)} g`),
    ...given("newTareG", `tare ${p.number("newTareG", 7)} g`),
    ...given("newOfferedG", `offered ${p.number("newOfferedG", 7)} g`),
    ...given("newRefusedG", `refused ${p.number("newRefusedG", 7)} g`),
    ...given("newValue", p.text("newValue")),
    ...given("newUnit", p.text("newUnit")),
    ...given("newAt", `at ${p.instant("newAt")}`),
    ...given("newAnimal", `animal ${p.text("newAnimal")}`),
  ];
  return parts.length === 0 ? "" : ` to ${parts.join(", ")}`;
};

const slipKinds: Readonly<Record<string, string>> = {
  "times ten": "a decimal place too high",
  tenth: "a decimal place too low",
  thousand: "grams and kilograms exchanged (too high)",
  thousandth: "kilograms written where grams belong",
  "pounds for kilograms": "pounds and kilograms exchanged",
  "pounds for grams": "pounds written where grams belong",
  "ounces for grams": "ounces and grams exchanged",
  "digits swapped": "two digits exchanged",
  "digit dropped": "a digit left out",
  "animals swapped": "two animals exchanged at one round",
  "days swapped": "two days of this animal exchanged",
  "wrong day": "day and month exchanged",
  "tare forgotten": "the tare not taken off",
  "wet coat": "a wet coat",
};

const slipSentence = (p: GivenAmong<SlipGiven>) => {
  const z = p.raw("zBefore");
  const where = `${Math.abs(z) >= 4 ? "far " : ""}${z < 0 ? "below" : "above"}`;
  const off = `${p.number("netG", 6)} g lies ${where} what this animal's other weighings lead to expect`;
  const kind = slipKinds[p.text("kind")];
  if (kind === undefined)
    return `${off}, and no usual slip (a digit, a unit, two animals) explains it.`;
  const other = typeof p.raw("other") === "string" ? ` (with ${p.text("other")})` : "";
  if (p.text("kind") === "wrong day") return `${off}; ${kind}? On that day it would fit.`;
  return typeof p.raw("suggestedG") === "number"
    ? `${off}; ${kind}${other}? ${p.number("suggestedG", 6)} g would fit.`
    : `${off}; ${kind}${other}?`;
};

const feedSlipKinds: Readonly<Record<string, string>> = {
  "digit left out": "a digit left out",
  "digit added": "a digit added",
  "kilograms for grams": "kilograms and grams exchanged",
  "ounces for grams": "ounces and grams exchanged",
  "pounds for grams": "pounds written where grams belong",
  "day's total": "the day's total entered as one feed",
  "bottle not taken off": "the bottle not taken off",
  "offered and refused exchanged": "offered and refused exchanged",
  "refusal beyond the offer": "a refusal beyond the offer",
  "wrong animal": "a feed of another animal",
  "entered twice": "one feed entered twice",
};

const feedSlipSentence = (p: GivenAmong<FeedSlipGiven>) => {
  const given = (name: keyof FeedSlipGiven) => typeof p.raw(name) === "number";
  const beside = [
    ...(given("usualG") ? [`usually about ${p.number("usualG", 3)} g`] : []),
    ...(given("massPct") ? [`${p.number("massPct", 2)} % of body mass`] : []),
  ].join("; ");
  const other = typeof p.raw("otherAnimalId") === "string" ? ` (${p.text("otherAnimalId")})` : "";
  const kind = feedSlipKinds[p.text("kind")];
  const guess =
    kind === undefined
      ? "no usual slip (a digit, a unit, another animal) explains it."
      : `${kind}${other}?${given("suggestedG") ? ` Perhaps ${p.number("suggestedG", 4)} g.` : ""}`;
  return `A feed of ${p.number("offeredG", 6)} g at ${p.instant("at")}${beside === "" ? "" : ` (${beside})`}: ${guess} Until decided, between ${p.amount("eatenLowG", "g").replace(/ g$/, "")} and ${p.amount("eatenHighG", "g")} were eaten.`;
};
