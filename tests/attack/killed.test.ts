import { createHash } from "node:crypto";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { halfDone, isBuilt, isWhole, killAtChanges, kills, run } from "./run-killed.js";

/**
 * Commands are killed at random moments, as when power fails. Each file is then the
 * old one or the new one, never a part of one; the next run goes through, and leaves
 * nothing half-written behind.
 */
const notebooks = fileURLToPath(new URL("../command-line/notebooks", import.meta.url));

let work: string;
beforeAll(() => {
  work = mkdtempSync(join(tmpdir(), "gramline-killed-"));
});
afterAll(() => rmSync(work, { recursive: true, force: true }));

function makeStudy(name: string, massOfFirst: number): string {
  const folder = join(work, name);
  mkdirSync(folder, { recursive: true });
  const file = (each: string, lines: readonly string[]) =>
    writeFileSync(join(folder, each), `${lines.join("\n")}\n`);
  const settings = {
    title: "Killed",
    zone: "UTC",
    species: ["sea otter"],
    blank_tare_is_zero: true,
  };
  writeFileSync(join(folder, "study.json"), JSON.stringify(settings));
  file("animals.csv", [
    "animal_id,species,admitted_at,season",
    "A1,sea otter,2025-03-01 08:00,2025",
    "A2,sea otter,2025-03-01 08:00,2025",
  ]);
  file("weighings.csv", [
    "animal_id,at,mass_g",
    ...["A1", "A2"].flatMap((id) =>
      Array.from(
        { length: 12 },
        (_, d) => `${id},2025-03-${String(d + 1).padStart(2, "0")} 06:00,${massOfFirst + 20 * d}`,
      ),
    ),
  ]);
  return folder;
}

/**
 * Digest of every file of a folder, by path. The list of what was written is looked at
 * apart; a lock belongs to whoever writes.
 */
function digests(folder: string): Map<string, string> {
  if (!existsSync(folder)) return new Map();
  return new Map(
    readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && !entry.name.startsWith(".written-by"))
      .filter((entry) => !entry.parentPath.endsWith(".being-written"))
      .map((entry) => {
        const path = join(entry.parentPath, entry.name);
        const digest = createHash("sha256").update(readFileSync(path)).digest("hex");
        return [relative(folder, path), digest] as const;
      }),
  );
}

/** The page in front and the whole set that it leads to; every file where there is no set. */
function standing(folder: string): Map<string, string> {
  const all = digests(folder);
  const entry = join(folder, "index.html");
  const text = existsSync(entry) ? readFileSync(entry, "utf8") : "";
  const set = /href="([a-z-]+-[0-9a-f]{12})\//.exec(text)?.[1];
  if (set === undefined) return new Map([...all].filter(([path]) => !isPart(path)));
  return new Map([...all].filter(([path]) => path === "index.html" || path.startsWith(set)));
}

const isPart = (name: string) => name.endsWith(".part");

const commands: Readonly<Record<string, (study: string, out: string) => string[]>> = {
  "hand-over": (study, out) => ["hand-over", study, "--out", join(out, "hand-over.html")],
  day: (study, out) => ["day", study, "--out", join(out, "day.html")],
  check: (study, out) => ["check", study, "--out", out],
  report: (study, out) => ["report", study, "--out", out, "--date", "2026-01-31"],
  // A notebook that needs no study; which run it is stands in a parameter.
  "run-notebooks": (study, out) => [
    ...["run-notebooks", "clean", "--notebooks", notebooks, "--out", out],
    ...["--set", `animal=${study.endsWith("-new") ? "New" : "Old"}`],
  ],
};
const sets = ["report", "run-notebooks"];

/** What stands there is one of the two, a set as a whole. */
function standsWhole(out: string, isSet: boolean, either: readonly Map<string, string>[]): void {
  const now = standing(out);
  if (isSet) {
    expect(either.map((each) => [...each])).toContainEqual([...now]);
    expect([...now.keys()].filter(isPart)).toEqual([]);
    return;
  }
  for (const [path, digest] of now)
    expect(
      either.map((each) => each.get(path)),
      path,
    ).toContain(digest);
}

describe("a command that is killed", () => {
  // The others take long, or are written alike: they are killed by `npm run attack`.
  const tried = Object.keys(commands).filter((name) => isWhole || name === "hand-over");
  it.skipIf(!isBuilt).each(tried)(
    `%s: old or new after ${kills} kills, a set as a whole, and the next run goes through`,
    async (name) => {
      const words = commands[name]!;
      const out = join(work, `${name}-out`);
      const studies = [makeStudy(`${name}-old`, 2000), makeStudy(`${name}-new`, 2400)] as const;
      const either: Map<string, string>[] = [];
      for (const [i, study] of studies.entries()) {
        const reference = join(work, `${name}-reference-${i}`);
        expect(await run(work, words(study, reference))).toBe(0);
        either.push(standing(reference));
      }
      const [old, fresh] = either as [Map<string, string>, Map<string, string>];
      expect(fresh.size).toBe(old.size);
      expect([...fresh]).not.toEqual([...old]);
      expect(await run(work, words(studies[0], out))).toBe(0);
      await killAtChanges({
        work,
        seed: 20261127,
        words: (i) => words(studies[i % 2]!, out),
        look: () => standsWhole(out, sets.includes(name), either),
        // Nothing half-written is left, wherever it lay, and no lock.
        whole: (i) => {
          expect(standing(out)).toEqual(either[i % 2]);
          expect(halfDone(out)).toEqual([]);
        },
      });
    },
    1_800_000,
  );

  it.skipIf(!isBuilt)(
    "new: can be run again into the same folder",
    async () => {
      expect(await run(work, ["new", "first"])).toBe(0);
      const whole = [...digests(join(work, "first")).keys()].sort();
      let name = "";
      let begun = 0;
      await killAtChanges({
        work,
        seed: 20261128,
        before: () => {
          name = `again-${begun++}`;
        },
        words: () => ["new", name],
        look: async () => {
          const code = await run(work, ["new", name]);
          // Where it had come to its end before the kill, it says that the folder is there.
          expect([0, 2]).toContain(code);
          expect([...digests(join(work, name)).keys()].sort()).toEqual(whole);
          expect(existsSync(join(work, `${name}.being-made`))).toBe(false);
        },
        whole: () => {},
      });
    },
    1_800_000,
  );
});
