import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { tslabDisplay } from "../../src/notebook/tslab-display.js";

/**
 * A stand-in for the kernel's two modules, loaded as the kernel loads its own
 * (file names and exports as in tslab 1.0.22); the real kernel is used in
 * tests/command-line/run-notebook.test.ts.
 */
const require = createRequire(import.meta.url);
let folder: string;
let jupyter: { lastWriteDisplayData?: unknown; shown: unknown[] };
const path = () => join(folder, "tslab", "dist", "jupyter.js");

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "gramline-tslab-"));
  mkdirSync(join(folder, "tslab", "dist"), { recursive: true });
  writeFileSync(
    path(),
    "exports.shown = []; exports.lastWriteDisplayData = (message, update) => exports.shown.push([message, update]);",
  );
  writeFileSync(
    join(folder, "tslab", "dist", "public.js"),
    'const j = require("./jupyter"); exports.display = { raw: (type, data) => j.shown.push([type, data]) };',
  );
});
afterEach(() => {
  for (const name of Object.keys(require.cache)) {
    if (name.startsWith(folder)) delete require.cache[name];
  }
  rmSync(folder, { recursive: true, force: true });
});

const bundle = { "image/svg+xml": "<svg/>", "text/plain": "a picture", "x/y": { a: 1 } };

describe("showing through the kernel", () => {
  it("is not offered outside a kernel", () => {
    expect(tslabDisplay()).toBeNull();
  });

  it("sends the whole bundle as one output, each time through the writer of the running cell", () => {
    jupyter = require(path());
    tslabDisplay()!.display(bundle);
    const later: unknown[] = [];
    // The kernel puts a new writer there for every cell.
    jupyter.lastWriteDisplayData = (message: unknown) => later.push(message);
    tslabDisplay()!.display(bundle);
    const message = { data: bundle, metadata: {}, transient: {} };
    expect(jupyter.shown).toEqual([[message, false]]);
    expect(later).toEqual([message]);
  });

  it("falls back to the public display, richest form first, when the writer is gone", () => {
    jupyter = require(path());
    delete jupyter.lastWriteDisplayData;
    tslabDisplay()!.display(bundle);
    tslabDisplay()!.display({ "text/plain": "words" });
    expect(jupyter.shown).toEqual([
      ["image/svg+xml", "<svg/>"],
      ["text/plain", "words"],
    ]);
  });
});
