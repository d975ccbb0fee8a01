import * as mlRegression from "ml-regression";
import * as simpleStatistics from "simple-statistics";
import ts from "typescript";
import { declarations } from "../../src/command-line/read-notebook.js";
import * as g from "../../src/index.js";
import * as node from "../../src/node.js";
import { joinedText, type NotebookFile } from "../../src/report/renderers/notebook-file.js";

const packages: Readonly<Record<string, unknown>> = {
  "gramline/node": node,
  gramline: g,
  "simple-statistics": simpleStatistics,
  "ml-regression": mlRegression,
};

/**
 * Runs the code of a notebook as one function of this process: the same cells with the
 * same imports, without a kernel's five seconds. What it shows goes to `onShow`.
 */
export async function runByFunction(
  notebook: NotebookFile,
  onShow: (thing: unknown) => void = () => {},
): Promise<void> {
  const source = notebook.cells
    .filter((cell) => cell.cell_type === "code")
    .map((cell) => joinedText(cell.source))
    // A data frame is a package of its own; late errors are the kernel's.
    .filter((cell) => !/danfojs-node|assertClean/.test(cell))
    .join("\n")
    .replace(/^import \* as (\w+) from "([^"]+)";$/gm, 'const $1 = packages["$2"];')
    .replace(/^import (\{[^}]+\}) from "([^"]+)";$/gm, 'const $1 = packages["$2"];')
    .replace(/^g\.notebook\.watchForLateErrors\(\);$/gm, "");
  const { outputText } = ts.transpileModule(source, {
    compilerOptions: { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext },
  });
  // What is shown is made into every form that a front end can ask for.
  const shown = { ...g, show: (...things: unknown[]) => things.forEach(onShow) };
  const run = new AsyncFunction("packages", outputText);
  await run({ ...packages, gramline: shown });
}

const AsyncFunction = Object.getPrototypeOf(async () => {}).constructor as new (
  ...words: string[]
) => (packages: unknown) => Promise<void>;

/** The values of a notebook's cell of parameters, as written. */
export function parametersOf(notebook: NotebookFile): ReadonlyMap<string, string> {
  const cell = notebook.cells.find((c) => c.metadata.tags?.includes("parameters"));
  return new Map(
    [...declarations(joinedText(cell?.source))].map(([name, d]) => [
      name,
      d.written.replace(/;\s*$/, ""),
    ]),
  );
}
