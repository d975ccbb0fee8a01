import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";

/** Writes a dated result of a bench beside the others: machine, settings, rows. */
export function record(
  name: string,
  settings: Readonly<Record<string, unknown>>,
  rows: readonly unknown[],
): void {
  const file = fileURLToPath(new URL(`./results/${name}.json`, import.meta.url));
  const result = {
    bench: name,
    date: new Date().toISOString().slice(0, 10),
    machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} logical cores, Node ${process.version}`,
    settings,
    rows,
  };
  writeFileSync(file, `${JSON.stringify(result, null, 1)}\n`);
}
