import { describe, expect, it } from "vitest";
import { fixedTextWidths } from "../../src/charts/fixed-text-widths.js";
import { measureText } from "../../src/charts/measure-text.js";
import { renderSvg } from "../../src/charts/render-svg.js";
import { displayBundle } from "../../src/notebook/display-bundle.js";
import { full } from "./sample-charts.js";

describe("pictures shown without their font", () => {
  it("have the width that they were laid out for written to every text of every chart", () => {
    for (const chart of Object.values(full)) {
      const svg = renderSvg(chart.spec);
      const fixed = String(displayBundle(chart)["image/svg+xml"]);
      const texts = svg.match(/<text\b[^>]*>[^<]+<\/text>/g)!.length;
      expect(texts).toBeGreaterThan(0);
      expect(fixed.match(/ textLength="[\d.]+" lengthAdjust="spacingAndGlyphs">/g)).toHaveLength(
        texts,
      );
      // Nothing else changes.
      expect(fixed.replace(/ textLength="[\d.]+" lengthAdjust="spacingAndGlyphs"/g, "")).toBe(svg);
    }
  });

  it("measure what is written, not how it is escaped, bold as bold", () => {
    const at = (attributes: string, text: string) =>
      Number(
        /textLength="([\d.]+)"/.exec(fixedTextWidths(`<text${attributes}>${text}</text>`))![1],
      );
    expect(at(' font-size="12px"', "a &lt; b &amp; c")).toBeCloseTo(
      measureText("a < b & c", 12, false),
      1,
    );
    expect(at(' font-size="12px" font-weight="600"', "Mass")).toBeCloseTo(
      measureText("Mass", 12, true),
      1,
    );
  });

  it("leave what is no picture's text alone", () => {
    for (const html of ["<p>text</p>", "<text></text>", '<text x="1">no size</text>'])
      expect(fixedTextWidths(html)).toBe(html);
  });
});
