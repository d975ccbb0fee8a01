import { createRequire } from "node:module";
import { describe, expect, it } from "vitest";
import { isInShippedFont, measureText } from "../../src/charts/measure-text.js";
import { fontFile, renderPng } from "../../src/charts/render-png.js";

const { Resvg } = createRequire(import.meta.url)("@resvg/resvg-js");

/** Right edge minus left edge of a text as an independent renderer (resvg) sets it in the shipped font. */
function renderedWidth(text: string, size: number, weight: number): number {
  // A bar on each side, because a box around ink leaves out the space beside letters.
  const edge = (words: string) => {
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="900" height="100"><text x="10" y="50" font-family="${weight >= 600 ? "Inter Semi Bold" : "Inter"}" font-size="${size}" style="font-kerning:none">${words}</text></svg>`;
    const box = new Resvg(svg, {
      font: {
        fontFiles: ["Inter-Regular.otf", "Inter-SemiBold.otf"].map(fontFile),
        loadSystemFonts: false,
        defaultFontFamily: "Inter",
      },
    }).getBBox();
    return box.x + box.width;
  };
  return edge(`|${text}|`) - edge("|") - (edge("||") - edge("|"));
}

describe("measureText", () => {
  it.each([
    ["Mass (g)", 12, 400],
    ["Mean gain (g/d)", 12, 600],
    ["Weißdorn-Ørsted 1234567890", 15, 600],
    ["Ласка, Ångström", 12, 400],
    ["Θαλασσινή Αύρα", 15, 600],
  ])("agrees with an independent renderer on %s", (text, size, weight) => {
    const rendered = renderedWidth(text, size, weight);
    expect(rendered).toBeGreaterThan(20);
    // Kerning is not counted: within 5 per cent.
    expect(Math.abs(measureText(text, size, weight >= 600) / rendered - 1)).toBeLessThan(0.05);
  });

  it("counts wide scripts as one em and combining marks as nothing", () => {
    // Wide and fullwidth in the Unicode Standard Annex #11: kanji, kana, Hangul, emoji.
    for (const two of ["海獭", "なみ", "바다", "🌊🦦"])
      expect(measureText(two, 10, false)).toBe(20);
    expect(measureText("a\u0301", 10, false)).toBe(measureText("a", 10, false));
    // Thai vowel signs above stand on the consonant.
    expect(measureText("ลื", 10, false)).toBe(measureText("ล", 10, false));
  });

  it("counts signs joined into one as one (Unicode Technical Standard #51, ZWJ sequences)", () => {
    const astronaut = "\u{1f469}\u{1f3fd}\u200d\u{1f680}";
    expect(measureText(astronaut, 10, false)).toBe(10);
  });

  it("takes the width of the base letter where only that is in the table", () => {
    expect(measureText("\u1ebf", 10, false)).toBe(measureText("e", 10, false));
  });
});

describe("renderPng", () => {
  it("writes a PNG of the asked size with ink in it", () => {
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" width="100" height="40"><text x="5" y="25" font-family="Inter" font-size="20">Mass</text></svg>';
    const { bytes, width, height } = renderPng(svg, 2);
    expect([width, height]).toEqual([200, 80]);
    // The signature of the PNG specification.
    expect([...bytes.slice(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
    const blank = renderPng(svg.replace("Mass", ""), 2);
    expect(bytes.length).toBeGreaterThan(blank.bytes.length + 200);
  });

  const drawn = (inner: string) =>
    Buffer.from(
      renderPng(`<svg xmlns="http://www.w3.org/2000/svg" width="200" height="40">${inner}</svg>`, 1)
        .bytes,
    ).toString("base64");

  it("draws semi-bold words in the semi-bold face", () => {
    const word = (weight: string) =>
      drawn(`<text x="5" y="25" font-family="Inter, Arial" font-size="20"${weight}>Mass</text>`);
    expect(word(' font-weight="600"')).not.toBe(word(""));
  });

  it("draws a see-through area that reaches far beyond its clipping", () => {
    const area = (opacity: string) =>
      drawn(
        '<clipPath id="c"><path d="M0,0h200v40h-200z"/></clipPath><g clip-path="url(#c)">' +
          `<path d="M-4000,5L180,5L180,35L-4000,35Z" fill="#0072b2" ${opacity}/></g>`,
      );
    expect(area('opacity="0.4"')).toBe(area('fill-opacity="0.4"'));
    expect(area('opacity="0.4"')).not.toBe(drawn(""));
  });

  it("draws a name in a script that the shipped font lacks as no other name", () => {
    const name = (words: string) =>
      drawn(`<text x="5" y="25" font-family="Inter, Arial" font-size="20">${words}</text>`);
    expect(isInShippedFont("Pimmer (O24-01) Ласка")).toBe(true);
    expect(isInShippedFont("みなと")).toBe(false);
    // Which glyphs appear depends on the machine's fonts; nothing may throw.
    expect(name("みなと (O24-01)")).not.toBe(name(""));
  });
});
