// main-words.mjs PAGE MOST: words of a report before its appendix, folds and captions included, numbers behind pictures not.
import { readFileSync } from "node:fs";

const [page, most] = process.argv.slice(2);
const html = readFileSync(page, "utf8");
const from = html.indexOf('<section id="answers"');
const to = html.indexOf('<section id="appendix"');
if (from < 0 || to < from) {
  console.error(`${page}: no answers before an appendix`);
  process.exit(1);
}
const words = html
  .slice(from, to)
  .replace(/<(svg|script|style)\b[\s\S]*?<\/\1>/g, " ")
  .replace(/<details class="screen-only">[\s\S]*?<\/details>/g, " ")
  .replace(/<[^>]+>/g, " ")
  .split(/\s+/)
  .filter((word) => word !== "").length;
console.log(`${page}: ${words} words before the appendix, at most ${most}`);
process.exit(words > 300 && words <= Number(most) ? 0 : 1);
