import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach } from "vitest";

/** Gives each test of a file a cache of its own, empty, and puts the setting back after it. */
export function ownCache(): { folder: () => string; answers: () => string[] } {
  const before = process.env["GRAMLINE_CACHE"];
  let place = "";
  beforeEach(() => {
    place = mkdtempSync(join(tmpdir(), "gramline-cache-"));
    process.env["GRAMLINE_CACHE"] = place;
  });
  afterEach(() => {
    rmSync(place, { recursive: true, force: true });
    if (before === undefined) delete process.env["GRAMLINE_CACHE"];
    else process.env["GRAMLINE_CACHE"] = before;
  });
  const folder = () => join(place, "answers");
  return {
    folder,
    answers: () =>
      readdirSync(folder())
        .filter((name) => name.endsWith(".answer"))
        .sort(),
  };
}
