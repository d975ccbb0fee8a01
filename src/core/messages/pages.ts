import type { Given, GivenAmong, Sentence } from "../wording.js";

/** Sentences of the pages' first screens, by notice code. */
export const pageMessages = {
  // The day's board.
  "day-title": (p: Given<{ study: string }>) => `The day: ${p.text("study")}`,
  "day-danger": (
    p: Given<{ names: readonly string[]; n: number; unfed: readonly string[]; silent: boolean }>,
  ) =>
    `${p.list("names")} ${p.raw("n") === 1 ? "is" : "are"} in danger: ${p.raw("silent") === true ? "go and look now" : "call the veterinarian now"}.${(p.raw("unfed") ?? []).length === 0 ? "" : ` Do not feed ${p.list("unfed")} until the veterinarian has spoken.`}`,
  "day-others": (p: Given<{ n: number }>) =>
    `${p.number("n")} ${p.raw("n") === 1 ? "other" : "others"}`,
  "day-left": (p: Given<{ names: readonly string[] }>) =>
    `By the animals table the stay of ${p.list("names")} ended on this very day: ask before anything else is given.`,
  "day-looks": (p: Given<{ n: number; of: number }>) =>
    `${ofAll(p)} ${p.raw("n") === 1 ? "needs" : "need"} a second look today.`,
  "day-measures": (p: Given<{ n: number; of: number }>) =>
    `${ofAll(p)} must be measured before anything is planned.`,
  "day-unjudged": (p: Given<{ n: number; of: number }>) => `${ofAll(p)} cannot be judged yet.`,
  "day-calm": (p: Given<{ n: number }>) =>
    `Nothing is raised in the records of the ${p.raw("n") === 1 ? "animal" : `${p.count("n", "animal")}`} in care.`,
  "day-nil-for": (p: Given<{ names: readonly string[] }>) =>
    `Nothing by mouth for ${p.list("names")}.`,
  "day-orders": (p: Given<{ names: readonly string[] }>) =>
    `Ask what is ordered for ${p.list("names")}.`,
  "day-nobody": () => "No animal is in care on this day.",
  "day-due": () => "Due in the next 12 hours",
  "day-records-up-to": (p: Given<{ at: string }>) => `records up to ${p.text("at")}`,
  "day-rows-not-used": (p: Given<{ n: number; linked: boolean }>) =>
    `${p.number("n", 9)} ${p.raw("n") === 1 ? "row" : "rows"} not used${p.raw("linked") === true ? ": see which" : ` ("gramline check" lists ${p.raw("n") === 1 ? "it" : "them"})`}`,
  "day-column-why": () => "Why it stands here, and what is next",
  "day-column-mass": (p: Given<{ from: string; to: string }>) =>
    `Mass, ${p.text("from")} to ${p.text("to")}`,
  "day-column-gain": (p: Given<{ days: number }>) => `Gain over ${p.count("days", "day")}, %/d`,
  "day-column-eaten": () => "Eaten in 24 h, of what was ordered",
  "day-column-signs": () => "Temperature, signs",
  "day-key-mass": () => "what it was on course for",
  "day-key-gain": () => "contemporaries",
  "day-key-eaten": () => "all that was ordered",
  "day-key-signs": () => "limits",
  "day-age": (p: Given<{ days: number; phase: string | null }>) =>
    `${p.number("days", 3)} ${p.raw("days") === 1 ? "day" : "days"}${p.raw("phase") === null ? "" : `, ${p.text("phase")}`}`,
  "day-no-age": (p: Given<{ phase: string | null }>) =>
    `age not known${p.raw("phase") === null ? "" : `, ${p.text("phase")}`}`,
  "day-checks": (p: Given<{ possible: number; of: number }>) =>
    `${p.number("possible")} of ${p.number("of")} checks possible, none raised.`,
  "day-no-checks": () => "No check is possible yet.",

  "day-weighed": (p: Given<{ weighed: string; fed: string | null }>) =>
    `weighed ${p.text("weighed")}${p.raw("fed") === null ? "" : `, fed ${p.text("fed")}`}`,
  "day-not-weighed": () => "not weighed",
  "day-in-doubt": (p: Given<{ mass: string }>) => `${p.text("mass")} in doubt`,
  "day-no-gain": () => "not known",
  "day-gain-up-to": (p: Given<{ day: string }>) => `up to ${p.text("day")}`,
  "day-eaten": (p: Given<{ lowPct: number; highPct: number }>) =>
    `${sameRange(p)}${p.number("highPct")} % of order`,
  "day-in-fast": () => "in the fast",
  "day-eaten-in-fast": () => "In the fast after weaning, when little is eaten.",
  "day-eaten-of": (p: Given<{ least: number; most: number; planned: number; unit: string }>) =>
    `${p.raw("unit") === "kcal" ? "energy eaten " : ""}${p.raw("least") === p.raw("most") ? "" : `${p.number("least")} to `}${p.number("most")} of ${p.number("planned")} ${p.text("unit")}`,
  "day-eaten-grams": (p: Given<{ low: number; high: number }>) =>
    `${p.raw("low") === p.raw("high") ? "" : `${p.number("low")} to `}${p.number("high")} g eaten`,
  "day-no-feed": () => "no feed written",
  "day-nil": () => "nothing by mouth",
  "day-no-order": () => "nothing ordered",
  "day-order-part": () => "ordered for a part of the 24 h",
  "day-ordered": () => "Ordered:",
  "day-ordered-line": (p: Given<{ line: string; doubted: boolean }>) =>
    `${p.text("line")}${p.raw("doubted") ? " ? ask" : ""}`,
  "day-order-not-summed": () => "order cannot be added up",
  "day-no-temperature": () => "no temperature",
  "day-no-signs": () => "no sign written in 24 h",
  "day-sign": (p: Given<{ what: string; when: string }>) => `${p.text("what")}, ${p.text("when")}`,
  // Why an animal stands where it stands, in one plain sentence.
  "plain-level": (p: Given<{ mass: number; centre: number; n: number }>) =>
    `Weighs ${p.number("mass")} g where ${p.count("n", "contemporary", "contemporaries")} of its age centre on ${p.number("centre")} g.`,
  "plain-gain": (p: Given<{ gain: number; centre: number; n: number }>) =>
    `Gains ${p.amount("gain", "%/d")} where ${p.count("n", "contemporary", "contemporaries")} ${p.agree("n", "gains", "gain")} ${p.amount("centre", "%/d")}.`,
  "plain-too-fast": (p: Given<{ gain: number; centre: number; n: number }>) =>
    `Gains ${p.amount("gain", "%/d")} where ${p.count("n", "contemporary", "contemporaries")} ${p.agree("n", "gains", "gain")} ${p.amount("centre", "%/d")}: think of fluid, overfeeding or a wrong tare.`,
  "plain-fall": (p: Given<{ now: number; peak: number; day: string; pct: number }>) =>
    `Weighs ${p.number("now")} g, ${p.number("pct", 2)} % less than ${p.number("peak")} g on ${p.text("day")}.`,
  "plain-conversion": (p: Given<{ own: number; others: number; n: number }>) =>
    `Gains ${p.number("own")} g per 1000 kcal kept where ${p.count("n", "other")} of its age ${p.agree("n", "gains", "gain")} ${p.number("others")}.`,
  "plain-surprise": () => "Its recent weighings together lie below what was expected of it.",

  "day-decide-title": () => "What this page can say.",
  "day-decide": () =>
    "It orders animals by what the records show. “Nothing raised” is no statement about health. The attending veterinarian decides; permit conditions and local rules come first.",
  "day-note": () =>
    "In brackets: 95 % interval. The light band is where 95 in 100 weighings were expected, as seen from its first day here; for gain, 9 in 10 contemporaries, or each of them where there are fewer than 8.",
  "day-ask": (p: Given<{ words: string }>) => `Ask: ${p.text("words")}`,

  "page-rows-not-used": (p: Given<{ n: number; of: number; linked: boolean }>) =>
    p.raw("n") === 0
      ? p.raw("of") === 1
        ? "The one row of the records could be used."
        : `All ${p.number("of", 9)} rows of the records could be used.`
      : `${p.number("n", 9)} of ${p.count("of", "row")} of the records could not be used${p.raw("linked") ? ": see which and why" : "; start-here lists each with its reason"}.`,

  // The seasons' first screen.
  "season-lead-window": (p: Given<{ from: number; to: number }>) =>
    `mean gain from ${p.number("from")} to ${p.number("to")} days of age, at a common arrival`,
  "season-lead-none": (p: Given<{ species: string }>) =>
    `The seasons of the ${p.text("species")}s cannot be compared: two seasons with at least three animals weighed over these ages are needed.`,
  "season-lead-beside": (
    p: Given<{
      more: string;
      less: string;
      value: number;
      low: number;
      high: number;
      differs: boolean;
    }>,
  ) =>
    `Beside that question, ${p.text("more")} gained ${p.interval("value", "low", "high", "g/d")} more than ${p.text("less")}${p.raw("differs") === true ? ", also when corrected for all pairs" : " taken by themselves; corrected for all pairs and looks it is not settled"}.`,
  "season-picture-title": (p: Given<{ species: string }>) => `Every ${p.text("species")} by season`,
  "season-lead-few": (p: Given<{ seasons: readonly string[] }>) =>
    `Not compared, for too few animals weighed over these ages: ${p.list("seasons")}.`,
  "season-picture-axis": (p: Given<{ from: number; to: number }>) =>
    `Gain from ${p.number("from")} to ${p.number("to")} days of age (g/d)`,
  "season-picture-plain": () => "plain mean of the season with its 95 % interval",
  "season-picture-adjusted": (p: Given<{ used: readonly string[] }>) =>
    `mean of the season at a common arrival (adjusted for ${p.list("used")}) with its 95 % interval`,

  // The slow gainer's first screen.
  "slow-question-real": () => "Is it real?",
  "slow-question-since": () => "Since when?",
  "slow-question-missing": () => "How much is missing?",
  "slow-question-why": () => "Eaten, converted or lost?",
  "slow-question-change": () => "What would change the picture?",
  "slow-since": (p: Given<{ since: string; days: string }>) =>
    `About ${p.text("since")}; the records leave open ${p.text("days")}.`,
  "slow-since-weak": (p: Given<{ since: string; days: string }>) =>
    `Perhaps ${p.text("since")} (${p.text("days")}), but so weakly that it may be chance: no flag stands for it.`,
  "slow-since-none": () => "No slowing is to be seen in its weighings.",
  "slow-missing": (p: Given<{ missing: string; from: string; n: number }>) =>
    `${p.text("missing")} since ${p.text("from")} against ${comparedWith(p)}.`,
  "slow-missing-nothing": (p: Given<{ missing: string; from: string; n: number }>) =>
    `Perhaps nothing: ${p.text("missing")} since ${p.text("from")} against ${comparedWith(p)}.`,
  "slow-missing-more": (p: Given<{ more: string; from: string; n: number }>) =>
    `Nothing: since ${p.text("from")} it gained ${p.text("more")} more than ${comparedWith(p)}.`,
  "slow-real-not": () => "Its gain is not slow by these records: there is nothing to confirm.",
  "slow-why-not": () => "It gains about as is expected of it: there is nothing to explain.",
  "slow-missing-unknown": () =>
    "Cannot be told: too few weighings or too few contemporaries to hold it against.",
  "slow-eaten": (p: Given<{ order: string }>) => `It ate ${p.text("order")} of what was ordered.`,
  "slow-why-unknown": () => "The records show no explanation.",
  "plan-made": (p: Given<{ at: number; day: string; animals: number; waiting: number }>) =>
    `Made ${p.instant("at")} for the feeding day ${p.text("day")}: ${p.count("animals", "animal")} in care; ${p.raw("waiting") === 0 ? "" : `${p.count("waiting", "suggestion")} ${p.agree("waiting", "waits", "wait")}; `}what is ordered stands.`,
  "plan-rations": () => "Tomorrow's rations",
  "plan-nobody": () => "No animal is in care.",
  "plan-kept-title": () =>
    "Eaten and kept, g, in the 24 h before the plan was made: appetite and whether the order was kept go by what was eaten, growth, energy and conversion by what was kept",
  "animal-kept": (p: Given<{ times: number; low: number; high: number }>) =>
    p.raw("times") === 0
      ? "Nothing is written as having come up: all of it was kept."
      : `Something came up ${p.count("times", "time")}: kept ${p.raw("low") === p.raw("high") ? "" : `${p.number("low", 4)} to `}${p.number("high", 4)} g.`,
  "slow-change-none": () => "No finding of the coming days can be named.",
  // What stands in the picture of one animal.
  "course-others": (p: Given<{ n: number }>) => p.count("n", "other"),
  "course-contemporaries": (p: Given<{ n: number }>) =>
    p.count("n", "contemporary", "contemporaries"),
  "course-expected": (p: Given<{ from: string }>) => `on course from ${p.text("from")}`,
  "course-at-others": () => "at the others' gain",
  "course-missing": (p: Given<{ grams: string }>) => `${p.text("grams")} g missing`,
  "course-gained": (p: Given<{ gain: string }>) => `gained ${p.text("gain")}`,
  "course-gains": (p: Given<{ gain: string }>) => `gains ${p.text("gain")}`,
  "course-slower": (p: Given<{ since: string }>) => `slower from about ${p.text("since")}`,
  "course-slower-weak": (p: Given<{ since: string }>) => `perhaps slower from ${p.text("since")}`,
  "course-slower-range": (p: Given<{ days: string }>) => `${p.text("days")} fit the records`,
  "course-change": (p: Given<{ since: string; days: string; weak: boolean }>) =>
    `Dashed through all panels: ${p.text("since")}, since when it most likely gains more slowly${p.raw("weak") === true ? " (weak: no flag stands for it)" : ""}; shaded: ${p.text("days")}, 90 % interval.`,
  "slow-fold-short": () => "In short: what may stand behind it",
  "slow-fold-others": () => "Beside its contemporaries",
  "slow-fold-week": () => "The next seven days",
  "slow-fold-curve": () => "Its growth curve",
  "slow-fold-examination": () => "Questions for the examination",

  // Every animal's first screen.
  "animal-stands": (p: Given<{ name: string; why: string }>) =>
    p.text("why").includes(p.text("name"))
      ? p.text("why")
      : /^(Gains|Weighs) /.test(p.text("why"))
        ? `${p.text("name")} ${p.text("why").charAt(0).toLowerCase()}${p.text("why").slice(1)}`
        : `${p.text("name")}: ${p.text("why")}`,
  "animal-calm": (p: Given<{ name: string; possible: number; of: number }>) =>
    `Nothing is raised about ${p.text("name")}: ${p.number("possible")} of ${p.count("of", "check")} ${p.agree("possible", "was", "were")} possible. That is no statement about its health.`,
  "animal-not-judged": (p: Given<{ name: string }>) =>
    `${p.text("name")} cannot be judged yet from what is written.`,
  "animal-question-gain": () => "How does it gain?",
  "animal-gain": (p: Given<{ gain: string; days: number; relative: string; beside: string }>) =>
    `${p.text("gain")} over the last ${p.count("days", "day")}, ${p.text("relative")}.${p.text("beside") === "" ? "" : ` ${p.text("beside")}`}`,
  "animal-gain-beside": (p: Given<{ centre: number; n: number; drawn: boolean }>) =>
    `${p.count("n", "contemporary", "contemporaries")}${p.raw("drawn") === true ? " (of the animals in the picture, those near its age now, in its phase and not ill)" : ""} centre on ${p.amount("centre", "%/d")}.`,
  "animal-gain-unknown": (p: Given<{ why: string }>) => `Not known. ${p.text("why")}`.trim(),
  "animal-question-course": () => "Where was it heading?",
  "animal-course": (p: Given<{ mass: string; from: string; expected: string; where: string }>) =>
    `Seen from ${p.text("from")} it was on course for ${p.text("expected")}; it weighs ${p.text("mass")}, ${p.text("where")} that.`,
  "animal-course-unknown": () =>
    "Not known: too few weighings, or a phase in which nothing is expected.",
  "animal-question-eaten": () => "What does it eat?",
  "animal-eaten": (
    p: Given<{
      lowPct: number;
      highPct: number;
      least: number;
      most: number;
      planned: number;
      unit: string;
    }>,
  ) =>
    `${sameRange(p)}${p.number("highPct")} % of what was ordered in the last 24 hours${p.raw("unit") === "kcal" ? " eaten, in energy as its batches were mixed, since its foods differ" : ""}: ${p.raw("least") === p.raw("most") ? "" : `${p.number("least")} to `}${p.number("most")} of ${p.number("planned")} ${p.text("unit")}${p.raw("unit") === "kcal" ? " (the picture has grams a feeding day)" : ""}.`,
  "animal-question-seen": () => "What was seen?",
  "animal-seen-nothing": () => "Nothing was written in two days.",
  "animal-question-next": () => "What is ordered, and expected?",
  "animal-nil": () => "Nothing by mouth.",
  "animal-no-order": () => "No order is in the file: ask.",
  "animal-ordered": (p: Given<{ lines: readonly string[] }>) =>
    `Ordered: ${(p.raw("lines") ?? ["?"]).join("; ")}.`,
  "animal-ordered-waits": (p: Given<{ lines: readonly string[] }>) =>
    `Do not feed until the veterinarian has spoken. The order waits: ${(p.raw("lines") ?? ["?"]).join("; ")}.`,
  "animal-expected-gain": (p: Given<{ gain: string }>) => `Expected gain ${p.text("gain")}.`,
  "animal-decide": () =>
    "A level asks for somebody to look; it is no diagnosis. The attending veterinarian decides; permit conditions and local rules come first.",
  "left-outcome": (p: Given<{ name: string; outcome: string; day: string | null }>) =>
    `${p.text("name")} ${outcomeWords(p.text("outcome"))}${p.raw("day") === null ? "; the day is not written" : ` on ${p.text("day")}`}.`,
  "left-unknown": (p: Given<{ name: string }>) =>
    `${p.text("name")} is not in care on this day, and no outcome is written by then.`,
  "left-reason": (p: Given<{ reason: string }>) => `Reason as written: ${p.text("reason")}`,
  "left-no-reason": () => "No reason is written.",
  "left-question-stay": () => "How long was it here?",
  "left-stay": (p: Given<{ from: string; to: string; days: number }>) =>
    `${p.count("days", "day")}, ${p.text("from")} to ${p.text("to")}.`,
  "left-stay-unknown": () => "Not written.",
  "left-question-growth": () => "How did it grow?",
  "left-growth": (p: Given<{ from: string; to: string; gain: number | null }>) =>
    `From ${p.text("from")} to ${p.text("to")}${p.raw("gain") === null ? "" : `, ${p.amount("gain", "g/d")} from the first weighing to the last`}.`,
  "left-question-eaten": () => "What did it eat?",
  "left-eaten": (p: Given<{ feeds: number; low: number; high: number; shared: number }>) =>
    `${p.raw("low") === p.raw("high") ? "" : `${p.number("low", 9)} to `}${p.number("high", 9)} g in ${p.count("feeds", "feed")}${p.raw("shared") === 0 ? "" : `; ${p.number("shared", 9)} more were given to a group`}.`,
  "left-no-feeds": () => "No feed of its own is written.",
  "left-question-raised": () => "What was raised?",
  "flags-none-raised": () => "Nothing raised by what could be judged.",
  "left-raised": (p: Given<{ n: number; signals: readonly string[] }>) =>
    `${p.number("n")} ${p.raw("n") === 1 ? "episode" : "episodes"}: ${p.list("signals")}.`,
  "left-none-raised": () => "Nothing was raised.",
  "left-question-seen": () => "What was written about its health?",
  "left-seen": (p: Given<{ signs: number; dangers: number; given: number }>) =>
    `${p.count("signs", "entry", "entries")}, ${p.raw("dangers") === 0 ? "no danger" : p.count("dangers", "danger")} among them; medication or fluids ${p.raw("given") === 0 ? "never" : p.count("given", "time")}.`,
  "fold-growth": () => "Growth",
  "fold-feeding": () => "Feeding",
  "fold-seen": () => "What was seen",
  "fold-flags": () => "Flags, and what was done",
  "fold-records": () => "Its records",
  "fold-summary": () => "In numbers",

  // The change of shift.
  "shift-title": (p: Given<{ study: string }>) => `Hand-over: ${p.text("study")}`,
  "shift-records": (p: Given<{ from: number; to: number }>) =>
    `records from ${p.instant("from")} to ${p.instant("to")}`,
  "shift-next-feed": (p: Given<{ name: string; at: string }>) =>
    `The next feed is that of ${p.text("name")} at ${p.text("at")}.`,
  "shift-no-times": () => "No feed has an ordered time.",
  "shift-column-next": () => "Next feed",
  "shift-column-rule": (p: Given<{ at: string }>) => `← 12 h before ${p.text("at")}, 12 h after →`,
  "shift-column-changed": () => "Changed in 12 h",
  "shift-column-watch": () => "Watch",
  "shift-times-not-ordered": () => "times not ordered",
  "shift-usual": (p: Given<{ at: string }>) => `usually about ${p.text("at")}: habit, no order`,
  "shift-as-written": () => "as written below",
  "shift-nil": () => "nothing by mouth",
  "shift-no-order": () => "no order: ask now",
  "shift-doubted": () => "ask before the feed",
  "shift-measure-first": () => "measure first; the order stands",
  "shift-call-first": () => "call now; feed as ordered",
  "shift-look-first": () => "go and look first",
  "shift-stop": () => "Do not feed",
  "shift-stop-until": () => "until the veterinarian has spoken",
  "shift-waits": (p: Given<{ what: string }>) => `The order waits: ${p.text("what")}`,
  "shift-mass": (p: Given<{ mass: string; change: number | null; since: string | null }>) =>
    p.raw("change") === null || p.raw("since") === null
      ? `${p.text("mass")}.`
      : `${p.text("mass")}, ${changeWords(p)} ${p.text("since")}.`,
  "shift-not-weighed": (p: Given<{ mass: string | null; day: string | null }>) =>
    p.raw("mass") === null
      ? "Not weighed yet."
      : `Not weighed; ${p.text("mass")} on ${p.text("day")}.`,
  "shift-mass-doubted": (p: Given<{ mass: string }>) => `Reads ${p.text("mass")}: in doubt.`,
  "shift-ate": (
    p: Given<{ low: number; high: number; offered: number; feeds: number; doubted: boolean }>,
  ) =>
    `Ate ${p.raw("low") === p.raw("high") ? "" : `${p.number("low")} to `}${p.number("high")} of ${p.number("offered")} g in ${p.raw("feeds") === 1 ? "1 feed" : `${p.count("feeds", "feed")}`}${p.raw("low") === p.raw("high") ? "" : p.raw("doubted") ? "; a feed is in doubt" : "; refused not written"}.`,
  "shift-ate-none": (p: Given<{ feeds: number; offered: number }>) =>
    `Ate nothing of ${p.number("offered")} g at ${p.raw("feeds") === 1 ? "1 feed" : `${p.count("feeds", "feed")}`}.`,
  "shift-no-feed": () => "No feed written down.",
  "shift-nothing-due": () => "no feed due in 24 h: ask",
  "shift-sign": (p: Given<{ what: string; at: string }>) => `${p.text("what")} at ${p.text("at")}.`,
  "shift-nothing-else": () => "Nothing else written down.",
  "shift-calm": (p: Given<{ possible: number; of: number }>) =>
    `Nothing raised (${p.number("possible")} of ${p.number("of")} checks possible).`,
  "shift-rule-words": (p: Given<{ given: number; due: number }>) =>
    `${p.count("given", "feed")} in the 12 hours before, ${p.number("due")} ordered in the 12 hours after.`,
  "shift-fold": () => "The last 24 hours in full",
  "shift-orders": () => "As ordered",
  "shift-orders-wait": () => "As ordered; it waits until the veterinarian has spoken",
  "shift-signs-and-doubts": () => "Signs and doubts",
  "shift-decide": () =>
    "In doubt about an animal, ask the attending veterinarian now. “Nothing raised” is no statement about health. Not a diagnosis.",
  "shift-handed": () => "Handed over by",
  "shift-taken": () => "Taken over by",

  // What is to be done, by the act and by what a reason is about.
  "act-now": () => "Now:",
  "act-today": () => "Today:",
  "act-before-feed": () => "Before the next feed:",
  "act-by": (p: Given<{ at: string }>) => `By ${p.text("at")}:`,
  "act-do-not-feed": () => "Do not feed. Call the veterinarian; the order stands but waits.",
  "act-call": () => "Call the veterinarian. Feed as ordered.",
  "act-answer-ends": () => "The answer to what stands above ends: look again, and ask anew.",
  "act-temperature-unfed": () => "Take its temperature.",
  "act-weigh-unfed": () => "Weigh again, dry.",
  "act-go-and-look": () => "Go and look, and write what you see.",
  "act-temperature": () => "Take its temperature; what is ordered stands.",
  "act-temperature-again": () => "Take its temperature again.",
  "act-weigh-again": () => "Weigh again, dry and before a feed. Feeds stay as ordered until then.",
  "act-ask-feed": () => "Ask who wrote the feed what was given.",
  "act-ask-order": () => "Ask the veterinarian what is ordered.",
  "act-show": () => "Show its page to the veterinarian.",
  "act-usual": () => "Weigh as usual.",
} satisfies Readonly<Record<string, Sentence>>;

