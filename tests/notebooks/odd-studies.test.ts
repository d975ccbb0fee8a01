import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, it } from "vitest";
import { ownNotebook } from "../../src/command-line/own-notebook.js";
import { readNotebook } from "../../src/command-line/read-notebook.js";
import { UsageError } from "../../src/core/usage-error.js";
import { displayBundle } from "../../src/notebook/display-bundle.js";
import { joinedText } from "../../src/report/renderers/notebook-file.js";
import { drawnStudy } from "../look/drawn-studies.js";
import { oddStudies } from "../look/odd-studies.js";
import { studyFiles } from "../look/study-text.js";
import { runByFunction } from "./run-by-function.js";

/**
 * No notebook fails on a small or strange study that can be read: every one of them is
 * run as one function on every odd study, and on some that are drawn, forty in all. With
 * `npm test` on one of each; on all of them by `ODD_STUDIES=all`, as in CI; on hundreds of
 * drawn ones by the bench `odd-studies`.
 */
const folder = fileURLToPath(new URL("../../notebooks", import.meta.url));
// One study is not several houses: the notebook of an archive waits, and says for what.
const notebooks = readdirSync(folder).filter(
  (name) => name.endsWith(".ipynb") && name !== "pool-nurseries.ipynb",
);
const drawn = (count: number) => Array.from({ length: count }, (_, k) => `drawn-${k + 1}`);
const tried =
  process.env["ODD_STUDIES"] === "all"
    ? [...Object.keys(oddStudies), ...drawn(40 - Object.keys(oddStudies).length)]
    : ["one-weighing", "drawn-1"];
const studyOf = (name: string) =>
  oddStudies[name]?.() ?? drawnStudy(Number(name.slice("drawn-".length)));
/** Without a single weighing there is nothing to ask about, and a sentence says so. */
const withoutWeighings = ["no-animal"];

const work = mkdtempSync(join(tmpdir(), "gramline-odd-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

describe.each(tried)("%s", (odd) => {
  const study = mkdtempSync(join(work, `${odd}-`));
  for (const [file, text] of studyFiles(studyOf(odd))) writeFileSync(join(study, file), text);

  it.each(notebooks)(
    "%s",
    async (name) => {
      let shown = 0;
      const run = runByFunction(ownNotebook(readNotebook(join(folder, name)), study), (thing) => {
        const bundle = displayBundle(thing);
        expect(JSON.stringify(bundle)).not.toMatch(/\bNaN\b|\bInfinity\b|\[object Object\]/);
        // A front end knows no style of ours: parts of a line are kept apart by what is written.
        expect(joinedText(bundle["text/html"] as string | undefined)).not.toMatch(
          /[^\s>]<\/(?:span|b|a|time)>(?:<\/(?:span|b|a)>)*<(?:span|b|a|time)\b[^>]*>[^\s<]/,
        );
        shown++;
      });
      if (withoutWeighings.includes(odd)) {
        const error = await run.catch((each: unknown) => each);
        expect(error).toBeInstanceOf(UsageError);
        expect((error as UsageError).message).toMatch(/at least one weighing/);
        return;
      }
      await run;
      expect(shown).toBeGreaterThan(3);
    },
    300_000,
  );
});
