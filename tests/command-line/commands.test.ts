import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from "vitest";
import { jsonAnswers } from "../../docs/build/reference/json-answers.js";
import { explainableWords, explainWord } from "../../src/analysis/explain-word.js";
import { exitCodes } from "../../src/command-line/exit-codes.js";
import { everyCommand, runCommand } from "../../src/command-line/run-command.js";
import { sentences } from "../../src/core/sentences.js";
import { animalsCsv, settings, weighingsCsv } from "../records/small-study.js";

const work = mkdtempSync(join(tmpdir(), "gramline-commands-"));
const study = join(work, "study");
const out = join(work, "out");
beforeAll(async () => {
  await import("node:fs").then(({ mkdirSync }) => mkdirSync(study));
  writeFileSync(join(study, "study.json"), JSON.stringify(settings));
  writeFileSync(join(study, "animals.csv"), animalsCsv);
  writeFileSync(join(study, "weighings.csv"), weighingsCsv);
});
afterAll(() => rmSync(work, { recursive: true, force: true }));
afterEach(() => {
  vi.restoreAllMocks();
  process.exitCode = undefined;
});

interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** Runs a command line in this process and keeps what it says. */
async function run(...args: string[]): Promise<Ran> {
  let [said, complained] = ["", ""];
  vi.spyOn(console, "log").mockImplementation((text = "") => {
    said += `${text}\n`;
  });
  vi.spyOn(console, "error").mockImplementation((text = "") => {
    complained += `${text}\n`;
  });
  const stream = (add: (text: string) => void) => (text: string | Uint8Array) => {
    add(String(text));
    return true;
  };
  vi.spyOn(process.stdout, "write").mockImplementation(stream((t) => (said += t)));
  vi.spyOn(process.stderr, "write").mockImplementation(stream((t) => (complained += t)));
  const code = await runCommand(args);
  vi.restoreAllMocks();
  process.exitCode = undefined;
  return { code, out: said, err: complained };
}

/** Every command that answers, as it is asked here. */
const asked: Readonly<Record<string, () => string[]>> = {
  check: () => ["check", study, "--no-write"],
  day: () => ["day", study, "--out", join(out, "day.html")],
  "hand-over": () => ["hand-over", study, "--out", join(out, "hand-over.html")],
  report: () => ["report", study, "--out", join(out, "report"), "--date", "2025-04-01"],
  new: () => ["new", join(work, `made-${Math.random()}`), "--zone", "UTC"],
  explain: () => ["explain", "missed", "feed"],
  "kernel-path": () => ["kernel-path"],
  cache: () => ["cache", "show"],
};
/** Commands whose answer is asked for elsewhere, by the test that runs them. */
const askedElsewhere = ["archive", "doctor", "pool", "prior", "run-notebooks", "watch"];
/** Opens another program, and answers nothing. */
const answerless = ["notebooks"];

