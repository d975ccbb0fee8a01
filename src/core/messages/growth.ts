import type { Given, Sentence } from "../wording.js";

/** Why a curve has no place among the others. */
const unfitted: Readonly<Record<string, string>> = {
  "not-converged": "no parameter values were found at which its residuals stop falling",
  "too-few-points": "there are too few weighings for it",
};

/** Why a fit stopped, for who reads the method: the criterion in a few words. */
const stopped: Readonly<Record<string, string>> = {
  "relative-offset": "settled: residuals at right angles to the curve",
  rounding: "settled as far as numbers go",
  "exact-fit": "settled: no residual left",
  "no-progress": "no step brought it nearer",
  "running-off": "a parameter ran off without end",
  iterations: "it ran out of steps",
  "outside-domain": "the curve has no value at the start",
  "too-few-rows": "too few weighings",
  "no-start": "no start could be found",
};

/** Sentences of the `growth` room, by notice code. */
export const growthMessages = {
  "curve-stopped": (m: Given<{ stop: string }>) =>
    stopped[String(m.raw("stop"))] ?? `it stopped (${m.text("stop")})`,
  "growth-too-few-points": (
    m: Given<{ curve: string; needed: number; points: number; ages: number }>,
  ) =>
    `The ${m.text("curve")} curve needs at least ${m.count("needed", "weighing")} at different ages; there are ${m.count("points", "weighing")} at ${m.number("ages")} ages. Wait for more weighings, or choose a curve with fewer parameters.`,
  "growth-not-converged": (m: Given<{ curve: string; stop: string; iterations: number }>) =>
    `The ${m.text("curve")} curve could not be fitted: no parameter values were found at which the residuals stop falling. Choose a curve with fewer parameters, or look at the residuals of a simpler one first.`,
  "growth-not-converged-asymptote": (
    m: Given<{ curve: string; stop: string; iterations: number }>,
  ) =>
    `The final mass of the ${m.text("curve")} curve is not identified by these data: the fit keeps improving by next to nothing while the final mass runs off. No figure that rests on it is given.`,
  "growth-final-mass-beyond-data": (
    m: Given<{ curve: string; value: number; unit: string; times: number }>,
  ) =>
    `The final mass of ${m.text("curve")}, ${m.number("value")} ${m.text("unit")}, is ${m.number("times", 2)} times the largest mass weighed: the form of the curve says so, not the data. Do not forecast from it.`,
  "growth-asymptote-not-identified": (
    m: Given<{
      curve: string;
      estimate: number;
      unit: string;
      se: number | null;
      last: number | null;
      massUnit: string;
    }>,
  ) =>
    `The final mass of the ${m.text("curve")} curve is not identified by these data; the last mass weighed is ${m.number("last")} ${m.text("massUnit")}. Within the ages weighed the curve may be used; beyond them it says nothing.`,
  "growth-parameter-not-identified": (
    m: Given<{
      parameter: string;
      meaning: string;
      estimate: number;
      unit: string;
      se: number | null;
    }>,
  ) => `${m.text("parameter")} (${m.text("meaning")}) is not identified by these data.`,
  "growth-parameter-undetermined": (
    m: Given<{ parameter: string; meaning: string; estimate: number; unit: string }>,
  ) =>
    `${m.text("parameter")} (${m.text("meaning")}) cannot be told from these data at all: other parameters do the same work, or no weighing depends on it. The figure shown, ${m.number("estimate")} ${m.text("unit")}, is one of many that fit equally well.`,
  "growth-next-step-asymptote": (m: Given<{ parameter: string; curve: string; unit: string }>) =>
    `What helps: fix the final mass ${m.text("parameter")} at a value known for the species, share it across the cohort, or wait for more weighings, until the gain has visibly slowed.`,
  "growth-edge-of-domain": (m: Given<{ curve: string; domain: string }>) =>
    `The fit may have ended where the ${m.text("curve")} curve ceases to exist (it holds for ${m.text("domain")}): the earliest weighings press against that edge. A logistic or Gompertz curve has no such edge.`,
  "growth-next-step-weighings": (m: Given<{ curve: string; weighings: number }>) =>
    `If growth goes on as the ${m.text("curve")} curve fitted now says, about ${m.number("weighings")} more weighings at the same spacing would identify the final mass. This is a rough guide: the curve itself is still uncertain.`,
  "growth-next-step-far-off": (m: Given<{ curve: string }>) =>
    `The ${m.text("curve")} curve fitted now does not tell how many more weighings would identify the final mass; they are many.`,
  "growth-confidence-band": (m: Given<{ percent: number }>) =>
    `The inner band is where the true curve is expected to lie: at each age, ${m.number("percent")} % of such bands hold it, if the curve's form is right.`,
  "growth-prediction-band": (m: Given<{ percent: number }>) =>
    `The outer band is where a single new weighing is expected to lie, ${m.number("percent")} % of the time: the uncertainty of the curve and the scatter of weighings together.`,
  "growth-parameter-at-bound": (
    m: Given<{ parameter: string; meaning: string; estimate: number; unit: string }>,
  ) =>
    `${m.text("parameter")} (${m.text("meaning")}) rests on the limit that was set, ${m.number("estimate")} ${m.text("unit")}; it has no standard error, and those of the others hold only if the limit is true.`,
  "growth-origin-moved": (m: Given<{ age: number; unit: string }>) =>
    `Age zero lies far outside the ages weighed, so start masses are those at the first age, ${m.number("age", 8)} ${m.text("unit")}.`,
  "growth-serial-not-fitted": (m: Given<{ curve: string }>) =>
    `Errors that resemble their neighbours could not be fitted with the ${m.text("curve")} curve: this needs at least 3 weighings, no two of them at the same age. Keep one weighing for each age, or fit without serial errors.`,
  "growth-serial-inseparable": (m: Given<{ curve: string }>) =>
    `The correlation of neighbouring errors is not identified: it cannot be told from a shift of the whole ${m.text("curve")} curve, so standard errors of masses may be far too large. Fit without serial errors, or wait for more weighings.`,
  "growth-shared-left-out": (m: Given<{ names: readonly string[]; needed: number }>) =>
    `${m.list("names")}: left out of the shared fit, which needs at least ${m.count("needed", "weighing")} of each animal.`,
  "growth-break-on-age": (m: Given<{ curve: string }>) =>
    `The best break of the ${m.text("curve")} curve lies on an age at which there was a weighing; its standard error is only a rough guide there.`,
  "growth-not-estimated": (m: Given<{ parameter: string; curve: string }>) =>
    `Not given: the ${m.text("curve")} curve could not be fitted to these data.`,
  "growth-prediction-no-fit": (m: Given<{ age: number; unit: string; curve: string }>) =>
    `Nothing is predicted at age ${m.number("age")} ${m.text("unit")}: the ${m.text("curve")} curve could not be fitted to these data.`,
  "growth-prediction-beyond-unidentified": (
    m: Given<{ age: number; unit: string; last: number; curve: string }>,
  ) =>
    `Nothing is predicted at age ${m.number("age")} ${m.text("unit")}, beyond the last weighing at ${m.number("last")}: the final mass of the ${m.text("curve")} curve is not identified by these data.`,
  "growth-prediction-outside-domain": (m: Given<{ age: number; unit: string; curve: string }>) =>
    `At age ${m.number("age")} ${m.text("unit")} the ${m.text("curve")} curve has no value.`,
  "growth-prediction-no-error": (m: Given<{ curve: string }>) =>
    `No interval is given: the ${m.text("curve")} curve's parameters cannot be told apart on these data.`,
  "growth-restarted": (m: Given<{ starts: number }>) =>
    `No fit settled from the usual starts; ${m.count("starts", "other start")} around the likeliest ${m.agree("starts", "was", "were")} tried, and the best of those is given. Look at the curve beside the weighings before trusting it.`,
  "growth-masses-left-out": (m: Given<{ count: number }>) =>
    `${m.count("count", "weighing")} with a mass that is missing or not above zero ${m.agree("count", "is", "are")} left out.`,
  "growth-no-single-value": (_: Given<{ curve: string }>) =>
    "An interval for a single new value is not given here: a gain is not observed at one instant, and with known errors it depends on how the new weighing is made.",
  "growth-derived-no-fit": (m: Given<{ quantity: string; curve: string }>) =>
    `No ${m.text("quantity")} is given: the ${m.text("curve")} curve could not be fitted to these data.`,
  "growth-derived-needs-asymptote": (m: Given<{ quantity: string; curve: string }>) =>
    `Not given: it rests on the final mass of the ${m.text("curve")} curve, which these data do not identify. Fix the final mass, share it across the cohort, or wait for more weighings.`,
  "growth-derived-none": (m: Given<{ curve: string; quantity: string }>) =>
    `The ${m.text("curve")} curve has no ${m.text("quantity")}.`,
  "growth-target-beyond-unidentified": (
    m: Given<{ mass: number; unit: string; heaviest: number; curve: string }>,
  ) =>
    `No age is given for ${m.number("mass")} ${m.text("unit")}: it lies beyond the heaviest mass weighed (${m.number("heaviest")}), and the final mass of the ${m.text("curve")} curve is not identified by these data.`,
  "growth-target-never-reached": (
    m: Given<{ curve: string; mass: number; unit: string; final: number | null }>,
  ) =>
    `The fitted ${m.text("curve")} curve never reaches ${m.number("mass")} ${m.text("unit")}; its final mass is ${m.number("final")}.`,
  "growth-equation": (
    m: Given<{ curve: string; equation: string; ageUnit: string; massUnit: string }>,
  ) =>
    `${m.text("curve")}: ${m.text("equation")}, with age t in ${m.text("ageUnit")} and mass W in ${m.text("massUnit")}.`,
  "growth-parameter-meaning": (
    m: Given<{
      name: string;
      meaning: string;
      unit: string;
      value: number | null;
      se: number | null;
    }>,
  ) =>
    `${m.text("name")} is ${m.text("meaning")} (${m.raw("unit") === "1" ? "no unit" : `unit: ${m.text("unit")}`}).`,
  "growth-parameter-value": (
    m: Given<{
      name: string;
      meaning: string;
      value: number | null;
      unit: string;
      se: number | null;
    }>,
  ) => `${m.text("name")} is ${m.text("meaning")}: ${m.estimate("value", "se", m.text("unit"))}.`,
  "growth-domain": (m: Given<{ domain: string }>) => `The curve holds for ${m.text("domain")}.`,
  "growth-profile-no-fit": (m: Given<{ parameter: string; curve: string }>) =>
    `No interval is given for ${m.text("parameter")}: the ${m.text("curve")} curve could not be fitted to these data.`,
  "growth-profile-fixed": (m: Given<{ parameter: string }>) =>
    `No interval is given for ${m.text("parameter")}: it was fixed, not estimated.`,
  "growth-profile-robust": (m: Given<{ parameter: string }>) =>
    `No profile interval is given for ${m.text("parameter")}: a robust loss has no likelihood. The standard error gives an approximate one.`,
  "growth-profile-lower": (m: Given<{ parameter: string; curve: string }>) =>
    `While the interval of ${m.text("parameter")} was searched a better fit of the ${m.text("curve")} curve was met: fit again with multiStart.`,
  "growth-profile-unbounded": (
    m: Given<{ parameter: string; meaning: string; side: string; level: number }>,
  ) =>
    `${m.text("parameter")} (${m.text("meaning")}) has no limit on the ${m.text("side")} side at ${m.number("level")} %: the data do not keep it from going there.`,
  "growth-not-ranked-failed": (m: Given<{ curve: string; status: string }>) =>
    `${m.text("curve")} has no rank: ${unfitted[String(m.raw("status"))] ?? `it could not be fitted (${m.text("status")})`}.`,
  "growth-not-ranked-data": (m: Given<{ curve: string; against: string }>) =>
    `${m.text("curve")} has no rank: it was fitted to other weighings than ${m.text("against")}, and an AICc compares curves on the same data only.`,
  "growth-not-ranked-errors": (m: Given<{ curve: string; against: string }>) =>
    `${m.text("curve")} has no rank: its errors were treated in another way than those of ${m.text("against")}. Fit all with the same weights and error structure.`,
  "growth-not-ranked-robust": (m: Given<{ curve: string }>) =>
    `${m.text("curve")} has no rank: a robust loss has no likelihood and so no AICc.`,
  "growth-not-ranked-no-aicc": (m: Given<{ curve: string }>) =>
    `${m.text("curve")} has no rank: there are too few weighings for its number of parameters, or it goes through every one.`,
  "growth-choice-none": (m: Given<{ curves: readonly string[] }>) =>
    `No curve is chosen: none of ${m.list("curves")} could be ranked on these data.`,
  "growth-choice-lowest": (
    m: Given<{
      curve: string;
      aicc: number | null;
      ranked: number;
      nextBehind: number | null;
      next: string;
      parameters: number;
      behind: number | null;
      lowest: string;
    }>,
  ) =>
    `${m.text("curve")} is chosen: its AICc of ${m.number("aicc")} is the lowest of ${m.count("ranked", "curve")}, ${m.number("nextBehind", 3)} below the next (${m.text("next")}).`,
  "growth-choice-only": (
    m: Given<{
      curve: string;
      aicc: number | null;
      parameters: number;
      behind: number | null;
      lowest: string;
    }>,
  ) =>
    `${m.text("curve")} stands alone: no other of the curves tried could be fitted to these data, so its AICc of ${m.number("aicc")} has nothing to be compared with.`,
  "growth-choice-simpler": (
    m: Given<{
      curve: string;
      behind: number | null;
      lowest: string;
      parameters: number;
      aicc: number | null;
      next: string;
      nextBehind: number | null;
      ranked: number;
    }>,
  ) =>
    `${m.text("curve")} is chosen: its AICc is only ${m.number("behind", 2)} above the lowest (${m.text("lowest")}) and it has fewest parameters (${m.number("parameters")}) of those within 2.`,
  "growth-choice-by-pattern": (
    m: Given<{
      curve: string;
      behind: number | null;
      bent: string;
      parameters: number;
      aicc: number | null;
      lowest: string;
      next: string;
      nextBehind: number | null;
      ranked: number;
    }>,
  ) =>
    `${m.text("curve")} is chosen although its AICc is ${m.number("behind", 2)} above the lowest, because the residuals of ${m.text("bent")} follow a pattern and its own do not.`,
  "growth-choice-still-bent": (m: Given<{ runs: number; curve: string }>) =>
    `Its residuals still follow a pattern (only ${m.count("runs", "run")} of equal sign), so no curve tried describes these weighings well and standard errors are too small.`,
  "growth-choice-asymptote": (m: Given<{ curve: string }>) =>
    `Its final mass is not identified by these data, so use ${m.text("curve")} within the ages weighed only.`,
  "growth-choice-failures": (m: Given<{ count: number; failed: readonly string[] }>) =>
    `${m.number("count")} of the curves could not be ranked: ${m.list("failed")}.`,
  "growth-choice-all-fitted": (m: Given<{ count: number }>) =>
    `All ${m.count("count", "curve")} could be fitted, and the residuals of the chosen one show no pattern.`,
  "growth-gradient-checked": (m: Given<{ curve: string; difference: number }>) =>
    `The gradient of ${m.text("curve")} is computed by differences; two step sizes agree to ${m.number("difference", 2)} at the start values.`,
  "growth-gradient-rough": (m: Given<{ curve: string; difference: number }>) =>
    `The gradient of ${m.text("curve")} computed by differences is uncertain: two step sizes differ by ${m.number("difference", 2)} at the start values. Look for a kink or a jump in the formula; standard errors may be wrong.`,
} satisfies Readonly<Record<string, Sentence>>;
