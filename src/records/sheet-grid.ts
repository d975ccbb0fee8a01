/** A cell of a workbook as a person sees it, its kind kept. */
export type GridCell =
  | null
  | string
  | number
  /** A date, a time or both, without a zone: `YYYY-MM-DD`, `HH:MM`, `YYYY-MM-DD HH:MM:SS`. */
  | { readonly when: string };

/** A sheet as a grid, with what must be told about it. */
export interface SheetGrid {
  readonly name: string;
  readonly hidden: boolean;
  /** Sheet row of the first row of `rows`, counted from 1. */
  readonly firstRow: number;
  /** Sheet column of the first cell of each row, counted from 0. Absent: the first. */
  readonly firstColumn?: number;
  readonly rows: readonly (readonly GridCell[])[];
  /** Sheet rows that are hidden. */
  readonly hiddenRows: readonly number[];
  /** Merged ranges: rows and columns counted from 0 within `rows`, ends included. */
  readonly merged: readonly MergedRange[];
}

export interface MergedRange {
  readonly top: number;
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
}
