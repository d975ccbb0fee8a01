import type { ContemporaryFeeding } from "../../analysis/contemporary-feeding.js";
import { type Measured, measured } from "../../core/measured.js";
import type { Result } from "../../core/result.js";
import { formatAmount } from "../../units/format-measured.js";
import { type Table, table } from "../section/section.js";

/** One animal beside its contemporaries at its age: mass, gain, eaten and kept, conversion. */
export function contemporaryFeedingTable(
  feeding: Result<"contemporary-feeding", ContemporaryFeeding>,
): Table {
  const { measures, animalId, others } = feeding.value;
  return table(
    "beside-contemporaries",
    `${animalId} beside ${others.length} contemporaries at the same age (eaten and kept over 7 complete feeding days, gain per energy kept over 14 days).`,
    [
      { title: "Measure" },
      { title: "This animal", align: "number", digits: 3 },
      { title: "Contemporaries' median", align: "number", digits: 3 },
      { title: "Middle half of them" },
      { title: "n", align: "number" },
    ],
    measures.map((m) => [
      m.name,
      m.ownRange === null
        ? of(m.own, m.unit)
        : `${between(m.ownRange[0], m.ownRange[1], m.unit)} (a refusal or what came up is not known)`,
      of(m.median, m.unit),
      m.lowerQuartile === null || m.upperQuartile === null
        ? "–"
        : between(m.lowerQuartile, m.upperQuartile, m.unit),
      m.n,
    ]),
    "No contemporaries at this age.",
  );
}

const of = (value: number | null, unit: string): Measured | null =>
  value === null ? null : measured(value, unit);

/** Two ends, no finer than the unit allows, which is written once. */
const between = (low: number, high: number, unit: string) =>
  `${formatAmount(low, "", 3, unit)} to ${formatAmount(high, unit)}`;
