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
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { aloneIn } from "../../src/publish/folder-lock.js";
import { writeGeneration } from "../../src/publish/write-generation.js";
import { writeSet } from "../../src/publish/write-set.js";

let out: string;
beforeEach(() => {
  out = mkdtempSync(join(tmpdir(), "gramline-generation-"));
});
afterEach(() => rmSync(out, { recursive: true, force: true }));

const entry = (more = "") =>
  `<a class="x" href="report.html">R</a><a href="animals/P1.html#top">P</a><a href="#here">H</a><a href="https://example.org/">E</a>${more}`;
const files = (words: string, ...more: [string, string][]) =>
  new Map([
    ["index.html", entry(words)],
    ["report.html", words],
    ["animals/P1.html", `${words} P1`],
    ...more,
  ]);
const read = (name: string) => readFileSync(join(out, name), "utf8");
const folders = () => readdirSync(out).filter((name) => /^report-/.test(name));

describe("a set in a folder of its own", () => {
  it("is led to by the page in front, and named by what it holds", async () => {
    const folder = await writeGeneration(out, "report", files("one"));
    expect(folder).toMatch(/^report-[0-9a-f]{12}$/);
    expect(read("index.html")).toBe(
      `<a class="x" href="${folder}/report.html">R</a><a href="${folder}/animals/P1.html#top">P</a><a href="#here">H</a><a href="https://example.org/">E</a>one`,
    );
    expect(read(join(folder, "animals/P1.html"))).toBe("one P1");
    // The same content again: the same bytes, and nothing beside them.
    expect(await writeGeneration(out, "report", files("one"))).toBe(folder);
    expect(folders()).toEqual([folder]);
  });

  it("that is the current one is not written again, but for what was damaged", async () => {
    const folder = await writeGeneration(out, "report", files("one"));
    const numbers = () =>
      ["report.html", "animals/P1.html"].map((name) => statSync(join(out, folder, name)).ino);
    const [report, animal] = numbers();
    // A file that is written whole is a new one moved over the old.
    await writeGeneration(out, "report", files("one"));
    expect(numbers()).toEqual([report, animal]);
    writeFileSync(join(out, folder, "animals/P1.html"), "half of");
    await writeGeneration(out, "report", files("one"));
    expect(numbers()[0]).toBe(report);
    expect(read(join(folder, "animals/P1.html"))).toBe("one P1");
  });

  it("goes at the run after the next; at once where it holds more than may be read", async () => {
    const first = await writeGeneration(out, "report", files("one"));
    const second = await writeGeneration(out, "report", files("two"));
    expect(folders().sort()).toEqual([first, second].sort());
    const third = await writeGeneration(out, "report", files("three"));
    expect(folders().sort()).toEqual([second, third].sort());
    const last = await writeGeneration(out, "report", files("four"), { forgetOlder: true });
    expect(folders()).toEqual([last]);
  });

  it("takes over what it is added to", async () => {
    await writeGeneration(out, "report", files("one", ["b.html", "b1"]));
    const added = await writeGeneration(out, "report", new Map([["index.html", entry("two")]]), {
      keep: true,
    });
    expect([read(join(added, "b.html")), read(join(added, "report.html"))]).toEqual(["b1", "one"]);
  });

  it("leaves the old set whole where a file cannot be written, and the next run clears up", async () => {
    const first = await writeGeneration(out, "report", files("one"));
    const before = read("index.html");
    // A file where a folder is needed, in the middle of the set.
    const broken = files("two", ["animals", "a file"], ["animals/P2.html", "x"]);
    await expect(writeGeneration(out, "report", broken)).rejects.toThrow(
      /needed to write .*What was there before is as it was/s,
    );
    expect(read("index.html")).toBe(before);
    expect(read(join(first, "report.html"))).toBe("one");
    const next = await writeGeneration(out, "report", files("three"));
    expect(folders().sort()).toEqual([first, next].sort());
  });

  it("takes the place of files that an earlier version laid beside each other", async () => {
    await writeSet(
      out,
      "report",
      new Map([
        ["index.html", "old"],
        ["report.html", "old"],
      ]),
    );
    writeFileSync(join(out, "notes.txt"), "mine");
    const folder = await writeGeneration(out, "report", files("new"));
    expect(readdirSync(out).filter((name) => !name.startsWith("."))).toEqual(
      ["index.html", "notes.txt", folder].sort(),
    );
  });

  it("never over what somebody else put there, links included", async () => {
    writeFileSync(join(out, "index.html"), "mine");
    await expect(writeGeneration(out, "report", files("x"))).rejects.toThrow(/did not write/);
    expect(read("index.html")).toBe("mine");
    expect(folders()).toEqual([]);
    rmSync(join(out, "index.html"));
    symlinkSync(join(out, "gone"), join(out, "index.html"));
    await expect(writeGeneration(out, "report", files("x"))).rejects.toThrow(/did not write/);
    const study = join(out, "study");
    mkdirSync(study);
    writeFileSync(join(study, "study.json"), "{}");
    await expect(
      writeGeneration(study, "report", files("x", ["tables.xlsx", "x"])),
    ).rejects.toThrow(/study's own folder/);
    expect(readdirSync(study)).toEqual(["study.json"]);
  });
});

describe("a folder that is written into", () => {
  it("is refused to a second run, which says by whom; a dead one's lock is taken over", async () => {
    await aloneIn(out, async () => {
      await expect(writeGeneration(out, "report", files("x"))).rejects.toThrow(
        new RegExp(`another run of gramline is writing there now \\(process ${process.pid}\\)`),
      );
    });
    expect(folders()).toEqual([]);
    // No system numbers its processes so high (Linux: at most 2^22).
    mkdirSync(join(out, ".being-written"));
    writeFileSync(join(out, ".being-written", "process"), "99999999");
    await writeGeneration(out, "report", files("x"));
    expect(folders()).toHaveLength(1);
    expect(existsSync(join(out, ".being-written"))).toBe(false);
  });

  it("waits for a lock that does not say whose it is yet, and takes it over if none comes", async () => {
    const lock = join(out, ".being-written");
    mkdirSync(lock);
    const coming = setTimeout(
      () => writeFileSync(join(lock, "process"), String(process.ppid)),
      150,
    );
    await expect(writeGeneration(out, "report", files("x"))).rejects.toThrow(
      new RegExp(`writing there now \\(process ${process.ppid}\\)`),
    );
    clearTimeout(coming);
    // One whose owner was killed before it could say so.
    rmSync(join(lock, "process"));
    await writeGeneration(out, "report", files("x"));
    expect(folders()).toHaveLength(1);
  });

  it.each([
    [
      "a file in its way",
      () => writeFileSync(join(out, "way"), "x"),
      /a file, or a link|no folder/,
    ],
    [
      "a link that leads nowhere",
      () => symlinkSync(join(out, "gone"), join(out, "way")),
      /nowhere/,
    ],
    [
      "links in a circle",
      () => symlinkSync(join(out, "way"), join(out, "way")),
      /circle|no folder/,
    ],
  ])("names the path and the remedy: %s", async (_, make, sentence) => {
    make();
    const failed = writeGeneration(join(out, "way", "report"), "report", files("x"));
    await expect(failed).rejects.toThrow(sentence);
    await expect(failed).rejects.toThrow(/[Nn]ame another folder/);
    await expect(failed).rejects.toMatchObject({ name: "UsageError" });
  });
});
