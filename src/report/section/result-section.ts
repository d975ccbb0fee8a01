import type { Result } from "../../core/result.js";
import { rowsTable } from "./rows-table.js";
import { type Block, type Cell, isMeasured, type Section, section, text } from "./section.js";

/**
 * Any result as a section: its named numbers, its lists of rows, what it was
 * computed from, how, and what the reader must know. Results with a section of
 * their own use that instead; this one serves all others.
 */
export function resultSection(result: Result<string, unknown>): Section {
  const blocks: Block[] = [];
  const { numbers, lists } = partsOf(result.value);
  if (numbers.length > 0) blocks.push(rowsTable("values", "Values", numbers));
  for (const [name, rows] of lists) {
    const shown = rows.slice(0, 50);
    const of = rows.length > shown.length ? `, first ${shown.length} of ${rows.length}` : "";
    blocks.push(rowsTable(name, `${name}${of}`, shown));
  }
  const { basis, method } = result;
  const left = basis.leftOut.map((each) => `${each.count} left out: ${each.reason}`);
  blocks.push(
    text([`Computed from ${basis.used} ${basis.of} by ${method.name}.`, ...left].join("\n\n")),
  );
  if (result.notices.length > 0) blocks.push({ kind: "notices", notices: result.notices });
  return section(result.kind.replaceAll("-", " "), blocks);
}

type Row = Record<string, Cell>;

function partsOf(value: unknown): { numbers: Row[]; lists: [string, Row[]][] } {
  const numbers: Row[] = [];
  const lists: [string, Row[]][] = [];
  const visit = (name: string, x: unknown, depth: number): void => {
    if (x === null || typeof x !== "object" || isMeasured(x)) {
      if (x !== undefined) numbers.push({ name: name || "value", value: x as Cell });
    } else if (Array.isArray(x)) {
      if (x.length > 0 && x.every((each) => typeof each === "object" && each !== null)) {
        lists.push([name || "rows", x.map(flatRow)]);
      } else if (x.length > 0)
        numbers.push({ name: name || "value", value: x.slice(0, 12).join(", ") });
    } else if (depth < 2) {
      for (const [key, inner] of Object.entries(x))
        visit(name ? `${name} ${key}` : key, inner, depth + 1);
    }
  };
  visit("", value, 0);
  return { numbers, lists };
}

function flatRow(x: object): Row {
  const row: Row = {};
  for (const [key, value] of Object.entries(x)) {
    if (
      value === null ||
      ["string", "number", "boolean"].includes(typeof value) ||
      isMeasured(value)
    ) {
      row[key] = value as Cell;
    }
  }
  return row;
}
