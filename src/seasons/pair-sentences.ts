import { type Notice, notice } from "../core/notice.js";
import { arrivalSentence } from "./arrival-near-season.js";
import type { SeasonPair } from "./season-pair.js";

/** What the comparison of two seasons says in words. */
export function pairSentences(
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
  } else if (pair.decision === "cannot be separated" && unadjusted !== null) {
    out.push(
      notice("season-not-separated", "caution", {
        from,
        to,
        plain: unadjusted.difference,
        plainLower: unadjusted.interval.lower,
        plainUpper: unadjusted.interval.upper,
        plainP: unadjusted.p,
        difference,
        lower,
        upper,
        p: pair.p,
      }),
    );
  } else if (lower !== null && upper !== null && (lower > 0 || upper < 0)) {
    // The interval by itself leaves out 0: what decides otherwise must be said beside it.
    const { p, adjustedP } = pair;
    const interim = adjustedP < 1 - level;
    out.push(notice("season-not-shown-corrected", "info", { ...about, p, adjustedP, interim }));
  } else out.push(notice("season-not-shown", "info", about));
  if (pair.arrival !== null) out.push(arrivalSentence(from, to, pair.arrival));
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
  if (pair.decision !== "cannot be separated" && others.some((x) => below(x) !== below(pair.p)))
    out.push(
      notice("season-checks-disagree", "caution", {
        from,
        to,
        p: pair.p,
        welch: unadjusted?.p ?? null,
        permutation: resampled?.permutationP ?? null,
      }),
    );
  return out;
}
