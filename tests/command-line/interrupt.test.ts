import { spawn } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import { endsWithParent } from "../../src/command-line/end-with-parent.js";
import { kernelCommand, makeConnection } from "../../src/command-line/kernel-connection.js";

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

const canSee = existsSync("/proc/self/cmdline") && existsSync(main);
const foldersIn = (temporary: string) =>
  readdirSync(temporary).filter((name) => name.startsWith("gramline-kernel-"));

/** Starts a notebook that hangs and waits for its kernel, which lies in a folder of its own. */
async function hanging(temporary: string) {
  const run = spawn(
    process.execPath,
    [main, "run-notebooks", "hangs", "--notebooks", notebooks, "--out", join(temporary, "out")],
    { env: { ...process.env, TMPDIR: temporary }, stdio: "ignore" },
  );
  const ended = new Promise<number | null>((done) => run.once("exit", (code) => done(code)));
  await waitFor(() => kernelsOf(temporary).length > 0, 30);
  expect(kernelsOf(temporary).length).toBeGreaterThan(0);
  return { run, ended };
}

// 128 + 2, as shells report an interrupted command; a killed one has no code.
it.skipIf(!canSee).each([
  ["Ctrl-C", "SIGINT", 130],
  ["a kill that nobody can catch", "SIGKILL", null],
] as const)("%s ends the run, its kernel and the folder with the key", async (_, signal, code) => {
  const temporary = mkdtempSync(join(tmpdir(), "gramline-interrupt-"));
  // Left by a dead owner: no system numbers its processes so high (Linux: at most 2^22).
  mkdirSync(join(temporary, "gramline-kernel-99999999-left"));
  const { run, ended } = await hanging(temporary);
  try {
    expect(foldersIn(temporary)).toHaveLength(1);
    expect(foldersIn(temporary)[0]).toContain(`gramline-kernel-${run.pid}-`);
    run.kill(signal);
    expect(await ended).toBe(code);
    await waitFor(() => kernelsOf(temporary).length + foldersIn(temporary).length === 0, 10);
    expect(kernelsOf(temporary)).toEqual([]);
    expect(foldersIn(temporary)).toEqual([]);
  } finally {
    run.kill("SIGKILL");
    rmSync(temporary, { recursive: true, force: true });
  }
});

it.skipIf(!canSee)(
  "a kernel that Jupyter started ends with Jupyter, and its key with it",
  async () => {
    const temporary = mkdtempSync(join(tmpdir(), "gramline-jupyter-"));
    const { file, folder } = await makeConnection();
    const named = join(temporary, "kernel.json");
    renameSync(file, named);
    rmSync(folder, { recursive: true });
    const [command, ...args] = kernelCommand(named, endsWithParent(null));
    const starts = `require("node:child_process").spawn(${JSON.stringify(command)}, ${JSON.stringify(args)}); setInterval(() => {}, 1000)`;
    const jupyter = spawn(process.execPath, ["-e", starts], { stdio: "ignore" });
    const kernels = () => kernelsOf(named).filter((pid) => pid !== jupyter.pid);
    try {
      await waitFor(() => kernels().length > 0, 30);
      // It must have begun to look; it runs as long as Jupyter does.
      await new Promise((go) => setTimeout(go, 3000));
      expect(kernels()).toHaveLength(1);
      expect(existsSync(named)).toBe(true);
      jupyter.kill("SIGKILL");
      await waitFor(() => kernels().length === 0, 10);
      expect(kernels()).toEqual([]);
      expect(existsSync(named)).toBe(false);
    } finally {
      jupyter.kill("SIGKILL");
      rmSync(temporary, { recursive: true, force: true });
    }
  },
);
