import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";

/** The command as it is built. */
export const main = fileURLToPath(new URL("../../dist/command-line/main.js", import.meta.url));

/** Runs a command in a folder; killed after so many milliseconds where that is given. */
export function run(
  work: string,
  words: readonly string[],
  killAfterMs?: number,
): Promise<number | null> {
  const child = spawn(process.execPath, [main, ...words], { stdio: "ignore", cwd: work });
  const timer =
    killAfterMs === undefined ? undefined : setTimeout(() => child.kill("SIGKILL"), killAfterMs);
  return new Promise((done) =>
    child.once("exit", (code) => {
      clearTimeout(timer);
      done(code);
    }),
  );
}
