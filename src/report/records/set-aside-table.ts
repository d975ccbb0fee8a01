import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import { screenWording } from "../../units/format.js";
import { count } from "../../units/format-number.js";
import { type Table, table } from "../section/section.js";

/** Every row that could not be used: where it stands, what is wrong, what to do. */
export function setAsideTable(analysis: StudyAnalysis): Table {
  const { setAside } = analysis.records;
  const wording = screenWording(analysis.settings.zone);
  return table(
    "set-aside",
    `${count(setAside.length, "row")} set aside. Nothing in the files was changed; correct a row there and read again.`,
    [
      { title: "File" },
      { title: "Line", align: "number", digits: 9 },
      { title: "Column" },
      { title: "As written", asWritten: true },
      { title: "What is wrong" },
      { title: "What to do" },
    ],
    setAside.map((row) => [
      row.file,
      row.line,
      row.column ?? "the whole row",
      row.value ?? "(blank)",
      noticeText(row.reason, wording),
      noticeText(row.suggestion, wording),
    ]),
    "No row was set aside.",
  );
}
