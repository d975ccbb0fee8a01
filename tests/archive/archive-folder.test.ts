import { createHash } from "node:crypto";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { facilityName, partOfPath } from "../../src/archive/archive-names.js";
import { archivedTableNames, archivedTables } from "../../src/archive/archived-tables.js";
import { loadEngine } from "../../src/archive/load-engine.js";
import { openArchive } from "../../src/archive/open-archive.js";
import { UsageError } from "../../src/core/usage-error.js";
import { addToArchive } from "../../src/publish/add-to-archive.js";
import { checkArchive } from "../../src/publish/check-archive.js";
import { removeFromArchive, studyAsked } from "../../src/publish/remove-from-archive.js";
import { feedingDayOf } from "../../src/units/calendar.js";
import { engineIsHere, makeStudy, unlessHere } from "./small-study.js";

let work: string;
beforeAll(() => {
  work = mkdtempSync(join(tmpdir(), "gramline-archive-"));
});
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** Every file of a folder with its digest and the time it was written. */
function filesOf(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => {
      const path = join(entry.parentPath, entry.name);
      const digest = createHash("sha256").update(readFileSync(path)).digest("hex");
      return `${relative(folder, path)} ${digest} ${statSync(path).mtimeMs}`;
    })
    .sort();
}

async function rowsOf(folder: string, sql: string) {
  const archive = await openArchive(folder);
  const rows = await archive.rows(sql);
  archive.close();
  return rows;
}

/** What came instead, as the sentence says it. */
const refusal = (work: Promise<unknown>) =>
  work.then(
    () => "nothing was refused",
    (error) => {
      expect(error).toBeInstanceOf(UsageError);
      return (error as UsageError).message;
    },
  );

describe("names that become folders", () => {
  it("are refused where they could lead elsewhere", () => {
    for (const bad of ["", "..", ".", "a/b", "a\\b", "oak bay", "-a", "a".repeat(61), "ä", "a\0b"])
      expect(() => facilityName(bad), JSON.stringify(bad)).toThrow(UsageError);
    expect(facilityName("oak-bay_2")).toBe("oak-bay_2");
  });

  it("never leave their folder, whatever a season is called", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 300 }), (season) => {
        const part = partOfPath("season", season);
        expect(part).toMatch(/^season=[A-Za-z0-9_.%-]*$/);
        expect(part.endsWith(".")).toBe(false);
        expect(part.length).toBeLessThanOrEqual(140);
      }),
    );
    expect(partOfPath("season", "2024/25")).toBe("season=2024%2F25");
  });
});

describe("without the engine", () => {
  it("says what to type", async () => {
    const absent = () => Promise.reject(new Error("Cannot find package"));
    expect(await refusal(loadEngine({ load: absent }))).toContain(
      "npm install @duckdb/node-api@1.5.6-r.1",
    );
  });
});

