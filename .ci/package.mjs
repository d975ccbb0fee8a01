// Packs the library, installs it into a fresh project that overrides nothing, and uses it there as
// somebody else would: every command, ESM, CommonJS, strict TypeScript, a bundle for the browser, and
// other lines of Node as far as their binaries can be installed.
//   package.mjs FOLDER: where the project is made
import { spawnSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { createContext, runInContext } from "node:vm";

const root = resolve(import.meta.dirname, "..");
const work = resolve(process.argv[2], "package");
const project = join(work, "project");
mkdirSync(project, { recursive: true });
const env = { ...process.env, NODE_PATH: "", npm_config_audit: "false", npm_config_fund: "false" };
let failed = 0;
const needed = (what, so, why = "") => {
  console.log(`${so ? "ok" : "NOT SO"}: ${what}${so || why === "" ? "" : `\n${why}`}`);
  if (!so) failed++;
};
const run = (command, args, options = {}) => {
  const done = spawnSync(command, args, { cwd: project, env, encoding: "utf8", ...options });
  return { ok: done.status === 0, code: done.status, out: `${done.stdout}`, err: `${done.stderr}` };
};
const write = (name, text) => writeFileSync(join(project, name), text);

// 1. Packed and installed.
const packed = run("npm", ["pack", "--silent", "--pack-destination", work], { cwd: root });
const tarball = readdirSync(work).find((name) => name.endsWith(".tgz"));
needed("it can be packed", packed.ok && tarball !== undefined, packed.err);
const files = spawnSync("tar", ["-tzf", join(work, tarball)], { encoding: "utf8" }).stdout.split("\n");
const foreign = files.filter((name) => /^package\/(tests|\.ci|docs)\//.test(name));
needed("no test and no figure to compare with is in it", files.length > 100 && foreign.length === 0, foreign.join("\n"));
write("package.json", JSON.stringify({ name: "fresh", private: true }));
const installed = run("npm", ["install", "--silent", join(work, tarball)]);
needed("it installs into a fresh project without overrides", installed.ok, installed.err);
const megabytes = Number(run("du", ["-sm", "node_modules"]).out.split(/\s/)[0]);
needed(`it takes ${megabytes} MB, 200 at most`, megabytes <= 200);
needed("no data frame package comes with it", !existsSync(join(project, "node_modules/danfojs-node")));

// 2. In code.
const use = `
if (typeof g.readStudy !== "function" || typeof growth.fitCurve !== "function") throw new Error("names");
const fit = growth.fitCurve({ ages: [5, 12, 19, 26, 33, 40], masses: [2400, 3010, 3720, 4480, 5270, 6060] }, { curve: "gompertz" });
if (!(stats.median([1, 2, 4]) === 2) || fit.kind !== "fit-curve") throw new Error("values");
g.readStudy(process.argv[2]).then(async (study) => {
  const day = await g.askHandOver(study);
  if (day.value.levels.length === 0) throw new Error("no levels");
  console.log("used");
});`;
write("esm.mjs", `import * as g from "gramline"; import * as growth from "gramline/growth"; import * as stats from "gramline/stats";${use}`);
write("cjs.cjs", `const g = require("gramline"); const growth = require("gramline/growth"); const stats = require("gramline/stats"); require("gramline/node");${use}`);
const demo = join(project, "node_modules/gramline/data-demo");
for (const name of ["esm.mjs", "cjs.cjs"]) {
  const used = run(process.execPath, ["--disable-warning=ExperimentalWarning", name, demo]);
  needed(`${name} runs on Node ${process.versions.node}`, used.out.trim() === "used", used.err);
}

// 3. In strict TypeScript, as declared.
const typescript = join(root, "node_modules/typescript/bin/tsc");
const typedUse = `import { readStudy, askHandOver, type DayAnswer } from "gramline";
import { fitCurve, type CurveFit } from "gramline/growth";
import { median } from "gramline/stats";
export const fit: CurveFit = fitCurve({ ages: [1, 2, 3, 4], masses: [1, 2, 3, 4] }, { curve: "logistic" });
export const middle: number | null = median([1, 2]);
export async function day(folder: string): Promise<DayAnswer> {
  const { value } = await askHandOver(await readStudy(folder));
  // @ts-expect-error: there is no such part, and the compiler must know it.
  value.nothing;
  return value;
}
`;
// From a CommonJS file the compiler allows it since it knows that Node can require a module.
const kinds = [
  ["node16", "node16", "use.mts"],
  ["nodenext", "nodenext", "use.cts"],
  ["esnext", "bundler", "use.ts"],
];
for (const [module, resolution, file] of kinds) {
  write(file, typedUse);
  const options = ["--noEmit", "--strict", "--exactOptionalPropertyTypes", "--noUncheckedIndexedAccess"];
  const typed = run(process.execPath, [
    typescript,
    ...options,
    ...["--target", "es2022", "--lib", "es2022"],
    ...["--module", module, "--moduleResolution", resolution, file],
  ]);
  needed(`strict TypeScript takes it with moduleResolution ${resolution} (${file})`, typed.ok, typed.out);
}

// 4. For a browser.
const { build } = await import("esbuild");
const forBrowser = {
  growth: ["fitCurve", 'fitCurve({ ages: [5, 12, 19, 26], masses: [2400, 3010, 3720, 4480] }, { curve: "gompertz" }).kind', "fit-curve"],
  stats: ["median", "median([1, 2, 4])", "2"],
};
for (const [room, [name, asked, answer]] of Object.entries(forBrowser)) {
  write("browser.mjs", `import { ${name} } from "gramline/${room}"; globalThis.answer = String(${asked});`);
  const bundled = await build({
    entryPoints: [join(project, "browser.mjs")],
    bundle: true,
    minify: true,
    write: false,
    platform: "browser",
  }).catch((error) => error);
  needed(`gramline/${room} bundles for a browser`, bundled.outputFiles?.length === 1, String(bundled));
  // As in a browser: nothing of Node is there.
  const page = createContext({});
  runInContext(bundled.outputFiles?.[0]?.text ?? "", page);
  needed(`gramline/${room} answers without Node`, page.answer === answer, String(page.answer));
}

// 5. Every command, from the project's own folder.
const gramline = (...args) => run("npx", ["--no-install", "gramline", ...args]);
const study = join(project, "nursery");
const commands = [
  [["new", "nursery", "--title", "Ours", "--zone", "Europe/Berlin"], /READ ME FIRST/],
  [["check", "nursery"], /accepted/],
  [["day", "nursery"], /Animals in care/],
  [["hand-over", "nursery"], /feeding-sheet/],
  [["report", "nursery", "--date", "2027-01-31"], /index\.html/],
  [["prior", "nursery", "--species", "sea otter"], /Written/],
  [["explain", "danger"], /veterinarian/],
  [["kernel-path"], /kernel|jupyter/i],
  [["cache", "show"], /answers/],
  [["archive", "list", "houses"], /npm install @duckdb\/node-api/, 2],
  [["pool", "houses"], /npm install @duckdb\/node-api/, 2],
  [["run-notebooks", "--study", "nursery", "start-here"], /ok/],
  [["doctor"], /gramline \d+\.\d+\.\d+, installed/],
];
for (const [args, said, code] of commands) {
  const done = gramline(...args);
  const ended = code === undefined ? [0, 1].includes(done.code) : done.code === code;
  needed(`gramline ${args[0]}`, ended && said.test(done.out + done.err), done.out + done.err);
  // A study of its own: the tables of the demo in a folder that new made.
  if (args[0] === "new")
    for (const name of ["animals.csv", "weighings.csv", "diets.csv"]) cpSync(join(demo, name), join(study, name));
}
const doctor = gramline("doctor");
needed("doctor speaks of this project", doctor.out.includes(project), doctor.out);
const executed = readdirSync(join(project, "out")).find((name) => name.startsWith("notebooks-"));
const page = readFileSync(join(project, "out", executed, "start-here.html"), "utf8");
needed("without data frames the page says what to type", page.includes("npm install danfojs-node@1.2.0"));
const inside = run("find", ["node_modules/gramline", "-newer", "package.json", "-type", "f"]).out;
const written = inside.split("\n").filter((line) => /\/(out|\.cache)\//.test(line));
needed(`nothing was written into the package (${written})`, written.length === 0);

// 6. Other lines of Node: those whose binaries the registry hands out.
for (const line of (process.env["NODE_LINES"] ?? "20 22 24").split(" ").filter(Boolean)) {
  const folder = join(work, `node-${line}`);
  const got = run("npm", ["install", "--silent", "--no-save", "--prefix", folder, `node@${line}`]);
  const node = join(folder, "node_modules/node/bin/node");
  if (!got.ok || !existsSync(node)) {
    console.log(`not run: Node ${line} cannot be had here`);
    continue;
  }
  for (const name of ["esm.mjs", "cjs.cjs"]) {
    const used = run(node, ["--disable-warning=ExperimentalWarning", name, demo]);
    needed(`${name} runs on Node ${line}`, used.out.trim() === "used", used.err);
  }
  const main = join(project, "node_modules/gramline/dist/command-line/main.js");
  const notebook = run(node, [main, "run-notebooks", "--study", "nursery", "slow-gainer"]);
  needed(`a notebook runs on Node ${line}`, notebook.ok, notebook.out + notebook.err);
}
process.exitCode = failed === 0 ? 0 : 1;
