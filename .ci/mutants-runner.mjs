/**
 * Runs the tests of one file in this process, for Stryker: bundled once, begun afresh for
 * every mutant. The tests are those of vitest with its own `expect`; what is left out is the
 * worker that vitest starts for each run, which took a second a mutant.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import vm from "node:vm";
import { build } from "esbuild";

const here = dirname(fileURLToPath(import.meta.url));
const require = createRequire(import.meta.url);

/** Vitest without its workers, and files that know where they stand though all are one. */
const inOne = { name: "in one", setup: setUp };
function setUp({ onResolve, onLoad }) {
  onResolve({ filter: /^vitest$/ }, () => ({ path: join(here, "mutants-vitest.mjs") }));
  onLoad({ filter: /\/(src|tests)\/.*\.ts$/ }, ({ path }) => {
    const url = JSON.stringify(pathToFileURL(path).href);
    return {
      contents: readFileSync(path, "utf8").replaceAll("import.meta.url", url),
      loader: "ts",
    };
  });
}

class DirectRunner {
  #script;
  #space = (globalThis.__stryker__ ??= {});

  capabilities() {
    return { reloadEnvironment: true };
  }

  async init() {
    const tests = JSON.parse(process.env.MUTANTS_TESTS);
    const lines = tests.map((test) => `import ${JSON.stringify(`./${test}`)};`);
    const { outputFiles } = await build({
      stdin: {
        contents: [...lines, 'export { tests } from "vitest";'].join("\n"),
        resolveDir: process.cwd(),
      },
      bundle: true,
      write: false,
      format: "cjs",
      platform: "node",
      target: "node20",
      // The package calls its files free of side effects; a test is one.
      ignoreAnnotations: true,
      logLevel: "error",
      external: ["*.node", "@duckdb/*", "zeromq", "@resvg/*", "danfojs-node"],
      nodePaths: [join(here, "../node_modules")],
      plugins: [inOne],
    });
    const text = `(function (require, module, exports) {${outputFiles[0].text}\n})`;
    this.#script = new vm.Script(text, { filename: "tests-of-one-file.cjs" });
  }

  /** The tests of a fresh copy of everything: nothing that a mutant has spoilt is kept. */
  #tests() {
    const module = { exports: {} };
    this.#script.runInThisContext()(require, module, module.exports);
    return module.exports.tests;
  }

  async dryRun() {
    const space = this.#space;
    space.activeMutant = undefined;
    const results = [];
    for (const { id, run } of this.#tests()) {
      const begun = performance.now();
      space.currentTestId = id;
      const failure = await failureOf(run);
      space.currentTestId = undefined;
      const timeSpentMs = performance.now() - begun;
      const common = { id, name: id, timeSpentMs };
      results.push(
        failure === null
          ? { ...common, status: 0 }
          : { ...common, status: 1, failureMessage: failure },
      );
    }
    return { status: "complete", tests: results, mutantCoverage: space.mutantCoverage };
  }

  async mutantRun({ activeMutant, testFilter, hitLimit }) {
    const space = this.#space;
    Object.assign(space, { activeMutant: undefined, hitCount: 0, hitLimit });
    const asked = testFilter && new Set(testFilter);
    const tests = this.#tests().filter(({ id }) => !asked || asked.has(id));
    space.activeMutant = activeMutant.id;
    for (const [i, { id, run }] of tests.entries()) {
      const failureMessage = await failureOf(run);
      if (space.hitCount > hitLimit) return { status: "timeout", reason: "went round too often" };
      if (failureMessage !== null)
        return { status: "killed", killedBy: [id], failureMessage, nrOfTests: i + 1 };
    }
    return { status: "survived", nrOfTests: tests.length };
  }
}

async function failureOf(run) {
  try {
    await run();
    return null;
  } catch (error) {
    return String(error?.message ?? error) || "failed";
  }
}

const factory = () => new DirectRunner();
factory.inject = [];
export const strykerPlugins = [{ kind: "TestRunner", name: "direct", factory }];