describe.skipIf(!engineIsHere)(`an archive${unlessHere}`, () => {
  it("takes a study, and the same study again without a change", async () => {
    const [to, study] = [join(work, "twice"), makeStudy(join(work, "twice-study"))];
    const first = await addToArchive(study, { to, facility: "oak" });
    expect(first).toMatchObject({ state: "added", study: { animals: 2, facility: "oak" } });
    expect(first.study.decisions).toEqual({ applied: 1, withoutRow: 0 });
    expect(first.study.setAside).toEqual([
      { table: "weighings", reason: expect.stringMatching(/^records-/), rows: 1 },
    ]);
    const before = filesOf(to);
    expect((await addToArchive(study, { to, facility: "oak" })).state).toBe("unchanged");
    expect(filesOf(to)).toEqual(before);
    const checked = await checkArchive(to);
    expect(checked.faults).toEqual([]);
    expect(checked.studies[0]?.inputs.map((f) => f.sha256).every((d) => d.length === 64)).toBe(
      true,
    );
  });

  it("holds UTC instants, local feeding days, grams as decided, and ids unique over houses", async () => {
    const to = join(work, "rows");
    await addToArchive(makeStudy(join(work, "rows-a")), { to, facility: "oak" });
    await addToArchive(makeStudy(join(work, "rows-b"), { zone: "Asia/Tokyo" }), {
      to,
      facility: "elm",
    });
    const feeds = await rowsOf(to, "SELECT * FROM feeds_counted ORDER BY animal, at_utc");
    const zones = { oak: "America/St_Johns", elm: "Asia/Tokyo" } as const;
    expect(feeds.length).toBe(240);
    for (const row of feeds) {
      const zone = zones[row["facility"] as keyof typeof zones];
      const day = new Date(Number(row["feeding_day"])).toISOString().slice(0, 10);
      expect(day).toBe(feedingDayOf(Number(row["at_utc"]), zone, 6));
      expect(row["animal"]).toBe(`${row["facility"]}/${row["animal_id"]}`);
    }
    // Half past three in St John's on 1 March, by the standard time of Newfoundland (UTC-3:30).
    const first = feeds.find((row) => row["facility"] === "oak");
    expect(first?.["at_utc"]).toBe(Date.UTC(2025, 2, 1, 7, 0));
    const decided = await rowsOf(
      to,
      "SELECT net_g, decision FROM weighings_counted WHERE decision IS NOT NULL AND facility = 'oak'",
    );
    expect(decided).toEqual([{ net_g: 2000 + 41 * 3 + 7, decision: "correct" }]);
    const asWritten = await rowsOf(to, "SELECT count(*) AS n, min(mass_g) AS least FROM weighings");
    expect(asWritten).toEqual([{ n: 80, least: 2000 }]);
  });

  it("replaces the rows of a corrected study, and no others", async () => {
    const to = join(work, "corrected");
    const study = makeStudy(join(work, "corrected-study"));
    await addToArchive(study, { to, facility: "oak" });
    const other = makeStudy(join(work, "corrected-other"), { letter: "B" });
    await addToArchive(other, { to, facility: "elm" });
    const others = () => filesOf(to).filter((each) => each.includes("facility=elm"));
    const [before, count] = [others(), filesOf(to).length];
    makeStudy(study, { heavier: 100 });
    expect((await addToArchive(study, { to, facility: "oak" })).state).toBe("replaced");
    const least =
      "SELECT facility, min(mass_g) AS least, count(*) AS n FROM weighings GROUP BY 1 ORDER BY 1";
    expect(await rowsOf(to, least)).toEqual([
      { facility: "elm", least: 2000, n: 40 },
      { facility: "oak", least: 2100, n: 40 },
    ]);
    expect(others()).toEqual(before);
    // Nothing of the rows before is left on the disk.
    expect(filesOf(to).length).toBe(count);
    expect((await checkArchive(to)).faults).toEqual([]);
  });

  it("gives studies back by removing them, whole", async () => {
    const to = join(work, "removed");
    await addToArchive(makeStudy(join(work, "r1")), { to, facility: "oak", name: "first" });
    await addToArchive(makeStudy(join(work, "r2"), { letter: "B" }), {
      to,
      facility: "oak",
      name: "2025",
    });
    await addToArchive(makeStudy(join(work, "r3")), { to, facility: "elm" });
    expect(await refusal(removeFromArchive(to, "ash", null))).toContain("Choose one of: elm, oak");
    expect(await refusal(removeFromArchive(to, "oak", "2024"))).toContain("2025");
    // What is no archive is not made into one, and it is said where was looked.
    const nowhere = join(work, "nowhere");
    expect(await refusal(removeFromArchive(nowhere, "oak", null))).toMatch(
      /nowhere: .*there is no such folder.*Nothing was changed/s,
    );
    expect(existsSync(nowhere)).toBe(false);
    mkdirSync(nowhere);
    expect(await refusal(removeFromArchive(nowhere, "oak", null))).toContain("none in this folder");
    expect(readdirSync(nowhere)).toEqual([]);
    expect(() => studyAsked(null, false)).toThrow(/--all/);
    expect((await removeFromArchive(to, "oak", "2025")).length).toBe(1);
    expect(
      await rowsOf(to, "SELECT DISTINCT animal_id FROM animals WHERE facility = 'oak' ORDER BY 1"),
    ).toEqual([{ animal_id: "A25-01" }, { animal_id: "A25-02" }]);
    await removeFromArchive(to, "oak", null);
    await removeFromArchive(to, "elm", null);
    expect(await rowsOf(to, "SELECT * FROM animals")).toEqual([]);
    expect(filesOf(to).filter((each) => each.includes(".parquet")).length).toBe(1);
    expect((await checkArchive(to)).faults).toEqual([]);
  });

  it("refuses one animal counted by two studies, and two spellings of one folder", async () => {
    const to = join(work, "shared");
    await addToArchive(makeStudy(join(work, "s1")), { to, facility: "oak" });
    const before = filesOf(to);
    const again = makeStudy(join(work, "s2"), { days: 10 });
    expect(await refusal(addToArchive(again, { to, facility: "oak" }))).toMatch(
      /2 of them .*--name/,
    );
    expect(await refusal(addToArchive(again, { to, facility: "Oak" }))).toContain('has "oak"');
    expect(filesOf(to)).toEqual(before);
    expect((await addToArchive(again, { to, facility: "oak", name: "s1" })).state).toBe("replaced");
  });

  it("leaves people out unless asked", async () => {
    const study = makeStudy(join(work, "people"));
    const planted = /Zorvane|Ilthurn|Fennimor|Quellmarsh/;
    const found = async (to: string) => {
      const archive = await openArchive(to);
      const hits: string[] = [];
      for (const table of archivedTableNames)
        for (const row of await archive.rows(`SELECT * FROM ${table}`))
          if (planted.test(JSON.stringify(row))) hits.push(table);
      if (planted.test(JSON.stringify(archive.studies))) hits.push("the list");
      archive.close();
      return [...new Set(hits)];
    };
    await addToArchive(study, { to: join(work, "without"), facility: "oak" });
    expect(await found(join(work, "without"))).toEqual([]);
    const asked = { to: join(work, "with"), facility: "oak", withPeople: true };
    await addToArchive(study, asked);
    expect(await found(join(work, "with"))).toEqual(["animals", "decisions", "the list"]);
    // Left out later: at once, with nothing left on the disk.
    expect((await addToArchive(study, { ...asked, withPeople: false })).state).toBe("replaced");
    expect(await found(join(work, "with"))).toEqual([]);
    expect(filesOf(join(work, "with")).length).toBe(filesOf(join(work, "without")).length);
  });

  it("is refused where files of others are in the way, which stay", async () => {
    const study = makeStudy(join(work, "guest"));
    const others = join(work, "others");
    mkdirSync(others);
    writeFileSync(join(others, "letters.txt"), "mine");
    expect(await refusal(addToArchive(study, { to: others, facility: "oak" }))).toContain(
      "letters.txt",
    );
    expect(filesOf(others).length).toBe(1);
    expect(await refusal(addToArchive(study, { to: study, facility: "oak" }))).toContain(
      "study.json",
    );
    const file = join(others, "letters.txt");
    expect(await refusal(addToArchive(study, { to: file, facility: "oak" }))).toContain(
      "a file stands there",
    );
    const to = join(work, "guest-archive");
    await addToArchive(study, { to, facility: "oak" });
    // A link that leads out of the archive.
    const outside = join(work, "outside");
    mkdirSync(outside);
    rmSync(join(to, "milestones"), { recursive: true });
    symlinkSync(outside, join(to, "milestones"));
    const next = makeStudy(join(work, "guest-next"), { letter: "B" });
    expect(await refusal(addToArchive(next, { to, facility: "elm" }))).toContain("milestones");
    expect(readdirSync(outside)).toEqual([]);
    rmSync(join(to, "milestones"));
    // A list that gramline did not write.
    const foreign = join(work, "foreign");
    mkdirSync(foreign);
    writeFileSync(join(foreign, ".written-by-gramline.json"), "{}");
    writeFileSync(join(foreign, "studies.parquet"), "mine");
    expect(await refusal(addToArchive(study, { to: foreign, facility: "oak" }))).toContain(
      "studies.parquet",
    );
    expect(readFileSync(join(foreign, "studies.parquet"), "utf8")).toBe("mine");
  });

  it("check finds what is missing, changed, left over or of nobody; add makes it whole", async () => {
    const to = join(work, "checked [1]");
    const study = makeStudy(join(work, "checked-study"));
    const { study: about } = await addToArchive(study, { to, facility: "oak" });
    const place = (table: string) =>
      join(to, table, "facility=oak", "season=2025", `${about.generation}.parquet`);
    rmSync(place("stays"));
    writeFileSync(place("feeds"), "spoilt");
    writeFileSync(join(to, "feeds", "mine.parquet"), "mine");
    const faults = async () =>
      (await checkArchive(to)).faults.map((f) => `${f.where.split("/")[0]} ${f.what}`).sort();
    expect(await faults()).toEqual(["feeds changed", "feeds of nobody", "stays missing"]);
    await addToArchive(study, { to, facility: "oak" });
    expect(await faults()).toEqual(["feeds of nobody"]);
    expect(existsSync(join(to, "feeds", "mine.parquet"))).toBe(true);
    // Rows of nobody are in no answer.
    rmSync(join(to, "feeds", "mine.parquet"));
    expect(await rowsOf(to, "SELECT count(*) AS n FROM feeds")).toEqual([{ n: 120 }]);
    expect(await refusal(checkArchive(join(work, "no archive")))).toContain("studies.parquet");
  });

  it("has a column for every cell of every table, each name once and none that SQL keeps", () => {
    for (const [table, columns] of Object.entries(archivedTables)) {
      const names = columns.map((c) => c.name);
      expect(new Set(names).size, table).toBe(names.length);
      expect(names.filter((name) => /^(at|from|to|order|group|select)$/.test(name))).toEqual([]);
    }
  });
});
