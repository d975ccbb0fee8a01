import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Command } from "commander";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { everyCommand } from "../../src/command-line/run-command.js";
import { leaveNothingBehind } from "./after-commands.js";
import { said } from "./said.js";

/**
 * Every argument and every option of every command, as registered, is given nothing, blanks,
 * letters where a number belongs: always the form of all mistakes, by the name of the place.
 */
leaveNothingBehind();
let work: string;
const home = process.cwd();
beforeAll(() => {
  work = mkdtempSync(join(tmpdir(), "gramline-odd-lines-"));
});
afterAll(() => rmSync(work, { recursive: true, force: true }));

const leaves = (command: Command): Command[] =>
  command.commands.length === 0 ? [command] : command.commands.flatMap(leaves);
function wordsOf(command: Command): string[] {
  const above = command.parent;
  return above === null ? [] : [...wordsOf(above), command.name()];
}

interface Line {
  readonly words: readonly string[];
  readonly place: string;
}

/** Each place of a command that takes a word, with that word in it and plain ones elsewhere. */
function linesWith(command: Command, word: string, onlyNumbers = false): Line[] {
  const start = wordsOf(command);
  const needed = command.registeredArguments.filter((each) => each.required).map(() => "study");
  const must = command.options
    .filter((each) => each.mandatory)
    .flatMap((each) => [each.long!, "oak"]);
  const args = command.registeredArguments.map((each, i): Line => {
    const words = [...needed];
    words[i] = word;
    return { words: [...start, ...words, ...must], place: each.name() };
  });
  const takes = command.options.filter((each) => each.required || each.optional);
  const options = takes
    .filter((each) => !onlyNumbers || /<(number|hour)>/.test(each.flags))
    .map((each): Line => {
      const others = command.options
        .filter((other) => other.mandatory && other !== each)
        .flatMap((other) => [other.long!, "oak"]);
      return { words: [...start, ...needed, ...others, `${each.long}=${word}`], place: each.long! };
    });
  return onlyNumbers ? options : [...args, ...options];
}

async function saidAtWork(words: readonly string[]): Promise<{ code: number; err: string }> {
  process.chdir(work);
  try {
    return await said(words);
  } finally {
    process.chdir(home);
  }
}

const commands = leaves(everyCommand());
/** Signs that a terminal obeys, or that turn the direction of writing. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for.
const steering = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/;

describe("a line with an odd word", () => {
  it("that is blank is refused by the name of its place, in every command", async () => {
    let tried = 0;
    for (const word of ["", "  ", "\t"])
      for (const { words, place } of commands.flatMap((each) => linesWith(each, word))) {
        const { code, err } = await saidAtWork(words);
        expect(code, words.join(" ")).toBe(2);
        expect(err, words.join(" ")).toContain(place);
        expect(err, words.join(" ")).toMatch(/needed .*, but "\s*" was given/s);
        tried++;
      }
    expect(tried).toBeGreaterThan(120);
  });

  it("that is long, steers a screen or is the name of something else ends in a sentence, in every command", async () => {
    const words = [
      "x".repeat(100_000),
      `${"../".repeat(3000)}x`,
      "\u001b[2J\u001b]0;owned\u0007",
      "\u202egnp.lmth",
      "\ud800",
      "__proto__",
      "constructor",
      "con",
      "$(reboot)`reboot`",
      "%s%n",
    ];
    let tried = 0;
    // Each line loads what its command needs: all of them by `ATTACKS=all`.
    const isWhole = process.env["ATTACKS"] === "all";
    for (const word of isWhole ? words : words.slice(0, 3))
      for (const { words, place } of commands.flatMap((each) => linesWith(each, word))) {
        // These open programs, or write where this machine keeps things.
        if (/^(notebooks|watch|doctor|kernel-path|cache)/.test(words[0]!)) continue;
        // A title and names of species may be any words: they make a study, and no mistake.
        if (place === "--title" || (words[0] === "new" && place === "--species")) continue;
        // Without a study it would run the notebooks of the demo.
        const where = words[0] === "run-notebooks" && place !== "--study" ? ["--study=study"] : [];
        const { code, err } = await saidAtWork([...words, ...where]);
        expect(code, `${words[0]} ${place}: ${err.slice(0, 500)}`).toBeLessThanOrEqual(2);
        expect(err.length, `${words[0]} ${place}`).toBeLessThan(3000);
        expect(err, words[0]).not.toMatch(steering);
        expect(err, words[0]).not.toMatch(/\n\s+at .*:\d+:\d+/);
        tried++;
      }
    expect(tried).toBeGreaterThan(isWhole ? 300 : 100);
  }, 600_000);

  it("that is no number, or none that can be, is refused where a number belongs", async () => {
    let tried = 0;
    for (const word of ["NaN", "-1", "1e999", "Infinity", "0x10", "9".repeat(400), "1.5", "١٢"])
      for (const { words, place } of commands.flatMap((each) => linesWith(each, word, true))) {
        const { code, err } = await saidAtWork(words);
        expect(code, words.join(" ")).toBe(2);
        expect(err, words.join(" ")).toMatch(
          new RegExp(`${place}.*needed .*number.*was\\s+given`, "s"),
        );
        tried++;
      }
    expect(tried).toBeGreaterThan(30);
  });
});
