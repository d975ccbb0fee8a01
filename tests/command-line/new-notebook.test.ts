import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, it } from "vitest";
import { makeStudy } from "../../src/command-line/new.js";
import { stopAllKernels } from "../../src/command-line/notebook-kernel.js";
import { readNotebook } from "../../src/command-line/read-notebook.js";
import { runNotebook } from "../../src/command-line/run-notebook.js";
import { joinedText } from "../../src/report/renderers/notebook-file.js";
import { animalsCsv, weighingsCsv } from "../records/small-study.js";

afterAll(() => stopAllKernels());

describe("a new study far from where gramline lies", () => {
  it("has notebooks whose kernel finds the library and reads the study above them", async () => {
    const folder = join(await mkdtemp(join(tmpdir(), "gramline-")), "spring");
    await makeStudy(folder, {
      title: "Spring",
      species: ["sea otter"],
      zone: "Europe/Berlin",
      feedingDayStartHour: 6,
      home: resolve(fileURLToPath(new URL("../..", import.meta.url))),
    });
    await writeFile(join(folder, "animals.csv"), animalsCsv);
    await writeFile(join(folder, "weighings.csv"), weighingsCsv);
    const path = join(folder, "notebooks", "try.ipynb");
    const source = [
      'import * as g from "gramline";\n',
      'const study = await g.readStudy("..");\n',
      "const series = g.series.buildSeries(study);\n",
      'console.log(series.animals.map((a) => a.animal.animalId + " " + a.daily.length).join(", "));',
    ];
    await writeFile(
      path,
      JSON.stringify({
        nbformat: 4,
        nbformat_minor: 5,
        metadata: {},
        cells: [
          { cell_type: "code", id: "a", metadata: {}, source, outputs: [], execution_count: null },
        ],
      }),
    );
    const { notebook, failure } = await runNotebook(readNotebook(path), path, {});
    expect(failure).toBeNull();
    const text = notebook.cells
      .flatMap((cell) => cell.outputs ?? [])
      .flatMap((o) => (o.output_type === "stream" ? [joinedText(o.text)] : []))
      .join("");
    expect(text).toBe("P1 2, P2 2\n");
  });
});
