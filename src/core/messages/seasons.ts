import type { Sentence, SentenceParameters } from "../wording.js";

/** Sentences of the `seasons` room, by notice code. */
export const seasonMessages = {
  // Who cannot be used in a comparison.
  "season-age-unusable": (p) =>
    `${p.text("animal")}: its age is unknown or was estimated from its mass, so no gain over ages is taken.`,
  "season-not-written": (p) => `${p.text("animal")} has no season in the table of animals.`,
  "season-no-weighings": (p) => `${p.text("animal")} has no weighing that can be used.`,
  "season-arrived-late": (p) =>
    `${p.text("animal")} arrived after the window (${windowText(p)}) had begun.`,
  "season-arrived-heavy": (p) =>
    `${p.text("animal")} was heavier at arrival than the window (${windowText(p)}) begins.`,
  "season-gap-at-start": (p) =>
    `${p.text("animal")} was not weighed near the beginning of the window (${windowText(p)}).`,
  "season-died-before-end": (p) =>
    `${p.text("animal")} died before the window (${windowText(p)}) ended: seasons are compared among animals that lived through it.`,
  "season-left-before-end": (p) =>
    `${p.text("animal")} left, or is not yet through the window (${windowText(p)}).`,
  "season-few-weighings": (p) =>
    `${p.text("animal")} has ${p.number("n")} weighed days in the window; ${p.number("needed")} are needed.`,

  // What is compared, and how.
  "season-estimand": (p) =>
    `Compared is the mean gain of ${p.text("species")}s over ${windowText(p)}, in g/d, at a common arrival mass of ${p.number("mass")} g${p.raw("adjusted") === "arrival mass" ? "" : ` (adjusted for: ${p.list("adjusted")})`}. This was settled before the gains were looked at.`,
  "season-unadjusted": (p) =>
    `There are too few animals to adjust for arrival: plain means of the ${p.text("species")}s are compared.`,
  "season-adjustment-dropped": (p) => `Not adjusted for ${p.text("adjustment")}: ${p.text("why")}.`,
  "season-too-few": (p) =>
    `Season ${p.text("season")} has ${animals(p.raw("n"))} with a complete window; a comparison needs at least 3 in each.`,
  "season-mass-window": () =>
    `The window is one of masses: slow animals spend longer in it and the slowest never leave it, so a difference is seen smaller than it is.`,
  "season-curves-picture": () =>
    `The curves show where seasons part; intervals hold at each age by itself. Whether they differ is decided on the gains, not here.`,
  "season-survivors-only": (p) =>
    `Not in the comparison because of death before the window ended: ${animals(p.raw("died"))}. A season that loses its weakest looks better than it was.`,
  "season-birth-range": (p) =>
    `Birth range over 3 days: ${animals(p.raw("n"))}. The comparison was also made with every birth at its earliest and at its latest; the widest interval is shown.`,

  // The answer.
  "season-differs": (p) =>
    `${p.text("to")} gained ${p.number("size", 3)} g/d ${p.raw("more") === true ? "more" : "less"} than ${p.text("from")} (${percent(p.raw("level"))} interval ${p.number("lower", 3)} to ${p.number("upper", 3)} g/d, p ${pText(p.raw("p"))}). If the two groups had grown alike, a difference at least this large would arise by chance about ${p.number("inHundred", 2)} times in a hundred.`,
  "season-not-shown": (p) =>
    `No difference between ${p.text("from")} and ${p.text("to")} is shown: the estimate is ${p.number("difference", 3)} g/d, but anything from ${p.number("lower", 3)} to ${p.number("upper", 3)} g/d fits the data. That is not proof that they grew alike.`,
  "season-equivalent": (p) =>
    `${p.text("from")} and ${p.text("to")} grew alike within ${p.number("margin")} g/d, the margin set beforehand (difference ${p.number("difference", 3)} g/d, ${percent(p.raw("level"))} interval for equivalence ${p.number("lower", 3)} to ${p.number("upper", 3)} g/d).`,
  "season-differs-but-small": (p) =>
    `The difference between ${p.text("from")} and ${p.text("to")} is real for these animals, and smaller than the margin of ${p.number("margin")} g/d set beforehand.`,
  "season-detectable": (p) =>
    `With ${p.number("na")} and ${p.number("nb")} animals that vary by ${p.number("sd", 3)} g/d, only a true difference of about ${p.number("difference", 3)} g/d or more would have been found four times in five.`,
  "season-animals-needed": (p) =>
    p.raw("animals") === null
      ? `To find a difference of ${p.number("difference", 3)} g/d four times in five, even ${p.number("most")} animals a season would not do.`
      : `To find a difference of ${p.number("difference", 3)} g/d four times in five, about ${p.number("animals")} animals a season would be needed.`,
  "season-checks-disagree": (p) =>
    `The checks do not agree (adjusted p ${pText(p.raw("p"))}, Welch ${pText(p.raw("welch"))}, reordering ${pText(p.raw("permutation"))}): read the answer as uncertain.`,
  "season-slopes-differ": (p) =>
    `Gain may depend on arrival mass differently from season to season (p ${pText(p.raw("p"))}): the difference holds at the mean arrival mass and may be another for light or heavy arrivals. This was not used to choose the model.`,

  // What it means.
  "season-other-explanations": (p) =>
    `What else could explain a difference between ${p.text("from")} and ${p.text("to")}: other staff, another mix of arrivals, weather, illness, food lots. The records cannot tell these apart.`,
  "season-is-the-unit": () =>
    `The intervals here are about these animals: did the two groups grow differently? For the question whether a protocol is better, the season is the unit, not the animal.`,
  "season-protocol-confounded": (p) =>
    `The protocol changed with season ${p.text("season")} (${p.text("what")}). With one season under it, protocol cannot be told from season. No cause is claimed.`,
  "season-past-spread": (p) =>
    `Seasons differ by themselves: ${p.number("n")} seasons spread by ${p.number("sd", 3)} g/d${p.raw("upper") === null ? "" : ` (${percent(p.raw("level"))} interval ${p.number("lower", 3)} to ${p.number("upper", 3)})`} about their mean, beyond what chance among animals explains. Set the difference of ${p.number("difference", 3)} g/d beside that.`,
  "season-against-past": (p) =>
    `${p.text("season")} against ${p.list("past")}, each season counted once: ${p.number("difference", 3)} g/d from their mean; an ordinary further season would lie between ${p.number("lower", 3)} and ${p.number("upper", 3)} g/d (p ${pText(p.raw("p"))}, degrees of freedom ${p.number("df")}).`,
  "season-no-past": () =>
    `There are fewer than two other seasons to show how much seasons differ by themselves, so the difference cannot be set beside an ordinary one.`,

  // Summaries.
  "season-summary-few": (p) =>
    `${p.text("group")} has ${p.number("n")} animals: means of so few say little.`,

  "season-no-conversion": (p) =>
    `Energy per gain in the phase "${p.text("phase")}" is not computed: no 14-day window in which everything eaten is known and mass was gained.`,

  // A change inside a season.
  "protocol-change-effect": (p) =>
    `After the change, gain moved by ${p.number("difference", 3)} %/d more than in animals of the same age without it (${percent(p.raw("level"))} interval ${p.number("lower", 3)} to ${p.number("upper", 3)}, ${p.number("n")} animals against ${p.number("controls")}).`,
  "protocol-change-no-controls": () =>
    `No animals of the same age without the change are at hand, so a change with age cannot be told from the effect of the change.`,
  "protocol-change-too-few": (p) =>
    `Weighed often enough on both sides of the change: ${animals(p.raw("n"))}; at least 3 are needed.`,
  "protocol-change-same-day": () =>
    `Whatever else changed about that day moves the gain just as well. No cause is claimed.`,

  // Milestones.
  "milestone-age-unusable": (p) =>
    `${p.text("animal")}: its age is unknown or was estimated from its mass, so it is not placed on the scale of ages.`,
  "milestone-no-start": (p) =>
    `${p.text("animal")}: neither a birth date nor an admission to count from.`,
  "milestone-never-looked": (p) =>
    `${p.text("animal")}: nobody wrote whether "${p.text("milestone")}" had come.`,
  "milestone-past-at-admission": (p) =>
    `${p.text("animal")} had reached "${p.text("milestone")}" when it arrived; animals like it were not watched reaching it, so it is left out.`,
  "milestone-not-yet-after-seen": (p) =>
    `${p.text("animal")}: "${p.text("milestone")}" is written as seen and later as not yet; the first sighting is used.`,
  "milestone-none-seen": (p) => `Nobody was seen to reach "${p.text("milestone")}".`,
  "milestone-few-events": (p) =>
    `${animals(p.raw("events"))} reached "${p.text("milestone")}"; ${p.number("needed")} are needed for a model with covariates, so none is fitted.`,
  "milestone-median": (p) =>
    `${medianText(p)} (${p.number("events")} seen of ${p.number("n")})${p.raw("exact") === true ? "." : "; looks are days apart, so no animal's own day is known."}`,
  "milestone-early-risk": (p) =>
    `Before day ${p.number("day", 3)} fewer than ${p.number("few")} animals were under observation: the early part of the curve rests on them.`,
  "milestone-no-maximum": () =>
    `Everybody under observation had reached it before others arrived, so the early part of the curve is not settled by these data.`,
  "milestone-competing": (p) =>
    `Before it was seen ${goneText(p)}. They are counted as such: taking them as merely not yet seen would overstate how many reach it.`,
  "milestone-groups-differ": (p) =>
    `Groups reach it at different times (log-rank p ${pText(p.raw("p"))}).`,
  "milestone-groups-not-shown": (p) =>
    `No difference between the groups is shown (log-rank p ${pText(p.raw("p"))}).`,
  "milestone-otter-release-context": () =>
    `Context, common practice without a source: sea otter pups rescued younger than about six months are usually judged non-releasable, though pups reared by surrogate mothers have been released. The authority decides.`,
} satisfies Readonly<Record<string, Sentence>>;

function windowText(p: SentenceParameters): string {
  return p.raw("fromAgeD") === undefined
    ? `masses ${p.number("fromMassG")} to ${p.number("toMassG")} g`
    : `ages ${p.number("fromAgeD")} to ${p.number("toAgeD")} d`;
}

function medianText(p: SentenceParameters): string {
  const half = `Half of the ${p.text("species")}s had reached "${p.text("milestone")}"`;
  const from = p.number("from", 3);
  const to = p.number("to", 3);
  if (p.raw("to") === null) return `${half} by no day that these looks can name`;
  return from === to ? `${half} at about ${from} d` : `${half} between ${from} and ${to} d`;
}

function goneText(p: SentenceParameters): string {
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
