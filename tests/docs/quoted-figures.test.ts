import { describe, expect, it } from "vitest";
import { textOf } from "./papers.js";
import { quotedFigures } from "./quoted-figures.js";

/** Figures that README states of its benches, held to the committed results. */
const quotes = quotedFigures();
const paper = textOf("README.md");
const from = paper.indexOf("\n## How far its flags can be trusted");
const trusted = paper.slice(from, paper.indexOf("\n## For developers"));

/**
 * Numbers of these sections that state no result: what was set up or asked for, and what a user
 * may choose. Whoever states another figure says here that it is none, or quotes it.
 */
const noResults: readonly RegExp[] = [
  /false flags per 100 weeks of a healthy animal \(0\.5 to 10; 2 unless/g,
  /gain wandering by 10 %, gut fill of 1 % that lasts/g,
  /not below 8 animals/g,
  /files of at most 48 MB \(about a million rows\), 192 MB of a study together, workbooks of at most 50 MB/g,
  /the mass 14 days ahead|The 95 % limits of the mass/g,
  /truth 4 kcal\/g/g,
  /a day later changes gain by nothing or by 1 %/g,
  /\(1\.4 to 1\.8 % of mass, lasting for days\)/g,
];

describe("the figures of README", () => {
  it.each(quotes)("$bench: $words", ({ words }) => {
    expect(paper.includes(words) ? words : "stands nowhere").toBe(words);
  });

  it("are all quoted from a result", () => {
    const quoted = quotes.reduce((text, { words }) => text.replaceAll(words, "·"), trusted);
    const left = noResults.reduce((text, known) => text.replace(known, "·"), quoted);
    const figures = [...left.matchAll(/.{0,40}\d[\d.]*.{0,30}/g)].map((m) => m[0]);
    expect(figures).toEqual([]);
  });
});
