import { afterEach, vi } from "vitest";

/** After each test nothing is left of a command that ran in this process: no mock, no exit code. */
export function leaveNothingBehind(): void {
  const cacheBefore = process.env["GRAMLINE_CACHE"];
  afterEach(() => {
    vi.restoreAllMocks();
    // Whoever leaves people out switches it off, for the processes that it starts, too.
    if (cacheBefore === undefined) delete process.env["GRAMLINE_CACHE"];
    else process.env["GRAMLINE_CACHE"] = cacheBefore;
    process.exitCode = undefined;
  });
}
