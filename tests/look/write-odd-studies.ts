import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { oddStudies } from "./odd-studies.js";
import { studyFiles } from "./study-text.js";

/** Writes odd studies, a folder each: `tsx tests/look/write-odd-studies.ts FOLDER [NAME...]`. */
const [folder, ...wanted] = process.argv.slice(2);
if (folder === undefined) throw new Error("name the folder that the studies are written to");
for (const name of wanted.length > 0 ? wanted : Object.keys(oddStudies)) {
  const make = oddStudies[name];
  if (make === undefined) throw new Error(`there is no odd study "${name}"`);
  mkdirSync(join(folder, name), { recursive: true });
  for (const [file, text] of studyFiles(make())) writeFileSync(join(folder, name, file), text);
}
