import { mkdtemp, readdir, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Command } from "commander";
import { describe, expect, it } from "vitest";
import { checkCommand, runCheck } from "../../src/command-line/check.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { buildSeries } from "../../src/series/build-series.js";
import { animalsCsv, settings, weighingsCsv } from "../records/small-study.js";

const demo = fileURLToPath(new URL("../fixtures/demo-853cc0e", import.meta.url));
const quiet = { out: null, json: false, saveMapping: false, today: "2025-06-01" };

async function folderOf(files: Readonly<Record<string, string>>): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "gramline-"));
  for (const [name, text] of Object.entries(files)) await writeFile(join(folder, name), text);
  return folder;
}
const good = {
  "study.json": JSON.stringify({ ...settings, blank_tare_is_zero: true }),
  "animals.csv": animalsCsv,
  "weighings.csv": weighingsCsv,
};

describe("gramline check", () => {
  it("fits one screen, whatever is wrong, and ends with exit code 1", async () => {
    const { text, exitCode } = await runCheck(demo, quiet);
    expect(exitCode).toBe(1);
    const lines = text.split("\n");
    expect(lines.length).toBeLessThanOrEqual(52);
    expect(Math.max(...lines.map((l) => l.length))).toBeLessThanOrEqual(100);
    expect(text).toMatch(/\d+ rows = \d+ accepted .* \+ 9 set aside/);
    expect(text).toMatch(/mass_g in g/);
  });

  it("ends with 0 where nothing was set aside", async () => {
    const { text, exitCode } = await runCheck(await folderOf(good), quiet);
    expect(exitCode).toBe(0);
    expect(text).toMatch(/6 rows = 6 accepted/);
  });

  it("says how far it is, file by file, and answers the same", async () => {
    const said: string[] = [];
    const folder = await folderOf(good);
    const onProgress = (p: { done: number; total: number; doing: string }) =>
      said.push(`${p.done}/${p.total} ${p.doing}`);
    expect(await runCheck(folder, { ...quiet, onProgress })).toEqual(await runCheck(folder, quiet));
    expect(said).toEqual([
      "0/3 reading animals.csv",
      "1/3 reading weighings.csv",
      "2/3 holding rows against each other",
      "1/2 looking for slips of the pen",
    ]);
  });

  it("ends with 2 and one sentence for a user's mistake, without a stack", async () => {
    const nowhere = await runCheck("/no/such/folder", quiet);
    expect(nowhere.exitCode).toBe(2);
    expect(nowhere.text).toMatch(/^gramline: .*no such folder/);
    const { "weighings.csv": _, ...lacking } = good;
    const missing = await runCheck(await folderOf(lacking), quiet);
    expect(missing.text).toMatch(/needed the table of weighings/);
    expect(missing.text).not.toMatch(/\bat .*\.ts/);
    const json = JSON.parse((await runCheck("/no/such/folder", { ...quiet, json: true })).text);
    expect(json).toMatchObject({ kind: "check", readable: false });
  });

  it("writes the full lists, and a decisions file that is read back once filled in", async () => {
    const out = await mkdtemp(join(tmpdir(), "gramline-"));
    await runCheck(demo, { ...quiet, out });
    expect((await readdir(out)).sort()).toEqual([
      ".written-by-gramline.json",
      "decisions-to-make.csv",
      "problems.csv",
      "problems.xlsx",
    ]);
    const problems = await readFile(join(out, "problems.csv"), "utf8");
    expect(problems.match(/^\ufeff?set aside,/gm)).toHaveLength(9);
    const decisions = await readFile(join(out, "decisions-to-make.csv"), "utf8");
    const all = decisions.replace("\ufeff", "").trim().split("\r\n");
    // Two feeds are asked about too: one dated with day and month exchanged, one of which more
    // was refused than offered. Here weighings alone are read back.
    const ofFeed = (row: string) => /^(O24-04,2024-08-06|O23-04,2023-05-21)/.test(row);
    expect(all.filter(ofFeed)).toHaveLength(2);
    const rows = all.filter((row) => !ofFeed(row));
    const filled = [
      rows[0]!,
      ...rows.slice(1).map((row) => {
        const cells = row.split(",");
        cells[3] = "correct";
        cells[8] = "R. Quay";
        cells[9] = "2025-01-02";
        cells[10] = "paper page";
        return cells.join(",");
      }),
    ].join("\n");
    const folder = await folderOf({});
    for (const name of ["study.json", "animals.csv", "weighings.csv"])
      await writeFile(join(folder, name), await readFile(join(demo, name)));
    const before = buildSeries(await readStudy(folder));
    const slips = (s: typeof before) =>
      s.animals.flatMap((a) => a.weighings.filter((w) => w.slip !== null));
    expect(slips(before).length).toBe(rows.length - 1);
    await writeFile(join(folder, "decisions.csv"), filled);
    const after = buildSeries(await readStudy(folder));
    expect(slips(after)).toEqual([]);
    expect(after.notices.map((n) => n.code)).toEqual(
      rows.slice(1).map(() => "series-decision-applied"),
    );
  });

  it("prints JSON with everything set aside and suspected", async () => {
    const { text } = await runCheck(demo, { ...quiet, json: true });
    const read = JSON.parse(text);
    expect(read.setAsideRows).toHaveLength(9);
    expect(read.setAsideRows[0]).toMatchObject({ file: "feeds.csv", column: "offered_g" });
    expect(read.suspectedSlips.length).toBeGreaterThan(5);
    expect(read.rowsIn).toBe(read.accepted + read.setAside);
  });

  it("lets no text from a file move the cursor or colour the screen", async () => {
    const folder = await folderOf({
      ...good,
      "weighings.csv": `${weighingsCsv}P1,2025-03-09 07:00,\u001b[31mred\u202e,0,b1,,,,\n`,
    });
    const { text } = await runCheck(folder, quiet);
    expect(text).toMatch(/red/);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what must not be there
    expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u202a-\u202e]/);
  });

  it("proposes columns with how sure it is, and uses them only when told to", async () => {
    const folder = await folderOf({
      "study.json":
        '{"title":"odd","species":"sea otter","zone":"Europe/Berlin","date_style":"day-month-year"}',
      "animals.csv": "Pup,Kind of animal,Gender,DOB\nBea,sea otter,F,01.03.2025\n",
      "scale log.csv": "Pup;Datum;Uhrzeit;Gewicht (kg)\nBea;05.03.2025;14:30;2.35\n",
    });
    const asked = await runCheck(folder, quiet);
    expect(asked.exitCode).toBe(2);
    expect(asked.text).toMatch(/scale log\.csv as the table of weighings/);
    expect(asked.text).toMatch(/mass_g = Gewicht \(kg\) \(\d+ % sure; e\.g\. 2\.35\)/);
    expect(asked.text).toMatch(/at = Datum \+ Uhrzeit/);
    expect(await readFile(join(folder, "study.json"), "utf8")).not.toMatch(/columns/);
    const agreed = await runCheck(folder, { ...quiet, saveMapping: true });
    expect(agreed.exitCode).toBe(0);
    const saved = JSON.parse(await readFile(join(folder, "study.json"), "utf8"));
    expect(saved.columns.weighings.mass_g).toBe("Gewicht (kg)");
    expect(saved.mapping_notes["weighings.mass_g"]).toMatch(/% sure/);
    const study = await readStudy(folder);
    expect([...study.tables.weighings][0]).toMatchObject({
      massG: 2350,
      at: Date.parse("2025-03-05T13:30Z"),
    });
    // What a person has put there is never changed.
    saved.columns.weighings.mass_g = "Datum";
    await writeFile(join(folder, "study.json"), JSON.stringify(saved));
    await runCheck(folder, { ...quiet, saveMapping: true });
    expect(
      JSON.parse(await readFile(join(folder, "study.json"), "utf8")).columns.weighings.mass_g,
    ).toBe("Datum");
  });

  it("groups rows of one reason, cuts no advice and ends with what to do first, at any width", async () => {
    const bad = Array.from({ length: 9 }, (_, i) => `P1,2025-03-1${i} 07:00,two kilos,,b1,,,,\n`);
    const folder = await folderOf({ ...good, "weighings.csv": weighingsCsv + bad.join("") });
    for (const width of [50, 80, 200]) {
      const { text } = await runCheck(folder, { ...quiet, width });
      const lines = text.split("\n");
      expect(Math.max(...lines.map((l) => l.length))).toBeLessThanOrEqual(width);
      const whole = text.replace(/\s+/g, " ");
      expect(whole).toContain("9 rows of weighings.csv mass_g, lines 6, 7, 8, 9 and 5 more");
      expect(whole.match(/Write a number alone, and words under notes\./g)).toHaveLength(2);
      expect(whole).toMatch(/What to do first: 9 rows of weighings\.csv mass_g.* under notes\.$/);
      expect(text).not.toMatch(/\.\.\.$/m);
    }
    expect((await runCheck(await folderOf(good), quiet)).text).toMatch(/Nothing to do/);
  });

  it("proposes a layout with what speaks for it, and says what it wrote", async () => {
    const folder = await folderOf({
      ...good,
      "weighings.csv":
        "Weights 2025\nanimal_id,at,mass_g\nP1,2025-03-05 14:30,2350\n,2025-03-06 07:00,2371\n,2025-03-07 07:00,2390\nThistle,2025-03-06 10:00,1500\n",
    });
    const asked = await runCheck(folder, quiet);
    expect(asked.exitCode).toBe(1);
    expect(asked.text).toMatch(
      /A blank under animal_id means what stands above it \(2 of 4 rows\)/,
    );
    expect(asked.text).toMatch(/Thistle \(1 rows\) is the animal P2/);
    expect(asked.text).toMatch(
      /What to do first:\n {2}1\. Look the proposals over.*--save-mapping/,
    );
    const agreed = await runCheck(folder, { ...quiet, saveMapping: true });
    expect(agreed.exitCode).toBe(0);
    expect(agreed.text).toMatch(
      /Written into study\.json; look it over:\n {2}layouts: weighings\.csv: .*"as above"/,
    );
    expect(agreed.text).toMatch(/also_called: Thistle is P2/);
    const again = await runCheck(folder, { ...quiet, saveMapping: true });
    expect(again.text).toMatch(/Nothing was proposed; study\.json is as it was/);
  });

  it("is a command", () => {
    const program = new Command();
    checkCommand(program);
    expect(program.commands.map((c) => c.name())).toEqual(["check"]);
  });
});
