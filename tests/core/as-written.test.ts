import { describe, expect, it } from "vitest";
import { asWritten } from "../../src/core/as-written.js";

describe("what was written, on a page", () => {
  it.each([
    ["1 count milk and froth", "milk and froth"],
    ["3 count, soft", "3 times, soft"],
    ["2 count", "2 times"],
    ["1 count", "once"],
    ["36.2 degC", "36.2 °C"],
    ["10 counts", "10 counts"],
    ["lost count of it", "lost count of it"],
  ])("%s", (written, shown) => {
    expect(asWritten(written)).toBe(shown);
  });
});
