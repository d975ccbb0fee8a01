import type { Given, Sentence } from "../wording.js";

/** A share that may be known only between two limits. */
const between = (low: string, high: string) => (low === high ? low : `${low} to ${high}`);
const andMore = (names: readonly (string | number)[] = []) =>
  names.length <= 4 ? null : names.length - 3;
const some = (names: readonly (string | number)[] = []) => {
  const more = andMore(names);
  return more === null
    ? names.length < 2
      ? names.join("")
      : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`
    : `${names.slice(0, 3).join(", ")} and ${more} more`;
};

/** What happened, with what was noted of it. */
type EventGiven = { at: number; kind: string; notes: string };
const eventWords = (p: Given<EventGiven>) =>
  `${p.text("kind")}${p.raw("notes") === "" ? "" : `, ${p.text("notes")}`}`;

/** Alternatives: "a, b or c". */
const either = (names: readonly (string | number)[] = []) =>
  names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} or ${names.at(-1)}`;

// What sentences of one family are given.
type ExplainedGiven = {
  animal: string;
  from: string;
  /** Null where the days begin with a change. */
  days: number | null;
  gain: number | null;
  expected: number | null;
  ownExpected: number | null;
  likely: readonly string[];
  possible: readonly string[];
};
type ConditionGiven = {
  animal: string;
  early: number;
  late: number;
  effect: number | null;
  n: number;
};
type FedGiven = {
  animal: string;
  from: string;
  low: number;
  high: number;
  before: number | null;
  others: number | null;
};
type OrderedGiven = {
  animal: string;
  own: number;
  others: number | null;
  before: number | null;
  n: number;
};
type SmallGiven = {
  animal: string;
  mass: number;
  others: number;
  gain: number | null;
  expected: number | null;
  n: number;
};
type ConvertsGiven = {
  animal: string;
  keptLow: number;
  keptHigh: number;
  missing: number;
  own: number | null;
  by: string;
};
type SharedGiven = {
  animal: string;
  n: number;
  of: number;
  others: readonly string[];
  from: string;
};

/** Since the change, or over the last so many days. */
function sinceOf(p: Given<ExplainedGiven>): string {
  return p.raw("days") === null
    ? ` since ${p.text("from")}`
    : ` over the last ${p.count("days", "day")} (since ${p.text("from")})`;
}

/** How it gains, and what was expected of it: one sentence wherever it is said. */
function gainAgainst(p: Given<ExplainedGiven>): string {
  const gain = p.raw("gain");
  const gained =
    gain === null
      ? "has gained an unknown amount"
      : `has ${gain < 0 ? "lost" : "gained"} ${p.amount("gain", "g/d").replace(/^[-\u2212]/, "")}`;
  const theirs = p.raw("expected") === null ? null : p.amount("expected", "g/d");
  const against =
    p.raw("ownExpected") !== null
      ? `, where its own earlier gain would make ${p.amount("ownExpected", "g/d")}${theirs === null ? "" : ` and that of its contemporaries ${theirs}`}`
      : theirs === null
        ? ""
        : `, where its contemporaries' gain would make ${theirs}`;
  return `${p.text("animal")} ${gained}${sinceOf(p)}${against}.`;
}

/** Why one animal may gain slowly: rival explanations and what is said of them in short. */
export const explanationMessages = {
  "explained-gain": gainAgainst,
  "explained-slow": (p: Given<ExplainedGiven>) =>
    `${gainAgainst(p)} ${
      (p.raw("likely")?.length ?? 0) > 0
        ? `Most likely by the records: ${either(p.raw("likely"))}.`
        : (p.raw("possible")?.length ?? 0) > 0
          ? `No explanation is clear; possible: ${either(p.raw("possible"))}.`
          : "The records show no explanation."
    }`,
  "explained-flag-stands": (p: Given<ExplainedGiven>) =>
    `${gainAgainst(p)} The watch over its weighings has raised a slowed gain; the means of these days alone do not show it clearly.`,
  "explained-not-slow": (p: Given<ExplainedGiven>) =>
    `${p.text("animal")} gains about as is expected of it${sinceOf(p)}: ${p.amount("gain", "g/d")}${p.raw("expected") === null ? "" : `, where ${p.amount("expected", "g/d")} were expected`}.`,
  "explained-not-told": (p: Given<ExplainedGiven>) =>
    `Whether ${p.text("animal")} gains too slowly cannot be told: too few weighings${sinceOf(p)}, or nothing to hold them against.`,
  "explained-fast": (p: Given<ExplainedGiven>) =>
    `Days since ${p.text("from")} lie in the post-weaning fast of ${p.text("animal")}, where loss is expected: its gain is not explained here. The veterinarian's floor and what is seen of it decide.`,
  "explained-not-written": () => "The records of these days do not give it.",
  "rival-follows": (p: Given<{ animal: string; from: readonly string[] }>) =>
    `It may only follow from what stands above it: ${p.list("from")}.`,
  "rival-may-be-scale": (p: Given<{ scale: string }>) =>
    `Everything weighed on ${p.text("scale")} stepped in the same days: a known weight would tell.`,
  "rival-own-step": (p: Given<{ animal: string; day: string; pct: number }>) =>
    `Its course steps down by ${p.number("pct", 2)} % on ${p.text("day")} and goes on at the slope it had: a weighing can do that, and so can a sudden loss.`,
  "rival-scale-step": (
    p: Given<{
      scale: string;
      day: string;
      earliest: string;
      latest: string;
      pct: number;
      low: boolean;
      n: number;
      of: number;
      check: string;
      own: boolean;
    }>,
  ) =>
    `Everything weighed on ${p.text("scale")} reads ${p.number("pct", 2)} % ${p.raw("low") ? "lower" : "higher"} from ${p.text("day")} on${p.raw("earliest") === p.raw("latest") ? "" : ` (between ${p.text("earliest")} and ${p.text("latest")})`}, ${p.text("n")} of ${p.text("of")} animals; ${p.raw("check") === "none" ? "no known weight was put on it since" : p.raw("check") === "failed" ? "it failed a known weight since" : "it passed a known weight since, so the animals changed, not the scale"}.`,
  "shared-scale-step": (
    p: Given<{
      scale: string;
      day: string;
      pct: number;
      low: boolean;
      n: number;
      of: number;
      failed: boolean;
    }>,
  ) =>
    `Everything weighed on ${p.text("scale")} reads ${p.number("pct", 2)} % ${p.raw("low") ? "lower" : "higher"} from ${p.text("day")} on (${p.text("n")} of ${p.text("of")} animals)${p.raw("failed") ? ", and it failed a known weight since" : ", and no known weight was put on it since"}. No level is lowered by it: every loss counts as real until the scale is checked.`,
  "shared-event": (p: Given<EventGiven>) =>
    `Written for several animals on ${p.instant("at")}: ${eventWords(p)}. What several show together may come of it; no level is lowered by it.`,
  "shared-signs": (p: Given<{ what: string; n: number; of: number; by: readonly string[] }>) =>
    `${p.number("n")} of ${p.number("of")} animals on one day: ${p.text("what")} (${some(p.raw("by"))}). Look first at what they share: milk, water, warmth, place, people, an illness that goes round. No level is lowered by it.`,
  "shared-batch-away": (
    p: Given<{
      batch: string;
      diet: string;
      pct: number;
      less: boolean;
      kcal: number | null;
      meant: number;
      from: string;
      by: readonly string[];
    }>,
  ) =>
    `Batch ${p.text("batch")} holds ${p.number("pct", 2)} % ${p.raw("less") ? "less" : "more"} energy than ${p.text("diet")} (${p.number("kcal", 3)} for ${p.number("meant", 3)} kcal/g, ${p.raw("from") === "ingredients" ? "by its weighed ingredients" : "as entered on it"}). Eaten of it that day: ${p.list("by")}.`,
  "shared-batch-not-added-up": (
    p: Given<{
      batch: string;
      diet: string;
      weighed: number | null;
      whole: number | null;
      by: readonly string[];
    }>,
  ) =>
    `The ingredients of batch ${p.text("batch")} (${p.text("diet")}) weigh ${p.number("weighed", 4)} g, the batch ${p.number("whole", 4)} g: what the rest is was not written. Eaten of it that day: ${p.list("by")}.`,
  "rival-scale-unchecked-step": (p: Given<{ scale: string }>) =>
    `Nobody checked ${p.text("scale")} within 12 hours of it: until then the step explains nothing, and every loss counts as real.`,
  "rival-scale-check": (p: Given<{ scale: string }>) =>
    `Put a known weight on ${p.text("scale")} before the next feeds, and look at every animal.`,
  "rival-scale-weigh-again": (p: Given<{ animal: string }>) =>
    `Weigh ${p.text("animal")} on a scale that was checked today; until then read nothing into its gain, and leave no sign aside because of the scale.`,
  "rival-scale-old-check": (p: Given<{ scale: string; last: number | null }>) =>
    `${p.text("scale")} was last checked ${p.raw("last") === null ? "never" : `on ${p.instant("last")}`}: a check speaks for the days around it. Put a known weight on it.`,
  "rival-condition": (p: Given<ConditionGiven>) =>
    `Wet or after a meal were ${p.number("early", 2)} % of its weighings before and ${p.number("late", 2)} % since; such a weighing weighs ${p.number("effect", 2)} % more.`,
  "rival-condition-same": (p: Given<ConditionGiven>) =>
    `It was weighed alike all along: ${p.number("early", 2)} % of its weighings before and ${p.number("late", 2)} % since were wet or after a meal.`,
  "rival-condition-not-written": (p: Given<{ animal: string; n: number; of: number }>) =>
    `Coat or meal is not written on ${p.text("n")} of ${p.count("of", "weighing")}.`,
  "rival-condition-ask": () =>
    "Weigh it dry and before a meal for three days, and compare only those.",
  "rival-fed-no-order": (p: Given<{ animal: string; days: number }>) =>
    `Orders or feeds of ${p.text("animal")} are missing on too many of the ${p.count("days", "day")} to set what was eaten beside what was ordered.`,
  "rival-fed-less": (p: Given<FedGiven>) =>
    `It ate ${between(p.number("low", 2), p.number("high", 2))} % of what was ordered since ${p.text("from")}${p.raw("before") === null ? (p.raw("others") === null ? "" : `, the others ${p.number("others", 2)} %`) : `, ${p.number("before", 2)} % before`}.`,
  "rival-fed-as-ordered": (p: Given<FedGiven>) =>
    `It ate ${between(p.number("low", 2), p.number("high", 2))} % of what was ordered since ${p.text("from")}${p.raw("before") === null ? "" : `, ${p.number("before", 2)} % before`}.`,
  "rival-fed-ask": () =>
    "Was each feed offered in full, and why was it left? Watch one feed from beginning to end.",
  "rival-fed-ask-refusals": () =>
    "Refusals were left blank: weigh and write what is left of each of the next feeds.",
  "rival-ordered-nobody": (p: Given<{ animal: string; days: number }>) =>
    `Nobody's orders serve to compare those of ${p.text("animal")} with.`,
  "rival-ordered-little": (p: Given<OrderedGiven>) =>
    `For its size ${p.number("own", 3)} kcal a day were ordered${p.raw("others") === null ? "" : `, for the others ${p.number("others", 3)}`}${p.raw("before") === null ? "" : `, before ${p.number("before", 3)}`} (per kg to the power 0.75).`,
  "rival-ordered-enough": (p: Given<OrderedGiven>) =>
    `As much was ordered for its size as ${p.raw("others") === null ? "before" : "for the others"}.`,
  "rival-ordered-ask": () =>
    "Was the order raised as the animal grew, and does it still fit? The veterinarian decides.",
  "rival-small-unknown": (p: Given<{ animal: string; n: number }>) =>
    `Fewer than 3 contemporaries (${p.text("n")}) were weighed in these days: whether it is small for its age cannot be told.`,
  "rival-small-slow": (p: Given<SmallGiven>) =>
    `It gains ${p.number("gain", 2)} % a day where ${p.number("expected", 2)} were expected: a healthy small animal keeps pace.`,
  "rival-small-keeps-pace": (p: Given<SmallGiven>) =>
    `It is small (${p.number("mass", 4)} g, the middle of ${p.count("n", "contemporary", "contemporaries")} ${p.number("others", 4)} g) and keeps pace: ${p.number("gain", 2)} % a day, where ${p.number("expected", 2)} were expected.`,
  "rival-keeps-pace": (p: Given<SmallGiven>) =>
    `It is no smaller than the others by much and keeps pace: ${p.number("gain", 2)} % a day, where ${p.number("expected", 2)} were expected.`,
  "rival-kept-none": (p: Given<{ animal: string; from: string }>) =>
    `Nothing is written as having come up since ${p.text("from")}.`,
  "rival-kept-not-written": (p: Given<{ animal: string }>) =>
    `Nothing at all was written of what was seen of ${p.text("animal")}: whether feeds came up cannot be told.`,
  "rival-kept-times": (p: Given<{ animal: string; from: string; times: number }>) =>
    `Feeds came up ${p.raw("times") === 1 ? "once" : `${p.text("times")} times`} since ${p.text("from")}; how much of what it ate is not known.`,
  "rival-kept-less": (
    p: Given<{ animal: string; from: string; times: number; low: number; high: number }>,
  ) =>
    `Feeds came up ${p.raw("times") === 1 ? "once" : `${p.text("times")} times`} since ${p.text("from")}: ${between(p.number("low", 2), p.number("high", 2))} % of what it ate.`,
  "rival-kept-ask": () => "Weigh what comes up, and write when and after which feed.",
  "rival-ill": (
    p: Given<{
      animal: string;
      days: number;
      n: number;
      kinds: readonly string[];
      first: number;
      last: number;
    }>,
  ) =>
    `Signs on ${p.raw("days") === 1 ? "1 day" : `${p.count("days", "day")}`}, ${p.raw("n") === 1 ? "1 line" : `${p.count("n", "line")}`} in all: ${p.list("kinds")}, the last on ${p.instant("last")}.`,
  "rival-ill-none": (p: Given<{ animal: string; from: string; n: number; taken: number }>) =>
    `Nothing that is written since ${p.text("from")} shows illness (${p.count("n", "line")}, ${p.raw("taken") === 0 ? "no temperature" : `${p.text("taken")} ${p.raw("taken") === 1 ? "temperature" : "temperatures"}`} among them). What was not written is not ruled out.`,
  "rival-ill-came-up": (p: Given<{ animal: string; days: number; n: number; last: number }>) =>
    `Something came up ${p.text("n")} times on ${p.count("days", "day")}, last on ${p.instant("last")}; nothing else that is written shows illness.`,
  "rival-ill-not-written": (p: Given<{ animal: string; from: string }>) =>
    `Nothing was written of what was seen of ${p.text("animal")} since ${p.text("from")}.`,
  "rival-ill-ask": () => "Show the animal to the veterinarian with these lines.",
  "rival-thin-unknown": (p: Given<{ animal: string; share: number }>) =>
    `Of ${p.number("share", 2)} % of what it ate the batch's ingredients were weighed: whether it was mixed right cannot be told.`,
  "rival-thin-none": (p: Given<{ animal: string; share: number }>) =>
    `No batch that it ate of was more than 10 % thinner than its diet, by the weighed ingredients of ${p.number("share", 2)} % of what it ate.`,
  "rival-thin": (
    p: Given<{
      animal: string;
      n: number;
      first: string;
      madeOn: string;
      worst: number;
      diet: string;
      grams: number;
      drop: number;
      others: readonly string[];
    }>,
  ) =>
    `${p.raw("n") === 1 ? "1 batch" : `${p.count("n", "batch", "batches")}`} of ${p.text("diet")} from ${p.text("madeOn")} on (first ${p.text("first")}) held up to ${p.number("worst", 2)} % less energy than the diet; it ate ${p.number("grams", 3)} g of them, ${p.number("drop", 2)} % less energy eaten in these days than was meant.${(p.raw("others")?.length ?? 0) === 0 ? "" : ` Fed of them too: ${some(p.raw("others"))}.`}`,
  "rival-thin-does-not-add-up": (
    p: Given<{ batch: string; diet: string; weighed: number | null; whole: number | null }>,
  ) =>
    `The ingredients of batch ${p.text("batch")} (${p.text("diet")}) weigh ${p.number("weighed", 4)} g, the batch ${p.number("whole", 4)} g: what the rest is was not written.`,
  "rival-thin-ask": () => "Compare the weighed ingredients with the recipe before the next feed.",
  "rival-converts-unknown": (p: Given<{ animal: string }>) =>
    `What ${p.text("animal")} kept, or what is missing, is not known well enough to hold its gain against the energy kept.`,
  "rival-converts-well": (_: Given<ConvertsGiven>) => "It gains what is expected of it.",
  "rival-converts-poorly": (p: Given<ConvertsGiven>) =>
    `For its size it kept ${between(p.number("keptLow", 2), p.number("keptHigh", 2))} % of the energy ${p.raw("by") === "before" ? "that it kept before" : "that the others keep"}, and ${p.number("missing", 2)} % of ${p.raw("by") === "before" ? "the gain that it had" : "their gain"} is missing.`,
  "rival-converts-kept-for": (p: Given<ConvertsGiven>) =>
    `It kept ${between(p.number("keptLow", 2), p.number("keptHigh", 2))} % of the energy ${p.raw("by") === "before" ? "that it kept before" : "that the others keep"}: that can account for all that is missing.`,
  "rival-converts-ask": () =>
    "Ask for warmth and place, unwritten vomit or feeds, stool, parasites and what the diet truly holds.",
  "rival-shared-few": (
    _: Given<{
      animal: string;
      n: number;
      of: number;
      others: readonly string[];
      from: string;
    }>,
  ) => "Fewer than two others can be judged in these days: whether it is shared cannot be told.",
  "rival-shared-fell": (p: Given<SharedGiven>) =>
    `${p.text("n")} of ${p.text("of")} others slowed in the same days (${some(p.raw("others"))}).`,
  "rival-shared-none": (p: Given<SharedGiven>) =>
    `None of ${p.text("of")} others slowed in the same days.`,
  "rival-shared-event": (p: Given<EventGiven>) =>
    `Written on ${p.instant("at")}: ${eventWords(p)}.`,
  "rival-shared-moved": (p: Given<{ at: number; place: string }>) =>
    `Moved to ${p.text("place")} on ${p.instant("at")}.`,
  "rival-shared-diet": (p: Given<{ diet: string; day: string; others: readonly string[] }>) =>
    `${p.text("diet")} was first fed about ${p.text("day")}, to ${some(p.raw("others"))} too.`,
  "rival-shared-ask": () =>
    "Look at every animal, and at water, warmth, formula, feeders and place, before anything is put down to this one.",
} satisfies Readonly<Record<string, Sentence>>;
