import type { Command } from "commander";
import { onScreen, sayJson, sayLines } from "./on-screen.js";

/** What every command that answers takes beside its own options. */
export interface AnsweringOptions {
  readonly json: boolean;
  readonly quiet: boolean;
}

/** Adds `--json` and `--quiet` to a command that answers. */
export function answering(
  command: Command,
  asJson = "the answer as one JSON object, and nothing else",
): Command {
  return command
    .option("--json", `print ${asJson}`, false)
    .option("--quiet", "print only what went wrong", false);
}

/**
 * Prints an answer: as JSON, as lines, or not at all.
 *
 * @example sayAnswer(options, { kind: "day", animals: 3 }, ["Animals in care: 3."])
 */
export function sayAnswer(
  options: AnsweringOptions,
  json: { readonly kind: string; readonly [part: string]: unknown },
  lines: readonly string[],
): void {
  if (options.json) sayJson({ schema: 1, ...json });
  else if (!options.quiet && lines.length > 0) sayLines(lines.join("\n"));
}

/** One line that changes while work goes on. */
export interface ProgressLine {
  show(text: string): void;
  /** Leaves nothing behind. */
  end(): void;
}

/**
 * The line on a terminal; nothing anywhere else, so that files and pipes hold no marks
 * of a screen. At most ten changes a second.
 *
 * @example const line = progressLine(options); line.show("3 of 46"); line.end();
 */
export function progressLine({ quiet, json }: AnsweringOptions): ProgressLine {
  const { stderr, env } = process;
  if (quiet || json || stderr.isTTY !== true || env["TERM"] === "dumb")
    return { show: () => {}, end: () => {} };
  let last = 0;
  return {
    show: (text) => {
      const now = performance.now();
      if (now - last < 100) return;
      last = now;
      stderr.write(
        `\r\u001b[K${onScreen(text).slice(0, Math.max(20, (stderr.columns ?? 80) - 1))}`,
      );
    },
    end: () => {
      stderr.write("\r\u001b[K");
    },
  };
}

/** Progress of a calculation as such a line. */
export function progressOf(line: ProgressLine) {
  return ({ done, total, doing }: { done: number; total: number; doing: string }) =>
    line.show(`${done} of ${total}: ${doing}`);
}
