import { type Exactly, type Notice, notice } from "../core/notice.js";
import type { NoticeCode, ParametersOf } from "../core/sentences.js";
import { type DraftRow, written } from "./draft-row.js";

/** Where a row stands, for a notice about it. */
export function placeOf(draft: DraftRow, column?: string): Notice["place"] & object {
  const animal = draft.get("animalId");
  return {
    file: draft.file,
    table: draft.table,
    line: draft.line,
    ...(column === undefined ? {} : { column }),
    ...(typeof animal === "string" ? { animal } : {}),
  };
}

/** Sets a row aside, unless it is already: the first fault found is the one told. */
export function setAside<R extends NoticeCode, S extends NoticeCode, P extends ParametersOf<R | S>>(
  draft: DraftRow,
  column: string | null,
  reason: R,
  suggestion: S,
  parameters: Exactly<R | S, P>,
): void {
  const place = placeOf(draft, column ?? undefined);
  draft.fault ??= {
    column,
    value: column === null ? null : written(draft, column),
    reason: notice<R | S, P>(reason, "problem", parameters, place),
    suggestion: notice<R | S, P>(suggestion, "info", parameters, place),
  };
}
