import { measured } from "../../core/measured.js";
import { notice } from "../../core/notice.js";
import type { NotJudged } from "../animal-day/flag.js";
import type { Signal } from "../animal-day/signal.js";
import type { Conversion, ConversionOfOthers } from "./conversion-record.js";
import type { RuleLimits } from "./rule-limits.js";
import { ruleSignal } from "./rule-signal.js";

/** Standard errors by which it must lie below the limit. */
const beyond = 2;

/**
 * Conversion against others of the same age: gain per 1000 kcal over 14 days below a
 * share of their median, and further below it than its own weighings may err.
 */
export function conversionSignal(
  id: string,
  own: Conversion | null,
  others: ConversionOfOthers,
  limits: RuleLimits,
): readonly (Signal | NotJudged)[] {
  const limit = limits.conversionPct;
  if (limit === null) return [];
  const { animals, middle } = others;
  if (own === null || animals < 3 || middle === null || !(middle > 0)) {
    const why = notice("flag-no-conversion", "info", { animal: id, n: animals });
    return [{ kind: "conversion", why }];
  }
  const value = own.gPer1000Kcal;
  const share = (100 * value) / middle;
  const least = (limit / 100) * middle;
  const raised = value + beyond * own.se < least;
  return [
    ruleSignal({
      class: "practice",
      kind: "conversion",
      direction: "low",
      raised,
      strength: raised
        ? Math.min(3, 1 + (limit - share) / 100)
        : Math.min(0.99, limit / Math.max(share, 1)),
      value: measured(value, "g per 1000 kcal", { se: own.se, n: animals }),
      threshold: least,
      evidence: {
        ownGPer1000Kcal: value,
        contemporariesGPer1000Kcal: middle,
        contemporaries: animals,
      },
      sentence: notice("flag-conversion", "info", {
        animal: id,
        own: value,
        se: own.se,
        middle,
        n: animals,
        share,
        limit,
      }),
    }),
  ];
}
