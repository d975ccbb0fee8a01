import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Engine, loadEngine } from "../../src/archive/load-engine.js";
import { openArchive } from "../../src/archive/open-archive.js";
import { dailyIntake } from "../../src/archive/sums/daily-intake.js";
import { gainBy } from "../../src/archive/sums/gain-by.js";
import { runCommand } from "../../src/command-line/run-command.js";
import { addToArchive } from "../../src/publish/add-to-archive.js";
import { engineIsHere, makeStudy, unlessHere } from "../archive/small-study.js";
import { codeBlocks, shellWords } from "./papers.js";

/** The page about archives: its commands and its SQL are run as they stand there. */
const blocks = codeBlocks("docs/archive.md");
const sql = blocks.filter((block) => block.language === "sql").map((block) => block.text);

describe.skipIf(!engineIsHere)(`the page about archives${unlessHere}`, () => {
  let work: string;
  let engine: Engine;
  const home = process.cwd();
  beforeAll(async () => {
    work = mkdtempSync(join(tmpdir(), "gramline-page-"));
    for (const [i, facility] of ["north-bay", "mill"].entries())
      await addToArchive(makeStudy(join(work, facility), { days: 29, letter: "AB"[i]! }), {
        to: join(work, "houses"),
        facility,
      });
    engine = await loadEngine();
    for (const view of sql[0]!.replaceAll("ARCHIVE", join(work, "houses")).split(";"))
      if (view.trim() !== "") await engine.run(view);
  });
  afterAll(() => {
    process.chdir(home);
    engine?.close();
    rmSync(work, { recursive: true, force: true });
  });

  it("asks in SQL what the functions answer, rows that do not count left out", async () => {
    // What a run that was killed may leave: rows of a generation that is in force nowhere.
    const left = join(
      work,
      "houses",
      "feeds_counted",
      "facility=mill",
      "season=2025",
      "study-left.parquet",
    );
    await engine.run(
      `COPY (SELECT * REPLACE ('study-left' AS generation) FROM feeds_counted) TO '${left}' (FORMAT parquet)`,
    );
    const archive = await openArchive(join(work, "houses"));
    const [daily, gain, used] = await Promise.all(sql.slice(1).map((each) => engine.rows(each)));
    const ours = (await dailyIntake(archive)).value.filter((row) => Number(row["feeds"]) > 0);
    const said = (rows: readonly Readonly<Record<string, unknown>>[], low: string, high: string) =>
      rows
        .map((row) =>
          [row["animal"], row["feeding_day"], row["feeds"], row[low], row[high]].join(" "),
        )
        .sort();
    expect(daily!.length).toBeGreaterThan(100);
    expect(said(daily!, "eaten_low_g", "eaten_high_g")).toEqual(
      said(ours, "eaten_g_low", "eaten_g_high"),
    );
    const bounds = [...sql[2]!.matchAll(/age_d [<>]= (\d+)/g)].map((m) => Number(m[1]));
    expect(bounds).toEqual([21, 63]);
    const own = await gainBy(archive, ["facility"], { fromAgeD: 21, toAgeD: 63 });
    expect(gain!.map((row) => row["animals"])).toEqual(own.value.map((row) => row["n"]));
    expect(used).toEqual([
      { facility: "mill", accepted: used![0]!["accepted"], set_aside: 1, decisions: 1 },
      { facility: "north-bay", accepted: used![1]!["accepted"], set_aside: 1, decisions: 1 },
    ]);
    archive.close();
  });

  it("names commands that do what they say", async () => {
    makeStudy(join(work, "my-nursery"));
    process.chdir(join(work, "mill"));
    const lines = blocks
      .filter((block) => block.language === "sh")
      .flatMap((block) => block.text.split("\n"))
      .filter((line) => line.startsWith("npx gramline archive"));
    expect(lines.length).toBe(3);
    const to = join(work, "other-houses");
    for (const line of lines) {
      const words = shellWords(line)
        .slice(2)
        .map((word) => (word === "../houses" ? to : word));
      expect(await runCommand([...words, "--quiet"]), line).toBe(0);
    }
    process.exitCode = undefined;
  });
});