describe("every command that answers", () => {
  it.each(Object.keys(asked))(
    "%s: one JSON object, one answer in lines, or silence",
    async (name) => {
      const json = await run(...asked[name]!(), "--json");
      expect(json.err).toBe("");
      const answer = JSON.parse(json.out);
      expect(answer).toMatchObject({ kind: name, schema: 1 });
      expect(Object.keys(answer).sort(), "as the manual lists them").toEqual(
        ["kind", "schema", ...Object.keys(jsonAnswers[name]!)].sort(),
      );
      const quiet = await run(...asked[name]!(), "--quiet");
      expect([quiet.out, quiet.err, quiet.code]).toEqual(["", "", json.code]);
      if (name === "report") return;
      const lines = await run(...asked[name]!());
      expect(lines.out.trim()).not.toBe("");
      // No marks of a terminal where there is none.
      expect(lines.out + lines.err).not.toContain("\u001b");
    },
  );

  it("is every command but the one that opens Jupyter, each with --json and --quiet", () => {
    const known = everyCommand().commands;
    const names = known.map((each) => each.name()).filter((name) => !answerless.includes(name));
    expect(names.sort()).toEqual([...Object.keys(asked), ...askedElsewhere].sort());
    const silent = known
      .flatMap((each) => (each.commands.length === 0 ? [each] : each.commands))
      .filter((each) => !answerless.includes(each.name()))
      .filter((each) => ["--json", "--quiet"].some((o) => each.options.every((x) => x.long !== o)));
    expect(silent.map((each) => each.name())).toEqual([]);
  });

  it("says a mistake in JSON too, whatever was mistyped", async () => {
    const lines = [
      ["chekc", study],
      ["help", "chekc"],
      ["check", study, "--no-wirte"],
      ["check"],
      ["day", study, study],
      ["archive", "ad", study],
      ["archive", "add", study],
      ["explain", "dangre"],
      ["day", join(work, "stduy")],
    ];
    for (const line of lines) {
      const { code, out: said, err } = await run(...line, "--json");
      expect([line, code, err]).toEqual([line, exitCodes.notDone, ""]);
      const mistake = JSON.parse(said);
      expect(Object.keys(mistake).sort()).toEqual(
        ["kind", "schema", ...Object.keys(jsonAnswers["error"]!)].sort(),
      );
      const { err: words } = await run(...line);
      expect(words.trim()).toBe(
        `${mistake.where.startsWith("gramline") ? "" : "gramline: "}${mistake.where}: needed ${mistake.needed}, but ${mistake.came}. ${mistake.todo}`,
      );
    }
  });

  it("day says in JSON where each animal stands, as its page does", async () => {
    const { animals, onDay, written } = JSON.parse((await run(...asked["day"]!(), "--json")).out);
    expect(onDay).toBe("2025-03-07");
    expect(animals.map((a: { name: string }) => a.name).sort()).toEqual(["Bramble", "Thistle"]);
    for (const { reasons } of animals)
      for (const reason of reasons) expect(reason.text).not.toMatch(/undefined|\?\?/);
    expect(written.every((path: string) => existsSync(path))).toBe(true);
  });
});

describe("exit codes", () => {
  it("are the same everywhere: 0 done, 1 look at it, 2 not done", async () => {
    const spoilt = join(work, "spoilt");
    await import("node:fs").then(({ mkdirSync }) => mkdirSync(spoilt));
    writeFileSync(join(spoilt, "study.json"), JSON.stringify(settings));
    writeFileSync(join(spoilt, "animals.csv"), animalsCsv);
    writeFileSync(
      join(spoilt, "weighings.csv"),
      `${weighingsCsv}P1,2025-03-07 07:00,asleep,0,b1,bucket,dry,before,\n`,
    );
    expect((await run("check", spoilt, "--no-write")).code).toBe(exitCodes.lookAtIt);
    for (const command of ["check", "day", "hand-over", "report", "prior", "watch"]) {
      const gone = await run(command, join(work, "gone"));
      expect(gone.code, command).toBe(exitCodes.notDone);
      expect(gone.err, command).toMatch(/gone.*no such folder/s);
    }
    expect((await run("--help")).code).toBe(exitCodes.done);
    expect((await run("--help")).out).toMatch(/Exit codes: 0 done/);
  });

  it("come with the parts of the sentence in JSON", async () => {
    const { code, out: said, err } = await run("day", join(work, "gone"), "--json");
    expect([code, err]).toEqual([exitCodes.notDone, ""]);
    expect(JSON.parse(said)).toMatchObject({ kind: "error", schema: 1, where: "gone" });
    expect(Object.keys(JSON.parse(said)).sort()).toEqual(
      ["came", "kind", "needed", "schema", "todo", "where"].sort(),
    );
  });
});

