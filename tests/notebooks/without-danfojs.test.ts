import { mkdirSync, mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, expect, it } from "vitest";
import { type NotebookKernel, startKernel } from "../../src/command-line/notebook-kernel.js";
import { readNotebook } from "../../src/command-line/read-notebook.js";
import { runNotebook } from "../../src/command-line/run-notebook.js";
import { joinedText, type NotebookCell } from "../../src/report/renderers/notebook-file.js";

/**
 * The cells that make a data frame, as they stand in the notebooks, in a real kernel
 * of a folder that has gramline and nothing else.
 */
const home = fileURLToPath(new URL("../..", import.meta.url));
let folder: string;
let kernel: NotebookKernel;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "no-data-frames-"));
  mkdirSync(join(folder, "node_modules"));
  symlinkSync(home, join(folder, "node_modules", "gramline"), "junction");
  kernel = await startKernel(folder);
}, 60_000);
afterAll(async () => {
  await kernel.stop();
  rmSync(folder, { recursive: true, force: true });
});

const code = (source: string): NotebookCell => ({
  cell_type: "code",
  source,
  metadata: {},
  outputs: [],
  execution_count: null,
});

it.each(["start-here", "husbandry-report"])(
  "where danfojs is absent, %s says what to type and passes",
  async (name) => {
    const written = readNotebook(join(home, "notebooks", `${name}.ipynb`));
    const frame = written.cells.filter(
      (c) => c.cell_type === "code" && joinedText(c.source).includes("danfojs-node"),
    );
    expect(frame).toHaveLength(1);
    const last = written.cells.at(-1)!;
    const { notebook, failure } = await runNotebook(
      {
        ...written,
        cells: [
          code(
            'import * as g from "gramline";\ng.notebook.watchForLateErrors();\nconst answer: any = null;',
          ),
          ...frame,
          last,
        ],
      },
      join(folder, `${name}.ipynb`),
      { kernel },
    );
    expect(failure).toBeNull();
    const said = notebook.cells.flatMap((cell) =>
      (cell.outputs ?? []).flatMap((o) => (o.output_type === "stream" ? [joinedText(o.text)] : [])),
    );
    expect(said).toEqual([
      "This cell needs danfojs-node@1.2.0, which is not installed. Type: npm install danfojs-node@1.2.0\n",
      "Clean run: every cell ended without an error, none came late.\n",
    ]);
  },
  60_000,
);
