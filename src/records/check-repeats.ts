import { notice } from "../core/notice.js";
import { tableColumns } from "./columns.js";
import type { DraftRow, Drafts } from "./draft-row.js";
import { RowIndex, sameContent } from "./row-index.js";
import type { Rows } from "./rows.js";
import { placeOf, setAside } from "./set-aside.js";
import type { TableName } from "./study.js";

/** Looks for rows that stand twice, and for rows about the same thing that differ. */
export function checkRepeats(drafts: Drafts): void {
  for (const [table, keys] of Object.entries(repeatKeys))
    checkTable(drafts.get(table as TableName) ?? [], keys);
}

/** What, being equal, makes two rows say something about the same thing. */
const repeatKeys: Partial<Record<TableName, readonly string[]>> = {
  weighings: ["animalId", "at", "scaleId"],
  scale_checks: ["scaleId", "at", "knownG"],
  feeds: ["animalId", "groupId", "at", "dietId", "batchId"],
  // Two lines of one diet in one order are a day line and a night line, or asked about there.
  plans: tableColumns.plans.map((column) => column.key),
  ingredients: ["batchId", "dietId"],
  housing: ["animalId", "groupId", "from"],
  observations: ["animalId", "at", "kind"],
  events: ["at", "scope", "kind"],
  decisions: ["animalId", "at", "massG", "offeredG", "kind", "value"],
  acknowledgements: ["animalId", "on"],
  answers: ["animalId", "reason", "at"],
};

/** Equal in everything: the later one is set aside. Equal in the key only: both stay, told. */
function checkTable(drafts: Rows<DraftRow>, keys: readonly string[]): void {
  const index = new RowIndex(keys, drafts);
  drafts.forEach((draft, i) => {
    if (draft.fault !== null) return;
    const earlier = index.earlier(i);
    if (earlier === null) return;
    const where = { line: earlier.line, file: earlier.file };
    if (sameContent(earlier, draft))
      setAside(
        draft,
        keys.includes("at") ? "at" : null,
        "records-row-twice",
        "suggest-remove-repeat",
        where,
      );
    else draft.note(notice("records-same-key", "caution", where, placeOf(draft)));
  });
}
