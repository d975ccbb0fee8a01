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
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { manifestName } from "../../src/publish/manifest.js";
import { writeSet } from "../../src/publish/write-set.js";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "gramline-set-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const read = (name: string) => readFileSync(join(folder, name), "utf8");
const files = (...pairs: [string, string][]) => new Map(pairs);
const listed = () =>
  (readdirSync(folder, { recursive: true, encoding: "utf8" }) as string[])
    .filter((name) => name !== manifestName)
    .sort();

describe("a set of files", () => {
  it("is written into a folder that is not there yet, with its list beside it", async () => {
    folder = join(folder, "deep", "out");
    await writeSet(folder, "report", files(["report.html", "one"], ["animals/P1.html", "two"]));
    expect(listed()).toEqual(["animals", join("animals", "P1.html"), "report.html"]);
    expect(JSON.parse(read(manifestName)).sets).toEqual({
      report: ["report.html", "animals/P1.html"],
    });
  });

  it("leaves a file in the way that it did not write, and everything else, as it was", async () => {
    writeFileSync(join(folder, "tables.xlsx"), "somebody's work");
    await expect(
      writeSet(folder, "report", files(["report.html", "new"], ["tables.xlsx", "new"])),
    ).rejects.toThrow(/tables\.xlsx[\s\S]*did not write[\s\S]*another folder/);
    expect(read("tables.xlsx")).toBe("somebody's work");
    expect(listed()).toEqual(["tables.xlsx"]);
  });

  it("never lays tables among a study's records, where they would be read as such", async () => {
    writeFileSync(join(folder, "study.json"), "{}");
    await expect(
      writeSet(folder, "report", files(["report.html", "x"], ["tables.xlsx", "x"])),
    ).rejects.toThrow(/study's own folder/);
    expect(listed()).toEqual(["study.json"]);
    await writeSet(folder, "hand-over", files(["hand-over.html", "x"]));
    expect(listed()).toEqual(["hand-over.html", "study.json"]);
  });

  it("takes away what an earlier run wrote and this one does not, and no more", async () => {
    await writeSet(folder, "report", files(["report.html", "1"], ["animals/P1.html", "1"]));
    await writeSet(folder, "hand-over", files(["hand-over.html", "1"]));
    writeFileSync(join(folder, "notes.txt"), "mine");
    await writeSet(folder, "report", files(["report.html", "2"]));
    expect(listed()).toEqual(["animals", "hand-over.html", "notes.txt", "report.html"]);
    expect(read("report.html")).toBe("2");
  });

  it("keeps the earlier files where it is added to", async () => {
    await writeSet(folder, "notebooks", files(["a.html", "1"], ["b.html", "1"]));
    await writeSet(folder, "notebooks", files(["b.html", "2"]), { keep: true });
    expect([read("a.html"), read("b.html")]).toEqual(["1", "2"]);
  });

  it("takes what a run that ended in between left for its own", async () => {
    // The list is written before the files: a run ended after two of three left this.
    const sets = { report: ["a.html", "b.html", "c.html"] };
    writeFileSync(join(folder, manifestName), JSON.stringify({ sets }));
    writeFileSync(join(folder, "a.html"), "old run");
    writeFileSync(join(folder, "b.html"), "old run");
    await writeSet(folder, "report", files(["a.html", "new"]));
    expect(listed()).toEqual(["a.html"]);
  });

  it("does not follow a list that leads out of the folder", async () => {
    const outside = join(folder, "outside.txt");
    writeFileSync(outside, "mine");
    const inner = join(folder, "out");
    mkdirSync(inner);
    const sets = { report: ["../outside.txt", "/etc/hosts", "", 7] };
    writeFileSync(join(inner, manifestName), JSON.stringify({ sets }));
    await writeSet(inner, "report", files(["report.html", "x"]));
    expect(existsSync(outside)).toBe(true);
  });

  it("after any order of runs holds just the last files of each set", async () => {
    const name = fc.constantFrom("a.html", "b.html", "c/d.html", "e.csv");
    const run = fc.record({
      set: fc.constantFrom("report", "report-pdf"),
      names: fc.uniqueArray(name),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(run, { maxLength: 6 }), async (runs) => {
        const out = mkdtempSync(join(folder, "run-"));
        const last = new Map<string, readonly string[]>();
        for (const [at, { set, names }] of runs.entries()) {
          const mine = names.map((each) => `${set}/${each}`);
          await writeSet(out, set, new Map(mine.map((each) => [each, String(at)])));
          last.set(set, mine);
        }
        const there = (readdirSync(out, { recursive: true, encoding: "utf8" }) as string[]).filter(
          (each) => /\.(html|csv)$/.test(each),
        );
        expect(there.sort()).toEqual([...last.values()].flat().sort());
      }),
      { numRuns: 40, seed: 19001 },
    );
  });
});
