import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { saveMapping } from "../../src/records/files/save-mapping.js";
import { writeAtomically } from "../../src/records/files/write-atomically.js";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "gramline-write-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));
const at = (name: string) => join(folder, name);
const mode = (name: string) => statSync(at(name)).mode & 0o777;

describe("a file that is written again", () => {
  it.skipIf(process.platform === "win32").each([0o600, 0o640, 0o664])(
    "keeps its rights: %o",
    async (rights) => {
      writeFileSync(at("study.json"), "{}");
      chmodSync(at("study.json"), rights);
      await writeAtomically(at("study.json"), '{"title":"new"}');
      expect([mode("study.json"), readFileSync(at("study.json"), "utf8")]).toEqual([
        rights,
        '{"title":"new"}',
      ]);
    },
  );

  it.skipIf(process.platform === "win32")(
    "by an agreed mapping keeps its rights, too",
    async () => {
      writeFileSync(at("study.json"), '{"title":"Mine"}');
      chmodSync(at("study.json"), 0o600);
      const names = [{ animal: "P1", name: "Bramble", why: [] }];
      const added = await saveMapping(folder, { tables: [], names } as never);
      expect(added).toEqual(["also_called: Bramble is P1"]);
      expect(mode("study.json")).toBe(0o600);
      expect(JSON.parse(readFileSync(at("study.json"), "utf8"))).toEqual({
        title: "Mine",
        also_called: { P1: ["Bramble"] },
      });
    },
  );

  it("stands as it was where the new one cannot be put in its place, and nothing half is left", async () => {
    mkdirSync(at("day.html"));
    writeFileSync(at("day.html/inside"), "old");
    await expect(writeAtomically(at("day.html"), "new")).rejects.toThrow(/EISDIR|EEXIST|ENOTEMPTY/);
    expect(readFileSync(at("day.html/inside"), "utf8")).toBe("old");
    expect(readdirSync(folder)).toEqual(["day.html"]);
  });

  it("takes away what a dead process left half written, and what a living one has not", async () => {
    // No system numbers its processes so high (Linux: at most 2^22).
    const [dead, alive] = [
      ".a.html.99999999-0123abcd.part",
      `.b.html.${process.ppid}-0123abcd.part`,
    ];
    for (const name of [dead, alive]) writeFileSync(at(name), "half");
    await writeAtomically(at("c.html"), "whole");
    expect(readdirSync(folder).sort()).toEqual([alive, "c.html"].sort());
  });
});
