import { spawn } from "node:child_process";
import { mkdir, mkdtemp, readdir, readFile, symlink, truncate, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pathWithin } from "../../src/records/files/path-within.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { writeAtomically } from "../../src/records/files/write-atomically.js";
import { animalsCsv, settings, weighingsCsv } from "./small-study.js";

const folder = await mkdtemp(join(tmpdir(), "gramline-"));

describe("paths named in a study", () => {
  it("cannot leave its folder", async () => {
    expect(pathWithin(folder, "weighings.csv")).toBe(join(folder, "weighings.csv"));
    expect(pathWithin(folder, "2025/../weighings.csv")).toBe(join(folder, "weighings.csv"));
    for (const name of ["../x.csv", "..", "", ".", "/etc/passwd", "a/../../x", "C:\\x", "x\0.csv"])
      expect(() => pathWithin(folder, name), name).toThrow(/leads out of it/);
    const outside = await mkdtemp(join(tmpdir(), "gramline-"));
    await writeFile(join(outside, "secret.csv"), "x");
    await symlink(join(outside, "secret.csv"), join(folder, "link.csv"));
    expect(() => pathWithin(folder, "link.csv")).toThrow(/leads out of it/);
  });
  it("whatever they are called", () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom("..", "/", "a", ".", "\\", "~", "%2e") }),
        (name) => {
          let path: string;
          try {
            path = pathWithin(folder, name);
          } catch (error) {
            expect((error as Error).name).toBe("UsageError");
            return;
          }
          expect(path.startsWith(`${folder}/`) || path.startsWith(`${folder}\\`)).toBe(true);
        },
      ),
      { seed: 20250321, numRuns: 500 },
    );
  });
});

describe("a study's folder", () => {
  it("is read without hidden, unfinished and temporary files", async () => {
    const root = await mkdtemp(join(tmpdir(), "gramline-"));
    await writeFile(join(root, "study.json"), JSON.stringify(settings));
    await writeFile(join(root, "animals.csv"), animalsCsv);
    await writeFile(join(root, "weighings.csv"), weighingsCsv);
    await writeFile(join(root, ".weighings.csv.1-ab.part"), "half");
    await writeFile(join(root, "~$records.xlsx"), "lock");
    const study = await readStudy(root);
    expect(study.inputs.map((i) => i.path)).toEqual(["animals.csv", "study.json", "weighings.csv"]);
    // A table by name that holds none is not passed over.
    await mkdir(join(root, "feeds.csv"));
    await expect(readStudy(root)).rejects.toThrow(/feeds\.csv: .* a folder is called so/);
  });
});

describe("a file too large to be held in memory", () => {
  it("is refused by name before it is read", async () => {
    const root = await mkdtemp(join(tmpdir(), "gramline-"));
    await writeFile(join(root, "study.json"), JSON.stringify(settings));
    await writeFile(join(root, "feeds.csv"), "");
    await truncate(join(root, "feeds.csv"), 2 ** 30);
    await expect(readStudy(root)).rejects.toThrow(
      /feeds\.csv.*at most 48 MB.*1024 MB.*archive add.*totalRecords/,
    );
  });

  it("too long for one study, though no file is, is refused with the way on before any is read", async () => {
    const root = await mkdtemp(join(tmpdir(), "gramline-"));
    await writeFile(join(root, "study.json"), JSON.stringify(settings));
    for (const year of [2021, 2022, 2023, 2024, 2025]) {
      const path = join(root, `feeds-${year}.csv`);
      await writeFile(path, "animal_id,at,offered_g\n");
      await truncate(path, 40 * 2 ** 20);
    }
    await expect(readStudy(root)).rejects.toThrow(
      /study folder.*at most 192 MB together.*6 files have 200 MB.*archive add/,
    );
  });
});

describe("writing", () => {
  it("leaves the old file or the new one, whole, when the process is killed in between", async () => {
    const path = join(folder, "study.json");
    const old = "old ".repeat(200_000);
    const fresh = "new ".repeat(2_000_000);
    const writer = fileURLToPath(new URL("./write-again-and-again.ts", import.meta.url));
    const tsx = fileURLToPath(import.meta.resolve("tsx"));
    const seen = new Set<string>();
    for (let round = 0; round < 4; round++) {
      await writeAtomically(path, old);
      const child = spawn(process.execPath, ["--import", tsx, writer, path], {
        stdio: ["ignore", "pipe", "ignore"],
      });
      await new Promise<void>((done) => child.stdout.once("data", () => done()));
      await new Promise((done) => setTimeout(done, 3 + 11 * round));
      child.kill("SIGKILL");
      await new Promise((done) => child.once("exit", done));
      const text = await readFile(path, "utf8");
      expect(text === old || text === fresh).toBe(true);
      seen.add(text === old ? "old" : "new");
    }
    expect(seen.size).toBeGreaterThan(0);
    const left = (await readdir(folder)).filter((n) => n !== "study.json" && n !== "link.csv");
    expect(left.every((n) => n.startsWith(".") && n.endsWith(".part"))).toBe(true);
  });
  it("fails without touching the old file", async () => {
    await expect(writeAtomically(join(folder, "no", "such.json"), "x")).rejects.toThrow();
  });
});
