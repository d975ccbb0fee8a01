import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { askRecords } from "../../src/analysis/ask-records.js";
import { makeStudy } from "../../src/command-line/new.js";
import { startKernel } from "../../src/command-line/notebook-kernel.js";
import { notebookNeeds } from "../../src/command-line/notebook-needs.js";
import {
  notebookWithoutPeople,
  withoutPath,
} from "../../src/command-line/notebook-without-people.js";
import { ownNotebook } from "../../src/command-line/own-notebook.js";
import { readNotebook } from "../../src/command-line/read-notebook.js";
import { runNotebook } from "../../src/command-line/run-notebook.js";
import { displayBundle } from "../../src/notebook/display-bundle.js";
import { writeDay } from "../../src/publish/write-day.js";
import { tableColumns } from "../../src/records/columns.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { endHalfDone } from "../../src/records/files/when-interrupted.js";
import { joinedText } from "../../src/report/renderers/notebook-file.js";
import { parametersOf, runByFunction } from "./run-by-function.js";

/**
 * A study as somebody makes it: `gramline new`, then two sheets of the workbook filled
 * in. Everything that came with it must then run, about these animals and no others.
 */
const home = resolve(fileURLToPath(new URL("../..", import.meta.url)));
const work = mkdtempSync(join(tmpdir(), "gramline-own-"));
const folder = join(work, "spring");
const notebooks = readdirSync(join(home, "notebooks"))
  .filter((name) => name.endsWith(".ipynb"))
  .map((name) => name.replace(/\.ipynb$/, ""))
  // It is about several houses; that it waits for them is asked below.
  .filter((name) => name !== "pool-nurseries");
const own = (name: string) => readNotebook(join(folder, "notebooks", `${name}.ipynb`));

type Cells = readonly (readonly (string | number)[])[];
interface Workbooks {
  read(bytes: Buffer): { Sheets: Record<string, unknown> };
  write(book: unknown, options: object): Buffer;
  readonly utils: { aoa_to_sheet(rows: Cells): unknown };
}

/** Fills two sheets of the workbook, by the headings that stand there. */
function fillIn(rows: Readonly<Record<"animals" | "weighings", readonly object[]>>): void {
  const xlsx = createRequire(import.meta.url)("@e965/xlsx") as Workbooks;
  const path = join(folder, "records.xlsx");
  const book = xlsx.read(readFileSync(path));
  for (const [table, all] of Object.entries(rows)) {
    const names = tableColumns[table as "animals"].map((c) => c.name);
    const cells = all.map((row) =>
      names.map((name) => (row as Record<string, string | number>)[name] ?? ""),
    );
    book.Sheets[table] = xlsx.utils.aoa_to_sheet([names, ...cells]);
  }
  writeFileSync(path, xlsx.write(book, { type: "buffer", bookType: "xlsx" }));
}

const two = (n: number) => String(n).padStart(2, "0");
const day = (d: number) => new Date(Date.UTC(2027, 2, 1 + d)).toISOString().slice(0, 10);

/** Pups of invented names, weighed daily; the second gains half as much from day 15 on. */
function pups(count: number, days: number) {
  const names = ["Wessel", "Tornip", "Quade", "Brumm", "Fenna", "Ollo"].slice(0, count);
  const animals = names.map((name, i) => ({
    animal_id: `W${i + 1}`,
    name,
    species: "sea otter",
    sex: i % 2 === 0 ? "female" : "male",
    birth_date_earliest: day(-20 - i),
    birth_date_latest: day(-19 - i),
    birth_date_basis: "umbilicus",
    admitted_at: `${day(i)} 14:00`,
    season: "2027",
    outcome: "in care",
  }));
  const weighings = animals.flatMap(({ animal_id }, i) =>
    Array.from({ length: Math.max(0, days - i) }, (_, d) => ({
      animal_id,
      at: `${day(i + d)} 06:${two(10 + ((7 * d) % 20))}`,
      mass_g: Math.round(
        2300 +
          40 * i +
          55 * (i === 1 ? Math.min(d, 15) + Math.max(0, d - 15) / 2 : d) +
          ((13 * d) % 17),
      ),
      tare_g: 0,
      method: "bucket",
      coat: "dry",
      meal: "before",
    })),
  );
  return { animals, weighings };
}

beforeAll(async () => {
  await makeStudy(folder, {
    title: "Spring",
    species: ["sea otter"],
    zone: "Europe/Berlin",
    feedingDayStartHour: 6,
    home,
  });
});
afterAll(() => {
  endHalfDone();
  rmSync(work, { recursive: true, force: true });
});

