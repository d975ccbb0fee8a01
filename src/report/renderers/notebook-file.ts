/**
 * A notebook as it lies on disk: the published JSON format nbformat 4.5
 * (the nbformat documentation, "The Jupyter Notebook Format").
 */
export interface NotebookFile {
  readonly nbformat: number;
  readonly nbformat_minor: number;
  readonly metadata: Readonly<Record<string, unknown>>;
  readonly cells: readonly NotebookCell[];
}

export interface NotebookCell {
  readonly id?: string;
  readonly cell_type: "markdown" | "code" | "raw";
  readonly metadata: { readonly tags?: readonly string[]; readonly [name: string]: unknown };
  /** Text, or lines that keep their line ends. */
  readonly source: string | readonly string[];
  readonly outputs?: readonly NotebookOutput[];
  readonly execution_count?: number | null;
}

export type NotebookOutput =
  | { readonly output_type: "stream"; readonly name: string; readonly text: string | string[] }
  | {
      readonly output_type: "display_data" | "execute_result";
      readonly data: MimeBundle;
      readonly metadata: Readonly<Record<string, unknown>>;
      readonly execution_count?: number | null;
    }
  | {
      readonly output_type: "error";
      readonly ename: string;
      readonly evalue: string;
      readonly traceback: readonly string[];
    };

/** One thing shown in several forms; the front end takes the richest it knows. */
export type MimeBundle = Readonly<Record<string, unknown>>;

/** A chart as plain data, beside its pictures: what a page is made of. */
export const chartMime = "application/vnd.gramline.chart+json";

/** A cell's or an output's text as one string. */
export function joinedText(text: string | readonly string[] | undefined): string {
  return text === undefined ? "" : typeof text === "string" ? text : text.join("");
}

/** Text as the format stores it: lines that keep their line ends. */
export function splitText(text: string): string[] {
  return text === "" ? [] : text.split(/(?<=\n)/);
}
