import type { Given, Sentence } from "../wording.js";

// What sentences of one family are given.
type CoatGiven = {
  dampOrWet: number;
  told: number;
  rest: number | null;
  all: number | null;
  weighings: number;
  notTold: number;
};
type MealGiven = {
  afterMeal: number;
  told: number;
  rest: number | null;
  all: number | null;
  early: number | null;
  late: number | null;
  feed: number | null;
  share: number | null;
  hours: number;
  weighings: number;
  notTold: number;
  hoursSinceFeedEarly: number | null;
  hoursSinceFeedLate: number | null;
  usualFeedG: number | null;
};
type DecisiveGiven = {
  day: string;
  ownHigh: number;
  othersLow: number;
  own: number;
  others: number;
  faster: boolean;
};
type RestGiven = {
  rest: number | null;
  own: number | null;
  expected: number | null;
  grams: number | null;
};

/** Sentences of the `analysis` room, by notice code. */
export const analysisMessages = {
  "analysis-no-feeds": () =>
    "There are no feeds in this study: what was eaten and kept, conversion, the feeding rhythm and energy cannot be computed. Gain, curves and comparisons of mass can.",
  "analysis-no-diets": () =>
    "There are no diets in this study: grams eaten can be computed; energy, dry matter and water cannot.",
  "analysis-no-observations": () =>
    "There are no observations in this study: illness and treatment cannot be taken into account.",
  "analysis-no-scale-checks": () =>
    "No scale was checked with a known weight: a drifting scale would not be noticed.",
  "analysis-earlier-seasons": () =>
    "Contemporaries include animals of earlier seasons at the same age, because few are in care at one time. Only animals that lived to that age can serve.",
  "analysis-ages-from-admission": (p: Given<{ animal: string }>) =>
    `The birth date of ${p.text("animal")} is not known: its curve runs on days since admission.`,
  "analysis-arrival-left-out": (p: Given<{ n: number; animal: string }>) =>
    `${p.count("n", "weighing")} of the arrival phase ${p.agree("n", "is", "are")} left out of the curve of ${p.text("animal")}: early change is rehydration, not growth.`,
  "analysis-fast-left-out": (p: Given<{ n: number; animal: string }>) =>
    `${p.count("n", "weighing")} from the post-weaning fast on ${p.agree("n", "is", "are")} left out of the curve of ${p.text("animal")}.`,
  "week-not-in-care": (p: Given<{ animal: string; day: string }>) =>
    `${p.text("animal")} was not in care on ${p.text("day")}: nothing is expected of it.`,
  "week-arrival": (p: Given<{ animal: string }>) =>
    `${p.text("animal")} is in its arrival phase: early change is rehydration, so no course is carried on.`,
  "week-fast": (p: Given<{ animal: string }>) =>
    `${p.text("animal")} is in its post-weaning fast, where loss is expected: no course is carried on.`,
  "week-few-weighings": (p: Given<{ animal: string; fewest: number }>) =>
    `${p.text("animal")} has fewer than ${p.count("fewest", "weighing")} after its arrival phase, or since its fast: no course can be carried on.`,
  "week-how": (
    p: Given<{
      animal: string;
      mass: number;
      day: string;
      level: number | null;
      se: number | null;
      gain: number | null;
      theirs: number | null;
      weighings: number;
      others: number;
      before: number;
    }>,
  ) =>
    `${p.text("animal")} weighed ${p.number("mass")} g on ${p.text("day")}; the mass behind its ${p.count("weighings", "weighing")} is ${p.estimate("level", "se", "g")}. (a) It goes on as it has of late, the chance that its gain fell short counted in: ${p.amount("gain", "g/d")} over these days. ${p.raw("theirs") === null ? "(b) is left out: fewer than 3 others and no earlier animals say what to expect." : `(b) From that weighing on it gains as any other of its group at its age: ${p.amount("theirs", "g/d")} (${p.count("others", "animal")} beside it, ${p.number("before")} of earlier seasons and other nurseries).`} Each mass is a single weighing, dry and before a meal. Neither is a forecast of what will be done for the animal.`,
  "change-raised": (
    p: Given<{
      animal: string;
      since: string | null;
      day: string;
      ratio: number | null;
      limit: number | null;
      earliest: string | null;
      latest: string | null;
    }>,
  ) =>
    `${p.text("animal")} has gained less than expected of it, most likely since ${p.text("since")} (as judged on ${p.text("day")}; evidence ${p.number("ratio", 3)}, a flag from ${p.number("limit", 3)}).`,
  "change-weak": (
    p: Given<{
      animal: string;
      day: string;
      ratio: number | null;
      limit: number | null;
      since: string | null;
      earliest: string | null;
      latest: string | null;
    }>,
  ) =>
    `No flag stands for a slowed gain of ${p.text("animal")} (as judged on ${p.text("day")}: evidence ${p.number("ratio", 3)}, a flag from ${p.number("limit", 3)}). Were there a change, it would most likely have begun on ${p.text("since")}. Evidence this weak also comes about in animals without trouble.`,
  "change-none": (
    p: Given<{
      animal: string;
      day: string;
      since?: string | null;
      earliest?: string | null;
      latest?: string | null;
      ratio?: number | null;
      limit?: number | null;
    }>,
  ) =>
    `The weighings of ${p.text("animal")} up to ${p.text("day")} show no slowing of its gain against what was expected of it.`,
  "change-interval": (
    p: Given<{
      earliest: string | null;
      latest: string | null;
      looks: number;
      held: number;
      lowest: number;
      since: string | null;
      missing?: number | null;
      se?: number | null;
      ratio?: number | null;
      limit: number | null;
      day: string;
    }>,
  ) =>
    `The records leave open any day from ${p.text("earliest")} to ${p.text("latest")} (90 % interval; in ${p.count("looks", "look")} at simulated animals whose gain was halved on a known day it held that day in ${p.text("held")} of 100, in ${p.text("lowest")} where it did worst).`,
  "change-fast": (p: Given<{ from: string; to: string | null }>) =>
    `Its post-weaning fast began on ${p.text("from")}${p.raw("to") === null ? " and has not ended by the records" : ` and ended on ${p.text("to")}`}: loss is expected in it, so a change that lies there is no trouble by itself, and the grams missing since then are the fast's too.`,
  "change-not-computed": (p: Given<{ animal: string }>) =>
    `Since when cannot be told for ${p.text("animal")}: its weighings of the last week could not be judged (an animal is judged from its second weighing after the arrival phase on, and not in its post-weaning fast).`,
  "real-scale-not-named": (p: Given<{ n: number }>) =>
    `Cannot be told, because no scale is named for the ${p.count("n", "weighing")} of these days.`,
  "real-scale-failed": (
    p: Given<{
      shortfall: number | null;
      since: string | null;
      explained: number;
      scale: string;
      failed: number;
      checks: number;
      last: number;
      off: number;
      low: boolean;
      known: number;
      offPct: number;
      allowed: number;
      first: number;
      mass: number | null;
      massDay: string;
      corrected: number;
      n: number;
    }>,
  ) => {
    const shortfall = p.raw("shortfall");
    const explained = p.raw("explained");
    const part =
      typeof shortfall === "number" &&
      shortfall > 0 &&
      typeof explained === "number" &&
      explained > 0
        ? ` About ${p.number("shortfall", 2)} g are missing since ${p.text("since")}: ${explained >= 0.8 * shortfall ? "the scale accounts for all or nearly all of it" : explained >= 0.2 * shortfall ? "the scale accounts for a part of it only" : "the scale accounts for little of it"}.`
        : "";
    return `Scale ${p.text("scale")} failed ${p.text("failed")} of ${p.text("checks")} known-weight checks: on ${p.instant("last")} it read ${p.number("off", 3)} g too ${p.raw("low") === true ? "low" : "high"} at ${p.number("known")} g (${p.number("offPct", 2)} %; ${p.number("allowed", 3)} g allowed); first failed on ${p.instant("first")}. With the same share of error at the check nearest in time, its ${p.number("mass")} g of ${p.text("massDay")} would be about ${p.number("corrected")} g.${part} No record is changed: weigh it on a scale that was checked today.`;
  },
  "real-scale-passed": (
    p: Given<{
      scale: string;
      n: number;
      checks: number;
      worst: number;
      known: number;
      allowed: number;
      last: number;
    }>,
  ) =>
    `Scale ${p.text("scale")} (${p.count("n", "weighing")}) passed all ${p.text("checks")} known-weight checks of these days: the largest error was ${p.number("worst", 3)} g at ${p.number("known")} g, ${p.number("allowed", 3)} g allowed; last checked ${p.instant("last")}.`,
  "real-scale-unchecked": (
    p: Given<{ scale: string; n: number; last: number | null; ago: number | null }>,
  ) =>
    `Cannot be told for scale ${p.text("scale")} (${p.count("n", "weighing")}), because ${p.raw("last") === null ? "it was never checked with a known weight" : `it was not checked with a known weight in these days (last ${p.instant("last")}, ${p.count("ago", "day")} before the end of this day)`}.`,
  "real-scale-alone": (p: Given<{ scale: string }>) =>
    `No other animal was weighed on ${p.text("scale")} on three or more of these days, so others cannot tell.`,
  "real-scale-others-slow": (
    p: Given<{ count: number; n: number; scale: string; slow: readonly string[] }>,
  ) =>
    `${p.text("count")} of ${p.text("n")} other animals weighed on ${p.text("scale")} slowed in the same days (${p.list("slow")}): look for one cause. The scale is one candidate; formula, illness, heat or water and routine are others.`,
  "real-scale-others-not-slow": (
    p: Given<{ n: number; scale: string; others: readonly string[] }>,
  ) =>
    `None of the ${p.text("n")} other animals weighed on ${p.text("scale")} in these days (${p.list("others")}) is flagged for a slowed gain; a scale that drifts would slow them too.`,
  "real-scale-moved": (
    p: Given<{ before: string; after: string; day: string; away: number | null; later: boolean }>,
  ) =>
    `It moved from scale ${p.text("before")} to ${p.text("after")} on ${p.text("day")}${p.raw("away") === null ? "" : `, ${p.count("away", "day")} ${p.raw("later") === true ? "after" : "before"} the most likely day of the change`}: from there on its mass rests on another scale.`,
  "real-scales-disagree": (
    p: Given<{ first: string; second: string; mean: number; n: number; se: number }>,
  ) =>
    `Scales ${p.text("first")} and ${p.text("second")} disagree on the same animals: ${p.estimate("mean", "se", "%")} over ${p.count("n", "pair")} within 3 hours.`,
  "real-scales-agree": (
    p: Given<{ first: string; second: string; mean: number; n: number; se: number; few: boolean }>,
  ) =>
    `Scales ${p.text("first")} and ${p.text("second")} on the same animals within 3 hours: ${p.estimate("mean", "se", "%")} apart over ${p.count("n", "pair")}${p.raw("few") === true ? ", too few to conclude from" : ""}.`,
  "real-scales-not-compared": () =>
    "No animal was weighed on two scales within 3 hours in these days, so no two scales can be compared.",
  "real-coat-not-told": (
    p: Given<{ notTold: number; weighings: number; told: number; dampOrWet: number }>,
  ) =>
    `Cannot be told, because the coat is not written for ${p.text("notTold")} of the ${p.count("weighings", "weighing")}. A wet coat adds some per cent.`,
  "real-coat-dry": (
    p: Given<{ told: number; weighings: number; notTold: number; dampOrWet: number }>,
  ) =>
    `${p.raw("told") === 1 ? "The one weighing with a coat written was" : `All ${p.number("told")} weighings with a coat written were`} of a dry one (${p.count("weighings", "weighing")}).`,
  "real-coat-no-rest": (
    p: Given<{ left: number; kept: number; weighings: number; notTold: number }>,
  ) =>
    `Cannot be told, because without the ${p.count("left", "damp or wet weighing")} too few are left (${p.text("kept")}).`,
  "real-coat-does-not-move": (p: Given<CoatGiven>) =>
    `${p.text("dampOrWet")} of ${p.count("told", "weighing")} ${p.agree("dampOrWet", "was", "were")} damp or wet. Without them the gain over these days is ${p.amount("rest", "g/d")}, with them ${p.amount("all", "g/d")}: they do not make it slow.`,
  "real-coat-moves": (p: Given<CoatGiven>) =>
    `${p.text("dampOrWet")} of ${p.count("told", "weighing")} ${p.agree("dampOrWet", "was", "were")} damp or wet. Without them the gain over these days is ${p.amount("rest", "g/d")}, with them ${p.amount("all", "g/d")}: a good part of the slowing is the coat.`,
  "real-meal-not-told": (
    p: Given<{
      notTold: number;
      weighings: number;
      early: number | null;
      late: number | null;
      feed: number | null;
      share: number | null;
      hours: number;
      afterMeal: number;
      hoursSinceFeedEarly: number | null;
      hoursSinceFeedLate: number | null;
      usualFeedG: number | null;
      told: number;
    }>,
  ) =>
    `Cannot be told, because before or after a meal is not written for ${p.text("notTold")} of the ${p.count("weighings", "weighing")}.`,
  "real-meal-before": (
    p: Given<{
      told: number;
      weighings: number;
      early: number | null;
      late: number | null;
      feed: number | null;
      share: number | null;
      hours: number;
      notTold: number;
      afterMeal: number;
      hoursSinceFeedEarly: number | null;
      hoursSinceFeedLate: number | null;
      usualFeedG: number | null;
    }>,
  ) =>
    `${p.raw("told") === 1 ? "The one weighing with a meal written was" : `All ${p.number("told")} weighings with a meal written were`} before it (${p.count("weighings", "weighing")}).`,
  "real-meal-hours": (
    p: Given<{
      early: number | null;
      late: number | null;
      hours: number;
      feed: number | null;
      share: number | null;
      weighings: number;
      notTold: number;
      afterMeal: number;
      hoursSinceFeedEarly: number | null;
      hoursSinceFeedLate: number | null;
      usualFeedG: number | null;
      told: number;
    }>,
  ) =>
    `Hours since the last recorded feed, median: ${p.number("early", 2)} h in the first half of these days, ${p.number("late", 2)} h in the second (${p.count("hours", "weighing")}). One feed is about ${p.number("feed", 3)} g, ${p.amount("share", "%")} of its mass.`,
  "real-meal-no-rest": (
    p: Given<
      Omit<MealGiven, "afterMeal" | "told" | "rest" | "all"> & { left: number; kept: number }
    >,
  ) =>
    `Cannot be told, because without the ${p.count("left", "weighing")} after a meal too few are left (${p.text("kept")}).`,
  "real-meal-does-not-move": (p: Given<MealGiven>) =>
    `${p.text("afterMeal")} of ${p.count("told", "weighing")} ${p.agree("afterMeal", "was", "were")} after a meal. Without them the gain over these days is ${p.amount("rest", "g/d")}, with them ${p.amount("all", "g/d")}: they do not make it slow.`,
  "real-meal-moves": (p: Given<MealGiven>) =>
    `${p.text("afterMeal")} of ${p.count("told", "weighing")} ${p.agree("afterMeal", "was", "were")} after a meal. Without them the gain over these days is ${p.amount("rest", "g/d")}, with them ${p.amount("all", "g/d")}: a good part of the slowing is the meal.`,
  "real-swap-suspected": (
    p: Given<{ mass: number | null; animal: string; at: number; other: string | null }>,
  ) =>
    `The ${p.number("mass")} g of ${p.text("animal")} at ${p.instant("at")} look like those of ${p.text("other")}; they stand for no day until somebody decides.`,
  "real-swap-nobody": () =>
    "No other animal of its species was in care on these days, so none of them can have been exchanged with it.",
  "real-swap-no-common-days": (p: Given<{ n: number; days: number }>) =>
    `Cannot be told, because it or the ${p.count("n", "other")} of its species have no course before the last ${p.count("days", "day")} or fewer than 2 weighings in them.`,
  "real-swap-fits-better": (
    p: Given<{
      days: number;
      animal: string;
      other: string;
      written: number;
      exchanged: number;
      weighings: number;
    }>,
  ) =>
    `The weighings of the last ${p.count("days", "day")} fit better if ${p.text("animal")} and ${p.text("other")} are exchanged (misfit ${p.number("written", 3)} as written, ${p.number("exchanged", 3)} exchanged): look at their marks before anything else.`,
  "real-swap-fits-worse": (
    p: Given<{
      n: number;
      other: string;
      difference: number;
      days: number;
      written: number;
      exchanged: number;
      weighings: number;
    }>,
  ) =>
    `No other animal's numbers fit better: of ${p.text("n")} compared, ${p.text("other")} comes nearest, ${p.number("difference", 2)} % different in mass (last ${p.count("days", "day")}, misfit ${p.number("written", 3)} as written, ${p.number("exchanged", 3)} exchanged; larger is worse).`,
  "real-found": (p: Given<{ found: readonly string[]; clear: readonly string[] }>) =>
    `Found in the records: ${p.list("found")}. Settle this first. It does not clear the animal: more than one thing can be true.`,
  "real-open": (p: Given<{ open: readonly string[]; clear: readonly string[] }>) =>
    `Nothing was found that would imitate a slow gain, but this cannot be told from the records: ${p.list("open")}.`,
  "real-nothing-found": (_: Given<{ clear: readonly string[] }>) =>
    "The records speak against scale, coat, meal and exchanged animals as the explanation. They cannot rule out what was not written down.",
  "real-looked-again": (p: Given<{ animal: string }>) =>
    `${p.text("animal")} is looked at after every weighing and is named at the first look that passes the threshold. The threshold is set for all looks together, so looking daily is paid for in the stated rate of false flags. A look on the next day is no second opinion, though: it rests on the same weighings but one. What would confirm it is a weighing on another scale, or a week that was told beforehand.`,
  "decisive-now": (p: Given<{ signals: readonly string[] }>) =>
    `Now, before any weighing: ${p.list("signals")} ${Array.isArray(p.raw("signals")) && (p.raw("signals") as readonly string[]).length > 1 ? "stand" : "stands"} as a danger rule today. Tell the veterinarian at once; nothing below is a reason to wait.`,
  "decisive-lighter": (p: Given<{ soon: number; soonDay: string; mass: number; day: string }>) =>
    `Under ${p.number("soon")} g on ${p.text("soonDay")}, or under ${p.number("mass")} g by ${p.text("day")}: less than its own course allows (lower 95 % limits). It would be getting worse; tell the veterinarian the same day.`,
  "decisive-heavier": (p: Given<{ mass: number; day: string; gain: number | null }>) =>
    `Above ${p.number("mass")} g by ${p.text("day")}: more than its own course allows (upper 95 % limit). The ${Number(p.raw("gain") ?? 0) < 0 ? "loss would have slowed or stopped" : "gain would have picked up"}.`,
  "decisive-losing": (p: Given<{ loss: number }>) =>
    `Its own course is a loss of ${p.amount("loss", "g/d")}, and is drawn only to be held against the next weighings. An animal that is losing mass is not watched for a week: the veterinarian decides now.`,
  "decisive-apart": (p: Given<DecisiveGiven>) =>
    `On ${p.text("day")} the two courses can first be told apart (80 % limits): up to ${p.number("ownHigh")} g speaks for its own course, from ${p.number("othersLow")} g for a gain like that of its contemporaries.`,
  "decisive-not-apart": (p: Given<DecisiveGiven>) =>
    `A week does not tell its own course from that of its contemporaries: on ${p.text("day")} its own reaches up to ${p.number("ownHigh")} g and theirs begins at ${p.number("othersLow")} g (80 % limits). One weighing in between decides nothing.`,
  "decisive-not-behind": (_: Given<{ own: number; others: number; faster: boolean }>) =>
    "Over its last days it gains no less than its contemporaries do: anything that is missing was lost earlier.",
  "decisive-flag-closes": (
    p: Given<{ mass: number; end: string; gain: number; day: string | null; days: number }>,
  ) =>
    `${p.number("mass")} g or more by ${p.text("end")} after an even gain (about ${p.amount("gain", "g/d")}, weighed daily): the flag from weighings would close by ${p.text("day")} (${p.count("days", "judged day")} well below its limit). A closed flag does not mean healthy.`,
  "decisive-flag-closes-anyway": (p: Given<{ gain: number | null; day: string }>) =>
    `Going on at ${p.amount("gain", "g/d")}, the flag from weighings would close on ${p.text("day")} by itself; that is no statement about its health.`,
  "decisive-flag-stays": (
    p: Given<{
      day: string;
      gain: number;
      mass: number;
      others: boolean;
      later: string | null;
      theirs: number | null;
    }>,
  ) =>
    `The flag from weighings cannot close by ${p.text("day")}: no gain up to ${p.amount("gain", "g/d")} (to ${p.number("mass")} g), the most that ${p.raw("others") === true ? "contemporaries' gains" : "its own course"} would allow, closes it, because it weighs the last six weeks. It would still be open if the animal recovered today; go by the masses above.${p.raw("later") === null ? "" : ` Gaining as its contemporaries do (${p.amount("theirs", "g/d")} now) and weighed daily, it would close about ${p.text("later")}.`} A closed flag does not mean healthy.`,
  "decisive-flag-by-rules": (p: Given<{ signals: readonly string[]; days: number }>) =>
    `The flag stands by rules (${p.list("signals")}), not by weighings: it closes after ${p.count("days", "day")} without any of them.`,
  "decisive-check": (
    p: Given<{
      scale: string;
      off: number;
      known: number;
      share: number;
      allowed: number;
      shortfall: number;
      last: number | null;
      lastOff: number | null;
      since: string | null;
    }>,
  ) =>
    `A known-weight check of scale ${p.text("scale")} that reads ${p.number("off", 3)} g or more too low at ${p.number("known")} g (${p.amount("share", "%")}; ${p.number("allowed", 3)} g allowed) would account for all of the about ${p.number("shortfall", 2)} g missing since ${p.text("since")}${p.raw("last") === null ? "; no check is on record" : `; the last check, ${p.instant("last")}, was ${p.number("lastOff", 3)} g off`}.`,
  "decisive-check-small": (
    p: Given<{
      scale: string;
      off: number;
      known: number;
      allowed: number;
      shortfall: number;
      last: number | null;
      lastOff: number | null;
      since: string | null;
    }>,
  ) =>
    `A known-weight check of scale ${p.text("scale")} that reads only ${p.number("off", 3)} g too low at ${p.number("known")} g, less than the ${p.number("allowed", 3)} g allowed, would account for all of the about ${p.number("shortfall", 2)} g missing since ${p.text("since")}: so little is missing${p.raw("last") === null ? "; no check is on record" : `; the last check, ${p.instant("last")}, was ${p.number("lastOff", 3)} g off`}.`,
  "decisive-second-scale": (p: Given<{ hours: number; difference: number; scale: string }>) =>
    `Weighed again on a second, checked scale within ${p.text("hours")} h, same coat and no feed between: a difference beyond ${p.number("difference", 3)} g is a disagreement of scales, not of the animal (scale ${p.text("scale")}).`,
  "decisive-intake": (
    p: Given<{
      planned: number | null;
      unit: string;
      eaten: number | null;
      share: number | null;
      days: number;
      least: number;
      day: string;
      gain: number;
      mass: number;
    }>,
  ) =>
    `If it eats what is ordered (${p.number("planned")} ${p.text("unit")} a day; eaten on the last full day ${p.number("eaten")} ${p.text("unit")}, ${p.amount("share", "%")}) and keeps it for ${p.count("days", "day")} of daily weighing and still gains less than ${p.amount("least", "g/d")} by ${p.text("day")}, where contemporaries gain ${p.amount("gain", "g/d")}: that points beyond what it eats (losses, illness, unrecorded feed, wrong diet values), for the veterinarian to look into.`,
  "decisive-intake-already": (
    p: Given<{
      eaten: number | null;
      planned: number | null;
      unit: string;
      share: number | null;
      days: number;
      least: number;
      day: string;
      gain: number;
      mass: number;
    }>,
  ) =>
    `It already eats what is ordered (${p.number("eaten")} of ${p.number("planned")} ${p.text("unit")}, ${p.amount("share", "%")}). ${p.text("days")} more days of daily weighing, eating as much, with less than ${p.amount("least", "g/d")} by ${p.text("day")}, where contemporaries gain ${p.amount("gain", "g/d")}, would point beyond what it eats (losses, illness, unrecorded feed, wrong diet values), or to an order below its need: both for the veterinarian.`,
  "decisive-intake-no-plan": (
    p: Given<{ days: number; least: number; day: string; gain: number; mass: number }>,
  ) =>
    `No order can be compared with what it ate. ${p.count("days", "day")} of daily weighing while it eats what the veterinarian orders, with less than ${p.amount("least", "g/d")} by ${p.text("day")} where contemporaries gain ${p.amount("gain", "g/d")}, would point beyond what it eats.`,
  "ask-scale-failed": (p: Given<{ scale: string; animal: string }>) =>
    `Scale ${p.text("scale")} failed its check: what does ${p.text("animal")} weigh today on a scale that was checked today?`,
  "ask-scale": () =>
    "Was each scale checked with a known weight today, and what does the animal weigh on a second one?",
  "ask-coat": () => "What does it weigh with a dry coat?",
  "ask-coat-open": () => "Was its coat dry at the weighings? It is not written.",
  "ask-meal": () => "What does it weigh before a feed, at the usual time?",
  "ask-meal-open": () => "How long after a feed was it weighed? It is not written.",
  "ask-swap": () => "Do its marks or tag match the name on the page?",
  "ask-swap-open": () => "Do its marks or tag match the name on the page? The records cannot tell.",
  "ask-intake": (
    p: Given<{
      own: number | null;
      expected: number | null;
      grams: number | null;
      rest: number | null;
    }>,
  ) =>
    `It kept about ${p.number("own", 3)} kcal/d (eaten less what came up) where its contemporaries at its size kept ${p.number("expected", 3)}: is it offered less, does it refuse, does it bring up, or can it not take it (mouth, suckle, swallowing, breathing while feeding, pain)?`,
  "ask-rest": (p: Given<RestGiven>) =>
    `It kept enough for its size by the records and about ${p.number("rest", 3)} g are missing all the same: stool and vomit (amount, look, when), hydration, signs of illness; and were all feeds, refusals and diet values written rightly?`,
  "ask-rest-too": (p: Given<RestGiven>) =>
    `What it kept does not cover it all: about ${p.number("rest", 3)} g remain. Stool and vomit (amount, look, when), hydration, signs of illness; and were all feeds, refusals and diet values written rightly?`,
  "ask-rest-maybe": (p: Given<RestGiven>) =>
    `What it kept may cover all that is missing, or leave up to about ${p.number("rest", 2)} g: stool and vomit (amount, look, when), hydration, signs of illness; and were all feeds, refusals and diet values written rightly?`,
  "ask-refusals": (p: Given<{ share: number | null }>) =>
    `It refused ${p.amount("share", "%")} of what was offered on the last full day: which feeds, at what temperature and by whom given?`,
  "ask-gut": (p: Given<{ kinds: readonly string[]; n: number; days: number; last: number }>) =>
    `${p.list("kinds")} written ${p.text("n")} times in ${p.count("days", "day")} (last ${p.instant("last")}): how long after which feeds, how much, and of what look?`,
  "ask-temperature": (
    p: Given<{
      low: number;
      high: number;
      n: number;
      of: number;
      days: number;
      lowest: number;
      highest: number;
    }>,
  ) =>
    `Temperature outside ${p.number("low", 3)} to ${p.number("high", 3)} °C in ${p.text("n")} of ${p.count("of", "reading")} of ${p.count("days", "day")} (${p.number("lowest", 3)} to ${p.number("highest", 3)} °C): what is it now, and taken how?`,
  "ask-temperature-not-taken": (p: Given<{ days: number }>) =>
    `No temperature was written in ${p.count("days", "day")}: what is it now?`,
  "ask-losing": (p: Given<{ gain: number; days: number }>) =>
    `It is losing mass (${p.amount("gain", "g/d")} over 7 days): hydration, glucose, gut fill, urine and stool now?`,
  "ask-time": (p: Given<{ from: string; to: string; what: readonly string[]; more: number }>) =>
    `Written within three days of when the change can have begun (${p.text("from")} to ${p.text("to")}): ${p.list("what")}${Number(p.raw("more") ?? 0) > 0 ? `, and ${p.text("more")} more` : ""}. Has any of it to do with the gain?`,
  "ask-others": (p: Given<{ others: readonly string[] }>) =>
    `${p.list("others")} ${Array.isArray(p.raw("others")) && (p.raw("others") as readonly string[]).length > 1 ? "are" : "is"} flagged for a slowed gain too: what do they share (batch, place, people, scale, water)?`,
  "ask-after-scale": () =>
    "Once it has been weighed on a checked scale: is anything still missing? The gain, the missing grams and the expected week on this page all rest on the masses as written.",
  "margin-not-known": (p: Given<{ animal: string; n: number }>) =>
    `What a gram of gain costs beyond maintenance cannot be told for ${p.text("animal")} (${p.text("n")} complete stretches of other animals, or nothing known of what it kept).`,
  "ask-always": () =>
    "What does the examination show that no page holds: behaviour, condition, mouth, lungs, belly, fur and skin, hydration?",
  "missing-grams-rest": () =>
    "gain different from what was kept for: conversion, losses (vomit, stool), illness, unrecorded feed and wrong diet values are all candidates; the records cannot split it",
  "missing-grams-caption": () =>
    "A negative number means more than theirs, not less. Illness lowers what is eaten and kept too: a shortfall of it (part 1) is no cause and does not clear the gut. Part 1 is priced twice, because nobody knows how much of a missing kcal the body saves; part 2 is what remains each time.",
  "short-week": (
    p: Given<{
      day: string;
      own: number;
      low: number;
      high: number;
      others: number | null;
      othersLow: number | null;
      othersHigh: number | null;
    }>,
  ) =>
    `By ${p.text("day")}: about ${p.interval("own", "low", "high", "g")} if it goes on as it has of late${p.raw("others") === null ? "" : `; ${p.interval("others", "othersLow", "othersHigh", "g")} if it gains as its contemporaries do`}.`,
  "analysis-day-beyond-records": (p: Given<{ end: number; day: string; days: number }>) =>
    `The records end at ${p.instant("end")}: ${p.text("day")} lies ${p.number("days", 9)} ${p.raw("days") === 1 ? "day" : "days"} beyond them, and nothing is known of that time.`,
  "analysis-rows-after-clock": (p: Given<{ rows: number; where: readonly string[] }>) =>
    `${p.number("rows", 9)} ${p.raw("rows") === 1 ? "row is" : "rows are"} dated after this computer's clock and not used for this day: check the dates (${p.list("where")}${Number(p.raw("rows")) > (p.raw("where")?.length ?? 0) ? " and more" : ""}).`,
  "analysis-records-old": (p: Given<{ end: number }>) =>
    `These records end at ${p.instant("end")}, long before today: the page tells how things stood then, and nothing of now.`,
  "analysis-clock-behind": (p: Given<{ rows: number }>) =>
    `${p.count("rows", "row")}, most of the records, are dated after this computer's clock: the clock was not used; check it.`,
} satisfies Readonly<Record<string, Sentence>>;
