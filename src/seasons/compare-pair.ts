import type { LongWork } from "../core/long-work.js";
import { type Interval, type Measured, measured } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import {
  studentTCumulative,
  studentTQuantile,
  studentTTwoSided,
} from "../stats/distributions/student-t.js";
import { studentizedRangeCumulative } from "../stats/distributions/studentized-range.js";
import { type AdjustedModel, contrast } from "./adjusted-model.js";
import {
  animalsNeeded,
  type DetectableDifference,
  detectableDifference,
} from "./detectable-difference.js";
import { type ResampledDifference, resampleDifference } from "./resample-difference.js";
import type { SeasonGain } from "./season-gain.js";
import { type UnadjustedDifference, unadjustedDifference } from "./unadjusted-difference.js";

export interface PairOptions extends LongWork {
  readonly level?: number;
  readonly margin?: number;
  readonly runs?: number;
}

export interface SeasonPair {
  readonly from: string;
  readonly to: string;
  /** Adjusted difference, `to` minus `from`, g/d. */
  readonly difference: Measured;
  readonly df: number;
  readonly p: number;
  /** Holm's p among the pairs compared; the decision rests on it. */
  readonly adjustedP: number;
  /** Tukey's p among all seasons of the model (studentised range); null with two seasons. */
  readonly tukeyP: number | null;
  readonly decision: "differs" | "alike within the margin" | "not shown";
  readonly equivalence: Equivalence | null;
  /** Without adjustment: Welch's t and Hedges' g. */
  readonly unadjusted: UnadjustedDifference | null;
  readonly resampled: ResampledDifference | null;
  readonly detectable: DetectableDifference | null;
  readonly sentences: readonly Notice[];
}

/** Two one-sided tests against a margin set beforehand. */
export interface Equivalence {
  readonly margin: number;
  readonly p: number;
  readonly shown: boolean;
  /** Inside the margin on both sides: grown alike. */
  readonly interval: Interval;
}

interface UndecidedPair {
  readonly p: number;
  decide(adjustedP: number, pairs: number): SeasonPair;
}

/** Compares two seasons of a fitted model; the decision waits for the other pairs' p. */
export function comparePair(
  model: AdjustedModel,
  ends: readonly AdjustedModel[],
  animals: readonly SeasonGain[],
  from: string,
  to: string,
  options: PairOptions,
): UndecidedPair {
  const level = options.level ?? 0.95;
  const main = estimate(model, from, to, level);
  const all = [main, ...ends.map((m) => estimate(m, from, to, level))];
  const lower = Math.min(...all.map((e) => e.lower));
  const upper = Math.max(...all.map((e) => e.upper));
  const p = Math.max(...all.map((e) => e.p));
  const of = (season: string) => animals.filter((a) => a.season === season).map((a) => a.gain);
  const na = of(from).length;
  const nb = of(to).length;
  const runs = options.runs ?? 1999;
  const equivalence =
    options.margin === undefined ? null : equivalenceOf(all, options.margin, level);
  return {
    p,
    decide: (adjustedP, pairs) => {
      const differs = adjustedP < 1 - level;
      const decision = differs
        ? "differs"
        : equivalence?.shown === true
          ? "alike within the margin"
          : "not shown";
      // Gains that all lie on the model leave nothing to reorder.
      const size = Math.max(...model.response.map(Math.abs));
      const resampled =
        runs === 0 || !(model.residualSd > 1e-9 * size)
          ? null
          : resampleDifference(model, from, to, { ...options, runs, level });
      const power = {
        residualSd: model.residualSd,
        adjustments: model.used.length,
        level: 1 - (1 - level) / pairs,
        seed: options.seed ?? 1,
        runs: 2000,
      };
      const detectable =
        runs === 0 || !(model.residualSd > 0)
          ? null
          : detectableDifference({
              ...power,
              perSeason: [na, nb],
              freedom: model.n - model.seasons.length,
            });
      const unadjusted = unadjustedDifference(of(from), of(to), level);
      const base = {
        from,
        to,
        difference: measured(main.difference, "g/d", {
          se: main.se,
          n: na + nb,
          interval: { lower, upper, level },
        }),
        df: model.df,
        p,
        adjustedP,
        tukeyP: tukeyP(main.difference / main.se, model),
        decision,
        equivalence,
        unadjusted,
        resampled,
        detectable,
      } as const;
      const needed =
        detectable === null || decision === "differs" || !(Math.abs(main.difference) > 0)
          ? undefined
          : animalsNeeded(Math.abs(main.difference), { ...power, runs: 1000 });
      return { ...base, sentences: sentencesOf(base, model.residualSd, na, nb, needed) };
    },
  };
}

