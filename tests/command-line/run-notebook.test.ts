import { readdirSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type NotebookKernel, startKernel } from "../../src/command-line/notebook-kernel.js";
import { readNotebook, withParameters } from "../../src/command-line/read-notebook.js";
import { runNotebook } from "../../src/command-line/run-notebook.js";
import { hasNoOutputs } from "../../src/command-line/run-notebooks.js";
import { endHalfDone } from "../../src/records/files/when-interrupted.js";
import { chartMime, joinedText } from "../../src/report/renderers/notebook-file.js";

/**
 * What must fail a notebook, one small notebook each. That the kernel itself
 * lets late errors pass (the cell ends "ok") was seen on tslab 1.0.22; the
 * reply, status and stream messages are those of "Messaging in Jupyter",
 * protocol 5.3.
 */
const folder = fileURLToPath(new URL("notebooks", import.meta.url));
const pathOf = (name: string) => join(folder, `${name}.ipynb`);
const run = (name: string, options = {}) =>
  runNotebook(readNotebook(pathOf(name)), pathOf(name), { kernel, ...options });

// A kernel takes seconds to start: all these notebooks share one, up to the one that ends it.
let kernel: NotebookKernel;
beforeAll(async () => {
  kernel = await startKernel(folder);
});
afterAll(endHalfDone);

describe("a notebook that runs clean", () => {
  it("comes back with outputs in every form, counts, and no failure", async () => {
    const path = pathOf("clean");
    const changed = withParameters(readNotebook(path), { animal: "Fern" }, "clean");
    const seen: string[] = [];
    const { notebook, failure } = await runNotebook(changed, path, {
      kernel,
      onCell: (done, total) => seen.push(`${done}/${total}`),
    });
    expect(failure).toBeNull();
    expect(seen.at(-1)).toBe("7/7");
    const outputs = notebook.cells.flatMap((cell) => cell.outputs ?? []);
    const streams = outputs.flatMap((o) =>
      o.output_type === "stream" ? [joinedText(o.text)] : [],
    );
    // The injected value, not the one written in the notebook.
    expect(streams[0]).toBe("Fern weighs 3\n");
    expect(streams).toContain("42\n");
    const shown = outputs.flatMap((o) => (o.output_type === "display_data" ? [o.data] : []));
    expect(Object.keys(shown[0]!).sort()).toEqual([
      // What our own page draws anew, live; front ends that do not know it pass it over.
      chartMime,
      "application/vnd.vegalite.v5+json",
      "image/svg+xml",
      "text/plain",
    ]);
    // An object, not text: front ends take text for an address.
    expect(shown[0]!["application/vnd.vegalite.v5+json"]).toMatchObject({
      $schema: "https://vega.github.io/schema/vega-lite/v5.json",
    });
    expect(shown[1]!["text/html"]).toContain("&#60;b&#62;Fern&#60;/b&#62;");
    expect(
      notebook.cells.filter((c) => c.cell_type === "code").map((c) => c.execution_count),
    ).toEqual([1, 2, 3, 4, 5, 6, 7]);
    expect(notebook.cells.every((cell) => typeof cell.id === "string")).toBe(true);
  });
});

describe("a notebook that imports the subpaths", () => {
  it("finds their types and their values", async () => {
    const { notebook, failure } = await run("subpaths");
    expect(failure).toBeNull();
    const outputs = notebook.cells.flatMap((cell) => cell.outputs ?? []);
    const said = outputs.flatMap((o) => (o.output_type === "stream" ? [joinedText(o.text)] : []));
    expect(said).toEqual(["2 true function gompertz\n"]);
  });
});

describe("a notebook fails, with cell and source, on", () => {
  // A late rejection of cell 2 shows there if it is quick, else in the assertion of cell 3.
  const cases: [string, readonly number[], RegExp][] = [
    ["type-error", [1], /Type 'string' is not assignable to type 'number'/],
    ["throws", [2], /the scale is empty/],
    ["late-rejection", [1], /late.*[\s\S]*nobody waited/],
    ["late-rejection-asserted", [2, 3], /nobody waited/],
    ["late-timer", [1], /late[\s\S]*from a timer/],
    ["stderr", [1], /wrote to stderr[\s\S]*something is off/],
    ["dies", [1], /kernel ended by itself \(exit code 3\)/],
  ];
  it.each(cases)("%s", async (name, cells, why) => {
    const { failure } = await run(name);
    // For 200 ms after an error the kernel refuses whatever is asked (seen on tslab 1.0.22).
    await new Promise((done) => setTimeout(done, 300));
    expect(cells).toContain(failure?.cell);
    expect(failure?.why).toMatch(why);
    expect(failure?.source).not.toBe("");
    expect(failure?.why).not.toMatch(/node_modules.tslab/);
  });
});

