import type { Given, GivenAmong, Sentence } from "../wording.js";

/** Sentences of the `report` room, by notice code. */
export const reportMessages = {
  // Flags and what was done.
  "report-flag-log": (p: Given<{ of: string | null; day: string }>) =>
    `Episodes of flags${p.raw("of") === null ? "" : ` of ${p.text("of")}`} up to ${p.text("day")}, as each list would have said at the end of its day. An episode joins all signals from the day it opens until three days in a row without any.`,
  "report-flag-log-empty": (p: Given<{ day: string }>) =>
    `No flag was raised up to ${p.text("day")}.`,
  "report-flag-seasons": (p: Given<{ day: string }>) =>
    `Episodes of flags by species and season up to ${p.text("day")}. Counted as treated: medication, fluids or an examination was written down while the episode was open.`,
  "report-flag-all-seasons": (p: Given<{ episodes: number }>) =>
    `The log below holds the latest season of each species; the workbook holds every one of ${p.count("episodes", "episode")}.`,
  "report-flag-left": () => "open when it left care",
  "report-flag-nothing-written": () => "nothing written",
  "report-flag-not-acknowledged": () => "not acknowledged",
  "report-flag-acknowledged": (p: Given<{ on: string; by: string | null; note: string }>) =>
    `${p.text("on")}${p.raw("by") === null ? "" : `, ${p.text("by")}`}${p.text("note") === "" ? "" : `: ${p.text("note")}`}`,
  "report-flag-reopened": (p: Given<{ on: string; why: string }>) =>
    `reopened ${p.text("on")} (${p.text("why")})`,
  "report-decisions": (p: Given<{ n: number }>) =>
    `Decisions about suspected slips: ${p.number("n")}. The rows stay as written; a decision stands beside them.`,
  "report-decisions-none": () =>
    "Nothing was decided about suspected slips; without a decision a suspected slip is left out of every result.",

  // The report's first pages.
  "report-in-care": () =>
    "The animals in care, those of most concern first, as the day's page has them.",
  "report-gain-question": (p: Given<{ species: string }>) =>
    `How do the ${p.text("species")}s in care grow?`,
  "report-gain-answer": (
    p: Given<{
      n: number;
      of: number;
      low: number | null;
      high: number | null;
      slow: readonly string[];
    }>,
  ) =>
    p.raw("n") === 0
      ? `Of none of the ${p.count("of", "animal")} in care can a gain over seven days be told.`
      : `${p.raw("n") === 1 ? `One gains ${p.number("low", 2)} %` : `${p.number("n")} of ${p.number("of")} gain ${p.number("low", 2)} to ${p.number("high", 2)} %`} of ${p.raw("n") === 1 ? "its" : "their"} mass a day; ${(p.raw("slow") ?? []).length === 0 ? "no slowed gain stands out among them" : `slowed: ${p.list("slow")}`}.`,
  "report-season-question": (p: Given<{ species: string; season: string }>) =>
    `Did the ${p.text("species")}s of ${p.text("season")} grow differently from those of earlier seasons?`,
  "report-fed-question": (p: Given<{ species: string }>) =>
    `How are the ${p.text("species")}s fed?`,
  "report-fed-answer": (
    p: Given<{
      from: number;
      to: number | null;
      between: number | null;
      feeds: number | null;
      eaten: number | null;
      share: number | null;
    }>,
  ) =>
    `${p.raw("to") === null ? `From ${p.number("from")} days of age on` : `From ${p.number("from")} to ${p.number("to")} days of age`} ${p.raw("feeds") === null ? "the number of feeds is not known" : `about ${p.number("feeds", 2)} feeds a day`}${p.raw("between") === null ? "" : `, ${p.number("between", 2)} h apart`}${p.raw("eaten") === null ? "" : `; ${p.number("eaten", 2)} % of what was ordered was eaten`}${p.raw("share") === null ? "" : `, eating ${p.number("share", 2)} % of body mass a day`}.`,
  "report-survival-question": (p: Given<{ species: string }>) =>
    `How many ${p.text("species")}s lived?`,
  "report-survival-answer": (
    p: Given<{
      died: number;
      of: number;
      day: number;
      share: string | null;
      left: number;
      inCare: number;
    }>,
  ) =>
    `${p.number("died")} of ${p.number("of")} died; ${p.number("left")} left alive and ${p.number("inCare")} are in care. ${p.raw("share") === null ? `Nobody has been watched for ${p.number("day")} days: how many die by then cannot be told.` : `By day ${p.number("day")} after admission ${p.text("share")} had died.`}`,
  "report-diets": () =>
    "What was fed: grams eaten, and the composition of the batches as mixed, weighed by what was eaten of each (per 100 g as fed).",
  "report-diets-none": () => "No feed names a diet.",
  "report-feeding-by-age": () =>
    "Protocol and rhythm by age: medians over animals, of each animal's median whole feeding day. Ordered: feeds of the orders in force; eaten of ordered by weight, where refusals and orders are known.",
  "report-feeding-by-age-none": () => "No whole feeding day of an animal of known age is recorded.",
  "report-places": () =>
    "Where they lived: animals and animal-days in each place, in the order in which animals come to it.",
  "report-places-none": () => "The records have no table of housing, or no stay in it.",
  "report-outcomes": () => "What became of the animals, by species and season of admission.",
  "report-deaths": () =>
    "Share that had died in care, by days since admission; whoever left alive is counted as that, not as one who could still die here.",
  "report-curve-drawn": (p: Given<{ animal: string }>) =>
    `The longest record is drawn with the curves fitted to it: ${p.text("animal")}. The curves of every animal are on its own page.`,
  "report-season-detail": () => "Models, checks and every pair of seasons stand in the appendix.",
  "report-table-of-pages": (p: Given<{ name: string }>) =>
    `Of every animal: the table "${p.text("name")}" of the animals' pages.`,

  // Seasons in the report.
  "report-phases": () =>
    "By season and phase: mean with standard deviation of the animals with n. Gain is each animal's own slope over its longest part of the phase; eaten is its mean over complete feeding days; energy per gain is of what was kept, the group's sum over sum in 14-day windows.",
  "page-brackets": () => "In brackets: the range in which the true value lies 95 times in 100.",
  "report-slips": (p: Given<{ weighings: number }>) =>
    `${p.count("weighings", "weighing")} ${p.agree("weighings", "looks", "look")} like slips of the pen and ${p.agree("weighings", "stands", "stand")} for no day; the written values stay as they are.`,
  "report-doubted-feeds": (p: Given<{ feeds: number }>) =>
    `${p.count("feeds", "feed")} ${p.agree("feeds", "looks", "look")} like slips of the pen. What was eaten then is a range; the written values stay as they are.`,
  "report-change": (p: Given<{ species: string; day: string }>) =>
    `${p.text("species")}, change of ${p.text("day")}`,
  "report-one-season": () => "There are not two seasons of one species to compare.",
  "report-milestones-none": (p: Given<{ species: string }>) =>
    `No milestone of the ${p.text("species")}s is recorded.`,
  "report-milestones-by-season": (p: Given<{ species: string }>) =>
    `Milestones of ${p.text("species")}s by season: days by which a quarter, half and three quarters had reached each, as far as the looks tell (middle of the stretch that they leave open). Animals that died or left before it are counted.`,
  "report-milestones-bars": () =>
    "from the day a quarter to the day three quarters had reached it (middle of the stretch that the looks leave open); dot: half",

  // How the numbers of a picture were had: under it, after n.
  "picture-daily-mass": () =>
    "Daily mass: the weighing in the animal's usual condition nearest its usual clock time.",
  "picture-fit": () => "Fitted to the daily masses after the arrival phase.",
  "picture-residual": () => "Daily mass minus the fitted curve.",
  "picture-intake": () =>
    "Eaten, offered minus refused, by feeding day, energy from the composition of each diet; incomplete first and last days are left out.",
  "picture-relative-gain": (p: Given<{ days: number }>) =>
    `Gain: how fast the daily masses of the ${p.count("days", "day")} that end with the last weighing rise, in % of the mass; n counts its days.`,
  "picture-forecast": () =>
    "The watch's model of gain carried forward: species, prior files, earlier seasons, this season's animals and its own weighings; band: the mass itself, without gut fill and error of the scale.",
  "picture-ration": () =>
    "Feeds of the day as planned from mass, age, profile, diet and target; a suggestion to be reviewed with the attending veterinarian.",
  "picture-weaning": () =>
    "Share: energy of the solids eaten over all energy eaten that feeding day; curve: logistic, least squares over all days since the first solid.",
  "picture-ration-none": () => "no ration",
  "picture-weaning-stalled": (p: Given<{ since: string }>) => `stalled since ${p.text("since")}`,
  "picture-weaning-left": (p: Given<{ days: number; from: number; to: number | null }>) =>
    `under way, ${p.count("days", "day")} left at the present pace (${p.number("from", 2)} to ${p.raw("to") === null ? "never" : p.number("to", 2)})`,
  "forecast-how": () =>
    "From the same model as the watch over weighings: species, prior files, earlier seasons, this season's animals and each animal's own weighings so far. Earliest, likely and latest: reached by then in 2.5, 50 and 97.5 of 100. A target is reached by the mass behind the weighings; the weighing in 14 days has the wider limits of a single weighing, dry and before a meal. Beside it stands what was forecast 14 days ago for the newest weighing. A forecast knows nothing of illness to come and of changes in feeding.",
  "picture-forecast-reached": () => "reached already",
  "picture-forecast-dates": (
    p: Given<{ likely: string | null; earliest: string | null; latest: string | null }>,
  ) =>
    `likely on ${p.text("likely")}, between ${p.text("earliest")} and ${p.raw("latest") === null ? "a day the model does not see" : p.text("latest")}`,

  // Hand-over.
  "hand-over-nobody": () => "No animal is in care on the day looked at.",
  "hand-over-until": (p: Given<{ until: number; zone: string }>) =>
    `The 24 hours up to ${p.instant("until")} (${p.text("zone")}).`,
  "hand-over-no-mass": () => "No usable weighing.",
  "hand-over-mass": (p: Given<{ mass: string; day: string; within: boolean }>) =>
    `Mass ${p.text("mass")} on ${p.text("day")}${p.raw("within") === true ? "" : " (not within these 24 hours)"}.`,
  "hand-over-no-feed": () => "No feed was written down in these 24 hours.",
  "hand-over-fed": (p: Given<{ feeds: number; offered: number; low: number; high: number }>) =>
    `${p.raw("feeds") === 1 ? "1 feed" : `${p.count("feeds", "feed")}`}, ${p.number("offered")} g offered, ${range(p, "g")}${p.raw("low") === p.raw("high") ? "" : " (refusals not written)"} eaten.`,
  "hand-over-kept": (p: Given<{ times: number; low: number; high: number }>) =>
    `Something came up ${p.raw("times") === 1 ? "once" : `${p.number("times")} times`}: ${range(p, "g")} kept (growth and energy go by it; appetite and the order by what was eaten).`,
  "hand-over-no-plan": () =>
    "Nothing was ordered for these 24 hours to set what was eaten against.",
  "hand-over-against-plan": (
    p: Given<{ planned: number; unit: string; lowPct: number; highPct: number }>,
  ) => `Ordered ${p.number("planned")} ${p.text("unit")} a day; eaten ${shares(p)} of it.`,
  "hand-over-in-energy": () =>
    "More than one diet was ordered or fed, so ordered and eaten are compared as energy.",
  "hand-over-plan-part": () =>
    "What is ordered holds for a part of these 24 hours: what was eaten is not set against it.",
  "hand-over-plan-unknown": () =>
    "Ordered and eaten are not compared: what is ordered cannot be added up, or an energy is not known.",
  "level-heading": (p: Given<{ level: string; act: string | null }>) =>
    `${p.text("level").toUpperCase()}${p.raw("act") === null ? "" : `. ${actWords(p.text("act"))} The order stays as ordered.`}`,
  "summary-level": (p: Given<{ level: string; reasons: readonly string[] }>) =>
    `Stands under ${p.text("level")}: ${p.list("reasons")}.`,
  "level-nothing": (p: Given<{ possible: number; of: number; missing: readonly string[] }>) =>
    `Nothing raised by the ${p.number("possible")} of ${p.number("of")} checks that were possible; that is no statement of health.${(p.raw("missing") ?? []).length === 0 ? "" : ` Not possible: ${p.list("missing")}.`}`,
  "level-by": (p: Given<{ at: number }>) => `By ${p.instant("at")}.`,
  "level-answered": (
    p: Given<{ by: string | null; at: number; until: number; note: string | null }>,
  ) =>
    `Answered by ${p.text("by")} at ${p.instant("at")}, holds until ${p.instant("until")}${p.raw("note") === null ? "" : `: "${p.text("note")}"`}. Suggestions go on waiting.`,
  "level-standing": (p: Given<{ words: string }>) =>
    `The veterinarian's standing instruction: "${p.text("words")}"`,
  "level-call": (p: Given<{ words: string }>) => `Call: ${p.text("words")}`,
  "hand-over-ordered": () => "As ordered:",
  "hand-over-next": (p: Given<{ from: number; to: number; waits: boolean }>) =>
    `${p.raw("waits") ? "Feeds at ordered times, which wait until the veterinarian has spoken" : "Next feeds at ordered times"}, ${p.instant("from")} to ${p.instant("to")}. To be reviewed with the attending veterinarian.`,
  "hand-over-next-none": () => "No feed has an ordered time in the coming 24 hours.",
  "hand-over-signs": () =>
    "Signs, treatments and notes of the last 24 hours, word for word, and what each was read as.",
  "hand-over-no-signs": () => "No sign, treatment or note was written in these 24 hours.",
  "hand-over-no-outputs": () => "Nothing was written about urine, stool or vomit.",
  "hand-over-no-temperature": () => "No temperature was taken.",
  "hand-over-no-treatment": () => "No treatment or examination was written down.",
  "report-signs-by-day": (p: Given<{ animal: string; days: number }>) =>
    `Signs of ${p.text("animal")} in the last ${p.count("days", "day")} with entries, by feeding day, newest first. A blank cell: nothing was written.`,
  "report-signs-none": () => "No sign was written in these days.",
  "hand-over-caution": () =>
    "Not a diagnosis. If in doubt about an animal, ask the attending veterinarian now.",

  // What the pages of the day ask about.
  "asked-title": () => "Ask whoever wrote it: written in the last two days and not understood.",
  "asked-of-others": () => "Written about nobody on this page",
  "asked-row": (p: Given<{ file: string; line: string; row: string | null; why: string }>) =>
    `Not used: ${p.text("file")}, line ${p.text("line")}${p.raw("row") === null ? "" : `: "${p.text("row")}"`}. ${p.text("why")}`,
  "asked-cell": (
    p: Given<{
      file: string;
      line: string;
      column: string | null;
      written: string | null;
      at: string | null;
      lost: boolean;
      why: string;
    }>,
  ) =>
    `${p.text("file")}, line ${p.text("line")}${p.raw("at") === null ? "" : ` (${p.text("at")})`}${p.raw("column") === null ? "" : `, ${p.text("column")}`}${p.raw("written") === null ? "" : ` "${p.text("written")}"`}: ${p.text("why")}${p.raw("lost") === true ? " The rest of the row is used." : ""}`,
  "asked-left-today": (p: Given<{ outcome: string }>) =>
    `The animals table says “${p.text("outcome")}” for this very day. Nothing more is due if that is so: ask.`,
  "asked-more": (p: Given<{ more: number; file: string }>) =>
    `${p.number("more", 9)} more rows of ${p.text("file")} like these; all are listed by "gramline check".`,

  // The sheet to print.
  "sheet-for": (p: Given<{ day: string; at: number; zone: string }>) =>
    `Feeding day ${p.text("day")}, made ${p.instant("at")} (${p.text("zone")}) from what was written down by then.`,
  "sheet-instructions": () =>
    "Write the grams offered and the grams refused; refused 0 is a number too: write it. Stool and urine: what you saw, or “none”. Initials at each feed.",
  "sheet-discard": (
    p: Given<{
      batch: string;
      diet: string;
      at: number;
      made: number;
      hours: number;
      passed: boolean;
    }>,
  ) =>
    `${p.raw("passed") ? `Batch ${p.text("batch")} of ${p.text("diet")} was to be discarded at ${p.instant("at")}: do not feed from it.` : `Discard batch ${p.text("batch")} of ${p.text("diet")} at ${p.instant("at")}.`} Made ${p.instant("made")}; keeps ${p.number("hours")} h. New batch: ____________ made at ________`,
  "sheet-act": (p: Given<{ act: string }>) =>
    `${actWords(p.text("act"))} The order below stands as ordered.`,
  "sheet-stop": () =>
    "Do not feed until the veterinarian has spoken. Spoken at ________ with ____________: the rows below wait until then.",
  "sheet-no-order": () => "Write in what the veterinarian orders.",
  "sheet-nil": () => "NOTHING BY MOUTH",
  "sheet-uncounted": (p: Given<{ words: string; from: number; to: number; wholeDay: boolean }>) =>
    `Not printed feed by feed: ${p.text("words")}${p.raw("wholeDay") === true ? "" : `; only from ${p.instant("from")} to ${p.instant("to")}`}. Write each feed in a blank row.`,
  "sheet-not-summed": () =>
    "The day is not added up: an amount is not in grams, or must be asked about first.",
  "sheet-total": (p: Given<{ grams: number; feeds: number; weighed: string | null }>) =>
    `Together ${p.number("grams", 6)} g in ${p.count("feeds", "feed")} as ordered${p.raw("weighed") === null ? "" : `; last weighed ${p.text("weighed")}`}.`,
  "sheet-asked-more": (p: Given<{ more: number }>) =>
    `${p.number("more", 9)} more on the hand-over page.`,
  "sheet-nobody": () => "No animal is in care: there is no sheet.",
  "sheet-kitchen": () =>
    "For the kitchen: what all ordered feeds together need, without what is spilt.",
} satisfies Readonly<Record<string, Sentence>>;

function range(p: GivenAmong<{ low: number; high: number }>, unit: string): string {
  return p.raw("low") === p.raw("high")
    ? `${p.number("low")} ${unit}`
    : `between ${p.number("low")} and ${p.number("high")} ${unit}`;
}

function shares(p: GivenAmong<{ lowPct: number; highPct: number }>): string {
  return p.raw("lowPct") === p.raw("highPct")
    ? `${p.number("lowPct", 3)} %`
    : `${p.number("lowPct", 3)} to ${p.number("highPct", 3)} %`;
}

/** What to do at once, in capitals where nothing may be given. */
function actWords(act: string): string {
  if (act === "do not feed until spoken")
    return "DO NOT FEED until the veterinarian has spoken: call now.";
  if (act === "call now, feed as ordered") return "CALL the veterinarian now; feed as ordered.";
  return "GO AND LOOK now.";
}
