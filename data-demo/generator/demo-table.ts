/** One row on its way into a CSV file, with what was done to it on purpose. */
export interface DemoRow {
  /** Where the row stands in the file: rows are written in this order. */
  readonly order: number;
  cells: string[];
  /** Name of the deliberate error this row carries; the truth file lists it. */
  slip?: Slip;
}

/** A deliberate error: what it is, what the true row said, what a reader should do with it. */
export interface Slip {
  readonly kind: string;
  readonly expected:
    | "set aside"
    | "suspected slip"
    | "accepted with a notice"
    | "seen only by its old batch";
  readonly column: string;
  readonly trueValue: string;
  readonly animal?: string;
  readonly otherAnimal?: string;
}

export interface DemoTable {
  readonly name: string;
  readonly columns: readonly string[];
  readonly rows: DemoRow[];
}

/** Where a deliberate error ended up. */
export interface PlacedSlip extends Slip {
  readonly file: string;
  readonly line: number;
  readonly written: string;
}

/** The table as CSV text (RFC 4180, LF line ends) and the lines of its deliberate errors. */
export function writeTable(table: DemoTable): {
  readonly text: string;
  readonly slips: PlacedSlip[];
} {
  const rows = table.rows
    .map((row, index) => ({ row, index }))
    .sort((a, b) => a.row.order - b.row.order || a.index - b.index)
    .map(({ row }) => row);
  const lines = [table.columns.join(",")];
  const slips: PlacedSlip[] = [];
  for (const row of rows) {
    if (row.cells.length !== table.columns.length)
      throw new Error(`${table.name}: ${row.cells.length} cells for ${table.columns.length}`);
    lines.push(row.cells.map(quoted).join(","));
    if (row.slip !== undefined) {
      slips.push({
        ...row.slip,
        file: `${table.name}.csv`,
        line: lines.length,
        written: row.cells[table.columns.indexOf(row.slip.column)] ?? "",
      });
    }
  }
  return { text: `${lines.join("\n")}\n`, slips };
}

function quoted(cell: string): string {
  return /[",\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}
