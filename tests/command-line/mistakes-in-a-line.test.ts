import type { Command } from "commander";
import { afterEach, describe, expect, it, vi } from "vitest";
import { everyCommand, runCommand } from "../../src/command-line/run-command.js";

/** Every command that does something, with the words that call it. */
const called = (command: Command, words: readonly string[] = []): [string, Command][] =>
  command.commands.flatMap((each) => {
    const own = [...words, each.name()];
    return each.commands.length > 0 ? called(each, own) : [[own.join(" "), each] as const];
  });
const all = called(everyCommand());

afterEach(() => vi.restoreAllMocks());

/** What a line is answered with, and the code that it ends with. */
async function answerTo(line: readonly string[]): Promise<string> {
  const said: string[] = [];
  vi.spyOn(console, "error").mockImplementation((text) => said.push(String(text)));
  const code = await runCommand(line);
  expect(code).toBe(2);
  return said.join("\n");
}

describe.each(all)("gramline %s", (words, command) => {
  const line = words.split(" ");
  const begin = `gramline ${words}: needed `;
  const mandatory = command.options.filter((o) => o.mandatory).flatMap((o) => [o.long!, "x"]);

  it("names an option that is none, and those that there are", async () => {
    const said = await answerTo([...line, "--qqqqqqqq", ...mandatory]);
    expect(said.startsWith(`${begin}one of its options, but "--qqqqqqqq" is none. `)).toBe(true);
    for (const { long } of command.options) expect(said).toContain(long);
  });

  it("says what must stand in the line and does not", async () => {
    const needed = [
      ...command.registeredArguments.filter((a) => a.required).map((a) => `<${a.name()}>`),
      ...command.options.filter((o) => o.mandatory).map((o) => o.flags),
    ];
    if (needed.length === 0) return;
    const said = await answerTo(line);
    const first = needed.find((each) => said.startsWith(`${begin}${each}, but it was not given. `));
    expect(first, said).toBeDefined();
    expect(said.endsWith(`gramline ${words} --help says what it takes.`)).toBe(true);
  });

  it("says how many words it takes where more stand there", async () => {
    if (command.registeredArguments.some((a) => a.variadic)) return;
    const takes = command.registeredArguments.length;
    const given = Array.from({ length: takes + 2 }, (_, i) => `word${i}`);
    const said = await answerTo([...line, ...given, ...mandatory]);
    expect(said).toContain(
      `${begin}${takes} argument${takes === 1 ? "" : "s"}, but ${takes + 2} came.`,
    );
  });
});

describe("a day", () => {
  it.each([
    ["day", "--date", "--on"],
    ["hand-over", "--day", "--on"],
    ["report", "--day", "--on"],
  ])("asked of %s by %s is asked by %s", async (command, written, meant) => {
    expect(await answerTo([command, "data-demo", written, "2025-07-16"])).toContain(
      `"${written}" is none. Is ${meant} meant?`,
    );
  });
});
