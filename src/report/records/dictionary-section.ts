import { type Section, section, table, text } from "../section/section.js";

export interface DictionaryRow {
  readonly table: string;
  readonly column: string;
  readonly unit: string | null;
  readonly required: boolean;
  readonly about: string;
}

/** What each column of the records holds, so that the numbers can be used by somebody else. */
export function dictionarySection(rows: readonly DictionaryRow[]): Section {
  return section("Data dictionary", [
    text("Columns of the record tables. Units are those of the accepted rows."),
    table(
      "data-dictionary",
      `${rows.length} columns.`,
      [
        { title: "Column" },
        { title: "Table" },
        { title: "Unit" },
        { title: "Required" },
        { title: "Holds" },
      ],
      rows.map((row) => [row.column, row.table, row.unit, row.required, row.about]),
      "No dictionary was given.",
    ),
  ]);
}
