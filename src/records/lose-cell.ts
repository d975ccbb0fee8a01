import { columnNamed } from "./columns.js";
import { type DraftRow, written } from "./draft-row.js";
import { blankValue, type NoticeParts, placed } from "./read-cell.js";
import { placeOf } from "./set-aside.js";

/**
 * Takes the value of one cell out of a row that stays: the cell cannot be read,
 * or cannot be true. What was written is kept word for word in the notice and
 * beside the row, so that nobody takes it for a blank.
 */
export function loseCell(draft: DraftRow, name: string, reason: NoticeParts): void {
  const column = columnNamed(draft.table, name);
  const cell = written(draft, name)?.trim() ?? "";
  draft.set(column.key, blankValue(column));
  keepUnread(draft, name, cell);
  const parameters = { ...reason.parameters, written: cell, lost: true };
  draft.note(placed({ ...reason, parameters }, "problem", placeOf(draft, name)));
}

/** Something stands in the cell, and it gave no value. */
export function keepUnread(draft: DraftRow, name: string, cell: string): void {
  draft.keepUnread(columnNamed(draft.table, name).key, cell);
}
