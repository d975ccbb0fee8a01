import { spawnSync } from "node:child_process";
import {
  existsSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { UsageError } from "../../src/core/usage-error.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { animalsCsv, settings, weighingsCsv } from "../records/small-study.js";
import { leaveNothingBehind } from "./after-commands.js";
import { said } from "./said.js";
import { type WritingCommand, writingCommands } from "./writing-commands.js";

/**
 * Links that lead nowhere, in a circle or to somebody else's file stand where a command
 * reads and writes; files go away between being listed and being read. What comes is a
 * sentence, nothing is written through such a link, and no trace is shown.
 */
leaveNothingBehind();
const isWhole = process.env["ATTACKS"] === "all";
const work = mkdtempSync(join(tmpdir(), "gramline-links-"));
/** Archives, reports and notebooks are slow to make: by `ATTACKS=all`, as `npm run attack` does. */
const slow = /^(?:archive|pool|report|run-notebooks|hand-over)/;
let commands: WritingCommand[] = [];
beforeAll(() => {
  commands = writingCommands(work).filter((c) => isWhole || !slow.test(c.name));
});
afterAll(() => rmSync(work, { recursive: true, force: true }));

const trace = /\n\s+at .*:\d+:\d+/;
const fresh = () => mkdtempSync(join(work, "at-"));

describe("links in place of what is written", () => {
  it("a folder that leads nowhere or in a circle is refused by every command", async () => {
    for (const { name, words } of commands)
      for (const target of ["gone", "made"]) {
        const folder = join(fresh(), "made");
        symlinkSync(join(dirname(folder), target), folder);
        const { code, err } = await said(words(folder));
        expect(code, `${name}: ${err}`).toBe(2);
        expect(err, name).toMatch(/needed\s.*but\s/s);
        expect(err, name).not.toMatch(trace);
        expect(readdirSync(dirname(folder)), name).toEqual(["made"]);
      }
  });

  it("a file that leads nowhere, or to somebody's file, is never written through", async () => {
    for (const { name, words, prepare } of commands) {
      // What the command makes is found out by letting it make it once.
      const once = fresh();
      await prepare(once);
      const there = new Set(readdirSync(once));
      expect((await said(words(once))).code, name).toBeLessThan(2);
      const made = readdirSync(once).filter((each) => !each.startsWith(".") && !there.has(each));
      for (const each of made)
        for (const target of ["gone", "somebody's"]) {
          const folder = fresh();
          await prepare(folder);
          const outside = join(fresh(), target);
          if (target !== "gone") writeFileSync(outside, "somebody's");
          symlinkSync(outside, join(folder, each));
          const { code, err } = await said(words(folder));
          expect(code, `${name}, ${each}: ${err}`).toBe(2);
          expect(err, name).not.toMatch(trace);
          expect(existsSync(outside), name).toBe(target !== "gone");
          if (target !== "gone") expect(lstatSync(outside).size).toBe("somebody's".length);
          expect(lstatSync(join(folder, each)).isSymbolicLink(), name).toBe(true);
        }
    }
  }, 600_000);
});

function smallStudy(folder: string): void {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, "study.json"), JSON.stringify(settings));
  writeFileSync(join(folder, "animals.csv"), animalsCsv);
  writeFileSync(join(folder, "weighings.csv"), weighingsCsv);
}

describe("links in place of what is read", () => {
  it.each(["study.json", "animals.csv", "weighings.csv", "feeds.xlsx"])(
    "%s that leads nowhere or in a circle is named",
    async (name) => {
      for (const target of ["gone", name]) {
        const folder = fresh();
        smallStudy(folder);
        rmSync(join(folder, name), { force: true });
        symlinkSync(join(folder, target), join(folder, name));
        const { code, err } = await said(["day", folder, "--out", join(fresh(), "day.html")]);
        expect(code, err).toBe(2);
        expect(err).toContain(name);
        expect(err).toMatch(/leads\s+nowhere|leads\s+out|cannot\s+be\s+read/);
        expect(err).not.toMatch(trace);
      }
    },
  );

  it("a study's folder that leads nowhere is said not to be there", async () => {
    const folder = join(fresh(), "study");
    symlinkSync(join(work, "gone"), folder);
    for (const words of [
      ["check", folder, "--no-write"],
      ["day", folder, "--out", join(fresh(), "day.html")],
      ["prior", folder, "--out", join(fresh(), "prior.json")],
    ]) {
      const { code, err } = await said(words);
      expect(code, err).toBe(2);
      expect(err).not.toMatch(trace);
    }
  });

  it("a device and a pipe in place of a study are said to be none", async () => {
    const at = fresh();
    const pipe = join(at, "pipe");
    const places = spawnSync("mkfifo", [pipe]).status === 0 ? ["/dev/zero", pipe] : [];
    for (const place of places) {
      const { code, err } = await said(["day", place, "--out", join(at, "day.html")]);
      expect(code, err).toBe(2);
      expect(err).toMatch(/needed\s+a\s+folder/);
      const into = await said(["check", join(work, "study"), "--out", place]);
      expect(into.code, into.err).toBe(2);
      expect(into.err).not.toMatch(trace);
    }
  });
});

it("what comes and goes while a folder is read is read whole or said", async () => {
  const folder = fresh();
  smallStudy(folder);
  const feeds = join(folder, "feeds.csv");
  mkdirSync(join(folder, "2024"));
  let goesOn = true;
  const comesAndGoes = async () => {
    for (let i = 0; goesOn; i++) {
      if (i % 2 === 0)
        writeFileSync(feeds, "animal_id,at,diet_id,offered_g\nP1,2025-03-02 07:00,milk,90\n");
      else rmSync(feeds, { force: true });
      renameSync(
        join(folder, i % 2 === 0 ? "2024" : ".2024"),
        join(folder, i % 2 === 0 ? ".2024" : "2024"),
      );
      await new Promise((resume) => setTimeout(resume, i % 5));
    }
  };
  const going = comesAndGoes();
  const ends = { read: 0, said: 0 };
  for (let i = 0; i < 300; i++)
    try {
      const study = await readStudy(folder);
      for (const { rowsIn, accepted, setAside } of study.counts)
        expect(accepted + setAside).toBe(rowsIn);
      expect([0, 1]).toContain(study.tables.feeds.length);
      ends.read++;
    } catch (error) {
      expect(error).toBeInstanceOf(UsageError);
      expect((error as UsageError).todo).not.toBe("");
      ends.said++;
    }
  goesOn = false;
  await going;
  // Both must have been met, or nothing came between.
  expect(ends.read).toBeGreaterThan(0);
  expect(ends.said).toBeGreaterThan(0);
});
