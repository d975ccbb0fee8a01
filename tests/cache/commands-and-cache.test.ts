import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from "vitest";
import { everyCommand, runCommand } from "../../src/command-line/run-command.js";
import { ownCache } from "./own-cache.js";
import { twoSeasons } from "./two-seasons.js";

/** What a command leaves in the cache; nothing outside the project is needed to say so. */
const { folder, answers } = ownCache();
const work = mkdtempSync(join(tmpdir(), "gramline-commands-cache-"));
const study = join(work, "study");
beforeAll(async () => {
  const { mkdirSync } = await import("node:fs");
  mkdirSync(study);
  for (const [name, text] of Object.entries(twoSeasons())) writeFileSync(join(study, name), text);
});
afterAll(() => rmSync(work, { recursive: true, force: true }));
afterEach(() => vi.restoreAllMocks());

/** Runs a command in silence; the bytes of every file it wrote, by name. */
async function written(command: string, ...options: string[]): Promise<Record<string, string>> {
  for (const how of ["log", "error"] as const) vi.spyOn(console, how).mockReturnValue();
  for (const stream of [process.stdout, process.stderr])
    vi.spyOn(stream, "write").mockReturnValue(true);
  const out = mkdtempSync(join(work, "out-"));
  const to = command === "report" ? out : join(out, "page.html");
  const day = command === "report" ? ["--date", "2025-05-30"] : ["--on", "2025-05-30"];
  // The command switches the cache off for all that it starts; the setting is put back.
  const setting = process.env["GRAMLINE_CACHE"];
  const code = await runCommand([command, study, "--out", to, ...day, ...options]);
  process.env["GRAMLINE_CACHE"] = setting;
  process.exitCode = undefined;
  vi.restoreAllMocks();
  expect(code).toBe(0);
  const names = readdirSync(out, { recursive: true, withFileTypes: true }).filter((f) =>
    f.isFile(),
  );
  return Object.fromEntries(
    names.map((f) => [f.name, readFileSync(join(f.parentPath, f.name), "base64")]),
  );
}

describe.each(["day", "hand-over"])("%s", (command) => {
  it("neither writes nor reads the cache with --no-cache or --without-people", async () => {
    const bare = await written(command, "--no-cache");
    const quiet = await written(command, "--without-people");
    expect(existsSync(folder()) ? answers() : []).toEqual([]);
    const filled = await written(command);
    expect(filled).toEqual(bare);
    const kept = answers();
    expect(kept.length).toBeGreaterThan(0);
    // Were one of these read, its line would be struck out of the cache as damaged.
    for (const name of kept) writeFileSync(join(folder(), name), "no answer");
    expect(await written(command, "--without-people")).toEqual(quiet);
    expect(await written(command, "--no-cache")).toEqual(bare);
    for (const name of kept) expect(readFileSync(join(folder(), name), "utf8")).toBe("no answer");
    expect(await written(command)).toEqual(bare);
    expect(kept.some((name) => readFileSync(join(folder(), name), "utf8") !== "no answer")).toBe(
      true,
    );
  }, 120_000);
});

describe("report", () => {
  it("neither writes nor reads the cache with --without-people", async () => {
    await written("day");
    const kept = answers();
    for (const name of kept) writeFileSync(join(folder(), name), "no answer");
    expect(Object.keys(await written("report", "--without-people")).length).toBeGreaterThan(3);
    expect(answers()).toEqual(kept);
    for (const name of kept) expect(readFileSync(join(folder(), name), "utf8")).toBe("no answer");
  }, 120_000);
});

describe("every command that can leave people out", () => {
  it("can leave the cache alone too", () => {
    const has = (c: { options: readonly { long?: string | null }[] }, long: string) =>
      c.options.some((option) => option.long === long);
    const all = everyCommand().commands.flatMap((c) => [c, ...c.commands]);
    const without = all.filter((c) => has(c, "--without-people"));
    expect(without.length).toBeGreaterThan(3);
    // These two read the files themselves and open no cache.
    const asking = without.filter((c) => !["check", "watch"].includes(c.name()));
    expect(asking.filter((c) => !has(c, "--no-cache")).map((c) => c.name())).toEqual([]);
  });
});
