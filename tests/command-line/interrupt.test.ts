import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";

const main = fileURLToPath(new URL("../../dist/command-line/main.js", import.meta.url));
const notebooks = fileURLToPath(new URL("notebooks", import.meta.url));

/** Processes that run a kernel whose files lie in a folder, read from /proc. */
function kernelsOf(temporary: string): number[] {
  return readdirSync("/proc")
    .filter((name) => /^\d+$/.test(name))
    .filter((name) => {
      try {
        const words = readFileSync(`/proc/${name}/cmdline`, "utf8");
        return words.includes(temporary) && words.includes("kernel");
      } catch {
        return false;
      }
    })
    .map(Number);
}

const waitFor = async (done: () => boolean, seconds: number) => {
  const end = Date.now() + seconds * 1000;
  while (!done() && Date.now() < end) await new Promise((go) => setTimeout(go, 100));
};

it.skipIf(!existsSync("/proc/self/cmdline") || !existsSync(main))(
  "Ctrl-C ends the run and its kernel",
  async () => {
    const temporary = mkdtempSync(join(tmpdir(), "gramline-interrupt-"));
    const run = spawn(
      process.execPath,
      [main, "run-notebooks", "hangs", "--notebooks", notebooks, "--out", join(temporary, "out")],
      // The kernel's connection file then lies in this folder, by which it is found.
      { env: { ...process.env, TMPDIR: temporary }, stdio: "ignore" },
    );
    const ended = new Promise<number | null>((done) => run.once("exit", (code) => done(code)));
    try {
      await waitFor(() => kernelsOf(temporary).length > 0, 30);
      expect(kernelsOf(temporary).length).toBeGreaterThan(0);
      run.kill("SIGINT");
      // 128 + 2, as shells report an interrupted command.
      expect(await ended).toBe(130);
      await waitFor(() => kernelsOf(temporary).length === 0, 10);
      expect(kernelsOf(temporary)).toEqual([]);
    } finally {
      run.kill("SIGKILL");
      rmSync(temporary, { recursive: true, force: true });
    }
  },
);
