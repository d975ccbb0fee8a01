/**
 * Makes the documentation site: `npm run docs` writes `out/docs`, plain files that
 * open from a disk, a memory stick or any server.
 *
 *   npm run docs -- --notebooks FOLDER   takes the executed notebooks from there
 */
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { runNotebooks } from "../../src/command-line/run-notebooks.js";
import { writeDay } from "../../src/publish/write-day.js";
import { writeHandOver } from "../../src/publish/write-hand-over.js";
import { writeSet } from "../../src/publish/write-set.js";
import type { NotebookFile } from "../../src/report/renderers/notebook-file.js";
import { buildSite } from "./build-site.js";
import { demoParts } from "./demo-parts.js";
import { galleryCopy, notebookNames } from "./gallery.js";
import { wrongLinks } from "./wrong-links.js";

const root = fileURLToPath(new URL("../..", import.meta.url));
const out = join(root, "out", "docs");
const demo = join(root, "data-demo");
const { values } = parseArgs({ options: { notebooks: { type: "string" } } });

const notebooks = await executed();
const parts = await demoParts(demo);
const asked = new Set<string>();
const site = new Map<string, string | Uint8Array>(
  buildSite({
    part: (name) => {
      const html = parts.get(name);
      if (html === undefined)
        throw new Error(`A page asks for "${name}"; the demo has no such part`);
      asked.add(name);
      return html;
    },
    wasRun: (name) => notebooks.has(`${name}.html`),
  }),
);
for (const [name, file] of notebooks) site.set(`gallery/${name}`, file);
const pages = mkdtempSync(join(tmpdir(), "gramline-docs-day-"));
await writeDay(demo, { out: join(pages, "day.html") });
await writeHandOver(demo, {
  out: join(pages, "hand-over.html"),
  sheet: join(pages, "feeding-sheet.html"),
});
for (const name of ["day", "hand-over", "feeding-sheet"])
  site.set(`demo/${name}.html`, readFileSync(join(pages, `${name}.html`)));
rmSync(pages, { recursive: true, force: true });
await writeSet(out, "docs", site);

const wrong = wrongLinks(new Map([...site].map(([name, file]) => [name, String(file)])));
const unused = [...parts.keys()].filter((name) => !asked.has(name));
for (const each of [...wrong, ...unused.map((name) => `No page shows the part "${name}"`)])
  console.error(each);
if (wrong.length + unused.length > 0) process.exitCode = 1;
console.log(`${site.size} files. Open ${join(out, "index.html")}`);

/** Every notebook that was executed: its page, and its copy with pictures. */
async function executed(): Promise<Map<string, string>> {
  const folder = values.notebooks === undefined ? await runAll() : resolve(values.notebooks);
  const files = new Map<string, string>();
  for (const name of notebookNames(join(root, "notebooks"))) {
    // The run leaves out what the demo or the packages that are installed do not allow.
    if (!existsSync(join(folder, `${name}.html`))) continue;
    const page = readFileSync(join(folder, `${name}.html`), "utf8");
    files.set(`${name}.html`, page.replaceAll('href="index.html"', 'href="../gallery.html"'));
    const copy = JSON.parse(readFileSync(join(folder, `${name}.ipynb`), "utf8")) as NotebookFile;
    files.set(`${name}.ipynb`, `${JSON.stringify(galleryCopy(copy), null, 1)}\n`);
  }
  return files;
}

async function runAll(): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), "gramline-docs-"));
  const { outcomes } = await runNotebooks({
    notebooks: join(root, "notebooks"),
    out: folder,
    say: (line) => console.log(line),
  });
  const failed = outcomes.filter((each) => each.failure !== null);
  if (failed.length > 0) throw new Error(`${failed[0]!.name} did not run to its end`);
  return dirname(outcomes[0]!.page);
}
