import type { Study } from "../records/study.js";
import type { ArchivedStudy } from "./archived-study.js";
import type { Chosen, SumRow } from "./chosen.js";

/** An archive open for questions. Close it when done. */
export interface Archive {
  readonly folder: string;
  readonly studies: readonly ArchivedStudy[];
  /** Rows of an answer to SQL over the tables of the archive; only rows in force are seen. */
  rows(sql: string): Promise<readonly SumRow[]>;
  /** The same for answers of any length, some thousand rows at a time. */
  each(sql: string, visit: (rows: readonly SumRow[]) => void): Promise<void>;
  /** The rows chosen as one study, for questions that are asked of a study. */
  study(chosen?: Chosen): Promise<Study>;
  close(): void;
}
