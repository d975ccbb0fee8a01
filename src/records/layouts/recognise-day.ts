import { notice } from "../../core/notice.js";
import { readDate } from "../../units/read-time.js";
import { readHeader } from "../match-headers.js";
import type { RawGrid, RawTable } from "../raw-table.js";
import type { StudyFile } from "../settings.js";
import { dayLine } from "./named-above.js";
import type { Recognised } from "./recognised.js";

const dates =
  /\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/.]\d{1,2}[-/.]\d{2,4}|\d{1,2}\.?[- ]+[A-Za-z]{3,9}\.?,?[- ]+\d{4}|[A-Za-z]{3,9} \d{1,2},? \d{4}/g;

/**
 * The day of rows in which only clock times stand: lines between them that are a
 * day each, else the one day that a title names.
 */
export function recogniseDay(
  raw: RawTable,
  grid: RawGrid,
  around: readonly string[],
  study: StudyFile,
): Recognised | null {
  const timed = raw.header.some((h) =>
    /^(time|clock|uhrzeit|zeit|hour|hora|heure)$/.test(readHeader(h).plain),
  );
  if (!timed) return null;
  const days = grid.rows.flatMap((row) => {
    const day = dayLine(row, study.settings.dateStyle);
    return day === null ? [] : [{ line: row.line, day }];
  });
  if (days.length >= 2 && days.at(-1)!.line > raw.headerLine)
    return {
      step: { layout: "day above its rows" },
      why: notice("propose-day-above", "info", { count: days.length, first: days[0]!.day }),
    };
  for (const text of around) {
    const found = new Set(
      (text.match(dates) ?? []).flatMap((part) => {
        const read = readDate(part, study.settings.dateStyle);
        return read.kind === "date" ? [read.day] : [];
      }),
    );
    if (found.size !== 1) continue;
    const date = [...found][0]!;
    return {
      step: { layout: "one day", date },
      why: notice("propose-one-day", "info", { date, text }),
    };
  }
  return null;
}
