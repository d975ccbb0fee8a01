import { lstat, mkdtemp, readdir, readFile, realpath, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { strFromU8, unzipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { runCheck } from "../../src/command-line/check.js";
import { makeStudy, speciesWarnings, zoneWarning } from "../../src/command-line/new.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { openWorkbook } from "../../src/records/open-workbook.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { templateWorkbook } from "../../src/records/template-workbook.js";

const home = resolve(fileURLToPath(new URL("../..", import.meta.url)));
const options = {
  title: "Spring nursery",
  species: ["sea otter"],
  zone: "Europe/Berlin",
  feedingDayStartHour: 6,
  home,
};

describe("gramline new", async () => {
  const folder = join(await mkdtemp(join(tmpdir(), "gramline-")), "spring");
  const made = await makeStudy(folder, options);

  it("makes settings, a workbook, a guide, the notebooks and the link the kernel needs", async () => {
    expect(made).toEqual(
      expect.arrayContaining(["study.json", "records.xlsx", "READ ME FIRST.txt"]),
    );
    expect((await lstat(join(folder, "node_modules", "gramline"))).isSymbolicLink()).toBe(true);
    expect(await realpath(join(folder, "node_modules", "gramline"))).toBe(await realpath(home));
    const there = (await readdir(join(home, "notebooks"))).filter((n) => n.endsWith(".ipynb"));
    expect((await readdir(join(folder, "notebooks"))).sort()).toEqual(there.sort());
    for (const name of there)
      expect(await readFile(join(folder, "notebooks", name), "utf8")).not.toMatch(/data-demo"/);
  });

  it("makes a study that reads as it is, empty", async () => {
    const study = await readStudy(folder);
    expect(study.tables.animals).toEqual([]);
    expect(study.setAside).toEqual([]);
    expect(study.counts.map((c) => c.table)).toContain("weighings");
    const { text, exitCode } = await runCheck(folder, {
      out: null,
      json: false,
      saveMapping: false,
      today: "2025-06-01",
    });
    expect(exitCode).toBe(0);
    expect(text).toMatch(/Spring nursery/);
  });

  it("asks about a species of which nothing is known", () => {
    expect(speciesWarnings(["sea otter", "harbor seal"])).toEqual([]);
    const [said] = speciesWarnings(["sea oter"]);
    expect(said).toMatch(/Is sea otter meant\?.*species_overrides/s);
    expect(speciesWarnings(["dusk seal"])[0]).not.toMatch(/meant/);
  });

  it("is shown by check with one line for all sheets that wait, and columns that stay columns", async () => {
    const at = join(await mkdtemp(join(tmpdir(), "gramline-")), "begun");
    await makeStudy(at, options);
    await writeFile(
      join(at, "animals.csv"),
      "animal_id,species,admitted_at\nB1,sea otter,2025-05-01 10:00\n",
    );
    await writeFile(
      join(at, "weighings.csv"),
      "animal_id,at,mass_g,tare_g\nB1,2025-05-01 10:30,2310,300\n",
    );
    const checked = { out: null, json: false, saveMapping: false, today: "2025-06-01" };
    const { text } = await runCheck(at, { ...checked, width: 80 });
    const lines = text.split("\n");
    const waiting = lines.filter((line) => line.startsWith("No rows yet in records.xlsx:"));
    expect(waiting.length).toBe(1);
    // The units go on under their own heading.
    const column = lines.find((line) => line.startsWith("table"))!.indexOf("units");
    const weighed = lines.findIndex((line) => line.startsWith("weighings"));
    expect(lines[weighed]!.slice(column)).toMatch(/^mass_g in/);
    expect(lines[weighed + 1]).toMatch(new RegExp(`^ {${column}}\\S`));
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(80);
  });

  it("makes a workbook with drop-downs, examples and a dictionary", async () => {
    const bytes = new Uint8Array(await readFile(join(folder, "records.xlsx")));
    const sheets = openWorkbook("records.xlsx", bytes);
    expect(sheets.map((s) => s.name)).toEqual(
      expect.arrayContaining([
        "animals",
        "weighings",
        "feeds",
        "example animals",
        "data dictionary",
      ]),
    );
    const parts = unzipSync(bytes);
    const first = strFromU8(parts["xl/worksheets/sheet1.xml"]!);
    expect(first).toContain('<formula1>"female,male,unknown"</formula1>');
    // Order of elements after sheetData: ECMA-376 part 1, 18.3.1.99.
    expect(first.indexOf("<dataValidations")).toBe(
      first.search(/<\/sheetData>/) + "</sheetData>".length,
    );
    expect(strFromU8(parts["xl/worksheets/sheet2.xml"]!)).toContain("animals!$A$2:$A$1048576");
  });

  it("has an example of every table, and the examples together read whole", () => {
    const sheets = openWorkbook("records.xlsx", templateWorkbook());
    const examples = sheets.filter((s) => s.name.startsWith("example "));
    const tables = sheets.map((s) => s.name).filter((name) => !/^example |^data dict/.test(name));
    expect(examples.map((s) => s.name.slice(8))).toEqual(tables);
    const study = parseStudy([
      {
        path: "study.json",
        bytes: new TextEncoder().encode('{"species":"sea otter","zone":"Europe/Berlin"}'),
      },
      {
        path: "records.xlsx",
        bytes: new Uint8Array(),
        sheets: examples.map((s) => ({ ...s, name: s.name.slice(8) })),
      },
    ]);
    expect(study.setAside).toEqual([]);
    expect(study.counts.map((c) => c.table).sort()).toEqual([...tables].sort());
    expect(study.counts.every((c) => c.accepted > 0)).toBe(true);
    expect(study.notices.filter((n) => n.level !== "info")).toEqual([]);
  });

  it("says loudly which zone was written where none was given", () => {
    expect(zoneWarning("Europe/Berlin")).toMatch(/TIME ZONE: Europe\/Berlin .*correct/s);
  });

  it("touches nothing that is there already, and says what is wrong", async () => {
    await writeFile(join(folder, "mine.txt"), "x");
    await expect(makeStudy(folder, options)).rejects.toThrow(/holds .*nothing was changed/s);
    await expect(makeStudy(`${folder}2`, { ...options, zone: "Mars" })).rejects.toThrow(
      /time zone/,
    );
    await expect(makeStudy(`${folder}2`, { ...options, feedingDayStartHour: 24 })).rejects.toThrow(
      /hour/,
    );
  });
});
