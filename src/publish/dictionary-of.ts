import { tableColumns } from "../records/columns.js";
import type { TableName } from "../records/study.js";
import type { DictionaryRow } from "../report/records/dictionary-section.js";

/** The columns of the record tables, from the list that the readers use. */
export function dictionaryOf(): DictionaryRow[] {
  return (Object.keys(tableColumns) as TableName[]).flatMap((table) =>
    tableColumns[table].map((column) => ({
      table,
      column: column.name,
      unit: column.unit ?? null,
      required: column.required ?? false,
      about:
        column.choices === undefined
          ? column.about
          : `${column.about}: ${column.choices.join(", ")}`,
    })),
  );
}
