import type { Given, GivenAmong, Rounded, Sentence } from "../wording.js";

/** Between which ages, or else which masses, gains are compared. */
export interface WindowGiven {
  readonly fromAgeD?: number;
  readonly toAgeD?: number;
  readonly fromMassG?: number;
  readonly toMassG?: number;
}

/** A season against the earlier ones; a positive difference means that it gained more. */
export interface AskedGiven {
  readonly season: string;
  readonly earlier: readonly string[];
  readonly n: number;
  readonly nEarlier: number;
  readonly difference: number;
  readonly lower: number;
  readonly upper: number;
  readonly detectable: number | null;
  /** Animals are still to come through the window: a stricter limit decides. */
  readonly interim: boolean;
}

// What sentences of one family are given.
type ProtocolGiven = {
  difference: number;
  mass: number;
  grams: number;
  level: number;
  lower: number | null;
  upper: number | null;
  n: number;
  controls: number;
};

/** Sentences of the `seasons` room, by notice code. */
export const seasonMessages = {
  // Who cannot be used in a comparison.
  "season-age-unusable": (p: Given<WindowGiven & { animal: string }>) =>
    `${p.text("animal")}: its age is unknown or was estimated from its mass, so no gain over ages is taken.`,
  "season-not-written": (p: Given<{ animal: string }>) =>
    `${p.text("animal")} has no season in the table of animals.`,
  "season-no-weighings": (p: Given<WindowGiven & { animal: string }>) =>
    `${p.text("animal")} has no weighing that can be used.`,
  "season-arrived-late": (p: Given<WindowGiven & { animal: string }>) =>
    `${p.text("animal")} arrived after the window (${windowText(p)}) had begun.`,
  "season-arrived-heavy": (p: Given<WindowGiven & { animal: string }>) =>
    `${p.text("animal")} was heavier at arrival than the window (${windowText(p)}) begins.`,
  "season-gap-at-start": (p: Given<WindowGiven & { animal: string }>) =>
    `${p.text("animal")} was not weighed near the beginning of the window (${windowText(p)}).`,
  "season-died-before-end": (p: Given<WindowGiven & { animal: string }>) =>
    `${p.text("animal")} died before the window (${windowText(p)}) ended: seasons are compared among animals that lived through it.`,
  "season-left-before-end": (p: Given<WindowGiven & { animal: string }>) =>
    `${p.text("animal")} left, or is not yet through the window (${windowText(p)}).`,
  "season-few-weighings": (p: Given<WindowGiven & { animal: string; n: number; needed: number }>) =>
    `${p.text("animal")} has ${p.count("n", "weighed day")} in the window; ${p.number("needed")} are needed.`,

  // What is compared, and how.
  "season-estimand": (
    p: Given<WindowGiven & { species: string; mass: number; adjusted: readonly string[] }>,
  ) =>
    `Compared is the mean gain of ${p.text("species")}s over ${windowText(p)}, in g/d, at a common arrival mass of ${p.number("mass")} g${p.list("adjusted") === "arrival mass" ? "" : ` (adjusted for: ${p.list("adjusted")})`}. This was settled before the gains were looked at.`,
  "season-unadjusted": (p: Given<{ species: string }>) =>
    `There are too few animals to adjust for arrival: plain means of the ${p.text("species")}s are compared.`,
  "season-adjustment-dropped": (p: Given<{ adjustment: string; why: string }>) =>
    `Not adjusted for ${p.text("adjustment")}: ${p.text("why")}.`,
  "season-too-few": (p: Given<{ season: string; n: number }>) =>
    `Season ${p.text("season")} has ${animals(p.raw("n"))} with a complete window; a comparison needs at least 3 in each.`,
  "season-mass-window": () =>
    `The window is one of masses: slow animals spend longer in it and the slowest never leave it, so a difference is seen smaller than it is.`,
  "season-curves-picture": () =>
    `The curves show where seasons part; intervals hold at each age by itself. Whether they differ is decided on the gains, not here.`,
  "season-survivors-only": (p: Given<{ died: number }>) =>
    `Not in the comparison because of death before the window ended: ${animals(p.raw("died"))}. A season that loses its weakest looks better than it was.`,
  "season-birth-range": (p: Given<{ n: number }>) =>
    `Birth range over 3 days: ${animals(p.raw("n"))}. The comparison was also made with every birth at its earliest and at its latest; the widest interval is shown.`,

  // The answer.
  "season-differs": (
    p: Given<{
      to: string;
      size: number;
      more: boolean;
      from: string;
      level: number;
      lower: number | null;
      upper: number | null;
      p: number;
      inHundred: number;
    }>,
  ) =>
    `${p.text("to")} gained ${apart(p, "size").value} g/d ${p.raw("more") === true ? "more" : "less"} than ${p.text("from")} (${percent(p.raw("level"))} interval ${apart(p, "size").range} g/d, p ${pText(p.raw("p"))}). If the two groups had grown alike, a difference at least this large would arise by chance about ${p.number("inHundred", 2)} times in a hundred.`,
  "season-not-shown": (
    p: Given<{
      from: string;
      to: string;
      difference: number;
      lower: number | null;
      upper: number | null;
      level: number;
    }>,
  ) =>
    `No difference between ${p.text("from")} and ${p.text("to")} is shown: the estimate is ${apart(p, "difference").value} g/d, but anything from ${apart(p, "difference").range} g/d fits the data. That is not proof that they grew alike.`,
  "season-not-shown-corrected": (
    p: Given<{
      from: string;
      to: string;
      difference: number;
      lower: number | null;
      upper: number | null;
      level: number;
      p: number;
      adjustedP: number;
      interim: boolean;
    }>,
  ) =>
    p.raw("interim")
      ? `Between ${p.text("from")} and ${p.text("to")} the interval by itself leaves out 0 (${apart(p, "difference").value} g/d, ${apart(p, "difference").range}; p ${pText(p.raw("adjustedP"))}), but animals are still to come through the window: until then the stricter limit for looking early decides (p below 0.001), and with it no difference is shown.`
      : `Between ${p.text("from")} and ${p.text("to")} the interval by itself leaves out 0 (${apart(p, "difference").value} g/d, ${apart(p, "difference").range}; p ${pText(p.raw("p"))}), but several pairs were asked about at once, and one of them would show such an interval by chance: Holm's correction decides (p ${pText(p.raw("adjustedP"))}), and with it no difference is shown.`,
  "season-asked-differs": (p: Given<AskedGiven>) =>
    `${p.text("season")} gained ${sizeText(apart(p, "difference").value)} g/d ${p.raw("difference") > 0 ? "more" : "less"} than the seasons before it (difference ${apart(p, "difference").range}): ${p.count("n", "animal")} against ${p.number("nEarlier")} of ${p.list("earlier")}.`,
  "season-asked-not-separated": (
    p: Given<AskedGiven & { plain: number; plainLower: number | null; plainUpper: number | null }>,
  ) => {
    const plain = p.rounded("plain", "plainLower", "plainUpper", "g/d");
    return `Whether ${p.text("season")} grew differently from the seasons before it cannot be separated from arrival: as the animals are, ${plain.value} g/d (${plain.range}); at the same arrival ${apart(p, "difference").value} g/d (${apart(p, "difference").range}), ${p.count("n", "animal")} against ${p.number("nEarlier")} of ${p.list("earlier")}.`;
  },
  "season-asked-not-shown": (p: Given<AskedGiven>) =>
    `It is not shown that ${p.text("season")} grew differently from the seasons before it: ${apart(p, "difference").value} g/d (${apart(p, "difference").range}), ${p.count("n", "animal")} against ${p.number("nEarlier")} of ${p.list("earlier")}.`,
  // What the answer hangs on stands beneath it, a sentence each.
  "season-asked-not-proof": () => "That is not proof that they grew alike.",
  "season-asked-interim": () =>
    "Animals are still to come through the window; until then only a difference far beyond chance is called one.",
  "season-asked-detectable": (p: Given<{ difference: number }>) =>
    `With these animals a true difference of ${p.amount("difference", "g/d")} would have been found four times in five.`,
  "season-window-shared": (
    p: Given<{
      species: string;
      usualFrom: number;
      usualTo: number;
      fromAgeD: number;
      toAgeD: number;
    }>,
  ) =>
    `No ${p.text("species")} of this study was weighed over the usual ages (${p.number("usualFrom")} to ${p.number("usualTo")} days), so gains are compared from ${p.number("fromAgeD")} to ${p.number("toAgeD")} days of age, which three in four animals share. That was settled from ages alone, before any gain was looked at.`,
  "season-not-separated": (
    p: Given<{
      from: string;
      to: string;
      plain: number;
      plainLower: number | null;
      plainUpper: number | null;
      plainP: number;
      difference: number;
      lower: number | null;
      upper: number | null;
      p: number;
    }>,
  ) => {
    const plain = p.rounded("plain", "plainLower", "plainUpper", "g/d");
    return `${p.text("from")} and ${p.text("to")} cannot be separated from their arrivals. Without regard to arrival the difference is ${plain.value} g/d (${plain.range}, p ${pText(p.raw("plainP"))}), more than chance; with what arrival may do to gain it is ${apart(p, "difference").value} g/d (${apart(p, "difference").range}, p ${pText(p.raw("p"))}). Both are shown because these animals cannot tell which holds.`;
  },
  "season-arrival-nearly-season": (
    p: Given<{
      from: string;
      to: string;
      bias: number;
      /** Prior files that tell what arrival does, and their animals; 0: none. */
      nurseries: number;
      animals: number;
      /** What they say of a day later, %, its spread, and how far it was followed, %. */
      perDay: number;
      sd: number;
      share: number;
      freely: number;
      lower: number | null;
      upper: number | null;
    }>,
  ) =>
    `Arrival nearly tells ${p.text("from")} from ${p.text("to")}. What arrival does to gain is estimated from the animals of all seasons and taken to be at most 1 % for a day later (common sense, measured nowhere)${priorOfArrival(p)}; that may still have moved the difference by ${p.amount("bias", "g/d")}, which interval and p allow for. With any effect of arrival allowed, ${apart(p, "freely").value} g/d (${apart(p, "freely").range}).`,
  "season-interim": (p: Given<{ seasons: readonly string[]; n: number }>) =>
    `Still to come through the window in ${p.list("seasons")}: ${animals(p.raw("n"))}. Until then a difference is called one only where p is below 0.001, so that looking again each week does not make chance look like a difference; the look that counts is the one when the season is complete.`,
  "season-not-shown-several": (p: Given<{ pairs: readonly string[] }>) =>
    `No difference is shown between ${p.list("pairs")}; the table says for each what fits the data. That is not proof that they grew alike.`,
  "season-equivalent": (
    p: Given<{
      from: string;
      to: string;
      margin: number;
      difference: number;
      level: number;
      lower: number | null;
      upper: number | null;
    }>,
  ) =>
    `${p.text("from")} and ${p.text("to")} grew alike within ${p.amount("margin", "g/d")}, the margin set beforehand (difference ${apart(p, "difference").value} g/d, ${percent(p.raw("level"))} interval for equivalence ${apart(p, "difference").range} g/d).`,
  "season-differs-but-small": (p: Given<{ from: string; to: string; margin: number }>) =>
    `The difference between ${p.text("from")} and ${p.text("to")} is real for these animals, and smaller than the margin of ${p.amount("margin", "g/d")} set beforehand.`,
  "season-detectable": (p: Given<{ na: number; nb: number; sd: number; difference: number }>) =>
    `With ${p.number("na")} and ${p.count("nb", "animal")} that vary by ${p.amount("sd", "g/d")}, only a true difference of about ${p.amount("difference", "g/d")} or more would have been found four times in five.`,
  "season-animals-needed": (
    p: Given<{ animals: number | null; difference: number; most: number }>,
  ) =>
    p.raw("animals") === null
      ? `To find a difference of ${p.amount("difference", "g/d")} four times in five, even ${p.count("most", "animal")} a season would not do.`
      : `To find a difference of ${p.amount("difference", "g/d")} four times in five, about ${p.count("animals", "animal")} a season would be needed.`,
  "season-checks-disagree": (
    p: Given<{
      from: string;
      to: string;
      p: number;
      welch: number | null;
      permutation: number | null;
    }>,
  ) =>
    `The checks on ${p.text("from")} and ${p.text("to")} do not agree (p of the model ${pText(p.raw("p"))}, Welch ${pText(p.raw("welch"))}, reordering ${pText(p.raw("permutation"))}): read the answer as uncertain.`,
  "season-slopes-differ": (p: Given<{ p: number }>) =>
    `Gain may depend on arrival mass differently from season to season (p ${pText(p.raw("p"))}): the difference holds at the mean arrival mass and may be another for light or heavy arrivals. This was not used to choose the model.`,

  // What it means.
  "season-other-explanations": (p: Given<{ from: string; to: string }>) =>
    `What else could explain a difference between ${p.text("from")} and ${p.text("to")}: other staff, another mix of arrivals, weather, illness, lots of a diet. The records cannot tell these apart.`,
  "season-is-the-unit": () =>
    `The intervals here are about these animals: did the two groups grow differently? For the question whether a protocol is better, the season is the unit, not the animal.`,
  "season-protocol-confounded": (p: Given<{ season: string; what: string }>) =>
    `The protocol changed with season ${p.text("season")} (${p.text("what")}). With one season under it, protocol cannot be told from season. No cause is claimed.`,
  "season-past-spread": (
    p: Given<{
      upper: number | null;
      difference: number;
      n: number;
      sd: number;
      level: number;
      lower: number | null;
    }>,
  ) =>
    p.raw("upper") === null
      ? `How much seasons differ by themselves, two seasons can hardly tell. Set the difference of ${p.amount("difference", "g/d")} beside seasons still to come.`
      : `Seasons differ by themselves: ${p.count("n", "season")} spread by ${apart(p, "sd").value} g/d (${percent(p.raw("level"))} interval ${apart(p, "sd").range}) about their mean, beyond what chance among animals explains. Set the difference of ${p.amount("difference", "g/d")} beside that.`,
  "season-against-past": (
    p: Given<{
      season: string;
      past: readonly string[];
      difference: number;
      lower: number;
      upper: number;
      p: number;
      df: number;
    }>,
  ) =>
    `${p.text("season")} against ${p.list("past")}, each season counted once: ${p.amount("difference", "g/d")} from their mean; an ordinary further season would have a mean gain between ${p.amount("lower", "g/d")} and ${p.amount("upper", "g/d")} (p ${pText(p.raw("p"))}, degrees of freedom ${p.number("df")}).`,
  "season-no-past": () =>
    `There are fewer than two other seasons to show how much seasons differ by themselves, so the difference cannot be set beside an ordinary one.`,

  // Summaries.
  "season-summary-few": (p: Given<{ group: string; n: number }>) =>
    `${p.text("group")} has ${p.count("n", "animal")}: means of so few say little.`,

  "season-no-conversion": (_: Given<{ phase: string; n: number }>) =>
    `Energy per gain is not computed: the phase has no 14-day window in which everything kept is known and mass was gained.`,

  // A change inside a season.
  "protocol-change-effect": (p: Given<ProtocolGiven>) =>
    `After that day gain moved by ${relative(p).value} %/d more than in animals of the same age without it, which at their mean mass of ${p.number("mass")} g is ${p.amount("grams", "g/d")} (${changeText(p)}).`,
  "protocol-change-not-shown": (p: Given<ProtocolGiven>) =>
    `No change beyond what age does by itself is shown: the estimate is ${relative(p).value} %/d, at their mean mass of ${p.number("mass")} g about ${p.amount("grams", "g/d")} (${changeText(p)}). That is not proof that nothing changed.`,
  "protocol-change-no-controls": (_: Given<{ n: number }>) =>
    `No animals of the same age without the change are at hand, so a change with age cannot be told from the effect of the change.`,
  "protocol-change-too-few": (p: Given<{ n: number }>) =>
    `Weighed often enough on both sides of the change: ${animals(p.raw("n"))}; at least 3 are needed.`,
  "protocol-change-same-day": () =>
    `Whatever else changed about that day moves the gain just as well. No cause is claimed.`,

  // Milestones.
  "milestone-age-unusable": (p: Given<{ animal: string }>) =>
    `${p.text("animal")}: its age is unknown or was estimated from its mass, so it is not placed on the scale of ages.`,
  "milestone-no-start": (p: Given<{ animal: string }>) =>
    `${p.text("animal")}: neither a birth date nor an admission to count from.`,
  "milestone-never-looked": (p: Given<{ animal: string; milestone: string }>) =>
    `${p.text("animal")}: nobody wrote whether "${p.text("milestone")}" had come.`,
  "milestone-past-at-admission": (p: Given<{ animal: string; milestone: string }>) =>
    `${p.text("animal")} had reached "${p.text("milestone")}" when it arrived; animals like it were not watched reaching it, so it is left out.`,
  "milestone-not-yet-after-seen": (p: Given<{ animal: string; milestone: string }>) =>
    `${p.text("animal")}: "${p.text("milestone")}" is written as seen and later as not yet; the first sighting is used.`,
  "milestone-none-seen": (
    p: Given<{ milestone: string; species: string; n: number; events: number }>,
  ) => `Nobody was seen to reach "${p.text("milestone")}".`,
  "milestone-few-events": (
    p: Given<{ events: number; milestone: string; needed: number; species: string; n: number }>,
  ) =>
    `${animals(p.raw("events"))} reached "${p.text("milestone")}"; ${p.number("needed")} are needed for a model with covariates, so none is fitted.`,
  "milestone-median": (
    p: Given<{
      events: number;
      n: number;
      exact: boolean;
      from: number | null;
      to: number | null;
      low: number | null;
      high: number | null;
      level: number;
      milestone: string;
      species: string;
    }>,
  ) =>
    `${medianText(p)} (${p.number("events")} seen of ${p.number("n")})${p.raw("exact") === true ? "." : "; looks are days apart, so no animal's own day is known."}${spanText(p)}`,
  "milestone-early-risk": (p: Given<{ day: number; few: number }>) =>
    `Before day ${p.number("day", 3)} fewer than ${p.count("few", "animal")} ${p.agree("few", "was", "were")} under observation: the early part of the curve rests on them.`,
  "milestone-no-maximum": () =>
    `Everybody under observation had reached it before others arrived, so the early part of the curve is not settled by these data.`,
  "milestone-competing": (p: Given<{ died: number; left: number }>) =>
    `Before it was seen ${goneText(p)}. Each is counted as such: taking it as merely not yet seen would overstate how many reach it.`,
  "milestone-groups-differ": (p: Given<{ p: number }>) =>
    `Groups reach it at different times (log-rank p ${pText(p.raw("p"))}).`,
  "milestone-groups-not-shown": (p: Given<{ p: number }>) =>
    `No difference between the groups is shown (log-rank p ${pText(p.raw("p"))}).`,
  "milestone-tests-disagree": (p: Given<{ looks: number; p: number }>) =>
    `Taken from the looks themselves the comparison comes out otherwise (p ${pText(p.raw("looks"))} against ${pText(p.raw("p"))} with each milestone at the middle of its looks): read it as uncertain.`,
  "milestone-looks-say-nothing": (p: Given<{ p: number }>) =>
    `At the middle of the looks the groups differ (p ${pText(p.raw("p"))}), but the looks themselves allow the same times in all groups: the difference may come only from when was looked.`,
  "milestone-otter-release-context": () =>
    `Context, common practice without a source: sea otter pups rescued younger than about six months are usually judged non-releasable, though pups reared by surrogate mothers have been released. The authority decides.`,

  // Captions of tables.
  "season-table-summary": (p: Given<{ by: string; species?: string }>) =>
    `${p.raw("by") === "season" ? "Seasons" : `Groups by ${p.text("by")}`} in numbers${p.raw("species") === undefined ? "" : `, ${p.text("species")}`}: mean with standard deviation with n. Gains by phase are each animal's own slope over that phase; the dip is the deepest loss in the first ten days.`,
  "season-table-curves": (p: Given<{ species: string; mass: number | null; age: number | null }>) =>
    `Mass of a typical ${p.text("species")} by season${arrivalText(p)}, with the 95 % interval at each age by itself.`,
  "season-table-curve-differences": (
    p: Given<{ species: string; mass: number | null; age: number | null }>,
  ) =>
    `How much heavier the first-named season's typical ${p.text("species")} is than the second's${arrivalText(p)}, with the 95 % interval at each age by itself. Shown, not decided upon: the decision rests on the gains.`,
  "season-table-no-curves": () =>
    `There are not two seasons with three animals each, so no curves are drawn.`,
  "season-table-no-pair": () => `There is no pair of seasons with animals enough.`,
  "season-table-checks": (p: Given<{ freedom: string | null }>) =>
    `Checks of each difference (second minus first, g/d); the decision rests on none of them. Mixed model: all daily masses, each animal with its own level and gain${p.raw("freedom") === null ? "" : `, ${p.text("freedom")} degrees of freedom`}. Welch and Hedges' g: without adjustment. Reordering (Freedman-Lane) and bootstrap-t: without a normal curve. Detectable: the true difference found four times in five with these animals, by simulation.`,
  "season-table-slopes": (
    p: Given<{ f: number | null; df1: number | null; df2: number | null; p: number | null }>,
  ) =>
    `Does gain depend on arrival mass differently from season to season?${p.raw("f") === null ? "" : ` Test of equal slopes: F ${p.number("f", 3)} on ${p.number("df1")} and ${p.number("df2")} degrees of freedom, p ${pText(p.raw("p"))}.`} This is shown in every comparison and was not used to choose the model, whatever came out.`,
  "season-table-no-slopes": () =>
    `Arrival mass is not in the model, or too few animals remain to look at its slopes.`,
  "season-table-change": (p: Given<{ days: number; controls: number; expected: string }>) =>
    `Relative gain in the ${p.count("days", "day")} before and after the day asked about. Animals of the same ages that were not in care then (${p.number("controls")} of them) changed by ${p.text("expected")} %/d from one such stretch to the next; what is beyond that belongs to that day.`,
  "season-table-no-change": () => `No animal was weighed often enough on both sides of that day.`,
  "milestone-table-compared": (p: Given<{ species: string }>) =>
    `Milestones of ${p.text("species")}s compared. Mean days without it: area under the Kaplan-Meier curve up to the day named (each milestone at the middle of its looks). Shares at the end with death and leaving counted as what they are (Aalen-Johansen). p between looks takes only what the looks tell. Hazard ratio (Cox, Efron's ties, late entry) above 1: reached sooner; under 10 sightings no model is fitted. The p of either test and the ratio are not adjusted for the number of milestones; the last p is that of the first test, adjusted (Holm).`,
  "milestone-table-groups": (p: Given<{ species: string }>) =>
    `How many ${p.text("species")}s of each group were seen to reach a milestone, and how many would have been if the groups were alike.`,

  // Folds of the seasons page.
  "season-fold-words": () => "How this was decided, in words",
  "season-fold-words-about": () => "pairs of seasons, what could be found, tests",
  "season-fold-numbers": () => "The numbers behind it",
  "season-fold-pairs": () => "Every pair of seasons",
  "season-fold-checks": () => "Checks",
  "season-fold-slopes": () => "Gain by arrival mass",
  "season-fold-milestones": () => "Milestones compared",
  "milestone-table-none": () => `No milestone is recorded.`,
} satisfies Readonly<Record<string, Sentence>>;

