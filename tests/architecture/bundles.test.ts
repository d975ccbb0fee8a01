import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("../..", import.meta.url));

/** A page's script made from the built package: what a browser would be given. */
async function bundled(contents: string) {
  const { outputFiles, metafile } = await build({
    stdin: { contents, resolveDir: root, loader: "ts" },
    bundle: true,
    minify: true,
    write: false,
    format: "iife",
    globalName: "bundle",
    platform: "browser",
    metafile: true,
    logLevel: "silent",
  });
  return { text: outputFiles[0]!.text, inputs: Object.keys(metafile.inputs) };
}

describe("the subpaths for a browser", () => {
  it("bundle fitCurve through gramline/growth under 61 KB, without a module of Node", async () => {
    const { text, inputs } = await bundled('export { fitCurve } from "gramline/growth";');
    expect(text.length).toBeLessThan(61_000);
    expect(text).not.toMatch(/node:/);
    expect(inputs.length).toBeGreaterThan(10);
  });

  it("give the same fit bundled as unbundled", async () => {
    const { text } = await bundled('export { fitCurve } from "gramline/growth";');
    const data = {
      ages: [5, 12, 19, 26, 33, 40, 47, 54],
      masses: [2400, 3010, 3720, 4480, 5270, 6060, 6800, 7490],
    };
    const run = new Function(
      "data",
      `${text}; return bundle.fitCurve(data, { curve: "gompertz" })`,
    );
    const { fitCurve } = await import("../../src/growth/fit-curve.js");
    expect(run(data)).toEqual(fitCurve(data, { curve: "gompertz" }));
  });

  it("bundle whole, growth and statistics, without a module of Node", async () => {
    for (const path of ["gramline/growth", "gramline/stats"]) {
      const { text } = await bundled(`import * as all from "${path}"; export { all };`);
      expect(text).not.toMatch(/["']node:|worker_threads/);
    }
  });
});
