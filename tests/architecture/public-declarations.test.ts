import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("../..", import.meta.url));
const dist = join(root, "dist");

/** The compiler inside the notebook kernel: TypeScript 5.0 with the old module resolution. */
const kernelTypeScript = createRequire(import.meta.url)(
  "@tslab/typescript-for-tslab",
) as typeof import("typescript");

const declarations = existsSync(dist)
  ? readdirSync(dist, { recursive: true, encoding: "utf8" }).filter((name) =>
      name.endsWith(".d.ts"),
    )
  : [];

describe("the public declarations", () => {
  it("have been built (the step before the tests builds them)", () => {
    expect(declarations.length).toBeGreaterThan(20);
  });

  it("check without a fault in the compiler of the notebook kernel", () => {
    expect(kernelTypeScript.version).toMatch(/^5\.0\./);
    // A file at the root, as a notebook's cell would be: the package is found through
    // node_modules/gramline, by `main` and `types`, without `exports`.
    const folder = mkdtempSync(join(root, "node_modules", ".cache-declarations-"));
    const cell = join(folder, "cell.ts");
    writeFileSync(
      cell,
      [
        'import * as g from "gramline";',
        'import { fitCurve, type CurveName } from "gramline/growth";',
        'import { median } from "gramline/stats";',
        'import { writeHandOver, fitManyCurves } from "gramline/node";',
        "export const names: string[] = Object.keys(g);",
        'export const curve: CurveName = "gompertz";',
        "export const same: typeof g.growth.fitCurve = fitCurve;",
        "export const middle: number = median([1, 2, 4]);",
        "export const written: Promise<number> = writeHandOver('study', { out: 'page.html' });",
        "export const many = fitManyCurves;",
        "",
      ].join("\n"),
    );
    try {
      const program = kernelTypeScript.createProgram([cell], {
        module: kernelTypeScript.ModuleKind.CommonJS,
        moduleResolution: kernelTypeScript.ModuleResolutionKind.Node10,
        target: kernelTypeScript.ScriptTarget.ES2022,
        lib: ["lib.es2022.d.ts", "lib.dom.d.ts"],
        noEmit: true,
        types: [],
        esModuleInterop: true,
      });
      const faults = kernelTypeScript
        .getPreEmitDiagnostics(program)
        .map(
          (d) =>
            `${d.file?.fileName ?? ""}: ${kernelTypeScript.flattenDiagnosticMessageText(d.messageText, " ")}`,
        );
      expect(faults).toEqual([]);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  it("mention no types of vega, danfojs-node or zod", () => {
    const reached = reachedFrom(join(dist, "index.d.ts"));
    expect(reached.size).toBeGreaterThan(20);
    const mentions = [...reached].filter((path) =>
      /from\s+["'](vega|vega-lite|danfojs-node|zod)["']|import\(["'](vega|vega-lite|danfojs-node|zod)/.test(
        // An example in a comment mentions no type.
        readFileSync(path, "utf8").replace(/\/\*[\s\S]*?\*\//g, ""),
      ),
    );
    expect(mentions).toEqual([]);
  });
});

/** Every declaration file that the public entry reaches through relative imports. */
function reachedFrom(start: string): Set<string> {
  const seen = new Set<string>();
  const queue = [start];
  while (queue.length > 0) {
    const path = queue.pop()!;
    if (seen.has(path) || !existsSync(path)) continue;
    seen.add(path);
    for (const m of readFileSync(path, "utf8").matchAll(/["'](\.{1,2}\/[^"']+)\.js["']/g)) {
      queue.push(join(path, "..", `${m[1]}.d.ts`));
    }
  }
  return seen;
}
