import { vi } from "vitest";
import { runCommand } from "../../src/command-line/run-command.js";

/**
 * Runs a command in this process and hears what it says: `err` is what went to the
 * stream of errors, `all` that and what it printed.
 */
export async function said(
  words: readonly string[],
): Promise<{ readonly code: number; readonly err: string; readonly all: string }> {
  const err: string[] = [];
  const all: string[] = [];
  const hear = (into: readonly string[][]) =>
    ((...text: unknown[]) => {
      for (const each of into)
        each.push(text.filter((part) => typeof part !== "function").join(" "));
      return true;
    }) as never;
  vi.spyOn(process.stderr, "write").mockImplementation(hear([err, all]));
  vi.spyOn(console, "error").mockImplementation(hear([err, all]));
  vi.spyOn(console, "log").mockImplementation(hear([all]));
  vi.spyOn(process.stdout, "write").mockImplementation(hear([all]));
  process.exitCode = undefined;
  try {
    return { code: await runCommand(words), err: err.join("\n"), all: all.join("\n") };
  } finally {
    vi.restoreAllMocks();
    process.exitCode = undefined;
  }
}
