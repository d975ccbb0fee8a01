import { notice } from "../../core/notice.js";
import { readDate } from "../../units/read-time.js";
import { readHeader } from "../match-headers.js";
import type { RawTable } from "../raw-table.js";
import type { StudyFile } from "../settings.js";
import type { Recognised } from "./recognised.js";

const dates =
  /\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/.]\d{1,2}[-/.]\d{2,4}|\d{1,2}\.?[- ]+[A-Za-z]{3,9}\.?,?[- ]+\d{4}|[A-Za-z]{3,9} \d{1,2},? \d{4}/g;

/** The one day all rows are of, where only clock times stand in them and a title names a date. */
export function recogniseDay(
  raw: RawTable,
  around: readonly string[],
  study: StudyFile,
): Recognised | null {
  const timed = raw.header.some((h) =>
    /^(time|clock|uhrzeit|zeit|hour|hora|heure)$/.test(readHeader(h).plain),
  );
  if (!timed) return null;
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