describe("a kernel that is busy", () => {
  it("fails a cell that never ends", async () => {
    // One of its own, started and ended by the run itself.
    const { failure } = await run("hangs", { kernel: undefined, cellSeconds: 2 });
    expect(failure?.cell).toBe(1);
    expect(failure?.why).toMatch(/time-out/);
  });

  it("fails a notebook whose cells together take too long", async () => {
    const own = await startKernel(folder);
    try {
      const hangs = await run("hangs", { kernel: own, notebookSeconds: 1 });
      expect(hangs.failure?.cell).toBe(1);
      expect(hangs.failure?.why).toMatch(/whole notebook took longer than 1 s/);
      // Nothing is begun when the time is up already.
      const clean = await run("clean", { kernel: own, notebookSeconds: 1e-9 });
      expect(clean.failure?.why).toMatch(/whole notebook/);
    } finally {
      await own.stop();
    }
  });

  it("ends at once with a run that is cancelled", async () => {
    const cancel = new AbortController();
    const started = Date.now();
    const going = run("hangs", {
      kernel: undefined,
      signal: cancel.signal,
      onCell: () => cancel.abort(),
    });
    const outcome = await going.then(
      (each) => each.failure?.why ?? "",
      (error) => String(error),
    );
    expect(outcome).not.toBe("");
    expect(Date.now() - started).toBeLessThan(15_000);
  });
});

describe("parameters", () => {
  it("are refused by name when the tagged cell does not declare them", () => {
    const read = readNotebook(pathOf("clean"));
    expect(() => withParameters(read, { anmial: "Fern" }, "clean")).toThrow(
      /one of the parameters animal, mass, but anmial was given/,
    );
    expect(() => withParameters(readNotebook(pathOf("throws")), { a: 1 }, "throws")).toThrow(
      /a cell tagged parameters/,
    );
  });
});

describe("values from the command line", () => {
  const injected = (values: Record<string, string>) =>
    joinedText(
      withParameters(readNotebook(pathOf("clean")), values, "clean").cells.find(
        (cell) => cell.id === "injected-parameters",
      )?.source,
    );

  it("follow the types that the project's own notebooks declare", () => {
    const own = fileURLToPath(new URL("../../notebooks/slow-gainer.ipynb", import.meta.url));
    const set = (values: Record<string, string>) =>
      joinedText(
        withParameters(readNotebook(own), values, "slow-gainer").cells.find(
          (cell) => cell.id === "injected-parameters",
        )?.source,
      );
    expect(set({ animalId: "O24-03", onDay: "2024-05-30" })).toBe(
      'const animalId: string | null = "O24-03";\nconst onDay: string | null = "2024-05-30";\n',
    );
    expect(set({ onDay: "null" })).toBe("const onDay: string | null = null;\n");
  });

  it("become what the default is: a text stays a text, a number becomes one", () => {
    expect(injected({ animal: "007" })).toBe('const animal = "007";\n');
    expect(injected({ mass: "4.5" })).toBe("const mass = 4.5;\n");
    expect(injected({ animal: 'a";process.exit();"' })).toBe(
      'const animal = "a\\";process.exit();\\"";\n',
    );
    expect(() => injected({ mass: "heavy" })).toThrow(/a number for mass, but "heavy" was given/);
  });
});

describe("a person's mistake in a notebook", () => {
  it("is one sentence, as on the command line, without the trace of the code that found it", async () => {
    const said = `UsageError: the animal asked about: needed the id of an animal, but "B9" is none. Is B7 meant?
    at noSuchAnimal (file:///somewhere/animal-of.js:39:12)
    at async evalmachine.<anonymous>:33:16
  needed: 'the id of an animal',
  todo: 'Is B7 meant?'
}
`;
    const stderr = { header: { msg_type: "stream" }, content: { name: "stderr", text: said } };
    const saying = {
      languageInfo: {},
      late: [],
      processOutput: () => "",
      stop: async () => {},
      execute: async (_: string, add: (message: unknown) => void) => {
        add(stderr);
        return { status: "error", executionCount: 1 };
      },
    } as unknown as NotebookKernel;
    const { failure } = await run("clean", { kernel: saying });
    expect(failure?.why).toBe(
      'the animal asked about: needed the id of an animal, but "B9" is none. Is B7 meant?',
    );
  });
});

describe("the notebooks of the project", () => {
  const own = fileURLToPath(new URL("../../notebooks", import.meta.url));
  const names = readdirSync(own).filter((name) => name.endsWith(".ipynb"));

  it("are committed without outputs", () => {
    expect(names.length).toBeGreaterThan(0);
    expect(names.filter((name) => !hasNoOutputs(readNotebook(join(own, name))))).toEqual([]);
  });
});
