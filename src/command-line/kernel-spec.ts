import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { kernelCommand } from "./kernel-connection.js";

/**
 * Writes what Jupyter needs to find the notebook kernel into the project's own
 * cache folder and returns the folder to put in `JUPYTER_PATH`. Nothing is
 * installed for the user or the machine.
 */
export function writeKernelSpec(projectRoot: string): string {
  const folder = join(projectRoot, "node_modules", ".cache", "gramline", "jupyter");
  const kernel = join(folder, "kernels", "tslab");
  mkdirSync(kernel, { recursive: true });
  const spec = {
    argv: kernelCommand("{connection_file}"),
    display_name: "TypeScript",
    language: "typescript",
    interrupt_mode: "signal",
  };
  writeFileSync(join(kernel, "kernel.json"), `${JSON.stringify(spec, null, 2)}\n`);
  return folder;
}
