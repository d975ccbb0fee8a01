/**
 * Errors that come late: a rejected promise that nobody awaited, an exception in
 * a timer. The notebook kernel prints them and goes on, so a notebook with a
 * forgotten `await` looks as if it had worked. These two calls make it fail.
 */
const caught: string[] = [];
let watching = false;
/** Lines of a trace that help to find a mistake in a cell. */
const isOfUse = (line: string) => !/node_modules[\\/]tslab|\bnode:/.test(line);

/**
 * Starts to record late errors, and leaves out of what an error says where in the kernel
 * and in Node it came through. Call it once, in the first cell.
 *
 * @example watchForLateErrors(); // the first line of every notebook
 */
export function watchForLateErrors(): void {
  if (watching) return;
  watching = true;
  Error.prepareStackTrace = (error, frames) =>
    [String(error), ...frames.map((each) => `    at ${each}`).filter(isOfUse)].join("\n");
  process.on("unhandledRejection", (reason) => caught.push(describe(reason)));
  process.on("uncaughtException", (error) => caught.push(describe(error)));
}

/**
 * Waits a moment for what is still under way, then throws if any error came
 * late. The last cell of every notebook: `await assertClean();`
 *
 * @example await assertClean(); // the last line of every notebook
 */
export async function assertClean(waitMs = 100): Promise<void> {
  if (!watching) {
    throw new Error("assertClean: watchForLateErrors() was not called in the first cell.");
  }
  await new Promise((done) => setTimeout(done, waitMs));
  if (caught.length === 0) {
    console.log("Clean run: every cell ended without an error, none came late.");
    return;
  }
  const all = caught.splice(0);
  throw new Error(
    `${all.length} error${all.length === 1 ? "" : "s"} came after the cell had ended ` +
      `(is an await missing?):\n${all.join("\n")}`,
  );
}

function describe(reason: unknown): string {
  return reason instanceof Error ? `${reason.name}: ${reason.message}` : String(reason);
}
