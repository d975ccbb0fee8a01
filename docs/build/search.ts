import { createHash } from "node:crypto";
import type { Passage } from "./draw-markdown.js";

/** One passage that can be found. */
export interface Found {
  readonly href: string;
  readonly page: string;
  readonly heading: string;
  readonly text: string;
}

/** The passages of a page with the way to each. */
export function findable(name: string, page: string, passages: readonly Passage[]): Found[] {
  return passages.map(({ anchor, heading, text }, i) => ({
    href: i === 0 ? `${name}.html` : `${name}.html#${anchor}`,
    page,
    heading,
    text: text.slice(0, mostLetters),
  }));
}

/** Passages longer than this are lists; their beginning says what they are. */
const mostLetters = 4000;

/** Where the words are typed, and the index they are looked up in. */
export function searchBody(index: readonly Found[]): string {
  // In a data block only "<" could end the block early.
  const data = JSON.stringify(index).replaceAll("<", "\\u003c");
  return `<h1>Search</h1>
<div class="search"><label for="words">Words to look for, in any order</label>
<input id="words" type="search" autocomplete="off" spellcheck="false">
<p id="said" role="status">Type to search ${index.length} passages. Nothing leaves this file.</p>
<ol id="found"></ol></div>
<noscript><p>The search needs scripts. Every page is listed under "All pages".</p></noscript>
<script type="application/json" id="index">${data}</script>`;
}

/** Orders the passages that hold every word: a heading counts more than the text. Plain script, also run by a test. */
export const rankScript = `
function rank(index, written) {
  const plain = (text) => text.toLowerCase().normalize("NFKD").replace(/[\\u0300-\\u036f]/g, "");
  const words = plain(written).split(/\\s+/).filter((word) => word !== "");
  if (words.length === 0) return [];
  const scored = [];
  index.forEach((each, at) => {
    const places = [[plain(each.heading), 12], [plain(each.page), 5], [plain(each.text), 1]];
    let score = 0;
    for (const word of words) {
      let best = 0;
      for (const [text, weight] of places) {
        const found = text.indexOf(word);
        if (found < 0) continue;
        const begins = found === 0 || !/[\\p{L}\\p{N}]/u.test(text[found - 1]);
        const whole = begins && !/[\\p{L}\\p{N}]/u.test(text[found + word.length] ?? " ");
        best += weight * (whole ? 3 : begins ? 2 : 1);
      }
      if (best === 0) return;
      score += best;
    }
    scored.push({ at, score });
  });
  return scored.sort((a, b) => b.score - a.score || a.at - b.at).map((each) => index[each.at]);
}`;

const pageScript = `${rankScript}
const index = JSON.parse(document.getElementById("index").textContent);
const input = document.getElementById("words");
const list = document.getElementById("found");
const said = document.getElementById("said");
const show = () => {
  const found = rank(index, input.value);
  const most = 30;
  list.replaceChildren(...found.slice(0, most).map((each) => {
    const item = document.createElement("li");
    const link = document.createElement("a");
    link.href = each.href;
    link.textContent = each.heading === each.page ? each.page : each.heading + " (" + each.page + ")";
    const at = each.text.toLowerCase().indexOf(input.value.trim().toLowerCase().split(/\\s+/)[0]);
    const from = Math.max(0, at - 60);
    const part = document.createElement("span");
    part.textContent = (from > 0 ? "… " : "") + each.text.slice(from, from + 180) + (each.text.length > from + 180 ? " …" : "");
    item.append(link, part);
    return item;
  }));
  said.textContent = input.value.trim() === "" ? "" : found.length === 0
    ? "Nothing holds all of these words. Try fewer, or the beginning of a word."
    : found.length === 1 ? "1 passage." : found.length + " passages" + (found.length > most ? ", the first " + most + " shown." : ".");
};
input.addEventListener("input", show);
const asked = decodeURIComponent(location.hash.slice(1));
if (asked !== "") { input.value = asked; show(); }
input.focus();
`;

/** The script of the search page, with the digest that its content policy lets through. */
export function searchScript(): { readonly text: string; readonly sha256Base64: string } {
  return {
    text: pageScript,
    sha256Base64: createHash("sha256").update(pageScript).digest("base64"),
  };
}
