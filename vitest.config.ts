import { defineConfig } from "vitest/config";
import { BaseSequencer, type TestSpecification } from "vitest/node";

/**
 * Files that take longest, the longest first (processor time of one run, 11/2026): begun
 * last, one of them would keep a single core busy while the other stands still.
 */
const dearest = [
  "look/odd-studies",
  "docs/code-blocks",
  "command-line/run-notebook",
  "look/words-of-pages",
  "analysis/questions",
  "attack/names-planted",
  "seasons/demo-seasons",
  "analysis/real-or-not",
  "attack/killed",
  "analysis/slow-gainer-demo",
  "records/corpus/corpus",
  "records/another-hand/another-hand",
  "notebooks/own-study",
  "rates/conversion-coverage",
  "notebooks/odd-studies",
  "goldens/demo-goldens",
  "flags/watch-history",
];

class DearestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId }: TestSpecification) => {
      const at = dearest.findIndex((name) => moduleId.endsWith(`tests/${name}.test.ts`));
      return at < 0 ? dearest.length : at;
    };
    return (await super.sort(files)).sort((a, b) => place(a) - place(b));
  }
}

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    exclude: ["tests/bench/**", "node_modules/**"],
    // By default one core is left to the screen; here nobody watches.
    maxWorkers: "100%",
    // Files of one worker share what they import: loading it anew for each took a third of the time.
    isolate: false,
    sequence: { sequencer: DearestFirst },
    // No test leans on what another run left in the user's cache folder, or leaves anything there.
    env: { GRAMLINE_CACHE: "off" },
    // Against what never ends, not a measure of speed: the machine may be busy with other things.
    testTimeout: 300_000,
    hookTimeout: 300_000,
  },
});