function arrivalText(p: GivenAmong<{ mass: number | null; age: number | null }>): string {
  if (p.raw("mass") === null) return "";
  const age = p.raw("age") === null ? "" : ` and an arrival age of ${p.count("age", "day")}`;
  return `, at an arrival mass of ${p.number("mass")} g${age}`;
}

/** A difference of gains in g/d and its interval, or another estimate with the same ends. */
function apart<N extends string>(
  p: { rounded(name: N, lower: "lower", upper: "upper", unit: string): Rounded },
  name: N,
): Rounded {
  return p.rounded(name, "lower", "upper", "g/d");
}

const relative = (p: GivenAmong<ProtocolGiven>): Rounded =>
  p.rounded("difference", "lower", "upper", "%/d");

const sizeText = (signed: string) => signed.replace(/^−/, "");

function changeText(p: GivenAmong<ProtocolGiven>): string {
  return `${percent(p.raw("level"))} interval ${relative(p).range} %/d, ${p.count("n", "animal")} against ${p.number("controls")}`;
}

function windowText(p: GivenAmong<WindowGiven>): string {
  return p.raw("fromAgeD") === undefined
    ? `masses ${p.number("fromMassG")} to ${p.number("toMassG")} g`
    : `ages ${p.number("fromAgeD")} to ${p.number("toAgeD")} d`;
}

