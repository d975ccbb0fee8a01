import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import { type Table, table } from "../section/section.js";

/**
 * What is in the records: rows in, accepted and set aside for each table. Rows
 * in is always the sum of the other two.
 */
export function recordsTable(analysis: StudyAnalysis): Table {
  const { counts } = analysis.records;
  return table(
    "records",
    "Rows read, by table. Every row is either accepted or set aside.",
    [
      { title: "Table" },
      { title: "File" },
      { title: "Rows in", align: "number", digits: 9 },
      { title: "Accepted", align: "number", digits: 9 },
      { title: "of these with a notice", align: "number", digits: 9 },
      { title: "Set aside", align: "number", digits: 9 },
    ],
    counts.map((c) => [c.table, c.file, c.rowsIn, c.accepted, c.acceptedWithNotice, c.setAside]),
    "No table was read.",
  );
}
