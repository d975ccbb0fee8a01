// Rehearses the README's "Your own study in five minutes" in a fresh clone, line for line as it is
// printed there, and says how long it took; the two sheets are filled in from the examples, as it says.
//   five-minutes.mjs FOLDER: where the clone is made
import { spawnSync } from "node:child_process";
import { createRequire } from "node:module";
import { readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";

const root = resolve(import.meta.dirname, "..");
const clone = join(resolve(process.argv[2]), "rehearsal", "gramline");
const started = Date.now();
const run = (command, args, cwd) => {
  const done = spawnSync(command, args, { cwd, encoding: "utf8", env: { ...process.env, CI: "true" } });
  console.log(`$ ${[command, ...args].join(" ")}\n${done.stdout}${done.stderr}`);
  if (done.status !== 0) throw new Error(`ended with ${done.status}`);
};
run("git", ["clone", "--quiet", root, clone], root);
const readme = readFileSync(join(clone, "README.md"), "utf8");
const section = /## Your own study in five minutes\n([\s\S]*?)\n## /.exec(readme)[1];
const lines = [...section.matchAll(/```sh\n([\s\S]*?)```/g)].flatMap((m) => m[1].trim().split("\n"));
if (lines.length !== 4) throw new Error(`the section has ${lines.length} lines to type, not 4`);

for (const line of lines) {
  run("bash", ["-c", line], clone);
  if (!line.includes("gramline new")) continue;
  // What a person does in a spreadsheet: the example's lines copied into the sheet.
  const xlsx = createRequire(join(clone, "package.json"))("@e965/xlsx");
  const path = join(clone, "..", "my-nursery", "records.xlsx");
  const book = xlsx.read(readFileSync(path));
  for (const name of ["animals", "weighings"]) book.Sheets[name] = book.Sheets[`example ${name}`];
  writeFileSync(path, xlsx.write(book, { type: "buffer", bookType: "xlsx" }));
}
const page = readFileSync(join(clone, "out", "day.html"), "utf8");
const named = /open `out\/day\.html`/.test(section) && page.includes("Our nursery");
const seconds = (Date.now() - started) / 1000;
console.log(`from clone to the first page of one's own: ${seconds.toFixed(0)} s, 300 at most`);
if (!named || seconds > 300) process.exitCode = 1;
