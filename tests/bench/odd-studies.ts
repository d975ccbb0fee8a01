import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { ownNotebook } from "../../src/command-line/own-notebook.js";
import { readNotebook } from "../../src/command-line/read-notebook.js";
import { displayBundle } from "../../src/notebook/display-bundle.js";
import { drawnStudy } from "../look/drawn-studies.js";
import { studyFiles } from "../look/study-text.js";
import { runByFunction } from "../notebooks/run-by-function.js";

/**
 * Every notebook, run as one function, on hundreds of small strange studies: none may fail
 * but with a sentence that is meant for its reader, and nothing that is shown may hold a
 * number that is none. Writes how many of each came to what.
 *
 *   npm run bench odd-studies [count] [first]
 */
const [, , count = "400", from = "1"] = process.argv;
const folder = fileURLToPath(new URL("../../notebooks", import.meta.url));
const notebooks = readdirSync(folder).filter(
  (name) => name.endsWith(".ipynb") && name !== "pool-nurseries.ipynb",
);
const began = Date.now();
const sums = { ran: 0, refused: 0, failed: 0 };
const refusals = new Map<string, number>();
const faults: string[] = [];
const work = mkdtempSync(join(tmpdir(), "gramline-odd-"));
for (let draw = Number(from); draw < Number(from) + Number(count); draw++) {
  const made = mkdtempSync(join(work, "study-"));
  for (const [file, text] of studyFiles(drawnStudy(draw))) writeFileSync(join(made, file), text);
  for (const name of notebooks) {
    try {
      await runByFunction(ownNotebook(readNotebook(join(folder, name)), made), (thing) => {
        const shown = JSON.stringify(displayBundle(thing));
        const odd = /\bNaN\b|\bInfinity\b|\[object Object\]/.exec(shown);
        if (odd !== null) throw new TypeError(`shows ${odd[0]}`);
      });
      sums.ran++;
    } catch (error) {
      if (error instanceof Error && error.name === "UsageError") {
        sums.refused++;
        const said = error.message.replace(/[A-Z]\d\d-\d\d|\d+/g, "…").slice(0, 100);
        refusals.set(said, (refusals.get(said) ?? 0) + 1);
      } else {
        sums.failed++;
        faults.push(`drawn-${draw}, ${name}: ${error}`);
      }
    }
  }
  rmSync(made, { recursive: true, force: true });
  if (draw % 10 === 0) console.log(draw, JSON.stringify(sums));
}
rmSync(work, { recursive: true, force: true });
writeFileSync(
  new URL("./results/odd-studies.json", import.meta.url),
  `${JSON.stringify(
    {
      bench: "odd-studies",
      date: new Date().toISOString().slice(0, 10),
      machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
      studies: Number(count),
      from: Number(from),
      notebooks: notebooks.length,
      seconds: Math.round((Date.now() - began) / 1000),
      ...sums,
      refusals: Object.fromEntries(refusals),
      faults,
    },
    null,
    2,
  )}\n`,
);
console.log(JSON.stringify(sums), [...refusals], faults.join("\n"));
