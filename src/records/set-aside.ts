import { type Notice, notice } from "../core/notice.js";
import { type DraftRow, written } from "./draft-row.js";

/** Where a row stands, for a notice about it. */
export function placeOf(draft: DraftRow, column?: string): Notice["place"] & object {
  const animal = draft.values["animalId"];
  return {
    file: draft.file,
    table: draft.table,
    line: draft.line,
    ...(column === undefined ? {} : { column }),
    ...(typeof animal === "string" ? { animal } : {}),
  };
}

/** Sets a row aside, unless it is already: the first fault found is the one told. */
export function setAside(
  draft: DraftRow,
  column: string | null,
  reason: string,
  suggestion: string,
  parameters: Notice["parameters"] = {},
): void {
  const place = placeOf(draft, column ?? undefined);
  draft.fault ??= {
    column,
    value: column === null ? null : written(draft, column),
    reason: notice(reason, "problem", parameters, place),
    suggestion: notice(suggestion, "info", parameters, place),
  };
}
