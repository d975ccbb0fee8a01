import { createRequire } from "node:module";
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { type Column, tableColumns, tableNames } from "./columns.js";
import { unitOf } from "./data-dictionary.js";
import { exampleRows, type FilledTable } from "./example-rows.js";
import type { TableName } from "./study.js";

/** The last row that a sheet can have (ECMA-376 part 1): drop-downs end nowhere before it. */
const LAST_ROW = 1_048_576;

/**
 * An empty workbook to fill in: a sheet per table with our headers and
 * drop-downs where only some words are allowed, a filled example of each, and a
 * data dictionary. Sheets named "example ..." and
 * "data dictionary" are never read as records.
 *
 * The workbook library cannot write drop-downs; they are put into the sheets'
 * XML afterwards (dataValidations, ECMA-376 part 1, 18.3.1.33).
 *
 * @example [...templateWorkbook().slice(0, 2)] // [80, 75]
 */
export function templateWorkbook(): Uint8Array {
  const xlsx = createRequire(import.meta.url)("@e965/xlsx") as TemplatePackage;
  const book = xlsx.utils.book_new();
  const validations: (string | null)[] = [];
  const add = (
    name: string,
    rows: readonly (readonly (string | number)[])[],
    xml: string | null,
  ) => {
    const sheet = xlsx.utils.aoa_to_sheet(rows) as Record<string, unknown>;
    const widths = rows[0]!.map((_, i) =>
      Math.min(60, Math.max(10, ...rows.map((r) => String(r[i] ?? "").length + 2))),
    );
    sheet["!cols"] = widths.map((wch) => ({ wch }));
    xlsx.utils.book_append_sheet(book, sheet, name);
    validations.push(xml);
  };
  for (const table of filledIn)
    add(table, [tableColumns[table].map((c) => c.name)], dropDowns(table));
  for (const table of filledIn) {
    const names = tableColumns[table].map((c) => c.name);
    const rows = exampleRows[table].map((row) => names.map((name) => row[name] ?? ""));
    add(`example ${table}`, [names, ...rows], null);
  }
  add("data dictionary", dictionary(), null);
  const bytes = xlsx.write(book, { type: "buffer", bookType: "xlsx" }) as Uint8Array;
  const parts = unzipSync(new Uint8Array(bytes));
  validations.forEach((xml, i) => {
    const part = `xl/worksheets/sheet${i + 1}.xml`;
    const sheet = parts[part];
    if (xml === null || sheet === undefined) return;
    const text = strFromU8(sheet);
    const end = text.indexOf("</sheetData>");
    const self = text.indexOf("<sheetData/>");
    const at = end >= 0 ? end + "</sheetData>".length : self + "<sheetData/>".length;
    parts[part] = strToU8(text.slice(0, at) + xml + text.slice(at));
  });
  return zipSync(parts, { level: 6, mtime: new Date(1980, 0, 2) });
}

const filledIn = tableNames.filter(
  (name): name is FilledTable =>
    name !== "decisions" && name !== "acknowledgements" && name !== "answers",
);

function dropDowns(table: TableName): string | null {
  const lists = tableColumns[table].flatMap((column, i) => {
    const formula = listOf(table, column);
    if (formula === null) return [];
    const letter = String.fromCharCode(65 + i);
    return [
      `<dataValidation type="list" allowBlank="1" showErrorMessage="1" errorStyle="warning" sqref="${letter}2:${letter}${LAST_ROW}"><formula1>${formula}</formula1></dataValidation>`,
    ];
  });
  if (lists.length === 0) return null;
  return `<dataValidations count="${lists.length}">${lists.join("")}</dataValidations>`;
}

/** Where the allowed values of a column come from: its own words, or another sheet's names. */
function listOf(table: TableName, column: Column): string | null {
  if (column.holds === "choice") {
    const list = (column.choices ?? []).join(",");
    // The format allows 255 characters in a list written out.
    return list.length <= 255 ? `"${list}"` : null;
  }
  const from = (sheet: TableName) => (sheet === table ? null : `${sheet}!$A$2:$A$${LAST_ROW}`);
  if (column.name === "animal_id") return from("animals");
  if (column.name === "diet_id") return from("diets");
  if (column.name === "batch_id") return from("batches");
  return null;
}

function dictionary(): string[][] {
  return [
    ["table", "column", "holds", "unit", "needed", "allowed", "about"],
    ...filledIn.flatMap((table) =>
      tableColumns[table].map((c) => [
        table,
        c.name,
        c.holds,
        unitOf(c),
        c.required === true ? "yes" : "",
        (c.choices ?? []).join(", "),
        c.about,
      ]),
    ),
  ];
}

interface TemplatePackage {
  readonly utils: {
    book_new(): unknown;
    aoa_to_sheet(rows: readonly (readonly (string | number)[])[]): unknown;
    book_append_sheet(book: unknown, sheet: unknown, name: string): void;
  };
  write(book: unknown, options: object): unknown;
}
