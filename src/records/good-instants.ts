import type { Drafts } from "./draft-row.js";
import type { TableName } from "./study.js";

/** Tables whose rows say when something was done. */
export const timedTables = [
  "weighings",
  "feeds",
  "observations",
] as const satisfies readonly TableName[];

/** The instants of all rows of weighings, feeds and observations that are not set aside. */
export function goodInstants(drafts: Drafts): Float64Array {
  const tables = timedTables.map((table) => drafts.get(table) ?? []);
  const found = new Float64Array(tables.reduce((n, rows) => n + rows.length, 0));
  let n = 0;
  for (const rows of tables)
    for (const draft of rows) if (draft.fault === null) found[n++] = draft.get("at") as number;
  return found.subarray(0, n);
}
