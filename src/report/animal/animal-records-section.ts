import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { doubtedFeedsTable } from "../records/doubted-feeds-table.js";
import { scaleChecksTable } from "../records/scale-checks-table.js";
import { setAsideTable } from "../records/set-aside-table.js";
import { slipsTable } from "../records/slips-table.js";
import { animalLabel } from "../section/animal-label.js";
import { type Section, section } from "../section/section.js";

/** Whether one animal's records can be trusted: its rows set aside, its suspected slips, its scales. */
export function animalRecordsSection(analysis: StudyAnalysis, animal: AnimalAnalysis): Section {
  const { records } = analysis;
  const own = {
    ...analysis,
    records: {
      ...records,
      setAside: records.setAside.filter((row) => row.raw.includes(animal.animalId)),
      slips: records.slips.filter((s) => s.animalId === animal.animalId),
    },
  };
  return section(`The records of ${animalLabel(animal)}`, [
    setAsideTable(own),
    slipsTable(own),
    doubtedFeedsTable(analysis, [animal.series]),
    scaleChecksTable(analysis, animal),
  ]);
}
