import type { Given, Sentence } from "../wording.js";

/** Sentences of the command line, by notice code. */
export const commandMessages = {
  "notebook-needs-seasons": (p: Given<{ seasons: number }>) =>
    `needs animals of two seasons; ${p.raw("seasons") === 0 ? "none is written" : `${p.count("seasons", "is", "are")} written`}. Fill in the column season of the sheet "animals" for every animal, those of earlier years included.`,
  "notebook-needs-ages": (p: Given<{ animals: number; needed: number; days: number }>) =>
    `needs ${p.number("needed")} animals of one species with a birth date of known basis and at least ${p.count("days", "weighed day")}; ${p.count("animals", "is", "are")} there. Fill in birth_date_earliest, birth_date_latest and birth_date_basis of the sheet "animals" (how the date is known; one estimated from mass does not serve), and go on weighing.`,
  "notebook-needs-days": (p: Given<{ most: number; days: number }>) =>
    `needs an animal weighed on at least ${p.count("days", "day")}; the longest record has ${p.number("most")}. Go on weighing.`,
  "notebook-needs-engine": () =>
    "needs DuckDB, the engine that holds archives of many houses, which is not installed. Type: npm install @duckdb/node-api@1.5.6-r.1",
  "notebook-needs-houses": (p: Given<{ animals: number; needed: number }>) =>
    `needs an archive of several houses, or ${p.number("needed")} animals of one species with a birth date of known basis to share out; ${p.count("animals", "is", "are")} there. Make an archive with: gramline archive add, then name it: --set archiveFolder=../houses`,
  "notebook-needs-weighing": () =>
    'needs a weighing of an animal; none could be read. Fill in the sheets "animals" and "weighings", then: gramline check',

  "explain-danger": () =>
    "Danger: something that may kill within hours. Act one, do not feed until the veterinarian has spoken: below the temperature limit, bloat, vomit twice within 6 h, cannot be roused, will not suckle, convulsion, a feed far above bounds. Act two, call now and feed as ordered: the others. Limits: the veterinarian's entry in study.json, else a published range of the species, else common practice; the sentence on the page says which.",
  "explain-second-look": () =>
    "Second look: somebody should look at this animal today, foremost one of which nothing is written while others are (go and look now). It is no diagnosis. Definition of this project, after common practice.",
  "explain-measure-first": () =>
    "Measure first: a temperature or a mass is missing, old or in doubt, so that nothing can be said before it is measured. What is ordered stands; suggestions wait. Definition of this project.",
  "explain-not-judged": () =>
    "Not judged: too little is recorded to compare this animal with anything; the page says what is missing. It says nothing of its health.",
  "explain-nothing-raised": () =>
    "Nothing raised: of the checks that were possible none found anything. That is no statement of health.",
  "explain-statistical": () =>
    "A signal from the weighings. What is expected of the animal comes from its species, other nurseries, earlier seasons, its group and itself; it is raised where the weighings lie further off than the number of false flags allows that you chose (2 in 100 weeks of a healthy animal unless you say otherwise). Sources: Harvey (1989) Forecasting, Structural Time Series Models and the Kalman Filter; Page (1954) Biometrika 41:100-115; Roberts (1959) Technometrics 1:239-250; thresholds by simulation.",
  "explain-practice": () =>
    "A rule of common practice, no published threshold; its limit can be changed under watch_limits in study.json. It stands outside the number of false flags; how often it names healthy animals was measured on invented facilities.",
  "explain-reason": () =>
    "A reason for the level at which an animal stands on the day's pages. Definition of this project, after common practice; limits of the veterinarian in study.json go before it.",
  "explain-sentence": () => "A sentence of the pages. In <> stands what comes from the records.",
  "explain-method": () => "How a figure is worked out.",

  "method-day-mass": () =>
    "A day's mass: the weighing in the animal's usual condition (dry, before a meal) nearest its usual clock time.",
  "method-gain": () =>
    "Gain over a window: least-squares slope of daily mass on real time; relative gain: slope of ln mass; 95 % intervals allow for weighings of neighbouring days that err alike, as far as the weighings before the window tell.",
  "method-conversion": () =>
    "Feed conversion: feed kept (eaten less what came up) between two weighing instants over regression gain, interval by Fieller's theorem.",
  "method-shares": () =>
    "Shares over time: milestones by Turnbull's estimate, which asks only between which two looks each was reached, late arrivals entering late; deaths by the Aalen-Johansen estimate, in which leaving alive competes with dying.",
  "method-curves": () =>
    "Curves: nonlinear least squares on daily masses after the arrival phase; standard errors from the curvature at the optimum; comparison by AICc (Burnham and Anderson 2002).",
} satisfies Readonly<Record<string, Sentence>>;
