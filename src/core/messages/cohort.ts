import type { Given, Sentence } from "../wording.js";

/** Sentences about cohort models and the mixed models behind them, by notice code. */
export const cohortMessages = {
  "mixed-singular": (
    m: Given<{ kind: string; groups: number; effects: readonly string[]; level: string }>,
  ) =>
    m.raw("kind") === "variance zero"
      ? `The ${m.number("groups")} groups show no difference in ${m.list("effects")} beyond chance: its variance between groups is estimated as zero. The fit is valid; predictions simply share one ${m.list("effects")}. More groups, or a model without that difference, make it plain.`
      : `The differences between the ${m.number("groups")} groups in ${m.list("effects")} cannot be told apart: their correlation is estimated as one. The fit is valid, but it rests on fewer independent differences than it was asked for; a model without the correlation, or more groups, would settle it.`,
  "mixed-aliased-columns": (m: Given<{ columns: readonly string[] }>) =>
    `${m.list("columns")}: not estimated, because other columns of the model already say the same.`,
  "mixed-no-intercept": () =>
    "The fixed columns hold no constant: the model goes through zero where all of them are zero. Add a column of ones, unless that is meant.",
  "mixed-one-group": (m: Given<{ level: string }>) =>
    `All rows belong to one group of ${m.text("level")}: how far groups differ cannot be told from one. Leave the level out.`,
  "mixed-one-row-a-group": (m: Given<{ level: string; groups: number }>) =>
    `Each of the ${m.number("groups")} groups of ${m.text("level")} has one row: what differs between groups cannot be told from the scatter of rows, and only their sum means anything. Leave the level out, or give several rows of a group.`,
  "mixed-serial-boundary": (m: Given<{ boundary: string; phi: number }>) =>
    m.raw("boundary") === "zero"
      ? "Neighbouring residuals do not hang together: their correlation went to zero, as far as these distances in time can tell. The fit equals one without it."
      : "The correlation of neighbouring residuals went to one: it cannot be told from a shift of the whole curve. Differences in time remain usable; the level and its error do not. Fit without serial correlation, or wait for more observations.",
  "mixed-not-converged": (m: Given<{ evaluations: number; slope: number }>) =>
    `The variances did not settle (${m.number("evaluations")} evaluations, slope left ${m.number("slope", 2)}). Try a model with fewer random effects.`,
  "mixed-nonlinear-no-start": (_: Given<{ change: number | null }>) =>
    "No starting values were found from which the curve can be evaluated on these data. Give a start, or choose another curve.",
  "mixed-nonlinear-effects-not-settled": (
    m: Given<{ iterations: number; change: number | null }>,
  ) =>
    `The individual curves did not settle in ${m.number("iterations")} rounds. Fewer parameters that differ between individuals, or a curve with fewer parameters, may help.`,
  "mixed-nonlinear-variances-not-settled": (
    m: Given<{ iterations: number; change: number | null }>,
  ) =>
    `The differences between individuals did not settle in ${m.number("iterations")} rounds. Fewer parameters that differ between individuals may help.`,
  "mixed-nonlinear-not-identified": (
    m: Given<{ parameters: readonly string[]; change: number | null }>,
  ) =>
    `These data do not identify ${m.list("parameters")}: values far apart give the same curve within the ages observed. Where a final mass is among them, growth has not visibly slowed yet. Choose a curve without it, fix it at a known value, or wait.`,
  "mixed-nonlinear-outside-domain": (_: Given<{ change: number | null }>) =>
    "The search left the range in which the curve has a value. Another start, parameters kept positive by a log scale, or another curve may help.",
  "mixed-marginal-likelihood": (m: Given<{ nodes: number; groups: number }>) =>
    `Likelihood by integration over the individual differences, ${m.number("nodes")} point(s) for each.`,
  "cohort-too-few-animals": (m: Given<{ animals: number; needed: number }>) =>
    `${m.count("animals", "animal")} with weighings ${m.agree("animals", "is", "are")} too few to tell how far animals differ; at least ${m.number("needed")} are needed. Fit each animal's curve alone, or add animals of earlier seasons.`,
  "cohort-not-fitted": () => "No cohort model was fitted.",
  "cohort-simplified-few-animals": (
    m: Given<{ animals: number; asked: string; needed: number; taken: string }>,
  ) =>
    `${m.count("animals", "animal")} cannot carry the model asked for (${m.text("asked")}), which needs ${m.number("needed")}. A simpler one was fitted instead: ${m.text("taken")}.`,
  "cohort-simplified-no-fit": (m: Given<{ asked: string; animals: number; taken: string }>) =>
    `The model asked for (${m.text("asked")}) could not be fitted to these ${m.count("animals", "animal")}. A simpler one was fitted instead: ${m.text("taken")}.`,
  "cohort-residuals-hang-together": (
    m: Given<{ curve: string; correlation: number; pairs: number }>,
  ) =>
    `Weighings lie on the same side of their animal's ${m.text("curve")} curve for several days running (correlation of neighbours ${m.number("correlation", 2)}): the curve has not quite the right shape, or animals have good and bad spells. Intervals are then too narrow. Try another curve, or fit with residuals that hang together (option "serial").`,
  "cohort-beyond-ages": (
    m: Given<{ ages: readonly number[]; unit: string; from: number; to: number }>,
  ) =>
    `Age ${m.list("ages")} ${m.text("unit")} lies outside the ages this cohort was weighed at (${m.number("from")} to ${m.number("to")}): the curve is drawn on there by its formula alone.`,
  "cohort-average-outside": (m: Given<{ share: number; curve: string }>) =>
    `The fitted differences between animals place ${m.number("share", 2)} of all animals where the ${m.text("curve")} curve has no meaning (a rate below zero, for one). They are left out of the averaged curve and of the bands; fit the parameter on its logarithm (logScale) to avoid it.`,
  "cohort-animal-not-settled": (m: Given<{ weighings: number }>) =>
    `This animal's curve did not settle on its ${m.count("weighings", "weighing")}; look for a slip among them before trusting the forecast.`,
  "cohort-prediction-without-weighings": (
    m: Given<{ animals: number; intervalFor: string; of: string }>,
  ) =>
    `Nothing is known of this animal yet: the forecast is that of a typical animal among ${m.number("animals")}, and the interval holds all the difference between animals (interval for the ${m.text("intervalFor")}).`,
  "cohort-prediction-with-weighings": (
    m: Given<{ weighings: number; animals: number; intervalFor: string; of: string }>,
  ) =>
    `The forecast rests on ${m.count("weighings", "weighing")} of this animal and on the ${m.count("animals", "animal")} of the cohort: the fewer its own weighings, the closer it is drawn to the cohort (interval for the ${m.text("intervalFor")}).`,
  "cohort-bootstrap-failures": (m: Given<{ failed: number; replicates: number }>) =>
    `${m.number("failed")} of ${m.number("replicates")} simulated cohorts could not be refitted and are left out; the figures may be too narrow.`,
} satisfies Readonly<Record<string, Sentence>>;
