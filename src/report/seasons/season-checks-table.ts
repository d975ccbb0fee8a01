import type { Interval } from "../../core/measured.js";
import type { Result } from "../../core/result.js";
import type { SeasonComparison } from "../../seasons/compare-seasons.js";
import type { UnadjustedDifference } from "../../seasons/unadjusted-difference.js";
import { formatNumber } from "../../units/format-number.js";
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
      { title: "Pair" },
      { title: "Mixed model", unit: "g/d" },
      { title: "Welch", unit: "g/d" },
      { title: "Hedges' g" },
      { title: "p, reordering", align: "number", digits: 2 },
      { title: "Bootstrap", unit: "g/d" },
      { title: "p, Tukey", align: "number", digits: 2 },
      { title: "p, alike within margin", align: "number", digits: 2 },
      { title: "Detectable", unit: "g/d", align: "number", digits: 3 },
    ],
    pairs.map((p, i) => {
      const whole = mixed?.pairs[i];
      const plain = p.unadjusted;
      const boot = p.resampled?.bootstrap;
      return [
        `${p.from} to ${p.to}`,
        whole === undefined
          ? null
          : `${spanText(whole.difference, whole.interval)}, df ${formatNumber(whole.df, 3)}`,
        plain === null ? null : spanText(plain.difference, plain.interval),
        gText(plain),
        p.resampled?.permutationP ?? null,
        boot === undefined ? null : intervalText(boot),
        p.tukeyP,
        p.equivalence?.p ?? null,
        p.detectable?.difference ?? null,
      ];
    }),
    say("season-table-no-pair"),
  );
}

function gText(plain: UnadjustedDifference | null): string | null {
  if (plain === null || plain.hedgesG === null) return null;
  return plain.hedgesInterval === null
    ? formatNumber(plain.hedgesG, 2)
    : spanText(plain.hedgesG, plain.hedgesInterval);
}

function spanText(value: number, interval: Interval): string {
  return `${formatNumber(value, 3)} (${intervalText(interval)})`;
}

function intervalText({ lower, upper }: Interval): string {
  const end = (x: number | null) => (x === null ? "open" : formatNumber(x, 3));
  return `${end(lower)} to ${end(upper)}`;
}
