import { accessSync, constants, mkdirSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { userCacheFolder } from "../cache/disk-cache.js";
import { writeWhole } from "../publish/write-whole.js";
import { endsWithParent } from "./end-with-parent.js";
import { kernelCommand } from "./kernel-connection.js";

/**
 * Writes what Jupyter needs to find the notebook kernel into a cache folder and returns
 * the folder to put in `JUPYTER_PATH`. Nothing is installed for the user or the machine.
 *
 * @param home the folder gramline lies in.
 */
export async function writeKernelSpec(home: string): Promise<string> {
  const folder = join(cacheOf(home), "jupyter");
  const kernel = join(folder, "kernels", "tslab");
  const spec = {
    argv: kernelCommand("{connection_file}", endsWithParent(null)),
    display_name: "TypeScript",
    language: "typescript",
    interrupt_mode: "signal",
  };
  await writeWhole(join(kernel, "kernel.json"), `${JSON.stringify(spec, null, 2)}\n`);
  return folder;
}

/**
 * The cache of the project that gramline lies in: beside its packages, never inside an
 * installed one; the user's own where that cannot be written.
 */
function cacheOf(home: string): string {
  const above = dirname(home);
  const packages = basename(above) === "node_modules" ? above : join(home, "node_modules");
  try {
    mkdirSync(packages, { recursive: true });
    accessSync(packages, constants.W_OK);
    return join(packages, ".cache", "gramline");
  } catch {
    return userCacheFolder();
  }
}
