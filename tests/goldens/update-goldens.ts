import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { coreResults, questionResults } from "./demo-results.js";
import { goldenOf } from "./digest-of.js";

/**
 * Writes the goldens anew and says which moved. Every one that moves is entered
 * in GOLDEN-CHANGES.md by hand: by what, before and after, and why.
 *
 *     npx tsx tests/goldens/update-goldens.ts
 */
const path = fileURLToPath(new URL("./demo-853cc0e.json", import.meta.url));
let before: Record<string, { digest?: string }> = {};
try {
  before = JSON.parse(readFileSync(path, "utf8"));
} catch {
  console.log("no goldens yet");
}
const after: Record<string, unknown> = {};
for (const results of [coreResults(), questionResults()]) {
  for await (const piece of results) {
    const [name, golden] = goldenOf(piece);
    after[name] = golden;
    if (before[name]?.digest !== golden.digest) console.log(`moved: ${name}`);
  }
}
for (const name of Object.keys(before)) if (!(name in after)) console.log(`gone: ${name}`);
const lines = Object.entries(after).map(([k, v]) => `${JSON.stringify(k)}:${JSON.stringify(v)}`);
writeFileSync(path, `{\n${lines.join(",\n")}\n}\n`);