function outcomeWords(outcome: string): string {
  const words: Readonly<Record<string, string>> = {
    released: "was released",
    transferred: "was transferred",
    "long-term care": "went to long-term care",
    died: "died",
    euthanised: "was euthanised",
  };
  return words[outcome] ?? `left (${outcome})`;
}

function ofAll(p: GivenAmong<{ n: number; of: number }>): string {
  return `${p.number("n")} of ${p.number("of")} ${p.raw("of") === 1 ? "animal" : "animals"}`;
}

function sameRange(p: GivenAmong<{ lowPct: number; highPct: number }>): string {
  return p.raw("lowPct") === p.raw("highPct") ? "" : `${p.number("lowPct")} to `;
}

function changeWords(p: GivenAmong<{ change: number | null }>): string {
  const change = p.raw("change") ?? 0;
  if (change === 0) return "the same as on";
  return `${p.number("change").replace("−", "").replace("-", "")} g ${change < 0 ? "less" : "more"} than on`;
}

/** Fewer than three contemporaries do not serve: it is then held against itself. */
function comparedWith(p: GivenAmong<{ n: number }>): string {
  return (p.raw("n") ?? 0) < 3
    ? "its own earlier gain"
    : `${p.count("n", "contemporary", "contemporaries")} of its size`;
}
