import { joinedText, type NotebookFile, splitText } from "../report/renderers/notebook-file.js";
import { declarations } from "./read-notebook.js";

/** Cells with this tag speak of the demo study alone. */
const ofDemo = "demo";

/**
 * A notebook of the project made ready for somebody's own study: what speaks of the
 * demo is gone, it reads the folder given, and every parameter that may be null is
 * null, by which the question takes what the study holds (the latest day, the animal
 * that the day's page names first, the latest season).
 *
 * @param studyFolder as the notebook is to write it, relative to where it lies.
 * @example ownNotebook(readNotebook("notebooks/slow-gainer.ipynb"), "..")
 */
export function ownNotebook(notebook: NotebookFile, studyFolder: string): NotebookFile {
  const cells = notebook.cells.filter((cell) => !cell.metadata.tags?.includes(ofDemo));
  return {
    ...notebook,
    cells: cells.map((cell) => {
      if (!cell.metadata.tags?.includes("parameters")) return cell;
      const source = joinedText(cell.source);
      const values = new Map(
        [...declarations(source)].flatMap(([name, { type }]) =>
          name === "studyFolder"
            ? [[name, JSON.stringify(studyFolder)]]
            : /\bnull\b/.test(type)
              ? [[name, "null"]]
              : [],
        ) as [string, string][],
      );
      const own = source.replace(
        /^((?:const|let)\s+([A-Za-z_$][\w$]*)\s*:[^=\n]*=\s*)[^;\n]*(;?)$/gm,
        (line, before: string, name: string, end: string) =>
          values.has(name) ? `${before}${values.get(name)}${end}` : line,
      );
      return { ...cell, source: splitText(own) };
    }),
  };
}

/** Names of the packages that a notebook imports, itself included: "gramline", "ml-regression". */
export function packagesOf(notebook: NotebookFile): string[] {
  const code = notebook.cells.filter((cell) => cell.cell_type === "code");
  const named = code.flatMap((cell) => [
    ...joinedText(cell.source).matchAll(
      /(?:\bfrom\s+|\bimport\s*\(\s*)["']((?:@[\w.-]+\/)?[\w.-]+)[^"']*["']/g,
    ),
  ]);
  return [...new Set(named.map((m) => m[1]!))];
}