function tukeyP(t: number, model: AdjustedModel): number | null {
  const k = model.seasons.length;
  if (k < 3 || !Number.isFinite(t)) return null;
  return studentizedRangeCumulative(Math.abs(t) * Math.SQRT2, k, model.df, "upper");
}

function estimate(model: AdjustedModel, from: string, to: string, level: number) {
  const { difference, se } = contrast(model, from, to);
  const t = studentTQuantile(1 - (1 - level) / 2, model.df);
  return {
    difference,
    se,
    df: model.df,
    lower: difference - t * se,
    upper: difference + t * se,
    p: se > 0 ? studentTTwoSided(difference / se, model.df) : difference === 0 ? 1 : 0,
  };
}

/** Schuirmann's two one-sided tests: alike when both one-sided p are below 1 - level. */
function equivalenceOf(
  estimates: readonly { difference: number; se: number; df: number }[],
  margin: number,
  level: number,
): Equivalence {
  const one = estimates.map(({ difference, se, df }) => {
    const t = studentTQuantile(level, df);
    return {
      p: Math.max(
        studentTCumulative((difference + margin) / se, df, "upper"),
        studentTCumulative((difference - margin) / se, df, "lower"),
      ),
      lower: difference - t * se,
      upper: difference + t * se,
    };
  });
  const p = Math.max(...one.map((e) => e.p));
  return {
    margin,
    p,
    shown: p < 1 - level,
    interval: {
      lower: Math.min(...one.map((e) => e.lower)),
      upper: Math.max(...one.map((e) => e.upper)),
      level: 1 - 2 * (1 - level),
    },
  };
}

function sentencesOf(
  pair: Omit<SeasonPair, "sentences">,
  sd: number,
  na: number,
  nb: number,
  needed: number | null | undefined,
): Notice[] {
  const { from, to, equivalence, unadjusted, resampled, detectable } = pair;
  const difference = pair.difference.value!;
  const { lower, upper, level } = pair.difference.interval!;
  const about = { from, to, difference, level, lower, upper };
  const out: Notice[] = [];
  if (pair.decision === "differs") {
    const more = difference > 0;
    out.push(
      notice("season-differs", "info", {
        from,
        to,
        level,
        p: pair.adjustedP,
        size: Math.abs(difference),
        more,
        lower: more ? lower : -upper!,
        upper: more ? upper : -lower!,
        inHundred: 100 * pair.adjustedP,
      }),
      notice("season-other-explanations", "caution", { from, to }),
    );
    if (equivalence?.shown === true)
      out.push(
        notice("season-differs-but-small", "info", { from, to, margin: equivalence.margin }),
      );
  } else if (pair.decision === "alike within the margin" && equivalence !== null) {
    out.push(
      notice("season-equivalent", "info", {
        ...about,
        margin: equivalence.margin,
        level: equivalence.interval.level,
        lower: equivalence.interval.lower,
        upper: equivalence.interval.upper,
      }),
    );
  } else out.push(notice("season-not-shown", "info", about));
  if (pair.decision !== "differs" && detectable !== null) {
    out.push(
      notice("season-detectable", "info", { na, nb, sd, difference: detectable.difference }),
    );
    if (needed !== undefined)
      out.push(
        notice("season-animals-needed", "info", {
          difference: Math.abs(difference),
          animals: needed,
          most: 200,
        }),
      );
  }
  const others = [unadjusted?.p, resampled?.permutationP].filter(
    (x): x is number => x !== undefined,
  );
  const below = (x: number) => x < 1 - level;
  if (others.some((x) => below(x) !== below(pair.p)))
    out.push(
      notice("season-checks-disagree", "caution", {
        p: pair.p,
        welch: unadjusted?.p ?? null,
        permutation: resampled?.permutationP ?? null,
      }),
    );
  return out;
}
