import type { Notice } from "../../core/notice.js";
import type { StudyFile } from "../settings.js";
import type { LayoutStep } from "./layout-step.js";

/** A layout that a table seems to have: the step that would read it, and what speaks for it. */
export interface Recognised {
  readonly step: LayoutStep;
  readonly why: Notice;
}

/** What is known of a table when its layout is looked at: their headings, by what they hold. */
export interface TableRoles {
  readonly study: StudyFile;
  readonly animal?: string;
  readonly group?: string;
  /** The column of the diet, or of the kind of sign. */
  readonly kind?: string;
  /** How rows of a page follow each other: what was seen stands in the order of kinds. */
  readonly order?: "of time" | "of kinds";
  /** The column with the day; the same as `time` where one column holds both. */
  readonly date?: string;
  readonly time?: string;
  readonly offered?: string;
}
