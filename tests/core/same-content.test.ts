import { describe, expect, it } from "vitest";
import { sameContent } from "../../src/core/same-content.js";

describe("whether two values say the same", () => {
  it("looks into lists and records, whatever the order of their fields", () => {
    expect(sameContent({ a: [1, null], b: "x" }, { b: "x", a: [1, null] })).toBe(true);
    expect(sameContent({ a: 1 }, { a: 1, b: undefined })).toBe(true);
    expect(sameContent([Number.NaN], [Number.NaN])).toBe(true);
  });

  it("tells apart what differs in one place", () => {
    expect(sameContent({ a: undefined }, { b: 1 })).toBe(false);
    expect(sameContent({ a: 1 }, { a: 1, b: null })).toBe(false);
    expect(sameContent([1, 2], [1, 2, 3])).toBe(false);
    expect(sameContent([], {})).toBe(false);
    expect(sameContent({ a: 0 }, { a: -0 })).toBe(false);
    expect(sameContent({ a: "1" }, { a: 1 })).toBe(false);
    expect(sameContent(null, {})).toBe(false);
  });
});
