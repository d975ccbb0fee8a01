import { describe, expect, it } from "vitest";
import { sameContent } from "../../src/core/same-content.js";

describe("whether two values say the same", () => {
  it("looks into lists and records, whatever the order of their fields", () => {
    expect(sameContent({ a: [1, null], b: "x" }, { b: "x", a: [1, null] })).toBe(true);
    expect(sameContent({ a: 1 }, { a: 1, b: undefined })).toBe(true);
    expect(sameContent([Number.NaN], [Number.NaN])).toBe(true);
  });

  it("does not look again into what is shared with two records that say the same", () => {
    const [one, other] = [{ fat: 8 }, { fat: 8 }];
    const before = [{ held: one }, { held: other }] as const;
    expect(sameContent({ at: 1, held: one }, { at: 1, held: other }, before)).toBe(true);
    expect(sameContent({ at: 1, held: one }, { at: 2, held: other }, before)).toBe(false);
    expect(sameContent({ held: one }, { held: { fat: 9 } }, before)).toBe(false);
    expect(sameContent({ held: one }, { held: other, more: 1 }, before)).toBe(false);
  });

  it("finds a field beside as many others", () => {
    expect(sameContent({ a: undefined, b: 1 }, { b: 1, c: 5 })).toBe(false);
    expect(sameContent({ a: undefined, b: 1 }, { b: 1, c: undefined })).toBe(true);
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
