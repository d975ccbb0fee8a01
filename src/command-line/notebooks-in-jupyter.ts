import { spawn, spawnSync } from "node:child_process";
import { delimiter } from "node:path";
import { UsageError } from "../core/usage-error.js";
import { writeKernelSpec } from "./kernel-spec.js";

/**
 * Opens the installed Jupyter (Lab when there is one, else the classic
 * Notebook) in a folder of notebooks, with the kernel found from the project's
 * own folder. Resolves with Jupyter's exit code.
 */
export async function openNotebooks(projectRoot: string, notebooks: string): Promise<number> {
  const found = findJupyter();
  if (found === null) {
    throw new UsageError({
      needed: "Jupyter",
      came: "neither jupyter lab nor jupyter notebook answers on this machine",
      where: "npm run notebooks",
      todo: `${jupyterFix()} The pages need no Jupyter: npm start.`,
    });
  }
  const child = spawn(found.command, [...found.args, notebooks], {
    cwd: projectRoot,
    stdio: "inherit",
    env: { ...process.env, ...(await jupyterEnvironment(projectRoot)) },
  });
  // Jupyter asks once more on Ctrl-C; it must hear the key, and this process must outlive it.
  process.on("SIGINT", () => {});
  return new Promise((done, reject) => {
    child.once("error", reject);
    child.once("exit", (code) => done(code ?? 1));
  });
}

/** The environment in which Jupyter finds the kernel. */
export async function jupyterEnvironment(projectRoot: string): Promise<{ JUPYTER_PATH: string }> {
  const folder = await writeKernelSpec(projectRoot);
  const before = process.env["JUPYTER_PATH"];
  return { JUPYTER_PATH: before ? `${folder}${delimiter}${before}` : folder };
}

export interface FoundJupyter {
  readonly command: string;
  readonly args: readonly string[];
  readonly version: string;
}

/** Jupyter Lab or Notebook as installed; null when neither answers. */
export function findJupyter(): FoundJupyter | null {
  for (const args of [["lab"], ["notebook"]]) {
    const asked = spawnSync("jupyter", [...args, "--version"], { encoding: "utf8" });
    if (asked.status === 0) {
      return { command: "jupyter", args, version: `${args[0]} ${asked.stdout.trim()}` };
    }
  }
  return null;
}

/** How to get Jupyter on this kind of machine. */
export function jupyterFix(): string {
  if (process.platform === "linux") {
    return "Install it with: sudo apt-get install jupyter-notebook (Debian, Ubuntu), or pip install jupyterlab.";
  }
  return "Install it with: pip install jupyterlab (Python from python.org).";
}
