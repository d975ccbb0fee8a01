import type { ObservationRow, StudySettings } from "../records/study.js";
import type { Table } from "../records/table.js";
import { canonicalSign } from "../series/signs/canonical-sign.js";
import { readSign } from "../series/signs/read-sign.js";

/**
 * Observations without the words of people: what a line was read as stays, in our
 * words, so that a sign is the same sign afterwards; what else was written may name
 * somebody and goes.
 */
export function quietObservations(
  rows: Table<ObservationRow>,
  settings: StudySettings,
): ObservationRow[] {
  return rows.map((row) =>
    ["note", "exam", "swim", "groom", "milestone"].includes(row.kind)
      ? { ...row, valueText: row.value === null ? null : row.valueText, notes: null }
      : { ...row, ...canonicalSign(readSign(row, settings)), notes: null },
  );
}
