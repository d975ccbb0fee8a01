import { noticeText } from "../../core/catalogue.js";
import type { Wording } from "../../core/wording.js";
import { screenWording } from "../../units/format.js";
import { wordedDate } from "../../units/format-date.js";
import { formatAmount, formatMeasured } from "../../units/format-measured.js";
import { formatFixed, formatNumber } from "../../units/format-number.js";
import { type Cell, type Column, isMeasured } from "./section.js";

/** A cell as the reader sees it. An undefined number is a dash, never an empty place. */
export function cellText(cell: Cell, column: Column): string {
  if (cell === null) return "–";
  if (typeof cell === "string") return column.asWritten === true ? cell : wordedDate(cell);
  if (typeof cell === "boolean") return cell ? "yes" : "no";
  if (typeof cell === "number" && column.smallest !== undefined && cell < column.smallest)
    return `below ${formatNumber(column.smallest)}`;
  if (typeof cell === "number")
    return alwaysComputed.has(column.unit ?? "")
      ? formatAmount(cell, "", column.digits, column.unit)
      : column.decimals === undefined
        ? formatNumber(cell, column.digits ?? 4)
        : formatFixed(cell, column.decimals);
  if (!isMeasured(cell)) return "–";
  // The unit stands in the column's head where that names the same one.
  return formatMeasured(cell, column.digits ?? 3, { unit: column.unit !== cell.unit });
}

/** Units that no scale, syringe or thermometer shows: such figures are never finer than on other lines of the page. */
const alwaysComputed: ReadonlySet<string> = new Set(["g/d", "%/d", "kcal", "kcal/d"]);

/** Why a cell is not defined, as a sentence; null when it is. */
export function cellReason(cell: Cell, wording: Wording = screenWording()): string | null {
  return isMeasured(cell) && cell.value === null && cell.why !== undefined
    ? noticeText(cell.why, wording)
    : null;
}

/** True when a column holds numbers only. */
export function isNumberColumn(
  column: Column,
  rows: readonly (readonly Cell[])[],
  at: number,
): boolean {
  if (column.align !== undefined) return column.align === "number";
  const cells = rows.map((row) => row[at]).filter((cell) => cell !== null && cell !== undefined);
  return cells.length > 0 && cells.every((cell) => typeof cell === "number" || isMeasured(cell));
}
