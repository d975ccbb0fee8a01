import type { Cell, Column, Table } from "./section.js";

/**
 * A table that says several things in one cell for the eye, with the same in
 * columns of one value each for sheets and files.
 *
 * @example withTidy(eye, [{ title: "Born, earliest" }], [["2025-05-02"]]).tidy?.rows.length // 1
 */
export function withTidy(
  shown: Table,
  columns: readonly Column[],
  rows: readonly (readonly Cell[])[],
): Table {
  return { ...shown, tidy: { columns, rows } };
}

/** A table of one species, which its caption names for the eye and a column in files. */
export const ofSpecies = (species: string, shown: Table): Table => ({ ...shown, species });
