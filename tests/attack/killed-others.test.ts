import { createHash } from "node:crypto";
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openArchive } from "../../src/archive/open-archive.js";
import { checkArchive } from "../../src/publish/check-archive.js";
import { engineIsHere, makeStudy, unlessHere } from "../archive/small-study.js";
import { csvStudy, planted } from "./planted-study.js";
import { halfDone, isBuilt, isWhole, killAtChanges, kills, run } from "./run-killed.js";

/**
 * The commands that write one file beside others' work, or take something away, are killed
 * at random moments: prior, pool, check --save-mapping, archive remove, cache clear. What
 * is there is then the old or the new, whole, and the next run goes through.
 */
let work: string;
beforeAll(() => {
  work = mkdtempSync(join(tmpdir(), "gramline-killed-others-"));
});
afterAll(() => rmSync(work, { recursive: true, force: true }));

const digest = (path: string) =>
  existsSync(path) ? createHash("sha256").update(readFileSync(path)).digest("hex") : "nothing";

/** Two studies that give two prior files. */
function twoStudies(): [string, string] {
  const [a, b] = ["old", "new"].map((name) => {
    mkdirSync(join(work, name), { recursive: true });
    return existsSync(join(work, name, "csv"))
      ? join(work, name, "csv")
      : csvStudy(join(work, name));
  }) as [string, string];
  const table = join(b, `${planted} weighings.csv`);
  writeFileSync(table, readFileSync(table, "utf8").replace(/,2(\d{3})(?=[,\n])/g, ",3$1"));
  return [a, b];
}

describe.skipIf(!isBuilt)("a command that writes one file and is killed", () => {
  it.skipIf(!isWhole)(
    `prior: old or new after ${kills} kills`,
    async () => {
      const [old, fresh] = twoStudies();
      const out = join(work, "prior-out");
      const file = join(out, "prior.json");
      const words = (study: string) =>
        ["prior", study, "--species", "sea otter", "--out", file] as const;
      expect(await run(work, words(fresh))).toBe(0);
      const after = digest(file);
      expect(await run(work, words(old))).toBe(0);
      const before = digest(file);
      expect(before).not.toBe(after);
      await killAtChanges({
        work,
        seed: 20270211,
        words: (i) => words(i % 2 === 0 ? old : fresh),
        look: () => expect([before, after]).toContain(digest(file)),
        whole: (i) => {
          expect(digest(file)).toBe(i % 2 === 0 ? before : after);
          expect(halfDone(out)).toEqual([]);
        },
      });
    },
    1_200_000,
  );

  it(`check --save-mapping: study.json old or new after ${kills} kills, tables untouched`, async () => {
    const study = join(work, "mapped");
    mkdirSync(study);
    const settings = join(study, "study.json");
    const text = JSON.stringify({ title: "Mapped", zone: "UTC", species: ["sea otter"] });
    const table = join(study, "weighings.csv");
    writeFileSync(join(study, "animals.csv"), "animal_id,species\nA1,sea otter\n");
    const rows = Array.from(
      { length: 12 },
      (_, d) => `A1,2025-03-${d + 10} 06:00,${2000 + 20 * d}`,
    );
    writeFileSync(table, `Tier,at,Gewicht (g)\n${rows.join("\n")}\n`);
    const reset = () => writeFileSync(settings, text);
    reset();
    const [before, ownTable] = [digest(settings), digest(table)];
    const words = ["check", study, "--no-write", "--save-mapping"];
    reset();
    await run(work, words);
    const after = digest(settings);
    expect(after).not.toBe(before);
    await killAtChanges({
      work,
      seed: 20270212,
      before: reset,
      words: () => words,
      look: () => {
        expect([before, after]).toContain(digest(settings));
        expect(digest(table)).toBe(ownTable);
      },
      whole: () => {
        expect(digest(settings)).toBe(after);
        expect(halfDone(study)).toEqual([]);
      },
    });
  }, 1_200_000);

  it.skipIf(!isWhole)(
    `cache clear: nothing half taken away after ${kills} kills`,
    async () => {
      const cache = join(work, "cache");
      const cacheBefore = process.env["GRAMLINE_CACHE"];
      process.env["GRAMLINE_CACHE"] = cache;
      try {
        const study = makeStudy(join(work, "cached"));
        const day = ["day", study, "--out", join(work, "day.html")];
        expect(await run(work, day)).toBe(0);
        const page = digest(day[3]!);
        const kept = join(work, "cache-kept");
        cpSync(cache, kept, { recursive: true });
        await killAtChanges({
          work,
          seed: 20270213,
          before: () => cpSync(kept, cache, { recursive: true }),
          words: () => ["cache", "clear"],
          // What is left of it is whole, or is not believed.
          look: async () => {
            rmSync(day[3]!);
            expect(await run(work, day)).toBe(0);
            expect(digest(day[3]!)).toBe(page);
          },
          whole: () => {
            const left = existsSync(cache)
              ? readdirSync(cache, { recursive: true, withFileTypes: true })
              : [];
            expect(left.filter((e) => e.isFile())).toEqual([]);
          },
        });
      } finally {
        if (cacheBefore === undefined) delete process.env["GRAMLINE_CACHE"];
        else process.env["GRAMLINE_CACHE"] = cacheBefore;
      }
    },
    1_200_000,
  );
});