describe("a slip of the pen is asked about", () => {
  const slips: [string, () => string[], RegExp][] = [
    ["a command", () => ["hand-ovr", study], /Is hand-over meant\?/],
    ["an option", () => ["day", study, "--with-people"], /Is --without-people meant\?/],
    ["a day", () => ["day", study, "--on", "2025-3-7"], /Is 2025-03-07 meant\?/],
    ["a day in another style", () => ["day", study, "--on", "20.03.2025"], /Is 2025-03-20 meant\?/],
    ["a date", () => ["report", study, "--date", "20250401"], /Is 2025-04-01 meant\?/],
    ["a seed", () => ["report", study, "--seed", "abc"], /--seed: needed a whole number/],
    ["a port", () => ["watch", study, "--port", "http"], /--port: needed a whole number/],
    [
      "an hour",
      () => ["new", join(work, "n"), "--day-starts", "six"],
      /--day-starts: needed a whole/,
    ],
    [
      "a notebook",
      () => ["run-notebooks", "slow-gainr", "--study", study],
      /Is slow-gainer meant\?/,
    ],
    [
      "a parameter",
      () => ["run-notebooks", "slow-gainer", "--study", study, "--set", "animlId=P1"],
      /Is animalId meant\?/,
    ],
    ["a word", () => ["explain", "misssed", "feed"], /Is missed feed meant\?/],
    ["an inner command", () => ["cache", "shw"], /Is show meant\?/],
    ["an option alike", () => ["day", study, "--without-peple"], /Is --without-people meant\?/],
    ["a study's folder", () => ["day", join(work, "stduy")], /Is .*study meant\?/],
    [
      "a folder on the way",
      () => ["day", join(`${work.slice(0, -1)}`, "study")],
      /Is .*study meant\?/,
    ],
    [
      "a study of notebooks",
      () => ["run-notebooks", "--study", join(work, "stdy")],
      /Is .*study meant\?/,
    ],
    ["a folder of notebooks", () => ["notebooks", join(work, "stdy")], /Is .*study meant\?/],
    [
      "a zone",
      () => ["new", join(work, "z"), "--zone", "America/Los_Angelos"],
      /Is America\/Los_Angeles meant/,
    ],
    [
      "a city",
      () => ["new", join(work, "z"), "--zone", "los angeles"],
      /Is America\/Los_Angeles meant/,
    ],
    ["a page", () => ["day", study, "--out", join(out, "day")], /Write .*day\.html/],
    ["a species", () => ["prior", study, "--species", "sea oter"], /Is sea otter meant\?/],
  ];
  it.each(slips)("%s", async (_, args, sentence) => {
    const { code, err } = await run(...args());
    expect(code).toBe(exitCodes.notDone);
    expect(err).toMatch(sentence);
  });

  it("a day that may be two is asked for, not guessed", async () => {
    const { err } = await run("day", study, "--on", "03.04.2025");
    expect(err).not.toMatch(/meant/);
  });
});

describe("explain", () => {
  it("has a meaning and words of the pages for everything that can stand on them", () => {
    const words = explainableWords();
    for (const [kind, all] of Object.entries(words)) {
      expect(all.length, kind).toBeGreaterThan(3);
      for (const word of all) {
        const found = explainWord(word);
        expect(found, word).not.toBeNull();
        if (kind !== "level") expect(found!.sentences.length, word).toBeGreaterThan(0);
        for (const { shape } of found!.sentences)
          expect(shape, word).not.toMatch(/undefined|NaN|\[object/);
      }
    }
    const codes = Object.keys(sentences).filter((code) => !code.startsWith("explain-"));
    expect([...words.sentence, ...words.method].sort()).toEqual(codes.sort());
  });

  it("says its source", async () => {
    const { out: said } = await run("explain", "slowed gain");
    expect(said).toMatch(/Harvey \(1989\)/);
    expect(said).toMatch(/<\w+>/);
    expect((await run("explain", "method-curves")).out).toMatch(/Burnham/);
    expect((await run("explain", "Danger")).out).toMatch(/do not feed until/);
  });
});
