import { describe, expect, it } from "vitest";
import { chartLook } from "../../src/charts/chart.js";
import { bandLook, palette, seriesColours } from "../../src/charts/palette.js";
import { pageStyle } from "../../src/report/renderers/page/page-style.js";
import { contrastRatio, laidOver } from "./contrast-ratio.js";

/** The colours of a `:root` rule, by name. */
function colours(rule: string): Readonly<Record<string, string>> {
  return Object.fromEntries(
    [...rule.matchAll(/--([a-z0-9-]+):\s*(#[0-9a-f]+)/gi)].map((m) => [m[1], m[2]]),
  );
}
const [light, dark, paper] = [...pageStyle.matchAll(/:root\s*\{([^}]*)\}/g)].map((m) =>
  colours(m[1]!),
);

/** Words and what they stand on, as the rules of the page put them. */
const words: readonly (readonly [string, string])[] = [
  ["ink", "paper"],
  ["ink", "panel"],
  ["ink", "plan-pale"],
  ["ink2", "paper"],
  ["ink2", "panel"],
  ["water-ink", "paper"],
  ["water-ink", "panel"],
  ["water-ink", "plan-pale"],
  ["plan-ink", "paper"],
  ["alarm", "paper"],
];
/** Marks that tell something: the edge of a caution, the focus, the line through a picture. */
const marks: readonly (readonly [string, string])[] = [
  ["plan-ink", "paper"],
  ["plan", "paper"],
  ["alarm", "paper"],
  ["water-ink", "paper"],
  ["water-line", "paper"],
];

it("computes the contrast of the definition's two ends and of a published example", () => {
  expect(contrastRatio("#000000", "#ffffff")).toBeCloseTo(21, 10);
  expect(contrastRatio("#abcdef", "#abcdef")).toBe(1);
  // W3C, Understanding Success Criterion 1.4.3 and technique G18: #767676 on white is the
  // lightest grey above 4.5:1 (common knowledge of the field; from memory).
  expect(contrastRatio("#767676", "#ffffff")).toBeGreaterThan(4.5);
  expect(contrastRatio("#777777", "#fff")).toBeLessThan(4.5);
});

describe.each([
  ["light", light!],
  ["dark", dark!],
  ["paper", paper!],
])("the page in %s", (_, ground) => {
  it.each(words)("words: %s on %s, 4.5:1 (WCAG 2.2, 1.4.3)", (word, under) => {
    expect(contrastRatio(ground[word]!, ground[under]!)).toBeGreaterThanOrEqual(4.5);
  });
  it.each(marks)("marks: %s on %s, 3:1 (WCAG 2.2, 1.4.11)", (mark, under) => {
    expect(contrastRatio(ground[mark]!, ground[under]!)).toBeGreaterThanOrEqual(3);
  });
});

it("uses no colour of the page that the pairs above leave out", () => {
  const rules = pageStyle.replaceAll(/:root\s*\{[^}]*\}/g, "");
  const named = new Set([...rules.matchAll(/var\(--([a-z0-9-]+)\)/g)].map((m) => m[1]));
  const known = new Set([...words, ...marks].flat());
  // Lines between rows and the edges of boxes tell nothing that spacing does not.
  known.add("hair");
  expect([...named].filter((name) => !known.has(name!))).toEqual([]);
  // No outright colour: pictures have no ground of their own.
  expect(rules.match(/#[0-9a-f]{3,6}\b/gi)).toBeNull();
  const grounds = [...rules.matchAll(/background:\s*var\(--([a-z0-9-]+)\)/g)].map((m) => m[1]);
  expect(new Set(grounds)).toEqual(new Set(["paper", "panel", "plan-pale"]));
});

describe("charts on their ground", () => {
  const white = String(chartLook["background"]);

  it("words of titles, axes and legends, 4.5:1", () => {
    const found = JSON.stringify(chartLook).matchAll(
      /"((?:label|title|subtitle)?[cC]olor)":"(#[0-9a-f]{6})"/g,
    );
    const wordColours = [...found]
      .filter((m) => !/^(grid|domain|tick)/.test(m[1]!))
      .map((m) => m[2]!);
    expect(wordColours.length).toBeGreaterThan(5);
    for (const colour of new Set([...wordColours.filter((c) => c !== palette.blue), palette.ink])) {
      expect(contrastRatio(colour, white), colour).toBeGreaterThanOrEqual(4.5);
    }
  });

  it("series, axes and the edges of bands, 3:1", () => {
    const axis = chartLook["axis"] as Record<string, string>;
    const edge = laidOver(bandLook.stroke, bandLook.strokeOpacity, white);
    for (const colour of [...seriesColours, palette.grey, axis["domainColor"]!, edge]) {
      expect(contrastRatio(colour, white), colour).toBeGreaterThanOrEqual(3);
    }
  });
});