function medianText(
  p: GivenAmong<{ species: string; milestone: string; from: number | null; to: number | null }>,
): string {
  const half = `Half of the ${p.text("species")}s had reached "${p.text("milestone")}"`;
  const from = p.number("from", 3);
  const to = p.number("to", 3);
  if (p.raw("to") === null) return `${half} by no day that these looks can name`;
  return from === to ? `${half} at about ${from} d` : `${half} between ${from} and ${to} d`;
}

/** What else the records allow for the day by which half had reached it. */
function spanText(
  p: GivenAmong<{ low: number | null; high: number | null; level: number }>,
): string {
  const low = p.raw("low");
  if (typeof low !== "number") return "";
  const high = p.raw("high");
  const end = typeof high === "number" ? `to ${p.number("high", 3)} d` : "on without limit";
  return ` With other animals of the same kind that day could lie anywhere from ${p.number("low", 3)} ${end} (${percent(p.raw("level"))} interval).`;
}

function goneText(p: GivenAmong<{ died: number; left: number }>): string {
  const parts: string[] = [];
  if (p.raw("died") !== 0) parts.push(`${animals(p.raw("died"))} died`);
  if (p.raw("left") !== 0) parts.push(`${animals(p.raw("left"))} left`);
  return parts.join(" and ");
}

function animals(n: unknown): string {
  return n === 1 ? "1 animal" : `${typeof n === "number" ? n : "?"} animals`;
}

function percent(level: unknown): string {
  return typeof level === "number" ? `${Math.round(1000 * level) / 10} %` : "?";
}

function pText(p: unknown): string {
  if (typeof p !== "number") return "not computed";
  return p < 0.001 ? "below 0.001" : String(Number(p.toPrecision(2)));
}

function priorOfArrival(
  p: GivenAmong<{
    nurseries: number;
    animals: number;
    perDay: number;
    sd: number;
    share: number;
  }>,
): string {
  const n = p.raw("nurseries");
  return !(Number(n) > 0)
    ? ""
    : `; prior files of ${n} ${n === 1 ? "nursery" : "nurseries"} (${animals(p.raw("animals"))}) say that a day later changes gain by ${p.number("perDay", 2)} % (give or take ${p.number("sd", 2)}), which counts for ${p.number("share", 2)} % here`;
}
