import { join } from "node:path";
import { writeWhole } from "../publish/write-whole.js";
import { kernelCommand } from "./kernel-connection.js";

/**
 * Writes what Jupyter needs to find the notebook kernel into the project's own
 * cache folder and returns the folder to put in `JUPYTER_PATH`. Nothing is
 * installed for the user or the machine.
 */
export async function writeKernelSpec(projectRoot: string): Promise<string> {
  const folder = join(projectRoot, "node_modules", ".cache", "gramline", "jupyter");
  const kernel = join(folder, "kernels", "tslab");
  const spec = {
    argv: kernelCommand("{connection_file}"),
    display_name: "TypeScript",
    language: "typescript",
    interrupt_mode: "signal",
  };
  await writeWhole(join(kernel, "kernel.json"), `${JSON.stringify(spec, null, 2)}\n`);
  return folder;
}
