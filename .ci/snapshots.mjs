// Pictures of a page against references, in light, dark, grey and at 390 pixels.
//   compare PAGE REFERENCES.json   fails where a picture differs from its reference, or has none
//   write PAGE REFERENCES.json     writes them anew: look at the pictures first
// A reference is the mean brightness of each field of a grid over the picture, letter by letter: small
// enough to keep, blind to how a machine smooths letters, not to a line that is gone or elsewhere.
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { openPage, withBrowser } from "./browser.mjs";
import { readPng } from "./png.mjs";

const [what, page, references] = process.argv.slice(2);
const ways = [
  { name: "light", width: 1100 },
  { name: "dark", width: 1100, dark: true },
  { name: "grey", width: 1100, grey: true },
  { name: "390", width: 390 },
];
const fields = 24;
/** Brightness is kept in 64 steps, each a letter. */
const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
/** A field may differ by so many steps, and so many fields by more: smoothing of letters moves one or two. */
const [nearEnough, mayDiffer] = [3, 4];

function gridOf({ width, height, channels, pixels }) {
  const sums = new Float64Array(fields * fields);
  const counts = new Float64Array(fields * fields);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const at = (y * width + x) * channels;
      const field = Math.floor((y * fields) / height) * fields + Math.floor((x * fields) / width);
      sums[field] += 0.2126 * pixels[at] + 0.7152 * pixels[at + 1] + 0.0722 * pixels[at + 2];
      counts[field]++;
    }
  return [...sums].map((sum, i) => letters[Math.min(63, Math.floor(sum / Math.max(1, counts[i]) / 4))]).join("");
}

const differing = (a, b) =>
  [...a].filter((letter, i) => Math.abs(letters.indexOf(letter) - letters.indexOf(b[i])) > nearEnough).length;

const seen = {};
await withBrowser(async (browser) => {
  for (const { name, width, dark = false, grey = false } of ways) {
    const opened = await openPage(browser, page, { width, dark });
    if (grey) await opened.run("document.documentElement.style.filter = 'grayscale(1)'");
    const boxes = await opened.run(
      "[...document.querySelectorAll('figure .picture')].filter((b) => b.checkVisibility()).map((b) => { const r = b.querySelector('svg').getBoundingClientRect(); return { id: b.closest('section').id, x: r.left, y: r.top + scrollY, width: r.width, height: r.height }; })",
    );
    for (const { id, ...clip } of boxes) {
      const { data } = await opened.send("Page.captureScreenshot", { captureBeyondViewport: true, clip: { ...clip, scale: 1 } });
      seen[`${id} ${name}`] = { size: [Math.round(clip.width), Math.round(clip.height)], grid: gridOf(readPng(Buffer.from(data, "base64"))) };
    }
    await opened.close();
  }
});

const names = Object.keys(seen);
if (names.length === 0) throw new Error("no picture was looked at");
if (what === "write") {
  writeFileSync(references, `${JSON.stringify(seen, null, 1)}\n`);
  console.log(`${names.length} references written`);
} else {
  const known = existsSync(references) ? JSON.parse(readFileSync(references, "utf8")) : {};
  const wrong = [];
  for (const name of new Set([...names, ...Object.keys(known)])) {
    const [is, was] = [seen[name], known[name]];
    if (is === undefined || was === undefined) wrong.push(`${name}: ${is === undefined ? "no picture" : "no reference"}`);
    else if (is.size.some((side, i) => Math.abs(side - was.size[i]) > 6)) wrong.push(`${name}: ${is.size.join(" x ")} pixels, were ${was.size.join(" x ")}`);
    else if (differing(is.grid, was.grid) > mayDiffer) wrong.push(`${name}: ${differing(is.grid, was.grid)} of ${fields * fields} fields differ`);
  }
  for (const words of wrong) console.error(words);
  console.log(`${names.length} pictures compared, ${wrong.length} differ`);
  if (wrong.length > 0) process.exitCode = 1;
}
