import type { Sentence } from "../wording.js";

/** Sentences of the `growth` room, by notice code. */
export const growthMessages = {
  "growth-too-few-points": (m) =>
    `The ${m.text("curve")} curve needs at least ${m.number("needed")} weighings at different ages; there are ${m.number("points")} weighings at ${m.number("ages")} ages. Wait for more weighings, or choose a curve with fewer parameters.`,
  "growth-not-converged": (m) =>
    `The ${m.text("curve")} curve could not be fitted: no parameter values were found at which the residuals stop falling (${m.text("stop")}, ${m.number("iterations")} steps). Choose a curve with fewer parameters, or look at the residuals of a simpler one first.`,
  "growth-not-converged-asymptote": (m) =>
    `The final mass of the ${m.text("curve")} curve is not identified by these data: the fit keeps improving by next to nothing while the final mass runs off (${m.text("stop")}, ${m.number("iterations")} steps). No figure that rests on it is given.`,
  "growth-asymptote-not-identified": (m) =>
    `The final mass of the ${m.text("curve")} curve is not identified by these data: ${m.number("estimate")} ${m.text("unit")} with a standard error of ${m.number("se", 3)}, while the last mass weighed is ${m.number("last")} ${m.text("massUnit")}. Within the ages weighed the curve may be used; beyond them it says nothing.`,
  "growth-parameter-not-identified": (m) =>
    `${m.text("parameter")} (${m.text("meaning")}) is not identified by these data: ${m.number("estimate")} ${m.text("unit")} with a standard error of ${m.number("se", 3)}.`,
  "growth-next-step-asymptote": (m) =>
    `What helps: fix the final mass ${m.text("parameter")} at a value known for the species, share it across the cohort, or wait until the gain has visibly slowed.`,
  "growth-parameter-at-bound": (m) =>
    `${m.text("parameter")} (${m.text("meaning")}) rests on the limit that was set, ${m.number("estimate")} ${m.text("unit")}; it has no standard error, and those of the others hold only if the limit is true.`,
  "growth-origin-moved": (m) =>
    `Age zero lies far outside the ages weighed, so start masses are those at the first age, ${m.number("age", 8)} ${m.text("unit")}.`,
  "growth-serial-not-fitted": (m) =>
    `Errors that resemble their neighbours could not be fitted with the ${m.text("curve")} curve: this needs at least 3 weighings, no two of them at the same age. Keep one weighing for each age, or fit without serial errors.`,
  "growth-serial-inseparable": (m) =>
    `The correlation of neighbouring errors is not identified: it cannot be told from a shift of the whole ${m.text("curve")} curve, so standard errors of masses may be far too large. Fit without serial errors, or wait for more weighings.`,
  "growth-not-estimated": (m) =>
    `${m.text("parameter")} is not given because the ${m.text("curve")} curve could not be fitted to these data.`,
  "growth-prediction-no-fit": (m) =>
    `Nothing is predicted at age ${m.number("age")} ${m.text("unit")}: the ${m.text("curve")} curve could not be fitted to these data.`,
  "growth-prediction-beyond-unidentified": (m) =>
    `Nothing is predicted at age ${m.number("age")} ${m.text("unit")}, beyond the last weighing at ${m.number("last")}: the final mass of the ${m.text("curve")} curve is not identified by these data.`,
  "growth-prediction-outside-domain": (m) =>
    `At age ${m.number("age")} ${m.text("unit")} the ${m.text("curve")} curve has no value.`,
  "growth-prediction-no-error": (m) =>
    `No interval is given: the ${m.text("curve")} curve's parameters cannot be told apart on these data.`,
  "growth-no-single-value": () =>
    "An interval for a single new value is not given here: a gain is not observed at one instant, and with known errors it depends on how the new weighing is made.",
} satisfies Readonly<Record<string, Sentence>>;
