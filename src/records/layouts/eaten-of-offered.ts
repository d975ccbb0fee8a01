import { notice } from "../../core/notice.js";
import type { RawTable } from "../raw-table.js";
import { changeRows, columnOf, textAt, withCell } from "./changed-cells.js";
import type { StepOf } from "./layout-step.js";
import type { Recognised, TableRoles } from "./recognised.js";

/** What "60/75 (15 left)" says; null where it says nothing of the kind or contradicts itself. */
export interface EatenOfOffered {
  readonly offered: number;
  readonly refused: number;
  readonly unit: string;
}

const amount = "(\\d+(?:[.,]\\d+)?)\\s*(g|gr|grams?|kg|oz|ml)?";
const left = "(?:left(?: ?over)?|refused|rest|remaining|not eaten|übrig)";
const of = "\\s*(?:/|of|out of|von)\\s*";
const open = "\\s*[,;(\\[]*\\s*";
const close = "\\s*[)\\]]?$";
const form = (text: string) => new RegExp(`^${text}`, "i");
const forms = [
  { form: form(`${amount}${of}${amount}${open}${amount}\\s*${left}${close}`), kind: "eaten" },
  { form: form(`${amount}${of}${amount}${open}${left}:?\\s*${amount}${close}`), kind: "eaten" },
  { form: form(`${amount}${of}${amount}${close}`), kind: "eaten" },
  { form: form(`${amount}${open}${amount}\\s*${left}${close}`), kind: "left" },
  { form: form(`${amount}\\s*[,;(\\[]+\\s*${left}:?\\s*${amount}${close}`), kind: "left" },
  { form: form(`${amount}\\s*[-–]\\s*${amount}\\s*${left}${close}`), kind: "left" },
] as const;

/**
 * Reads eaten and offered (and left) from one cell.
 *
 * @example eatenOfOffered("60/75 (15 left)") // { offered: 75, refused: 15, unit: "" }
 */
export function eatenOfOffered(text: string): EatenOfOffered | null {
  for (const { form, kind } of forms) {
    const m = form.exec(text.trim());
    if (m === null) continue;
    const numbers = [1, 3, 5].map((i) => m[i]).filter((part) => part !== undefined);
    const units = [2, 4, 6].map((i) => m[i]?.toLowerCase()).filter((unit) => unit !== undefined);
    if (new Set(units).size > 1) return null;
    const [a, b, c] = numbers.map((part) => Number(part.replace(",", "."))) as [
      number,
      number,
      number?,
    ];
    const unit = units[0] ?? "";
    if (kind === "left") return b <= a ? { offered: a, refused: b, unit } : null;
    const refused = Math.round((b - a) * 1000) / 1000;
    if (refused < 0 || (c !== undefined && Math.abs(c - refused) > 0.5)) return null;
    return { offered: b, refused, unit };
  }
  return null;
}

/** One column that holds both becomes two: offered under its own heading, and refused_g. */
export function applyEatenOfOffered(raw: RawTable, step: StepOf<"eaten of offered">): RawTable {
  const place = columnOf(raw, step.column);
  if (place < 0) return raw;
  let refusedAt = columnOf(raw, "refused_g");
  const header = raw.header.slice();
  if (refusedAt < 0) refusedAt = header.push("refused_g") - 1;
  let count = 0;
  const read = changeRows({ ...raw, header }, (row) => {
    const both = eatenOfOffered(textAt(row, place));
    if (both === null) return row;
    const offered = `${both.offered} ${both.unit}`.trim();
    const refused = `${both.refused} ${both.unit}`.trim();
    const own = textAt(row, refusedAt);
    // Two cells that say different things are left for a person to look at.
    if (own !== "" && Number.parseFloat(own.replace(",", ".")) !== both.refused) return row;
    count++;
    const read = withCell(row, place, offered);
    return own === "" ? withCell(read, refusedAt, refused) : read;
  });
  const told = { count, of: raw.rows.length };
  return {
    ...read,
    notices: [...raw.notices, notice("records-eaten-of-offered", "info", told, { file: raw.file })],
  };
}

/** Cells of the amount offered that say how much of it was eaten. */
export function recogniseEatenOfOffered(raw: RawTable, roles: TableRoles): Recognised | null {
  const at = columnOf(raw, roles.offered);
  if (at < 0 || roles.offered === undefined) return null;
  const cells = raw.rows.slice(0, 500).flatMap((row) => textAt(row, at) || []);
  const both = cells.filter((cell) => eatenOfOffered(cell) !== null);
  // One cell that names what was left as well proves itself; of the others several are needed.
  const proven = both.some((cell) => /\d\D+\d+\D+\d/.test(cell));
  if (!proven && (both.length < 2 || both.length < 0.02 * cells.length)) return null;
  const { offered, refused } = eatenOfOffered(both[0]!)!;
  return {
    step: { layout: "eaten of offered", column: roles.offered },
    why: notice("propose-eaten-of-offered", "info", {
      column: roles.offered,
      cell: both[0]!,
      offered,
      refused,
    }),
  };
}
