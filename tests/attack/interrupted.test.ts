import { mkdirSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { changesOf, halfDone, isBuilt, isWhole, run } from "./run-killed.js";
import { type WritingCommand, writingCommands } from "./writing-commands.js";

/**
 * Ctrl-C, a terminal that is closed and the end that a system asks for: whatever a command
 * was writing, no lock, no half-written file and nothing in the folder for what is passing
 * is left, and the code is the one that shells give.
 */
const work = mkdtempSync(join(tmpdir(), "gramline-interrupted-"));
let commands: WritingCommand[] = [];
beforeAll(() => {
  commands = writingCommands(work);
});
afterAll(() => rmSync(work, { recursive: true, force: true }));

const signals = [
  ["SIGINT", 130],
  ["SIGTERM", 143],
  ["SIGHUP", 129],
] as const;
const times = isWhole ? 9 : 2;

describe.skipIf(!isBuilt || process.platform === "win32")("a command that its user ends", () => {
  it("leaves nothing half done, at any of its changes on disk", async () => {
    const random = seededRandom(20270319);
    const temporary = join(work, "temporary");
    mkdirSync(temporary);
    // The commands with the most steps; the others write by the same means.
    const tried = commands.filter(({ name }) => isWhole || name === "day" || name === "new");
    for (const { name, words, prepare } of tried) {
      const folder = join(work, name.replaceAll(" ", ""));
      const fresh = async () => {
        rmSync(folder, { recursive: true, force: true });
        mkdirSync(folder, { recursive: true });
        await prepare(folder);
      };
      await fresh();
      const changes = await changesOf(work, words(folder));
      let ended = 0;
      for (let i = 0; i < times; i++) {
        await fresh();
        const [signal, code] = signals[i % signals.length]!;
        const came = await run(work, words(folder), {
          KILLED_AT: String(changes * random.uniform()),
          KILLED_BY: signal,
          TMPDIR: temporary,
        });
        if (came === code) ended++;
        else expect([0, 1], `${name} by ${signal}`).toContain(came);
        expect(halfDone(folder), `${name} by ${signal}`).toEqual([]);
        expect(readdirSync(temporary), `${name} by ${signal}`).toEqual([]);
      }
      expect(ended, name).toBeGreaterThan(0);
    }
  }, 1_200_000);
});
