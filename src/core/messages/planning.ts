import type { Given, Sentence } from "../wording.js";

/** Sentences of the `planning` room, by notice code. */
export const planningMessages = {
  "ration-review": () =>
    "A suggestion, not an order: review with the attending veterinarian before use. Permit conditions and local rules come first.",
  "sheet-as-ordered": () =>
    "Amounts stand here as they were ordered; nothing was computed. The attending veterinarian decides; permit conditions and local rules come first.",
  "ration-no-drugs": () =>
    "Drugs and fluids are never computed here; the veterinarian orders them.",
  "ration-capped": (p: Given<{ animal: string; since: number; most: number }>) =>
    `Something came up at ${p.instant("since")}: for 24 h after it no suggestion for ${p.text("animal")} rises above the last one before it, ${p.number("most", 5)} g a day. What came up is not made up for.`,
  "ration-cap-unknown": (p: Given<{ animal: string; since: number }>) =>
    `Something came up at ${p.instant("since")}, and what was suggested or offered to ${p.text("animal")} before it is not known: nothing is suggested for 24 h.`,
  "ration-waits": () => "suggestion waits: measure or ask first; what is ordered stands",
  "ration-hold": () => "hold: ask the veterinarian",
  "ration-not-in-care": (p: Given<{ animal: string; outcome: string }>) =>
    `${p.text("animal")} is no longer in care (${p.text("outcome")}).`,
  "ration-in-fast": (p: Given<{ animal: string }>) =>
    `${p.text("animal")} is in the fast after weaning: what to offer is ordered by plan or veterinarian, not computed.`,
  "ration-no-mass": (p: Given<{ animal: string }>) =>
    `No ration for ${p.text("animal")}: its mass is not known.`,
  "ration-no-profile": (p: Given<{ species: string; age: number | null }>) =>
    `The profile of the ${p.text("species")} gives neither what is eaten nor energy demand for an age of ${p.number("age")} d; enter a target. No other species stands in.`,
  "ration-no-plan": () => "Nothing that can be added up in grams is ordered.",
  "ration-nil-by-mouth": (p: Given<{ animal: string }>) =>
    `Nothing by mouth is ordered for ${p.text("animal")}: nothing is suggested.`,
  "ration-order-as-written": (p: Given<{ animal: string }>) =>
    `What is ordered for ${p.text("animal")} cannot be added up feed by feed: it stands as written, and nothing is suggested in its place.`,
  "ration-amount-not-positive": (p: Given<{ amount: number; unit: string }>) =>
    `The amount worked out is not above zero (${p.number("amount")} ${p.text("unit")}): check the mass, the target and the diet.`,
  "ration-from-share": (p: Given<{ pct: number; mass: number; source: string }>) =>
    `${p.number("pct", 3)} % of ${p.number("mass")} g body mass a day (${p.text("source")}).`,
  "ration-from-demand": (p: Given<{ kcal: number; times: number; source: string }>) =>
    `${p.number("kcal")} kcal a day suggested: ${p.number("times", 3)} times the resting requirement (${p.text("source")}).`,
  "ration-from-energy": (p: Given<{ kcal: number }>) =>
    `${p.number("kcal")} kcal a day suggested, as entered.`,
  "ration-from-gain": (
    p: Given<{ kcal: number; maintenanceKcal: number; growthKcalPerG: number; gain: number }>,
  ) =>
    `${p.number("kcal")} kcal a day suggested: ${p.number("maintenanceKcal", 3)} kcal per kg^0.75 to live and ${p.number("growthKcalPerG", 3)} kcal per g for ${p.amount("gain", "g/d")}.`,
  "ration-from-plan": (p: Given<{ grams: number }>) =>
    `${p.number("grams", 5)} g a day are ordered.`,
  "ration-no-diet": (p: Given<{ animal: string }>) =>
    `No ration for ${p.text("animal")}: no formula or solid with a known diet was given in the last three days; name one.`,
  "ration-no-solid": (p: Given<{ pct: number; animal: string }>) =>
    `${p.text("pct")} % of the energy of a ration from solids were asked for, but ${p.text("animal")} has no solid with a known diet; name one.`,
  "ration-diet-no-energy": (p: Given<{ animal: string; diet: string }>) =>
    `No ration for ${p.text("animal")}: the energy that ${p.text("diet")} holds is not known.`,
  "ration-share-impossible": (p: Given<{ pct: number }>) =>
    `A share of ${p.number("pct")} % of the energy of a ration from solids cannot be; it must lie between 0 and 100.`,
  "ration-no-rhythm": (p: Given<{ animal: string; species: string }>) =>
    `No ration for ${p.text("animal")}: neither plan nor profile of the ${p.text("species")} gives a number of feeds; enter one.`,
  "ration-part-unknown": (p: Given<{ diet: string }>) =>
    `The composition of ${p.text("diet")} is not complete.`,
  "ration-recent-unknown": (p: Given<{ days: number }>) =>
    `What was eaten over the last ${p.count("days", "recorded day")} is not known.`,
  "ration-rise-limited": (p: Given<{ wanted: number; value: number | null; most: number }>) =>
    `${p.number("wanted")} g would be a steeper rise than ${p.number("value")} % over what was offered lately; held at ${p.number("most")} g.`,
  "ration-rise-not-judged": () =>
    "Nothing was recorded over the last days, so the rise from day to day is not limited: compare by hand.",
  "ration-water-limited": (p: Given<{ wanted: number; value: number | null; most: number }>) =>
    `${p.number("wanted")} g would hold more than ${p.number("value")} mL water per kg; held at ${p.number("most")} g.`,
  "ration-feed-limited": (p: Given<{ wanted: number; value: number | null; most: number }>) =>
    `${p.number("wanted")} g do not fit into the feeds of the day at ${p.number("value", 3)} % of body mass to be eaten in each; held at ${p.number("most")} g.`,
  "ration-no-feed-limit": (p: Given<{ species: string }>) =>
    `No source gives how much one feed of a ${p.text("species")} may be; enter a limit to have it checked.`,
  "ration-more-feeds": (p: Given<{ from: number; to: number }>) =>
    `Feeds raised from ${p.text("from")} to ${p.text("to")}, so that no feed is larger than the limit.`,
  "ration-plan-over-limit": (p: Given<{ wanted: number; limit: string; most: number }>) =>
    `The order of ${p.number("wanted")} g goes beyond a limit (${p.text("limit")}: ${p.number("most")} g); it is shown as ordered.`,
  "ration-below-demand": (p: Given<{ kcal: number; demand: number; source: string }>) =>
    `${p.number("kcal")} kcal a day suggested are less than the demand of ${p.number("demand")} kcal that fits this mass and age (${p.text("source")}).`,
  "ration-outside-usual": (p: Given<{ pct: number; low: number; high: number }>) =>
    `${p.number("pct", 2)} % of body mass to be eaten a day is far from the usual ${p.range("low", "high", 2)} %.`,
  "mix-ingredient-unknown": (p: Given<{ ingredient: string; missing: readonly string[] }>) =>
    `${p.text("ingredient")} is left out of the mix: ${p.list("missing")} of it is not known.`,
  "mix-impossible": (p: Given<{ ingredients: readonly string[] }>) =>
    `No mix of ${p.list("ingredients")} keeps the limits on its ingredients; loosen one.`,
  "ration-mass-implausible": (
    p: Given<{ animal: string; mass: number; low: number; high: number; species: string }>,
  ) =>
    `The ration of ${p.text("animal")} rests on ${p.number("mass", 4)} g, and a ${p.text("species")} of its age usually weighs ${p.range("low", "high", 4)} g: weigh it again before anything is made of it.`,
  "mix-not-met": (
    p: Given<{
      property: string;
      low: number | null;
      high: number | null;
      unit: string;
      got: number;
    }>,
  ) =>
    `The wanted ${p.text("property")} (${p.text("low")} to ${p.text("high")} ${p.text("unit")}) cannot be met together with the rest; the mix reaches ${p.number("got")} ${p.text("unit")}.`,
  "batch-animals-on-hold": (p: Given<{ animals: readonly string[] }>) =>
    `On hold and not counted: ${p.list("animals")}. Ask the veterinarian before the batch is made.`,
  "weaning-stalled": (p: Given<{ share: number; since: string | null; pace: number }>) =>
    `The share of solids has stood near ${p.amount("share", "%")} since ${p.text("since")}.`,
  "weaning-share-uncertain": () =>
    "Some refusals or diets of the last days are not known, so the share of solids is a range.",
  "ration-of-several": (p: Given<{ n: number; line: string }>) =>
    `${p.count("n", "animal")}: ${p.text("line")}`,
  "weaning-pace-unknown": (p: Given<{ n: number }>) =>
    `${p.count("n", "day")} with solids ${p.agree("n", "is", "are")} too few to read a pace from; four are needed.`,
  "weaning-no-progress": (p: Given<{ pace: number }>) =>
    `The share of solids is not rising (${p.number("pace", 3)} % per day), so no day of full weaning is given.`,
  "forecast-no-age": (p: Given<{ animal: string }>) =>
    `No forecast for ${p.text("animal")}: its age is not known, or was estimated from its mass.`,
  "forecast-few-weighings": (p: Given<{ animal: string; n: number }>) =>
    `No forecast for ${p.text("animal")}: ${p.count("n", "weighed day")} after the arrival phase ${p.agree("n", "is", "are")} too few; three are needed.`,
  "forecast-target-impossible": (p: Given<{ target: number }>) =>
    `A target of ${p.number("target")} g cannot be.`,
  "forecast-phase": (p: Given<{ animal: string; phase: string }>) =>
    `No forecast for ${p.text("animal")} in ${p.text("phase")}: mass then follows neither its own gain nor its group's.`,
  "forecast-old-weighing": (p: Given<{ animal: string; days: number; most: number }>) =>
    `No forecast for ${p.text("animal")}: its last weighing is ${p.count("days", "day")} old, and nothing is expected after ${p.count("most", "day")}. Weigh it.`,
  "forecast-beyond-model": (p: Given<{ target: number; animal: string; horizon: number }>) =>
    `No date for ${p.number("target")} g: ${p.text("animal")} is not expected to reach it within ${p.count("horizon", "day")}, and farther ahead no day is given.`,
  "forecast-no-target": (p: Given<{ animal: string }>) =>
    `No plan in force gives ${p.text("animal")} a target mass, so there is no forecast; enter one.`,
} satisfies Readonly<Record<string, Sentence>>;
