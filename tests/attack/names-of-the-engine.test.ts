import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readStudy } from "../../src/records/files/read-study.js";
import { readPrior } from "../../src/records/prior-file.js";
import { leaveNothingBehind } from "./after-commands.js";
import { said } from "./said.js";

/**
 * Animals, diets, places, seasons, species and settings are called as the engine calls
 * parts of its own objects (ECMA-262, 20.1.3), or as paths that lead out of a folder: they
 * are names like any other, nothing is written elsewhere, and no object of the engine changes.
 */
leaveNothingBehind();
const ids = ["__proto__", "constructor", "toString", "hasOwnProperty", "../../escaped", "valueOf"];
let work: string;
let study: string;

beforeAll(() => {
  work = mkdtempSync(join(tmpdir(), "gramline-engine-"));
  study = join(work, "deep", "er", "study");
  mkdirSync(study, { recursive: true });
  const days = Array.from({ length: 16 }, (_, d) => `2025-03-${String(d + 1).padStart(2, "0")}`);
  const file = (name: string, lines: readonly string[]) =>
    writeFileSync(join(study, name), `${lines.join("\n")}\n`);
  const each = (line: (id: string, day: string, d: number) => string) =>
    ids.flatMap((id) => days.map((day, d) => line(id, day, d)));
  // Written by hand, since an object literal would take __proto__ for its own.
  writeFileSync(
    join(study, "study.json"),
    `{"title":"Engine","zone":"UTC","species":["sea otter","__proto__"],"feeding_day_start_hour":6,
      "__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}},
      "also_called":{"__proto__":["Knock"],"constructor":["Bell"]},
      "columns":{"__proto__":{"mass_g":"x"},"weighings":{"__proto__":"mass_g"}},
      "watch_limits":{"__proto__":{"polluted":1}},
      "species_overrides":{"__proto__":{"adult_mass":20000,"polluted":1}}}`,
  );
  file("animals.csv", [
    "animal_id,name,species,admitted_at,season,birth_date_earliest,birth_date_latest",
    ...ids.map(
      (id, i) =>
        `${id},${ids[(i + 1) % ids.length]},${i === 5 ? "__proto__" : "sea otter"},2025-03-01 05:00,${id},2025-02-20,2025-02-22`,
    ),
  ]);
  file("weighings.csv", [
    "animal_id,at,mass_g,scale_id",
    ...each((id, day, d) => `${id},${day} 07:00,${2000 + 21 * d},${id}`),
    "Bell,2025-03-10 19:00,2210,constructor",
  ]);
  file("feeds.csv", [
    "animal_id,at,diet_id,offered_g,refused_g",
    ...each((id, day) => `${id},${day} 08:00,${id},90,5`),
  ]);
  file("diets.csv", [
    "diet_id,name,kind,energy_kcal_per_g",
    ...ids.map((id) => `${id},${id},formula,1.1`),
  ]);
  file("housing.csv", ["animal_id,from,place", ...ids.map((id) => `${id},2025-03-01 06:00,${id}`)]);
  file("observations.csv", [
    "animal_id,at,kind,value,unit",
    ...ids.flatMap((id) => [
      `${id},2025-03-15 10:00,${id},${id},${id}`,
      `${id},2025-03-15 11:00,temperature,37.2,degC`,
    ]),
  ]);
  file("events.csv", [
    "at,scope,kind,animal_id,place",
    ...ids.map((id) => `2025-03-12 08:00,animal,${id},${id},${id}`),
  ]);
  file("plans.csv", [
    "animal_id,from,diet_id,g_per_feed,feeds_per_day",
    ...ids.map((id) => `${id},2025-03-14,${id},90,6`),
  ]);
});
afterAll(() => rmSync(work, { recursive: true, force: true }));

const withoutScripts = (html: string) => html.replace(/<script[\s\S]*?<\/script>/g, "");

describe("names that the engine has, too", () => {
  it("are read, every row of them", async () => {
    const read = await readStudy(study);
    for (const { file, rowsIn, accepted, setAside } of read.counts)
      expect(accepted + setAside, file).toBe(rowsIn);
    expect(read.tables.animals.map((each) => each.animalId)).toEqual(ids);
    expect(read.tables.weighings.length).toBe(16 * ids.length + 1);
    expect(read.tables.feeds.length).toBe(16 * ids.length);
    expect(read.tables.weighings.filter((row) => row.animalId === "constructor")).toHaveLength(17);
  });

  it.each(["check", "day", "hand-over", "report", "archive add"])(
    "go through %s, and nothing leaves its folder",
    async (name) => {
      const out = join(work, "deep", "er", "out");
      const lines: Readonly<Record<string, string[]>> = {
        check: ["check", study, "--out", join(out, "check")],
        day: ["day", study, "--out", join(out, "day.html")],
        "hand-over": ["hand-over", study, "--out", join(out, "hand-over.html")],
        report: ["report", study, "--out", join(out, "report"), "--date", "2025-04-01"],
        "archive add": [
          "archive",
          "add",
          study,
          "--to",
          join(out, "archive"),
          "--facility",
          "constructor",
        ],
      };
      const { code, all } = await said(lines[name]!);
      // Without the engine of archives that command says so.
      expect(code, all.slice(0, 600)).toBeLessThan(/DuckDB/.test(all) ? 3 : 2);
      expect(all).not.toMatch(/\n\s+at .*:\d+:\d+/);
      expect(readdirSync(work)).toEqual(["deep"]);
      expect(readdirSync(join(work, "deep"))).toEqual(["er"]);
      expect(readdirSync(join(work, "deep", "er")).sort()).toEqual(["out", "study"]);
      expect(({} as Record<string, unknown>)["polluted"]).toBeUndefined();
      expect(Object.keys(Object.prototype)).toEqual([]);
    },
  );

  it("have pages of their own, all of them", () => {
    const report = join(work, "deep", "er", "out", "report");
    const [folder] = readdirSync(report).filter((name) => name.startsWith("report-"));
    const pages = readdirSync(join(report, folder!, "animals"));
    expect(pages.length).toBe(ids.length);
    const front = readFileSync(join(report, "index.html"), "utf8");
    for (const id of ids) expect(front).toContain(id);
    for (const page of pages)
      expect(
        withoutScripts(readFileSync(join(report, folder!, "animals", page), "utf8")),
      ).not.toMatch(/\[native code\]|\[object |undefined/);
  });

  it("in a prior file are refused or read, and change no object", () => {
    for (const text of [
      '{"__proto__":{"polluted":1}}',
      '{"kind":"gramline-prior","schema":1,"__proto__":{"polluted":1},"species":"__proto__"}',
      "[]",
      "null",
      `${"[".repeat(5000)}${"]".repeat(5000)}`,
      '{"kind":"gramline-prior","schema":1e400}',
    ])
      expect(() => readPrior(text, "p.json")).toThrow(/p\.json/);
    expect(({} as Record<string, unknown>)["polluted"]).toBeUndefined();
  });
});
