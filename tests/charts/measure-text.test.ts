import { createRequire } from "node:module";
import { describe, expect, it } from "vitest";
import { measureText } from "../../src/charts/measure-text.js";
import { fontFile, renderPng } from "../../src/charts/render-png.js";

const { Resvg } = createRequire(import.meta.url)("@resvg/resvg-js");

/** Right edge minus left edge of a text as an independent renderer (resvg) sets it in the shipped font. */
function renderedWidth(text: string, size: number, weight: number): number {
  // A bar on each side, because a box around ink leaves out the space beside letters.
  const edge = (words: string) => {
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="900" height="100"><text x="10" y="50" font-family="Inter" font-weight="${weight}" font-size="${size}" style="font-kerning:none">${words}</text></svg>`;
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
  ])("agrees with an independent renderer on %s", (text, size, weight) => {
    const rendered = renderedWidth(text, size, weight);
    expect(rendered).toBeGreaterThan(20);
    // Kerning is not counted: within 5 per cent.
    expect(Math.abs(measureText(text, size, weight >= 600) / rendered - 1)).toBeLessThan(0.05);
  });

  it("counts wide scripts as one em and combining marks as nothing", () => {
    expect(measureText("海獭", 10, false)).toBe(20);
    expect(measureText("a\u0301", 10, false)).toBe(measureText("a", 10, false));
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
});
