import { readdirSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, it } from "vitest";
import { startKernel } from "../../src/command-line/notebook-kernel.js";
import { readNotebook } from "../../src/command-line/read-notebook.js";
import { UsageError } from "../../src/core/usage-error.js";
import { endHalfDone } from "../../src/records/files/when-interrupted.js";
import { joinedText, type NotebookFile } from "../../src/report/renderers/notebook-file.js";
import { parametersOf, runByFunction } from "../notebooks/run-by-function.js";
import { isBuilt, isWhole } from "./run-killed.js";

/**
 * A slip of the pen in the cell of parameters costs seconds: it is refused before anything
 * is worked out, in a sentence that names what was meant, without a line of what lies
 * inside; the next cell still knows the library.
 */
const folder = fileURLToPath(new URL("../../notebooks", import.meta.url));
const all = readdirSync(folder).filter((name) => name.endsWith(".ipynb"));
// With every `npm test` the two that ask for most.
const names = all.filter((name) => isWhole || /^(?:season|slow)/.test(name));
const study = fileURLToPath(new URL("../../data-demo", import.meta.url));
/** As if it were run in its own folder. */
const notebook = (name: string): NotebookFile => {
  const read = readNotebook(join(folder, name));
  const source = (cell: NotebookFile["cells"][number]) =>
    joinedText(cell.source).replaceAll('"../data-demo"', JSON.stringify(study));
  return { ...read, cells: read.cells.map((cell) => ({ ...cell, source: source(cell) })) };
};

/** A slip in each kind of value, and what is to be said of it. */
const slips: Readonly<Record<string, readonly [value: unknown, said: RegExp]>> = {
  studyFolder: [study.replace("demo", "dmeo"), /Is \S*data-demo meant\?/],
  archiveFolder: ["houses", /needed an archive/],
  onDay: ["2025-13-01", /needed a day/],
  youngDay: ["2023-3-15", /Is 2023-03-15 meant\?/],
  changeDay: ["2022-6-1", /Is 2022-06-01 meant\?/],
  species: ["sea oter", /Is sea otter meant\?/],
  forecastSpecies: ["sea oter", /Is sea otter meant\?/],
  season: ["2O24", /Is 2024 meant\?/],
  animalId: ["O25-4", /Is O25-04 meant\?/],
  youngId: ["O23-1", /Is O23-01 meant\?/],
  newAnimal: ["O23-1", /Is O23-01 meant\?/],
  scenarioAnimal: ["O25-4", /Is O25-04 meant\?/],
  exampleAnimal: ["O24-2", /Is O24-02 meant\?/],
  curve: ["gomperz", /Is gompertz meant\?/],
  milestone: ["full weening", /Is full weaning meant\?/],
  ages: ["84-21", /needed .*ages/],
  fromAgeD: [-3, /below 0|needed .*age/],
  toAgeD: [0, /needed .*age/],
  madeAtHour: [99, /needed an hour/],
  targetG: [-9000, /below 0/],
  margin: [-10, /below 0|needed .*margin/],
};

/** The notebook with another value of one parameter. */
function withSlip(file: NotebookFile, parameter: string): NotebookFile {
  const value = JSON.stringify(slips[parameter]![0]);
  const cells = file.cells.map((cell) =>
    cell.metadata.tags?.includes("parameters")
      ? {
          ...cell,
          source: joinedText(cell.source).replace(
            new RegExp(`^(const ${parameter}: [^=]+= ).*;$`, "m"),
            `$1${value};`,
          ),
        }
      : cell,
  );
  return { ...file, cells };
}

describe.each(names)("%s", (name) => {
  const parameters = [...parametersOf(notebook(name)).keys()];

  it("has a slip for every parameter", () => {
    expect(parameters.filter((each) => slips[each] === undefined)).toEqual([]);
  });

  it.each(parameters)("a slip in %s is refused before anything is shown", async (parameter) => {
    let shown = 0;
    const run = runByFunction(withSlip(notebook(name), parameter), () => shown++);
    const error = await run.then(
      () => null,
      (thrown: unknown) => thrown,
    );
    expect(error).toBeInstanceOf(UsageError);
    expect((error as Error).message).toMatch(slips[parameter]![1]);
    expect(shown).toBe(0);
  });
});

describe.skipIf(!isBuilt)("through a kernel", () => {
  afterAll(endHalfDone);

  it("a slip is one sentence, and the next cell still knows the library", async () => {
    const kernel = await startKernel(folder);
    const run = async (code: string) => {
      let said = "";
      const { status } = await kernel.execute(
        code,
        ({ content, header }) => {
          if (header.msg_type === "stream" && content["name"] === "stderr")
            said += String(content["text"]);
        },
        300,
      );
      // After a mistake the kernel lets go of what was asked in the same breath.
      if (status !== "ok") await new Promise((done) => setTimeout(done, 500));
      return { status, said: said.trim() };
    };
    for (const name of names) {
      const slip = [...parametersOf(notebook(name)).keys()].find(
        (each) => each !== "studyFolder" && each !== "archiveFolder",
      )!;
      const cells = withSlip(notebook(name), slip).cells;
      const code = cells.filter((c) => c.cell_type === "code").map((c) => joinedText(c.source));
      let last = { status: "ok", said: "" };
      for (const each of code) {
        last = await run(each);
        if (last.status !== "ok") break;
      }
      expect(last.status, name).toBe("error");
      expect(last.said, name).toMatch(/^UsageError: /);
      expect(last.said, name).toMatch(slips[slip]![1]);
      expect(last.said, name).not.toMatch(/\n|\bat .*:\d+/);
      expect(await run('g.show("still here");'), name).toEqual({ status: "ok", said: "" });
    }
    // What is no mistake of a value says where in the cell it is, and nothing of the kernel.
    const { said } = await run("const nothing: any = null;\nnothing.here;");
    expect(said).toMatch(/^TypeError: .*here/m);
    expect(said).toMatch(/at evalmachine/);
    expect(said).not.toMatch(/tslab|node:/);
  }, 600_000);
});
