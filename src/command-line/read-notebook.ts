import { readFileSync } from "node:fs";
import { basename } from "node:path";
import { UsageError } from "../core/usage-error.js";
import {
  joinedText,
  type NotebookCell,
  type NotebookFile,
  splitText,
} from "../report/notebook-file.js";

/** Values for the cell that follows the one tagged `parameters`. */
export type NotebookParameters = Readonly<Record<string, string | number | boolean | null>>;

/** Reads a notebook; throws a UsageError when the file is not one. */
export function readNotebook(path: string): NotebookFile {
  const fault = (came: string) =>
    new UsageError({
      needed: "a notebook in the format nbformat 4",
      came,
      where: basename(path),
      todo: "Open and save it once in Jupyter, or take the copy that came with the project.",
    });
  let text: string;
  try {
    text = readFileSync(path, "utf8");
  } catch {
    throw fault("the file could not be read");
  }
  let parsed: NotebookFile;
  try {
    parsed = JSON.parse(text);
  } catch {
    throw fault("the file is not valid JSON");
  }
  if (parsed?.nbformat !== 4 || !Array.isArray(parsed.cells)) {
    throw fault(`it says nbformat ${JSON.stringify(parsed?.nbformat)}`);
  }
  return parsed;
}

/**
 * Puts a cell with the given values after the cell tagged `parameters`. The
 * names are declared anew, which the kernel allows from cell to cell; a plain
 * assignment to another cell's variable would lose it there.
 */
export function withParameters(
  notebook: NotebookFile,
  values: NotebookParameters,
  name: string,
): NotebookFile {
  if (Object.keys(values).length === 0) return notebook;
  const at = notebook.cells.findIndex((cell) => cell.metadata.tags?.includes("parameters"));
  if (at < 0) {
    throw new UsageError({
      needed: "a cell tagged parameters",
      came: "none of the cells has that tag",
      where: name,
      todo: "Tag the cell with the values to change as parameters (View > Cell Toolbar > Tags).",
    });
  }
  const declared = declaredNames(joinedText(notebook.cells[at]!.source));
  const lines = Object.entries(values).map(([key, value]) => {
    if (!declared.includes(key)) {
      throw new UsageError({
        needed: `one of the parameters ${declared.join(", ")}`,
        came: `${key} was given`,
        where: name,
        todo: "Use a name that the cell tagged parameters declares with let.",
      });
    }
    return `let ${key} = ${JSON.stringify(value)};\n`;
  });
  const injected: NotebookCell = {
    id: "injected-parameters",
    cell_type: "code",
    metadata: { tags: ["injected-parameters"] },
    source: splitText(lines.join("")),
    outputs: [],
    execution_count: null,
  };
  return {
    ...notebook,
    cells: [...notebook.cells.slice(0, at + 1), injected, ...notebook.cells.slice(at + 1)],
  };
}

/** The names that a parameters cell declares with `let` at the start of a line. */
function declaredNames(source: string): string[] {
  return [...source.matchAll(/^let\s+([A-Za-z_$][\w$]*)/gm)].map((m) => m[1]!);
}
