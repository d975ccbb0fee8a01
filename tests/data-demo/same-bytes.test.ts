import { describe, expect, it } from "vitest";
import { demoStudy } from "../../data-demo/generator/demo-study.js";
import { demoText } from "./demo-files.js";

describe("the demo study", () => {
  const files = demoStudy();

  it.each([...files.keys()])("%s has the bytes its generator makes", (name) => {
    // Compared as booleans: a difference of a megabyte helps nobody.
    expect(demoText(name) === files.get(name)).toBe(true);
  });

  it("is another study with another seed", () => {
    const other = demoStudy(7);
    expect(other.get("weighings.csv")).not.toBe(files.get("weighings.csv"));
    expect(other.get("diets.csv")).toBe(files.get("diets.csv"));
  });

  it("stays small enough to clone", () => {
    const bytes = [...files.values()].reduce((sum, text) => sum + Buffer.byteLength(text), 0);
    expect(bytes).toBeLessThan(8_000_000);
  });
});
