import type { RawGrid } from "../raw-table.js";
import { onlyText } from "./changed-cells.js";

/** Titles above the heading: the only texts of their lines. */
export function titlesAbove(grid: RawGrid, headingLine: number): string[] {
  return grid.rows
    .filter((row) => row.line < headingLine)
    .flatMap((row) => onlyText(row) ?? row.cells.filter((cell) => cell.trim() !== "").join(" "))
    .filter((text) => text !== "");
}
