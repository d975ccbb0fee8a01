import { readFileSync } from "node:fs";
import { basename } from "node:path";
import { UsageError } from "../core/usage-error.js";
import {
  joinedText,
  type NotebookCell,
  type NotebookFile,
  splitText,
} from "../report/renderers/notebook-file.js";
import { didYouMean } from "./did-you-mean.js";

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
  const declared = declarations(joinedText(notebook.cells[at]!.source));
  const lines = Object.entries(values).map(([key, value]) => {
    const declaration = declared.get(key);
    if (declaration === undefined) {
      throw new UsageError({
        needed: `one of the parameters ${[...declared.keys()].join(", ")}`,
        came: `${key} was given`,
        where: name,
        todo:
          didYouMean(key, [...declared.keys()]) ??
          "Use a name that the cell tagged parameters declares.",
      });
    }
    const type = declaration.type === "" ? "" : `: ${declaration.type}`;
    return `const ${key}${type} = ${JSON.stringify(asDeclared(key, value, declaration, name))};\n`;
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

/** The default of a text parameter; null where it is null, or not declared. */
export function parameterDefault(notebook: NotebookFile, name: string): string | null {
  const cell = notebook.cells.find((c) => c.metadata.tags?.includes("parameters"));
  const written = declarations(joinedText(cell?.source ?? "")).get(name)?.written ?? "null";
  return /^"([^"]*)"/.exec(written)?.[1] ?? null;
}

export interface Declaration {
  /** The type as written; empty when none is. */
  readonly type: string;
  /** The default as written. */
  readonly written: string;
}

/** What a parameters cell declares at the start of its lines. */
export function declarations(source: string): Map<string, Declaration> {
  const found = source.matchAll(
    /^(?:const|let)\s+([A-Za-z_$][\w$]*)\s*(?::\s*([^=\n]*?))?\s*=\s*(.*)$/gm,
  );
  return new Map([...found].map((m) => [m[1]!, { type: m[2] ?? "", written: m[3]! }]));
}

/**
 * A text from the command line as what is declared: "007" stays a text where
 * texts are declared, "null" is nothing where that is allowed.
 */
function asDeclared(
  key: string,
  value: NotebookParameters[string],
  { type, written }: Declaration,
  where: string,
): NotebookParameters[string] {
  if (typeof value !== "string") return value;
  const kinds = type === "" ? kindOf(written) : type;
  if (value === "null" && /\bnull\b/.test(kinds)) return null;
  if (/\bstring\b/.test(kinds)) return value;
  const wrong = (needed: string) =>
    new UsageError({
      needed: `${needed} for ${key}`,
      came: `"${value}" was given`,
      where,
      todo: "Look at the default in the cell tagged parameters.",
    });
  if (/\bnumber\b/.test(kinds)) {
    if (value.trim() === "" || !Number.isFinite(Number(value))) throw wrong("a number");
    return Number(value);
  }
  if (/\bboolean\b/.test(kinds)) {
    if (value !== "true" && value !== "false") throw wrong("true or false");
    return value === "true";
  }
  return value;
}

/** The type of a default without one written. */
function kindOf(written: string): string {
  if (/^[-+.\d]/.test(written)) return "number";
  if (/^(true|false)\b/.test(written)) return "boolean";
  return /^null\b/.test(written) ? "string | null" : "string";
}
