import { describe, expect, it } from "vitest";
import { withDietNames } from "../../src/publish/with-diet-names.js";
import { withNamedDiets } from "../../src/report/section/diet-names.js";

const diets = [
  { dietId: "formula-1", name: "first formula" },
  { dietId: "formula-12", name: "later formula <mixed>" },
  { dietId: "clam", name: "clam meat" },
  { dietId: "oil_2", name: null },
];

describe("diets on a page", () => {
  it.each([
    ["<p>formula-1: 46 g</p>", "<p>first formula: 46 g</p>"],
    ["<td>formula-12</td>", "<td>later formula &#60;mixed&#62;</td>"],
    // A word reads by itself; without a name nothing can be said.
    ["<p>clam, oil_2</p>", "<p>clam, oil_2</p>"],
    // Part of another word is another word.
    ["<p>formula-1b, my-formula-1</p>", "<p>formula-1b, my-formula-1</p>"],
    // What repeats a file, and what no reader sees, stays.
    ["<p>written “formula-1”</p>", "<p>written “formula-1”</p>"],
    [
      "<p>written &#34;formula-1&#34;: formula-1</p>",
      "<p>written &#34;formula-1&#34;: first formula</p>",
    ],
    [
      '<a href="#formula-1">x</a><script>"formula-1"</script>',
      '<a href="#formula-1">x</a><script>"formula-1"</script>',
    ],
  ])("%s", (page, named) => {
    expect(withDietNames(page, diets)).toBe(named);
  });

  it("stand as they are where every id is a word", () => {
    expect(withDietNames("<p>clam</p>", [diets[2]!])).toBe("<p>clam</p>");
  });
});

describe("diets in the parts of a page, as a live notebook shows them", () => {
  it("stand under their names, however deep, and keep their ids between quotation marks", () => {
    const parts = {
      a: [{ text: "formula-1: 46 g", n: 2 }],
      b: { c: 'written "formula-1"', d: ["formula-12", null, true] },
    };
    expect(withNamedDiets(parts, diets)).toEqual({
      a: [{ text: "first formula: 46 g", n: 2 }],
      b: { c: 'written "formula-1"', d: ["later formula <mixed>", null, true] },
    });
    expect(withNamedDiets(parts, [diets[2]!])).toBe(parts);
  });
});
