import { fold, type Section, section, table, text } from "../section/section.js";

export interface DictionaryRow {
  readonly table: string;
  readonly column: string;
  readonly unit: string | null;
  readonly required: boolean;
  readonly about: string;
}

/** A way of writing that the reader understands. */
export interface SpellingRow {
  readonly where: string;
  readonly written: readonly string[];
  readonly readAs: string;
}

/** What each column of the records holds, so that the numbers can be used by somebody else. */
export function dictionarySection(
  rows: readonly DictionaryRow[],
  spellings: readonly SpellingRow[] = [],
): Section {
  return section("Data dictionary", [
    text("Columns of the record tables. Units are those of the accepted rows."),
    fold(`${rows.length} columns`, [
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
    ]),
    ...(spellings.length === 0
      ? []
      : [
          fold("Ways of writing that are understood", [
            table(
              "accepted-spellings",
              "Ways of writing that are understood beside plain numbers, dates and words.",
              [{ title: "Where" }, { title: "Written" }, { title: "Read as" }],
              spellings.map((row) => [row.where, row.written.join("   "), row.readAs]),
            ),
          ]),
        ]),
  ]);
}
