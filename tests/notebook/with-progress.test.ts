import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { stopIfCancelled } from "../../src/core/long-work.js";
import { withProgress } from "../../src/notebook/with-progress.js";

/** A stand-in for the kernel's module, found as the kernel loads it (tslab 1.0.22). */
const require = createRequire(import.meta.url);
let folder: string;
let drawn: [{ data: Record<string, string>; transient: { display_id?: string } }, boolean][];
const path = () => join(folder, "tslab", "dist", "jupyter.js");

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "gramline-progress-"));
  mkdirSync(join(folder, "tslab", "dist"), { recursive: true });
  writeFileSync(path(), "exports.lastWriteDisplayData = null;");
  drawn = [];
  require(path()).lastWriteDisplayData = (...message: (typeof drawn)[number]) =>
    drawn.push(message);
});
afterEach(() => {
  for (const name of Object.keys(require.cache))
    if (name.startsWith(folder)) delete require.cache[name];
  rmSync(folder, { recursive: true, force: true });
});

/** What an interrupt does to the newest listener: those of others in this process may end it. */
const interrupt = () => (process.listeners("SIGINT").at(-1) as () => void)();

const step = (done: number) => ({ done, total: 3, doing: `animal <${done}>` });

describe("long work in a notebook", () => {
  it("draws one bar anew while it lasts and leaves nothing behind", async () => {
    const answer = await withProgress(async ({ onProgress }) => {
      onProgress?.(step(1));
      await new Promise((done) => setTimeout(done, 220));
      onProgress?.(step(2));
      // Sooner than a fifth of a second after the last: not drawn.
      onProgress?.(step(3));
      return 7;
    });
    expect(answer).toBe(7);
    expect(drawn.map(([m]) => m.data["text/plain"])).toEqual([
      "1 of 3: animal <1>",
      "2 of 3: animal <2>",
      "",
    ]);
    expect(drawn.map(([, update]) => update)).toEqual([false, true, true]);
    expect(new Set(drawn.map(([m]) => m.transient.display_id)).size).toBe(1);
    expect(drawn[0]![0].data["text/html"]).toContain('<progress max="3" value="1"');
    expect(drawn[0]![0].data["text/html"]).not.toContain("<1>");
  });

  it("draws nothing where nothing is reported", async () => {
    await withProgress(async () => 1);
    expect(drawn).toEqual([]);
  });

  it("is cancelled by an interrupt at its next step, and listens no longer afterwards", async () => {
    const before = process.listenerCount("SIGINT");
    let steps = 0;
    const work = withProgress(async ({ signal, onProgress }) => {
      for (; steps < 1000; steps++) {
        stopIfCancelled(signal);
        onProgress?.(step(steps));
        if (steps === 3) interrupt();
        await new Promise((done) => setImmediate(done));
      }
    });
    await expect(work).rejects.toThrow(/^Stopped/);
    expect(steps).toBe(4);
    expect(drawn.at(-1)![0].data).toEqual({ "text/plain": expect.stringMatching(/^Stopped: /) });
    expect(process.listenerCount("SIGINT")).toBe(before);
  });

  it("outside a notebook leaves Ctrl-C to the process", async () => {
    for (const name of Object.keys(require.cache))
      if (name.startsWith(folder)) delete require.cache[name];
    const before = process.listenerCount("SIGINT");
    const seen = await withProgress(async (long) => [long, process.listenerCount("SIGINT")]);
    expect(seen).toEqual([{}, before]);
  });
});
