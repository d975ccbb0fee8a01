/**
 * What a workbook may at most be. Workbooks cannot be read piece by piece, so
 * these are checked before and while it is opened; over one of them the file is
 * refused by name and nothing of it is read.
 */
export interface WorkbookLimits {
  /** Size of the file itself. */
  readonly fileBytes: number;
  /** Size of all its parts unpacked, as declared and as counted. */
  readonly unpackedBytes: number;
  readonly parts: number;
  /** Cells of all sheets together, blank ones before the last of each row included. */
  readonly cells: number;
  /** Time and memory for opening it, in a worker of its own. */
  readonly seconds: number;
  readonly megabytes: number;
}

export const workbookLimits: WorkbookLimits = {
  fileBytes: 50 * 2 ** 20,
  unpackedBytes: 300 * 2 ** 20,
  parts: 2000,
  cells: 10_000_000,
  seconds: 60,
  megabytes: 2048,
};
