import fc from "fast-check";
import { expect, it } from "vitest";
import { wrapText } from "../../src/command-line/wrap-text.js";

it("breaks at blanks, cuts words that are longer than a line, and loses nothing", () => {
  expect(wrapText("  mass_g: this is not a number", 24, 2)).toEqual([
    "  mass_g: this is not a",
    "    number",
  ]);
  fc.assert(
    fc.property(
      fc.array(fc.string({ unit: fc.constantFrom(..."abc:,"), minLength: 1, maxLength: 60 }), {
        minLength: 1,
        maxLength: 20,
      }),
      fc.integer({ min: 40, max: 100 }),
      (words, width) => {
        const text = `  ${words.join(" ")}`;
        const lines = wrapText(text, width);
        expect(Math.max(...lines.map((l) => l.length))).toBeLessThanOrEqual(width);
        expect(lines.join("").replaceAll(" ", "")).toBe(words.join(""));
      },
    ),
    { seed: 20261126, numRuns: 300 },
  );
});
