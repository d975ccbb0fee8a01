// Bundles `fitCurve` through gramline/growth for a browser, runs it in Chromium, and holds the fit
// against the one that Node makes.   bundle.mjs FOLDER: where the page is written
import { writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { openPage, withBrowser } from "./browser.mjs";

const root = join(dirname(fileURLToPath(import.meta.url)), "..");
const page = join(process.argv[2], "bundle.html");
const { outputFiles } = await build({
  stdin: { contents: 'export { fitCurve } from "gramline/growth";', resolveDir: root },
  bundle: true,
  minify: true,
  write: false,
  format: "iife",
  globalName: "bundle",
  platform: "browser",
});
const script = outputFiles[0].text;
writeFileSync(page, `<!doctype html><meta charset="utf-8"><title>Bundle</title><script>${script}</script>`);
const data = {
  ages: [5, 12, 19, 26, 33, 40, 47, 54],
  masses: [2400, 3010, 3720, 4480, 5270, 6060, 6800, 7490],
};
const ask = `JSON.stringify(bundle.fitCurve(${JSON.stringify(data)}, { curve: "gompertz" }))`;
await withBrowser(async (browser) => {
  const opened = await openPage(browser, page);
  const there = JSON.parse(await opened.run(ask));
  const { fitCurve } = await import("../dist/growth/index.js");
  const here = fitCurve(data, { curve: "gompertz" });
  const estimates = (fit) => fit.value.estimates.map((each) => each.estimate.value);
  const off = estimates(there).map((value, i) => Math.abs(value / estimates(here)[i] - 1));
  console.log(`${script.length} bytes; largest relative difference ${Math.max(...off)}`);
  // The same engine, but another build of its mathematics: a few units in the last place.
  if (script.length >= 61_000 || opened.complaints.length > 0 || !(Math.max(...off) < 1e-10)) {
    console.error(opened.complaints.join("; ") || "the fits differ, or the bundle is too large");
    process.exitCode = 1;
  }
});
