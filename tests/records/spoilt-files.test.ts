import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { tryText, tryWorkbook } from "./mutate.js";

/** A sample of what the bench `records-spoilt` does 95,000 and 5,000 times. */
describe("spoilt files", () => {
  it("600 texts: none crashes, hangs or loses a row", () => {
    const random = seededRandom(20250322);
    let read = 0;
    let worst = 0;
    for (let i = 0; i < 600; i++) {
      const from = performance.now();
      if (tryText(random.split(i)) !== "refused") read++;
      worst = Math.max(worst, performance.now() - from);
    }
    expect(read).toBeGreaterThan(300);
    expect(worst).toBeLessThan(5000);
  });
  it("60 workbooks: none crashes, hangs or loses a row", () => {
    const random = seededRandom(20250323);
    let read = 0;
    for (let i = 0; i < 60; i++) if (tryWorkbook(random.split(i)) !== "refused") read++;
    expect(read).toBeGreaterThan(10);
  });
});
