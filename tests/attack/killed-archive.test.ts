import { createHash } from "node:crypto";
import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { archivedTableNames } from "../../src/archive/archived-tables.js";
import { openArchive } from "../../src/archive/open-archive.js";
import { checkArchive } from "../../src/publish/check-archive.js";
import { engineIsHere, makeStudy, unlessHere } from "../archive/small-study.js";
import { halfDone, isBuilt, killAtChanges, kills, run } from "./run-killed.js";

/**
 * Adding to an archive and removing from it are killed at random moments. What is in force
 * is then all of the old rows or all of the new ones, byte for byte; the next run goes
 * through and leaves nothing behind.
 */

let work: string;
beforeAll(() => {
  work = mkdtempSync(join(tmpdir(), "gramline-killed-archive-"));
});
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** Digest of every row in force. */
async function inForce(folder: string): Promise<string> {
  const archive = await openArchive(folder);
  const hash = createHash("sha256");
  for (const table of archivedTableNames) {
    const rows = await archive.rows(`SELECT * EXCLUDE (generation) FROM ${table}`);
    hash.update(
      rows
        .map((row) => JSON.stringify(row))
        .sort()
        .join("\n"),
    );
  }
  archive.close();
  return hash.digest("hex");
}

const parquetFiles = (folder: string) =>
  readdirSync(folder, { recursive: true, encoding: "utf8" }).filter((name) =>
    name.endsWith(".parquet"),
  ).length;

describe.skipIf(!isBuilt || !engineIsHere)(`an archive that is killed${unlessHere}`, () => {
  it(`add: old or new after ${kills} kills, and the next run goes through`, async () => {
    const to = join(work, "houses");
    const [old, fresh] = [join(work, "old"), join(work, "fresh")];
    const words = (study: string) =>
      ["archive", "add", study, "--to", to, "--facility", "oak", "--name", "one"] as const;
    makeStudy(old);
    makeStudy(fresh, { heavier: 50 });
    expect(await run(work, words(fresh))).toBe(0);
    const after = await inForce(to);
    expect(await run(work, words(old))).toBe(0);
    const before = await inForce(to);
    expect(before).not.toBe(after);
    const files = parquetFiles(to);
    await killAtChanges({
      work,
      seed: 20261130,
      words: (i) => words(i % 2 === 0 ? old : fresh),
      look: async () => {
        expect([before, after]).toContain(await inForce(to));
        const faults = (await checkArchive(to)).faults.map((f) => f.what);
        expect(faults.filter((what) => what !== "left by a run that was killed")).toEqual([]);
      },
      whole: async (i) => {
        expect(await inForce(to)).toBe(i % 2 === 0 ? before : after);
        expect((await checkArchive(to)).faults).toEqual([]);
        expect(parquetFiles(to)).toBe(files);
        expect(halfDone(to)).toEqual([]);
      },
    });
  }, 1_200_000);
});
