import type { Given, Sentence } from "../wording.js";

/** Sentences of the `rates` room, by notice code. */
export const rateMessages = {
  "gain-no-time-between": (p: Given<{ from: number; to: number }>) =>
    `No gain is computed between ${p.instant("from")} and ${p.instant("to")}: no time passed.`,
  "gain-mass-not-positive": (p: Given<{ first: number; second: number }>) =>
    `No gain is computed from ${p.number("first")} g to ${p.number("second")} g: both must be above zero.`,
  "gain-few-weighings": (p: Given<{ n: number; days: number; needed: number }>) =>
    `${p.count("n", "weighed day")} in the ${p.count("days", "day")} up to its last weighing; a gain needs ${p.text("needed")}.`,
  "gain-short-span": (p: Given<{ span: number; days: number; share: number }>) =>
    `The weighings cover only ${p.number("span", 2)} of ${p.count("days", "day")}, too short a span for a gain.`,
  "gain-age-not-positive": (p: Given<{ age: number }>) =>
    `The age of ${p.number("age")} d must be above zero.`,
  "gain-age-outside-adjustment": (p: Given<{ age: number; youngest: number; oldest: number }>) =>
    `The age of ${p.number("age")} d lies outside ${p.text("youngest")} to ${p.text("oldest")} d, so the mass is not adjusted to a standard age.`,
  "energy-part-missing": (p: Given<{ missing: string }>) =>
    `The energy that the diet holds is not computed: its ${p.text("missing")} is not given.`,
  "energy-not-stated": () =>
    "The energy that the diet holds is not computed: none is stated on it.",
  "energy-not-positive": (p: Given<{ kcal: number }>) =>
    `An energy of ${p.number("kcal")} kcal/g cannot be; it is not used and nothing is divided by it.`,
  "energy-above-fat": (p: Given<{ kcal: number; most: number }>) =>
    `A stated energy of ${p.number("kcal")} kcal/g is more than pure fat holds (${p.number("most")}); was it meant per 100 g or per feed? It is not used.`,
  "energy-carbohydrate-unknown": (p: Given<{ missing: number }>) =>
    `Carbohydrate is neither given nor found by difference and counts as none; at most ${p.number("missing", 3)} kcal/g are missing.`,
  "composition-part-impossible": (p: Given<{ part: string; pct: number }>) =>
    `The composition gives ${p.text("part")} as ${p.number("pct")} %; it must lie between 0 and 100. Nothing is computed from it.`,
  "composition-sum-zero": () =>
    "Every part given of the composition is zero. Nothing is computed from it.",
  "composition-sum-too-high": (p: Given<{ sum: number }>) =>
    `The parts of the composition add up to ${p.number("sum")} %, more than the 105 % that separate assays can reach. Nothing is computed from it.`,
  "feed-before-birth": (p: Given<{ at: number }>) =>
    `The feed of ${p.instant("at")} lies before the earliest birth date and is not counted.`,
  "feed-offer-impossible": (p: Given<{ offered: number }>) =>
    `An offer of ${p.number("offered")} g cannot be; the feed is not counted.`,
  "feed-refusal-impossible": (p: Given<{ at: number; refused: number; offered: number }>) =>
    `At ${p.instant("at")} ${p.number("refused")} g are said to be refused of ${p.number("offered")} g offered; eaten counts as unknown, between nothing and all.`,
  "mass-for-length-few": (p: Given<{ pairs: number; animals: number }>) =>
    `Only ${p.number("pairs")} lengths of ${p.count("animals", "animal")} with a mass near them, or all of nearly one length: too few for a line.`,
  "intake-no-complete-day": () => "No complete feeding day with a recorded feed.",
  "intake-mean-is-a-range": (p: Given<{ days: number; of: number }>) =>
    `On ${p.number("days")} of ${p.count("of", "day")} a refusal, what came up or an energy is not known, so the mean of what was eaten or kept lies between two limits.`,
  "intake-no-feeds": (p: Given<{ animal: string }>) =>
    `No feed is recorded for ${p.text("animal")}: what was eaten and kept is not computed, nor is conversion.`,
  "intake-day-without-feeds": (p: Given<{ day: string }>) =>
    `No feed is recorded on ${p.text("day")}: a gap in the records or a fast; what was eaten is not known.`,
  "intake-shared-feeds": (p: Given<{ n: number; day: string }>) =>
    `${p.count("n", "feed")} on ${p.text("day")} ${p.agree("n", "was", "were")} given to a group and cannot be attributed: what was eaten is at least what was fed singly.`,
  "intake-feed-doubted": (p: Given<{ n: number; day: string }>) =>
    `${p.count("n", "feed")} on ${p.text("day")} ${p.agree("n", "looks like a slip", "look like slips")} of the pen: amounts are ranges until somebody has decided.`,
  "intake-refusal-unknown": (p: Given<{ n: number; day: string }>) =>
    `${p.count("n", "feed")} on ${p.text("day")} ${p.agree("n", "has", "have")} no known refusal: what was eaten is a range.`,
  "intake-diet-missing": (p: Given<{ n: number; day: string; diets: readonly string[] }>) =>
    `${p.count("n", "feed")} on ${p.text("day")} ${p.agree("n", "names", "name")} no known diet (${p.list("diets")}): energy and nutrients eaten are at least those of the others.`,
  "conversion-few-weighings": (p: Given<{ animal: string; n: number; needed: number }>) =>
    `No conversion of what ${p.text("animal")} kept: ${p.count("n", "weighed day")} in the window, ${p.text("needed")} are needed.`,
  "conversion-short-window": (p: Given<{ animal: string; days: number; needed: number }>) =>
    `No conversion of what ${p.text("animal")} kept: the weighings cover ${p.number("days", 3)} d, at least ${p.text("needed")} d are needed.`,
  "conversion-no-feeds": (p: Given<{ animal: string }>) =>
    `No conversion of what ${p.text("animal")} kept: no feed is recorded in the window.`,
  "conversion-shared-feeds": (p: Given<{ animal: string; n: number }>) =>
    `No conversion of what ${p.text("animal")} kept: ${p.count("n", "feed")} in the window ${p.agree("n", "was", "were")} given to a group and cannot be attributed.`,
  "conversion-feed-lost": (p: Given<{ animal: string; n: number; pct: number }>) =>
    `No conversion of what ${p.text("animal")} kept: something came up ${p.count("n", "time")} in the window, and what was kept is not known to within ${p.number("pct")} %. Weigh what comes up.`,
  "conversion-of-kept": (p: Given<{ animal: string; n: number; low: number; high: number }>) =>
    `${p.text("animal")}: something came up ${p.count("n", "time")} in the window; the conversion is of what was kept, ${p.raw("low") === p.raw("high") ? p.amount("low", "g") : `${p.number("low", 4)} to ${p.amount("high", "g")}`}.`,
  "conversion-gap-in-feeds": (p: Given<{ animal: string; hours: number }>) =>
    `${p.text("animal")}: ${p.number("hours", 3)} h without a recorded feed lie in the window; if they are a gap in the records, more was eaten: the conversion is "at least".`,
  "conversion-serial": (p: Given<{ animal: string; lag1: number }>) =>
    `${p.text("animal")}: neighbouring weighings of the window hang together (correlation ${p.number("lag1", 2)}) but were taken as independent, so the interval of the conversion of what was kept is too narrow.`,
  "conversion-serial-allowed": (
    p: Given<{ animal: string; correlation: number; widening: number }>,
  ) =>
    `${p.text("animal")}: weighings of neighbouring days seem to err alike (correlation about ${p.number("correlation", 2)}); the intervals of gain and of the conversion of what was kept allow for it and are ${p.number("widening", 2)} times as wide as with independent errors.`,
  "conversion-feed-unknown": (p: Given<{ animal: string; n: number }>) =>
    `${p.text("animal")}: ${p.count("n", "feed")} in the window ${p.agree("n", "has", "have")} no known refusal, so what was kept and its conversion are ranges.`,
  "conversion-feed-bounds": (
    p: Given<{ high: number | null; animal: string; low: number; unit: string }>,
  ) =>
    p.raw("high") === null
      ? `What ${p.text("animal")} kept is known only as at least ${p.number("low")} ${p.text("unit")}: the ratio is a range.`
      : `What ${p.text("animal")} kept lies between ${p.number("low")} and ${p.number("high")} ${p.text("unit")}: the ratio is a range.`,
  "conversion-nothing-eaten": (p: Given<{ animal: string }>) =>
    `No conversion of what ${p.text("animal")} kept: nothing was eaten in the window.`,
  "conversion-no-gain": (p: Given<{ animal: string; gained: number }>) =>
    `Feed kept per gain is not defined for ${p.text("animal")}: it gained ${p.number("gained")} g in the window. Gain per feed kept stays defined.`,
  "phase-arrival": () => "Arrival begins with the admission.",
  "phase-milk-regained": (p: Given<{ smooth: number; admission: number }>) =>
    `Arrival ended when the smoothed mass (${p.number("smooth")} g) regained the admission mass (${p.number("admission")} g).`,
  "phase-after-arrival": (p: Given<{ species: string }>) =>
    `There is no profile for "${p.text("species")}" and no formula on record: no phase of milk is assumed.`,
  "phase-milk-latest": (p: Given<{ days: number }>) =>
    `Arrival ended on day ${p.text("days")}, the latest it may last; the admission mass was not regained before.`,
  "phase-mixed": (p: Given<{ at: number }>) => `The first solid was eaten at ${p.instant("at")}.`,
  "phase-solids": (p: Given<{ pct: number; days: number }>) =>
    `Solids gave at least ${p.text("pct")} % of the energy eaten on ${p.text("days")} feeding days in a row.`,
  "phase-fast": (p: Given<{ share: number; usual: number }>) =>
    `Less than ${p.text("share")} % of the usual ${p.amount("usual", "g/d")} was eaten after weaning: the fast of this species. Loss is expected in it.`,
  "phase-fast-or-illness": (p: Given<{ share: number; usual: number }>) =>
    `Less than ${p.text("share")} % of the usual ${p.amount("usual", "g/d")} was eaten after weaning, as in the fast of this species; but vomit, regurgitation or medication is recorded in these days, so it may be illness.`,
  "rhythm-old-formula": (p: Given<{ animal: string; n: number; oldest: number }>) =>
    `${p.text("animal")}: ${p.count("n", "feed")} used formula older than its use-by hours; the oldest was ${p.number("oldest", 3)} h.`,
  "rhythm-fed-before-made": (p: Given<{ animal: string; n: number; first: number }>) =>
    `${p.text("animal")}: ${p.count("n", "feed")} ${p.agree("n", "names", "name")} a batch that was made after the feed (first ${p.instant("first")}); check the batch or the times.`,
  "hold-feed-suspected": (
    p: Given<{ animal: string; offered: number; at: number; low: number; high: number }>,
  ) =>
    `The feed of ${p.number("offered", 6)} g at ${p.instant("at")} may be a slip of the pen: between ${p.amount("low", "g").replace(/ g$/, "")} and ${p.amount("high", "g")} were eaten. Ask who gave it; suggestions wait until somebody has decided.`,
  "conversion-not-resampled": (p: Given<{ animal: string }>) =>
    `No bootstrap interval for ${p.text("animal")}: the conversion of what it kept is not defined, or what it kept is known only within bounds.`,
  "cohort-conversion-no-animals": () =>
    "No animal has a conversion of what it kept that could go into the sum.",
  "cohort-conversion-no-gain": (p: Given<{ sum: number }>) =>
    `The sum below the line is ${p.number("sum")}, not above zero: the ratio is not defined.`,
  "efficiency-few-animals": (p: Given<{ needed: number; n: number }>) =>
    `Residuals of energy kept and of gain ask for ${p.count("needed", "animal")}; there are ${p.text("n")}.`,
  "efficiency-not-separable": (p: Given<{ n: number }>) =>
    `Gain, energy kept and size of these ${p.count("n", "animal")} ${p.agree("n", "goes", "go")} together so closely that residuals mean nothing.`,
  "test-weighing-none": (p: Given<{ animal: string }>) =>
    `${p.text("animal")} has no weighing before and after a feed with a known amount between them.`,
  "balance-few-windows": (
    p: Given<{ needed: number; neededAnimals: number; n: number; animals: number }>,
  ) =>
    `The balance of energy kept against size and gain asks for ${p.text("needed")} stretches of ${p.count("neededAnimals", "animal")}; there are ${p.text("n")} of ${p.text("animals")}.`,
  "balance-gain-too-noisy": (p: Given<{ reliability: number }>) =>
    `Only ${p.number("reliability", 2)} % of the scatter of gains is more than error of weighing: what growth costs cannot be told from these stretches. Take longer ones.`,
  "balance-growth-wide": (p: Given<{ lower: number; upper: number; n: number }>) =>
    `From these ${p.count("n", "stretch", "stretches")} a gram of gain may cost anything from ${p.number("lower", 2)} to ${p.number("upper", 2)} kcal: gains differ too little beside the errors of weighing, so no price is given. More animals, more days or weighings every day would tell.`,
  "balance-not-fitted": (p: Given<{ status: string }>) =>
    `The balance of energy kept against size and gain could not be fitted (${p.text("status")}); look for stretches with amounts that cannot be.`,
  "balance-growth-not-positive": (p: Given<{ growth: number | null }>) =>
    `The balance of energy kept against size and gain gives ${p.number("growth", 3)} kcal per g of gain; growth that costs nothing cannot be, so no expected gain is given.`,
} satisfies Readonly<Record<string, Sentence>>;
