import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect } from "vitest";
import { seededRandom } from "../../src/core/random.js";

/** The command as it is built. */
export const main = fileURLToPath(new URL("../../dist/command-line/main.js", import.meta.url));
export const isBuilt = existsSync(main);
/** `npm run attack` tries everything; `npm test` has its small sibling. */
export const isWhole = process.env["ATTACKS"] === "all";
export const kills = isWhole ? 50 : 3;

const killer = new URL("kill-at-change.mjs", import.meta.url).href;

/**
 * Runs a command in a folder.
 *
 * @param settings of `kill-at-change`, where it is to be watched or killed.
 * @returns its exit code; null where it was killed.
 */
export function run(
  work: string,
  words: readonly string[],
  settings: Readonly<Record<string, string>> = {},
): Promise<number | null> {
  const watched = Object.keys(settings).length > 0 ? ["--import", killer] : [];
  const child = spawn(process.execPath, [...watched, main, ...words], {
    stdio: "ignore",
    cwd: work,
    env: { ...process.env, ...settings },
  });
  return new Promise((done) => child.once("exit", (code) => done(code)));
}

/** Runs a command to its end and counts what it changes on disk. */
export async function changesOf(work: string, words: readonly string[]): Promise<number> {
  const folder = mkdtempSync(join(tmpdir(), "gramline-changes-"));
  const file = join(folder, "count");
  try {
    expect([0, 1]).toContain(await run(work, words, { KILLED_COUNT: file }));
    return Number(readFileSync(file, "utf8"));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

export interface Kills {
  readonly work: string;
  readonly seed: number;
  /** The line of each run: every other one would write something else than the one before. */
  words(run: number): readonly string[];
  /** Looks at what is there after a kill. */
  look(): void | Promise<void>;
  /** Puts back what is there before a run. Default: the next one finds what the kill left. */
  before?(): void | Promise<void>;
  /** Looks at what a run leaves that comes to its end, now and then after a kill. */
  whole(run: number): void | Promise<void>;
}

/**
 * Kills a command so often (`kills`), each time by SIGKILL at a random one of its changes
 * on disk: before it, behind it, or in its midst. How many those are, a run before tells,
 * so that no kill falls where nothing is written yet. After every tenth kill, and after
 * the last, the command runs to its end.
 */
export async function killAtChanges({ work, seed, words, look, before, whole }: Kills) {
  await before?.();
  const changes = await changesOf(work, words(1));
  expect(changes).toBeGreaterThan(1);
  const random = seededRandom(seed);
  let died = 0;
  for (let i = 0; i < kills; i++) {
    await before?.();
    const moment = { KILLED_AT: String(changes * random.uniform()) };
    if ((await run(work, words(i), moment)) === null) died++;
    await look();
    if (i % 10 !== 9 && i !== kills - 1) continue;
    await before?.();
    expect([0, 1]).toContain(await run(work, words(i)));
    await whole(i);
  }
  // A run that finds less to do than the first may come to its end before its moment.
  expect(died).toBeGreaterThanOrEqual(kills / 2);
}

/** What is half written, or held by a run, in a folder. */
export const halfDone = (folder: string) =>
  readdirSync(folder, { recursive: true, encoding: "utf8" }).filter((name) =>
    /\.part$|\.being-(?:written|made)/.test(name),
  );
