import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { demoStudy } from "./generator/demo-study.js";

/** Writes the demo study beside this file. The same seed gives the same bytes. */
for (const [name, text] of demoStudy()) {
  writeFileSync(fileURLToPath(new URL(name, import.meta.url)), text);
  console.log(`${name}: ${Buffer.byteLength(text)} bytes`);
}
