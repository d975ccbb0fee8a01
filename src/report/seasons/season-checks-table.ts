import type { Interval, Measured } from "../../core/measured.js";
import type { Result } from "../../core/result.js";
import type { SeasonComparison } from "../../seasons/compare-seasons.js";
import type { UnadjustedDifference } from "../../seasons/unadjusted-difference.js";
import { say } from "../section/say.js";
import { type Table, table } from "../section/section.js";

/**
 * What checks the answer of each pair of seasons: another unit (all daily
 * masses), no adjustment, no normal curve, another multiplicity; and what could
 * have been found.
 */
export function seasonChecksTable(comparison: Result<"compare-seasons", SeasonComparison>): Table {
  const { pairs, mixed } = comparison.value;
  return table(
    "season-checks",
    say("season-table-checks", {
      freedom:
        mixed === null
          ? null
          : mixed.dfMethod === "kenward-roger"
            ? "Kenward-Roger"
            : "Satterthwaite's",
    }),
    [
      { title: "From" },
      { title: "To" },
      { title: "Mixed model", unit: "g/d", align: "number" },
      { title: "Mixed model, df", align: "number", digits: 3 },
      { title: "Welch", unit: "g/d", align: "number" },
      { title: "Hedges' g", align: "number" },
      { title: "p, reordering", align: "number", digits: 2, smallest: 0.001 },
      { title: "Bootstrap, from", unit: "g/d", align: "number", digits: 3 },
      { title: "Bootstrap, to", unit: "g/d", align: "number", digits: 3 },
      { title: "p, Tukey", align: "number", digits: 2, smallest: 0.001 },
      { title: "p, alike within margin", align: "number", digits: 2, smallest: 0.001 },
      { title: "Detectable", unit: "g/d", align: "number", digits: 3 },
    ],
    pairs.map((p, i) => {
      const whole = mixed?.pairs[i];
      const plain = p.unadjusted;
      const boot = p.resampled?.bootstrap;
      const gain = (value: number, interval: Interval): Measured => ({
        value,
        unit: "g/d",
        interval,
      });
      return [
        p.from,
        p.to,
        whole === undefined ? null : gain(whole.difference, whole.interval),
        whole?.df ?? null,
        plain === null ? null : gain(plain.difference, plain.interval),
        hedges(plain),
        p.resampled?.permutationP ?? null,
        boot?.lower ?? null,
        boot?.upper ?? null,
        p.tukeyP,
        p.equivalence?.p ?? null,
        p.detectable?.difference ?? null,
      ];
    }),
    say("season-table-no-pair"),
  );
}

function hedges(plain: UnadjustedDifference | null): Measured | null {
  if (plain === null || plain.hedgesG === null) return null;
  const { hedgesG: value, hedgesInterval: interval } = plain;
  return interval === null ? { value, unit: "" } : { value, unit: "", interval };
}
