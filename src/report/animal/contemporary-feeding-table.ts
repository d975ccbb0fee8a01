import type { ContemporaryFeeding } from "../../analysis/contemporary-feeding.js";
import type { Result } from "../../core/result.js";
import { formatNumber } from "../../units/format-number.js";
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
      { title: "Unit" },
      { title: "This animal", align: "number", digits: 3 },
      { title: "Contemporaries' median", align: "number", digits: 3 },
      { title: "Middle half of them" },
      { title: "n", align: "number" },
    ],
    measures.map((m) => [
      m.name,
      m.unit,
      m.ownRange === null
        ? m.own
        : `${formatNumber(m.ownRange[0], 3)} to ${formatNumber(m.ownRange[1], 3)} (a refusal or what came up is not known)`,
      m.median,
      m.lowerQuartile === null || m.upperQuartile === null
        ? "–"
        : `${formatNumber(m.lowerQuartile, 3)} to ${formatNumber(m.upperQuartile, 3)}`,
      m.n,
    ]),
    "No contemporaries at this age.",
  );
}