// `npm test` has none of what `npm run attack` alone does.
const wholeOnly = isWhole ? describe.skipIf(!isBuilt || !engineIsHere) : () => {};
wholeOnly(`an archive${unlessHere}`, () => {
  const made = join("houses", "studies.parquet");

  it(`remove: both studies or one after ${kills} kills`, async () => {
    const [to, kept] = [join(work, "houses"), join(work, "kept")];
    for (const [facility, letter] of [
      ["oak", "A"],
      ["mill", "B"],
    ] as const) {
      const study = makeStudy(join(work, facility), { letter });
      expect(await run(work, ["archive", "add", study, "--to", to, "--facility", facility])).toBe(
        0,
      );
    }
    cpSync(to, kept, { recursive: true });
    const again = () => {
      rmSync(to, { recursive: true, force: true });
      cpSync(kept, to, { recursive: true });
    };
    const words = ["archive", "remove", to, "--facility", "oak", "--all"];
    const inForce = async () => {
      const archive = await openArchive(to);
      const names = archive.studies.map((s) => s.facility).join(" ");
      archive.close();
      expect(["mill oak", "mill"]).toContain(names);
      const faults = (await checkArchive(to)).faults.map((f) => f.what);
      expect(faults.filter((what) => what !== "left by a run that was killed")).toEqual([]);
    };
    await killAtChanges({
      work,
      seed: 20270214,
      before: again,
      words: () => words,
      look: inForce,
      whole: async () => {
        expect((await checkArchive(to)).faults).toEqual([]);
        expect(existsSync(join(work, made))).toBe(true);
        expect(halfDone(to)).toEqual([]);
      },
    });
  }, 1_200_000);

  it(`pool: its prior file whole or not there after ${kills} kills`, async () => {
    const to = join(work, "pooled");
    for (const [facility, letters] of [
      ["oak", "ABC"],
      ["mill", "DEF"],
    ] as const)
      for (const letter of letters) {
        const study = makeStudy(join(work, `pooled-${letter}`), { letter, days: 31 });
        const named = ["--facility", facility, "--name", letter];
        expect(await run(work, ["archive", "add", study, "--to", to, ...named])).toBe(0);
      }
    const out = join(work, "pool-out");
    const file = join(out, "prior.json");
    const words = ["pool", to, "--species", "sea otter", "--ages", "21-42", "--out", file];
    expect(await run(work, words)).toBe(0);
    const whole = digest(file);
    expect(whole).not.toBe("nothing");
    await killAtChanges({
      work,
      seed: 20270215,
      before: () => rmSync(out, { recursive: true, force: true }),
      words: () => words,
      look: () => expect(["nothing", whole]).toContain(digest(file)),
      whole: () => {
        expect(digest(file)).toBe(whole);
        expect(halfDone(out)).toEqual([]);
      },
    });
  }, 1_200_000);
});
