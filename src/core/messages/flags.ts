import type { Given, Sentence } from "../wording.js";

export interface LossGiven {
  readonly animal: string;
  readonly before: number;
  readonly beforeDay: string;
  readonly now: number;
  readonly loss: number;
  readonly limit: number;
  readonly level: string;
  readonly source: string;
  readonly raised: boolean;
}

// What sentences of one family are given.
type GainGiven = {
  animal: string;
  gain: number;
  centre: number;
  z: number;
  n: number;
  earlier: number;
  limit: number;
};
type SurpriseGiven = { animal: string; value: number; limit: number; today: number | null };
type AgainstPlanGiven = {
  animal: string;
  eaten: number;
  unit: string;
  planned: number;
  day: string;
  limit: number;
};

/** Sentences of the `flags` room, by notice code. */
export const flagMessages = {
  "flags-no-diagnosis": () =>
    "A flag asks for a second look; it is no diagnosis, and no flag does not mean healthy. The attending veterinarian and the permit conditions decide; local rules come first.",
  "flags-nobody-in-care": (p: Given<{ day: string }>) =>
    `No animal of this study was in care on ${p.text("day")}.`,
  "flag-day-flagged": (p: Given<{ animal: string; signals: readonly string[] }>) =>
    `${p.text("animal")} needs a second look: ${p.list("signals")}.`,
  "flag-day-not-flagged": (p: Given<{ animal: string; judged: readonly string[] }>) =>
    `${p.text("animal")} is not flagged by what could be judged (${p.list("judged")}); that is no statement about its health.`,
  "flag-day-stands": (p: Given<{ animal: string; weighed: string | null }>) =>
    `${p.text("animal")} was not weighed on this day; it was not flagged by its weighing of ${p.text("weighed")}, which stands for four days and is no statement about its health.`,
  "flag-day-not-judged": (p: Given<{ animal: string }>) =>
    `${p.text("animal")} could not be judged on this day; look at it by other means.`,
  "flag-level": (
    p: Given<{
      animal: string;
      mass: number;
      centre: number;
      z: number;
      n: number;
      earlier: number;
      limit: number;
    }>,
  ) =>
    `${p.text("animal")} weighs ${p.number("mass")} g; contemporaries of its age centre on ${p.number("centre")} g (z ${p.number("z", 3)}, n ${p.text("n")}${p.raw("earlier") ? `, ${p.text("earlier")} of them in earlier seasons at the same age` : ""}; looked at from ${p.number("limit", 3)}).`,
  "flag-gain": (p: Given<GainGiven>) =>
    `${p.text("animal")} gained ${p.amount("gain", "%/d")} over the window; contemporaries ${p.amount("centre", "%/d")} (z ${p.number("z", 3)}, n ${p.text("n")}${p.raw("earlier") ? `, ${p.text("earlier")} of them in earlier seasons at the same age` : ""}; looked at from ${p.number("limit", 3)}).`,
  "flag-gain-too-fast": (p: Given<GainGiven>) =>
    `${p.text("animal")} gained ${p.amount("gain", "%/d")} against ${p.amount("centre", "%/d")} of its contemporaries (z ${p.number("z", 3)}, n ${p.text("n")}${p.raw("earlier") ? `, ${p.text("earlier")} of them in earlier seasons at the same age` : ""}; looked at from ${p.number("limit", 3)}): think of fluid retention, overfeeding or a wrong tare.`,
  "flag-phase-arrival": (p: Given<{ animal: string }>) =>
    `${p.text("animal")} is in its arrival phase: early gain after rehydration is not growth, so gain is not judged.`,
  "flag-phase-fast": (p: Given<{ animal: string }>) =>
    `${p.text("animal")} is in its fast, where loss is expected: loss from the peak is not judged.`,
  "flags-budget": (
    p: Given<{
      budget: number;
      animals: number;
      nearest: number;
      lowest: number;
      highest: number;
      low: number;
      high: number;
    }>,
  ) =>
    `Flags from weighings are set so that about ${p.number("budget", 2)} in 100 weeks of a healthy animal would be false. In simulated healthy groups of ${p.number("animals")}, with ${p.number("nearest", 2)} asked for, ${p.number("lowest", 2)} to ${p.number("highest", 2)} came, by how the animals were weighed; single groups had ${p.range("low", "high", 2)} (10th to 90th centile). Danger and practice rules are not counted in it.`,
  "flags-borrowed": (
    p: Given<{
      species: string;
      nurseries: number;
      nurseryAnimals: number;
      fromNurseries: number;
      seasons: number;
      seasonAnimals: number;
      fromSeasons: number;
    }>,
  ) => {
    const nurseries = p.raw("nurseries") !== 0;
    const seasons = p.raw("seasons") !== 0;
    if (!nurseries && !seasons)
      return `What is expected of the ${p.text("species")} young rests on this season's own weighings and, weakly, on the species: no prior file is named and no earlier season is recorded.`;
    const parts = [
      ...(nurseries
        ? [
            `${p.number("fromNurseries", 2)} from ${p.text("nurseries")} other nurseries (${p.text("nurseryAnimals")} young)`,
          ]
        : []),
      ...(seasons
        ? [
            `${p.number("fromSeasons", 2)} from ${p.text("seasons")} earlier seasons here (${p.text("seasonAnimals")} young)`,
          ]
        : []),
    ];
    return `What is expected of the ${p.text("species")} young before this season's own weighings counts as much as so many animals of this season: ${parts.join(", ")}. Where the weighings disagree with it, it is let go of. Expected is not adequate: it is what was seen.`;
  },
  "flags-budget-held-out": (
    p: Given<{
      budget: number;
      nearest: number;
      worlds: number;
      rate: number;
      inCare: number;
      lowest: number;
      lowestWorld: string;
      highest: number;
      highestWorld: string;
    }>,
  ) =>
    `Flags from weighings are set so that about ${p.number("budget", 2)} in 100 weeks of a healthy animal would be false; a week is seven days on which it was judged, by a weighing of that day or of the four days before. In ${p.number("worlds")} kinds of invented nurseries on which nothing was tuned, ${p.number("nearest", 2)} asked for gave ${p.number("rate", 2)} (in 100 weeks in care ${p.number("inCare", 2)}): fewest in the kind called "${p.text("lowestWorld")}", ${p.number("lowest", 2)}, most in "${p.text("highestWorld")}", ${p.number("highest", 2)}. Danger and practice rules are not counted in it.`,
  "flags-budget-unmeasured": (p: Given<{ budget: number }>) =>
    `Flags from weighings are set so that about ${p.number("budget", 2)} in 100 weeks of a healthy animal would be false; what these thresholds give on fresh groups was not measured. Danger and practice rules are not counted in it.`,
  "flags-outside-budget": (
    p: Given<{
      animals: number;
      practice: number;
      practiceLow: number;
      practiceHigh: number;
      danger: number;
      list: number;
      listLow: number;
      listHigh: number;
      tiredPractice: number;
      tiredList: number;
    }>,
  ) =>
    `In a simulation of ${p.text("animals")} healthy young in seasons of about a dozen, rules of common practice named one ${p.number("practice", 2)} times in 100 weeks (${p.number("practiceLow", 2)} to ${p.number("practiceHigh", 2)}), danger rules ${p.number("danger", 2)} times once the arrival phase was over, and the whole list, weighings and newcomers found cold included, ${p.number("list", 2)} times (${p.number("listLow", 2)} to ${p.number("listHigh", 2)}; weighings set at 2). That was with everything written down; where feeds and refusals were left unwritten, practice named ${p.number("tiredPractice", 2)} and the list ${p.number("tiredList", 2)}.`,
  "levels-measured": (
    p: Given<{
      weeks: number;
      danger: number;
      upTo: number;
      measure: number;
      tiredDanger: number;
      tiredUpTo: number;
      tiredMeasure: number;
      planted: number;
      found: number;
    }>,
  ) =>
    `In simulated nurseries (${p.count("weeks", "week")} of healthy animals after their first seven days, everything written down) danger stood ${p.number("danger", 2)} times in 100 weeks (at most ${p.number("upTo", 2)}) and measure first on ${p.number("measure", 2)} % of pages; with 5 % of feeds and 15 % of refusals unwritten ${p.number("tiredDanger", 2)} times (at most ${p.number("tiredUpTo", 2)}) and ${p.number("tiredMeasure", 2)} %. Of ${p.number("planted")} dangers that were planted and written ${p.number("found")} stood as danger on the next page.`,
  "flags-outside-budget-other-limits": (p: Given<{ limits: readonly string[] }>) =>
    `How often healthy animals are named was measured at the limits that ship; here others are set (${p.list("limits")}), so it may be more or less.`,
  "flag-day-open": (p: Given<{ animal: string; since: string; signals: readonly string[] }>) =>
    `${p.text("animal")} raises nothing new, but its episode since ${p.text("since")} is still open (${p.list("signals")}).`,
  "flag-not-weighed": (
    p: Given<{
      animal: string;
      day: string;
      last: string | null;
      mass?: number | null;
      low?: number | null;
      high?: number | null;
      gain?: number | null;
      gainLow?: number | null;
      gainHigh?: number | null;
      step?: number;
    }>,
  ) =>
    `${p.text("animal")} was not weighed in its usual record on ${p.text("day")} (last: ${p.text("last")}), so its weighings say nothing about that day.`,
  "flag-expected": (
    p: Given<{
      day: string;
      animal: string;
      mass: number | null;
      low: number | null;
      high: number | null;
      gain: number | null;
      gainLow: number | null;
      gainHigh: number | null;
      step: number;
      last: string;
      own: number;
      surprise: number;
    }>,
  ) =>
    `On ${p.text("day")} ${p.text("animal")} was expected at ${p.interval("mass", "low", "high", "g")} and gaining ${p.interval("gain", "gainLow", "gainHigh", "%/d")}, from its group and its own weighings up to ${p.text("last")}; it weighed ${p.number("own")} g.`,
  "flag-expected-unweighed": (
    p: Given<{
      day: string;
      animal: string;
      last: string;
      mass: number | null;
      low: number | null;
      high: number | null;
      gain: number | null;
      gainLow: number | null;
      gainHigh: number | null;
      step: number;
    }>,
  ) =>
    `On ${p.text("day")} ${p.text("animal")} was not weighed; from its group and its own weighings up to ${p.text("last")} it would be expected at ${p.interval("mass", "low", "high", "g")} and gaining ${p.interval("gain", "gainLow", "gainHigh", "%/d")}.`,
  "flag-checks": (
    p: Given<{ animal: string; day: string; possible: number; of: number; raised: number }>,
  ) =>
    `${p.text("animal")} on ${p.text("day")}: ${p.number("possible")} of ${p.count("of", "check")} possible, ${p.raw("raised") === 0 ? "none" : p.number("raised")} raised.`,
  "flag-expected-phase": (p: Given<{ animal: string; phase: string }>) =>
    `${p.text("animal")} is in its phase "${p.text("phase")}", where the gain of the group says nothing about it: no mass or gain is expected.`,
  "flag-expected-unknown": (p: Given<{ animal: string; day: string }>) =>
    `${p.text("animal")} has no earlier weighing within 14 days of ${p.text("day")} in its usual record, so no mass or gain is expected.`,
  "flag-few-to-compare": (p: Given<{ animal: string; n: number; group: number }>) =>
    `${p.text("animal")} has too few own weighings or too few others to compare with (${p.count("n", "contemporary", "contemporaries")} near in age, ${p.count("group", "other")} in the group).`,
  "flag-slowed-gain": (
    p: Given<{
      animal: string;
      missing: number | null;
      since: string | null;
      se: number | null;
      ratio: number;
      limit: number;
    }>,
  ) =>
    `${p.text("animal")} gains less than is expected of it, most likely since ${p.text("since")}.`,
  "flag-fall": (p: Given<{ animal: string; now: number | null; z: number; limit: number }>) =>
    `${p.text("animal")} at ${p.number("now")} g has fallen further below a weighing of the last week than errors of weighing explain.`,
  "flag-surprise-average": (p: Given<SurpriseGiven>) =>
    `The recent weighings of ${p.text("animal")} run below expectation together.`,
  "flag-surprise-sum": (p: Given<SurpriseGiven>) =>
    `The shortfalls of ${p.text("animal")} against expectation add up to more than chance explains.`,
  "flag-no-gain": (p: Given<{ animal: string; gain: number; days: number; se: number }>) =>
    `${p.text("animal")} gained ${p.estimate("gain", "se", "g/d")} over ${p.count("days", "day")} (looked at where it is zero or a loss, common practice).`,
  "flag-mass-band": (
    p: Given<{
      animal: string;
      mass: number;
      n: number;
      low: number;
      high: number;
      by: string | null;
      outside: boolean;
    }>,
  ) =>
    `${p.text("animal")} weighs ${p.number("mass", 4)} g (median of ${p.count("n", "weighing")}), ${p.raw("outside") ? "outside" : "within"} the band of ${p.range("low", "high", 4)} g for this time of the year${p.raw("by") === null ? "" : `, set by ${p.text("by")}`}.`,
  "flag-no-gain-unclear": (
    p: Given<{ animal: string; days: number; expected: number; se: number }>,
  ) =>
    `The weighings of ${p.text("animal")} over ${p.count("days", "day")} cannot tell no gain from the ${p.amount("expected", "g/d")} expected of it: weigh it more often.`,
  "flag-window-unsettled": (p: Given<{ days: number; animal: string; day: string }>) =>
    `The last ${p.count("days", "day")} of ${p.text("animal")} hold its arrival or its fast, so no gain is judged over them.`,
  "flag-acute-loss": (p: Given<LossGiven>) =>
    p.raw("raised") !== true
      ? lossSentence(p)
      : p.text("level") === "danger"
        ? `Danger: ${lossSentence(p)} Call the veterinarian now, feed as ordered.`
        : `${lossSentence(p)} Weigh again today.`,
  "flag-doubted-loss": (p: Given<LossGiven>) =>
    `${p.raw("raised") === true && p.text("level") === "danger" ? "Danger: " : ""}${lossSentence(p)} This reading is doubted and may be a slip: weigh again now; if confirmed, or impossible within the hour, call the veterinarian.`,
  "flag-no-pair": (p: Given<{ animal: string; day: string }>) =>
    `${p.text("animal")} has no two weighings within two days up to ${p.text("day")}, so an acute loss is not judged.`,
  "flag-temperature": (
    p: Given<{
      animal: string;
      value: number;
      at: number;
      low: number;
      high: number;
      source: string;
      margin: number;
    }>,
  ) =>
    `Temperature of ${p.text("animal")} ${p.number("value", 4)} °C at ${p.instant("at")}; the species range is ${p.range("low", "high", 4)} °C (${p.text("source")}; ${p.number("margin", 2)} °C beyond it are let pass for the thermometer).`,
  "flag-no-body-temperature": (p: Given<{ value: string | null; animal: string }>) =>
    `"${p.text("value")}", written as temperature of ${p.text("animal")}, could not be read: look, and check the line; temperature is not judged.`,
  "flag-no-range": (p: Given<{ animal: string }>) =>
    `No temperature range is known for the species of ${p.text("animal")}.`,
  "flag-no-temperature": (p: Given<{ animal: string }>) =>
    `No temperature of ${p.text("animal")} was recorded that day.`,
  "flag-no-excretion": (
    p: Given<{ hours: number; kind: string; animal: string; limit: number; last: number }>,
  ) =>
    `${p.number("hours", 3)} h since ${p.text("kind")} of ${p.text("animal")} was last recorded (looked at from ${p.text("limit")} h).`,
  "flag-no-excretion-yet": (
    p: Given<{ kind: string; animal: string; hours: number; limit: number; last: number }>,
  ) =>
    `No ${p.text("kind")} of ${p.text("animal")} is recorded since it came, ${p.number("hours", 3)} h ago (looked at from ${p.text("limit")} h); of others here it is written regularly.`,
  "flag-excretion-not-written": (
    p: Given<{ kind: string; animal: string; gaps: number | null; days: number; limit: number }>,
  ) =>
    `No ${p.text("kind")} in the records says nothing about ${p.text("animal")}: on ${p.amount("gaps", "%")} of ${p.count("days", "day")} of other young here the records had a gap of ${p.text("limit")} h. Written every day, also as "none", it could be judged.`,
  "flag-never-recorded": (p: Given<{ kind: string; animal: string }>) =>
    `${p.text("kind")} was never recorded for ${p.text("animal")}, so its absence says nothing.`,
  "flag-old-enough": (p: Given<{ kind: string; animal: string; age: number; limit: number }>) =>
    `${p.text("kind")} of ${p.text("animal")} is not judged at ${p.number("age", 3)} d: the rule is for young under ${p.text("limit")} d.`,
  "flag-feed-gap": (
    p: Given<{
      hours: number;
      animal: string;
      from: number;
      usual: number;
      limit: number;
      refused: number;
      danger: boolean;
    }>,
  ) =>
    `${p.raw("refused") === 0 ? `${p.number("hours", 3)} h without a recorded feed of ${p.text("animal")}` : `${p.text("animal")} ate nothing of ${p.count("refused", "feed")} in ${p.number("hours", 3)} h`} from ${p.instant("from")} (usual at its age up to ${p.number("usual", 3)} h; ${p.raw("danger") ? "a danger" : "looked at"} beyond ${p.number("limit", 3)} h, or from ${p.raw("danger") ? "3" : "2"} feeds on of which nothing was eaten).`,
  "flag-no-rhythm": (p: Given<{ animal: string }>) =>
    `No feeding rhythm is known for ${p.text("animal")} (too few feeds or no age), so gaps are not judged.`,
  "flag-no-feeds": (p: Given<{ animal: string; day: string }>) =>
    `No feeds of ${p.text("animal")} are recorded for ${p.text("day")}.`,
  "flag-shared-feeds": (p: Given<{ day: string; animal: string }>) =>
    `Feeds of ${p.text("day")} were given to the whole group of ${p.text("animal")}; what it ate of them is not known and not judged.`,
  "flag-first-day": (p: Given<{ animal: string; day: string }>) =>
    `${p.text("animal")} came on ${p.text("day")}; a part of a day is not judged.`,
  "flag-fast-intake": (p: Given<{ animal: string; day: string }>) =>
    `${p.text("animal")} is in its fast on ${p.text("day")}, where it eats next to nothing: what it eats is not judged.`,
  "flag-no-plan": (p: Given<{ animal: string }>) =>
    `No amount is planned for ${p.text("animal")} on that day.`,
  "flag-plan-other-diet": (p: Given<{ animal: string }>) =>
    `Another diet was fed to ${p.text("animal")} than was planned, and the energy of one of these diets is not known, so order and eaten cannot be compared.`,
  "flag-below-plan": (p: Given<AgainstPlanGiven>) =>
    `${p.text("animal")} ate ${p.number("eaten")} ${p.text("unit")} of ${p.number("planned")} ${p.text("unit")} planned on ${p.text("day")} (looked at below ${p.text("limit")} %).`,
  "flag-below-plan-building-up": (p: Given<AgainstPlanGiven>) =>
    `${p.text("animal")} ate ${p.number("eaten")} ${p.text("unit")} of ${p.number("planned")} ${p.text("unit")} planned on ${p.text("day")}, newly arrived or after its fast (looked at where it is below ${p.text("limit")} % and does not rise from day to day).`,
  "flag-above-plan": (p: Given<AgainstPlanGiven>) =>
    `${p.text("animal")} ate ${p.number("eaten")} ${p.text("unit")} where ${p.number("planned")} ${p.text("unit")} were planned on ${p.text("day")} (looked at above ${p.text("limit")} %).`,
  "flag-no-habit": (p: Given<{ animal: string; n: number }>) =>
    `${p.text("animal")} has ${p.count("n", "settled day")} before it on which what it ate is known; its habit needs 4.`,
  "flag-habit-other-diet": (p: Given<{ animal: string }>) =>
    `${p.text("animal")} was fed different diets on the days compared, and the energy of one of them is not known, so its habit of eating is not judged.`,
  "flag-below-habit-twice": (
    p: Given<{
      animal: string;
      eaten: number;
      unit: string;
      day: string;
      share: number;
      usual: number;
      before: number | null;
      limit: number;
    }>,
  ) =>
    `${p.text("animal")} ate ${p.number("eaten")} ${p.text("unit")} on ${p.text("day")}, ${p.amount("share", "%")} of its own usual ${p.number("usual")} ${p.text("unit")}, and ${p.number("before", 3)} % the day before (two days in a row below ${p.number("limit", 3)} %, beyond its own variation).`,
  "flag-below-habit": (
    p: Given<{
      animal: string;
      eaten: number;
      unit: string;
      day: string;
      share: number;
      usual: number;
      limit: number;
    }>,
  ) =>
    `${p.text("animal")} ate ${p.number("eaten")} ${p.text("unit")} on ${p.text("day")}, ${p.amount("share", "%")} of its own usual ${p.number("usual")} ${p.text("unit")} (looked at below ${p.text("limit")} %).`,
  "flag-refusals": (
    p: Given<{
      animal: string;
      refused: number;
      offered: number;
      day: string;
      share: number;
      limit: number;
    }>,
  ) =>
    `${p.text("animal")} refused ${p.number("refused")} g of ${p.number("offered")} g on ${p.text("day")} (${p.amount("share", "%")}, looked at from ${p.number("limit", 3)} %).`,
  "flag-refusals-building-up": (
    p: Given<{ animal: string; refused: number; offered: number; day: string; share: number }>,
  ) =>
    `${p.text("animal")}, newly arrived or after its fast, refused ${p.number("refused")} g of ${p.number("offered")} g on ${p.text("day")} (${p.amount("share", "%")}; looked at where it does not take more from day to day).`,
  "flag-refusals-unknown": (p: Given<{ animal: string }>) =>
    `Some refusals of ${p.text("animal")} are not written down, and the answer hangs on them, so this is not judged.`,
  "flag-feed-above-limit": (p: Given<{ animal: string; feed: number; limit: number }>) =>
    `${p.text("animal")} took ${p.number("feed")} g in one feed; the limit is ${p.number("limit")} g.`,
  "flag-one-scale": (p: Given<{ animal: string }>) =>
    `${p.text("animal")} was not weighed on two scales near in time, so scales are not compared on it.`,
  "flag-scales-disagree": (
    p: Given<{ first: string | null; second: string | null; difference: number; animal: string }>,
  ) =>
    `Scales ${p.text("first")} and ${p.text("second")} differ by ${p.number("difference", 3)} g on ${p.text("animal")}.`,
  "flag-no-conversion": (p: Given<{ animal: string; n: number }>) =>
    `Conversion of ${p.text("animal")} is not compared: its feeds, the energy kept or its gain are not complete over 14 settled days, or fewer than 3 others of its age are (${p.text("n")}).`,
  "flag-conversion": (
    p: Given<{
      animal: string;
      own: number;
      n: number;
      middle: number;
      share: number;
      limit: number;
      se: number;
    }>,
  ) =>
    `${p.text("animal")} gained ${p.number("own", 3)} g per 1000 kcal kept over 14 days; ${p.count("n", "other")} of its age, now or earlier, centre on ${p.number("middle", 3)} (${p.amount("share", "%")}, looked at below ${p.text("limit")} %).`,
  "short-together": (p: Given<SeasonShort>) =>
    `${seasonShort(p)} was expected of them, most likely since ${p.text("since")}. Beside each other they look as usual. Look for one cause: amounts ordered and eaten, formula and its mixing, the scale, illness, heat or water.`,
  "short-from-the-first": (p: Given<SeasonShort>) =>
    `${seasonShort(p)} earlier seasons or other nurseries led to expect, from the season's first day on (${p.text("since")}). Beside each other they look as usual. Nurseries and seasons differ, so of the seasons that are well some are named, too. Look for one cause: amounts ordered and eaten, formula and its mixing, the scale, illness, heat or water.`,
  "shared-cause": (
    p: Given<{ day: string; n: number; judged: number; animals: readonly string[] }>,
  ) =>
    `On ${p.text("day")} ${p.text("n")} of ${p.count("judged", "animal")} weighed fell short together (${p.list("animals")}): look for one cause, and look at each animal all the same.`,
  "shared-scale": (
    p: Given<{
      scales: readonly string[];
      checks: number;
      failed: readonly string[];
      disagree: boolean;
    }>,
  ) =>
    `Scale: was it checked with a known weight today? Scales used: ${p.list("scales")}; checks recorded: ${p.text("checks")}; failed: ${p.list("failed")}.`,
  "shared-formula": (p: Given<{ batches: readonly string[]; events: readonly string[] }>) =>
    `Formula: one batch or a changed recipe? Batches that most of them had: ${p.list("batches")}. Recorded: ${p.list("events")}.`,
  "shared-illness": (p: Given<{ events: readonly string[] }>) =>
    `Illness passing through the group? Recorded: ${p.list("events")}.`,
  "shared-surroundings": (p: Given<{ events: readonly string[] }>) =>
    `Heat, cold, water, power or place? Recorded: ${p.list("events")}.`,
  "shared-routine": (p: Given<{ events: readonly string[] }>) =>
    `Staff routine, time of weighing, a changed protocol? Recorded: ${p.list("events")}.`,
  "missing-grams-reading": () =>
    "The second part is a residual: conversion, losses, illness, unrecorded feed and wrong diet values are candidates and are not told apart. Illness lowers what is eaten and kept too, so a shortfall of it is not a cause.",
  "missing-grams-few": (p: Given<{ animal: string; n: number }>) =>
    `The missing grams of ${p.text("animal")} are not split: its own gain is not known over the window, or only ${p.count("n", "contemporary", "contemporaries")} ${p.agree("n", "is", "are")} (3 are needed).`,
  "missing-grams-no-intake": (p: Given<{ animal: string; n: number }>) =>
    `The missing grams of ${p.text("animal")} are not split by what it kept: feeds, energy or what came up are not known well enough for it, or are for ${p.count("n", "contemporary", "contemporaries")} only.`,
} satisfies Readonly<Record<string, Sentence>>;

const lossSentence = (p: Given<LossGiven>) =>
  `${p.text("animal")} went from ${p.number("before")} g on ${p.text("beforeDay")} to ${p.number("now")} g: a loss of ${p.number("loss", 3)} % (${p.text("level")} from ${p.number("limit", 3)} %, ${p.text("source")}, no published limit; a negative loss is a gain).`;

/** What all animals of a season gain too little together. */
export interface SeasonShort {
  readonly species: string;
  readonly season: string | null;
  readonly n: number;
  readonly since: string;
  readonly missing: number;
  readonly low: number;
  readonly high: number;
}

const seasonShort = (p: Given<SeasonShort>): string =>
  `All together: the ${p.count("n", "animal")} of ${p.raw("season") == null ? "this season" : `season ${p.text("season")}`} (${p.text("species")}) gain ${p.interval("missing", "low", "high", "%/d")} less than`;