describe("notebooks of one's own study", () => {
  it("hold no animal, day, season or word of the demo", () => {
    const demo = join(home, "data-demo");
    const [, ...animals] = readFileSync(join(demo, "animals.csv"), "utf8").trim().split("\n");
    const ids = animals.flatMap((line) => line.split(",").slice(0, 2)).filter((w) => w.length > 2);
    expect(ids.length).toBeGreaterThan(10);
    for (const name of notebooks) {
      const text = readFileSync(join(folder, "notebooks", `${name}.ipynb`), "utf8");
      expect(text, name).not.toMatch(/invented|demo|"\d{4}-\d\d-\d\d|"(19|20)\d\d\\?"/i);
      expect(
        ids.filter((id) => new RegExp(`\\b${id}\\b`).test(text)),
        name,
      ).toEqual([]);
    }
  });

  it("read the folder above them, and ask about what the study holds", () => {
    for (const name of notebooks) {
      const shipped = parametersOf(readNotebook(join(home, "notebooks", `${name}.ipynb`)));
      const values = parametersOf(own(name));
      expect([...values.keys()]).toEqual([...shipped.keys()]);
      expect(values.get("studyFolder")).toBe('".."');
      const kept = [...values].filter(([, v]) => v !== "null" && v !== '".."').map(([k]) => k);
      // What is left is no animal, day, species or season: an hour, a curve, a milestone of ours.
      expect(["madeAtHour", "curve", "milestone"]).toEqual(expect.arrayContaining(kept));
    }
    expect(parametersOf(own("slow-gainer")).get("animalId")).toBe("null");
  });
});

// From the fullest to the barest; each is tried with every notebook.
const sizes = [
  ["five pups over five weeks", 5, 35],
  ["one pup weighed twice", 1, 2],
] as const;

describe.each(sizes)("two sheets: %s", (_, count, days) => {
  beforeAll(() => fillIn(pups(count, days)));

  // Barer ones are run with the odd studies.
  it.each(count === 5 ? notebooks : [])("%s runs at the first try", async (name) => {
    let shown = 0;
    await runByFunction(ownNotebook(own(name), folder), (thing) => {
      expect(Object.keys(displayBundle(thing)).length).toBeGreaterThan(0);
      shown++;
    });
    expect(shown).toBeGreaterThan(0);
  });

  it("says which notebooks wait, and for what", async () => {
    const { series } = askRecords(await readStudy(folder)).value;
    const waiting = notebooks.filter((name) => notebookNeeds(name, series, true) !== null);
    expect(waiting).toEqual(
      count === 5
        ? ["season-comparison"]
        : ["explain-cohort-curves", "explain-growth-curves", "season-comparison"],
    );
    expect(notebookNeeds("pool-nurseries", series, true)?.code).toBe("notebook-needs-houses");
    expect(notebookNeeds("pool-nurseries", series, false)?.code).toBe("notebook-needs-engine");
  });
});

describe("without people", () => {
  beforeAll(() => fillIn(pups(5, 35)));

  it.each(notebooks)("%s leaves them out as soon as it has read, and runs", async (name) => {
    const whole = ownNotebook(readNotebook(join(home, "notebooks", `${name}.ipynb`)), folder);
    const without = notebookWithoutPeople(whole, name);
    const code = without.cells.flatMap((c) => (c.cell_type === "code" ? joinedText(c.source) : []));
    const reads = code.flatMap((text) => [...text.matchAll(/readStudy\(/g)]);
    expect(reads).toHaveLength(1);
    expect(code.join("\n")).toContain(
      "= leaveOutPeople(await g.notebook.withProgress((long) => g.readStudy(studyFolder, long)));",
    );
    if (name !== "start-here") return;
    let shown = "";
    await runByFunction(without, (thing) => {
      shown += JSON.stringify(thing);
    });
    // The names of these pups are texts that nobody vouches for; their ids are codes.
    expect(shown).toMatch(/W1/);
    for (const { name } of pups(5, 35).animals) expect(shown).not.toContain(name);
    expect(JSON.stringify(withoutPath(without, folder, "study"))).not.toContain(folder);
  });

  it("refuses one that reads in a way of its own", () => {
    const cell = { cell_type: "code" as const, metadata: {} };
    const of = (source: string) => ({
      ...own("start-here"),
      cells: [{ ...cell, source: `import * as g from "gramline";\n${source}` }],
    });
    for (const source of [
      "const s = g.readStudy('..');",
      "const r = g.readStudy; await r('..');",
      "",
    ])
      expect(() => notebookWithoutPeople(of(source), "mine"), source).toThrow(/mine: needed/);
  });
});

describe("the study of five pups", () => {
  beforeAll(() => fillIn(pups(5, 35)));

  it("names on the slow gainer's page the animal that the day's page names first", async () => {
    const page = join(work, "day.html");
    await writeDay(folder, { out: page });
    const html = readFileSync(page, "utf8");
    const names = pups(5, 35).animals.map((a) => a.name);
    const firstOfAll = names.sort((a, b) => html.indexOf(`>${a}`) - html.indexOf(`>${b}`))[0];
    let asked = "";
    await runByFunction(ownNotebook(own("slow-gainer"), folder), (thing) => {
      asked += JSON.stringify(thing);
    });
    expect(asked).toContain(firstOfAll);
  });

  it("runs in a kernel that finds the packages it imports", async () => {
    const path = join(folder, "notebooks", "start-here.ipynb");
    const kernel = await startKernel(join(folder, "notebooks"));
    const { notebook, failure } = await runNotebook(readNotebook(path), path, { kernel });
    await kernel.stop();
    expect(failure).toBeNull();
    const text = JSON.stringify(notebook.cells.flatMap((cell) => cell.outputs ?? []));
    for (const { name } of pups(5, 35).animals) expect(text).toContain(name);
    expect(text).toMatch(/Half of 5 animals gained more than/);
    expect(joinedText(notebook.cells[0]!.source)).not.toMatch(/invented/);
  }, 180_000);
});
