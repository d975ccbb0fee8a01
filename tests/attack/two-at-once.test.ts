import { spawn } from "node:child_process";
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
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { everyCommand } from "../../src/command-line/run-command.js";
import { leaveNothingBehind } from "./after-commands.js";
import { main } from "./run-killed.js";
import { said } from "./said.js";
import { type WritingCommand, writeNothing, writingCommands } from "./writing-commands.js";

/**
 * Two runs at once into one folder: the second says so, or waits its turn by chance; what
 * is there afterwards is what one run alone would have written, and no lock stays.
 */
leaveNothingBehind();
const isWhole = process.env["ATTACKS"] === "all";
const work = mkdtempSync(join(tmpdir(), "gramline-two-"));
let commands: WritingCommand[] = [];
beforeAll(() => {
  commands = writingCommands(work);
});
afterAll(() => rmSync(work, { recursive: true, force: true }));

it("every command is known to write, or to write nothing", () => {
  const all = everyCommand().commands.flatMap((each) =>
    each.commands.length === 0
      ? [each.name()]
      : each.commands.map((sub) => `${each.name()} ${sub.name()}`),
  );
  const known = new Set([
    ...writeNothing,
    ...commands.map((each) => each.name),
    // These need their engine, and the cache is nobody's folder of outputs: to empty it twice is to empty it.
    ...["archive add", "archive remove", "pool", "cache clear"],
  ]);
  expect(all.filter((name) => !known.has(name) && name !== "help")).toEqual([]);
});

/** Another run at work in a folder, by a process that is there. */
function hold(folder: string): string {
  const lock = join(folder, ".being-written");
  mkdirSync(lock, { recursive: true });
  writeFileSync(join(lock, "process"), String(process.ppid));
  return lock;
}

describe("a folder that another run is writing into", () => {
  it("is left as it is, and said, by every command", async () => {
    // Archives are slow to make: by `ATTACKS=all`, as `npm run attack` does.
    const tried = commands.filter(({ name }) => isWhole || !/^(?:archive|pool|report)/.test(name));
    for (const { name, holds, words, prepare } of tried) {
      const folder = join(work, "held", name.replaceAll(" ", ""));
      mkdirSync(folder, { recursive: true });
      await prepare(folder);
      const lock = hold(join(folder, holds));
      const there = digests(folder);
      const { code, err } = await said(words(folder));
      expect(code, `${name}: ${err}`).toBe(2);
      expect(err, name).toMatch(/another\s+run\s+of\s+gramline\s+is\s+writing\s+there\s+now/);
      expect(err, name).toContain(String(process.ppid));
      expect(digests(folder), name).toEqual(there);
      rmSync(lock, { recursive: true });
    }
  });
});

function digests(folder: string): Map<string, string> {
  return new Map(
    readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && !entry.parentPath.includes("node_modules"))
      .map((entry) => {
        const path = join(entry.parentPath, entry.name);
        const bytes = readFileSync(path);
        return [relative(folder, path), createHash("sha256").update(bytes).digest("hex")] as const;
      })
      .sort(([a], [b]) => (a < b ? -1 : 1)),
  );
}

interface Ended {
  readonly code: number | null;
  readonly err: string;
}

function start(words: readonly string[]): Promise<Ended> {
  const child = spawn(process.execPath, [main, ...words], {
    stdio: ["ignore", "ignore", "pipe"],
    cwd: work,
  });
  let err = "";
  child.stderr.on("data", (text) => {
    err += String(text);
  });
  return new Promise((done) => child.once("exit", (code) => done({ code, err })));
}

describe.skipIf(!existsSync(main))("two processes begun at once", () => {
  it("leave what one would have left, for every command", async () => {
    let second = 0;
    // With every `npm test` the quickest alone.
    for (const { name, words, prepare } of commands.filter((c) => isWhole || c.name === "day")) {
      const [alone, both] = ["alone", "both"].map((kind) =>
        join(work, kind, name.replaceAll(" ", "")),
      ) as [string, string];
      for (const folder of [alone, both]) {
        mkdirSync(folder, { recursive: true });
        await prepare(folder);
      }
      expect((await start(words(alone))).code, name).toBeLessThan(2);
      const ended = await Promise.all([start(words(both)), start(words(both))]);
      expect(Math.min(...ended.map(({ code }) => code ?? 9)), name).toBeLessThan(2);
      for (const { code, err } of ended) {
        if (code === 0 || code === 1) continue;
        second++;
        expect(code, `${name}: ${err}`).toBe(2);
        // Who comes when the other is done finds its work there, or nothing left to take out.
        expect(err, name).toMatch(/another\s+run\s+of\s+gramline|holds\s|is\s+not\s+there/);
        expect(err, name).not.toMatch(/\n\s+at .*:\d+:\d+/);
      }
      if (name !== "archive add" && name !== "archive remove")
        expect(sameNames(digests(both)), name).toEqual(sameNames(digests(alone)));
      const left = readdirSync(both, { recursive: true, encoding: "utf8" });
      expect(
        left.filter((each) => /\.part$|being-(written|made)/.test(each)),
        name,
      ).toEqual([]);
    }
    // One command alone may be done before the second has begun.
    if (isWhole) expect(second).toBeGreaterThan(0);
  }, 600_000);
});

/** What names the folder it stands in differs by that alone. */
const sameNames = (files: Map<string, string>) =>
  [...files].filter(([path]) => !path.endsWith("READ ME FIRST.txt") && path !== "fresh/study.json");
