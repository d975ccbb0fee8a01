import { describe, expect, it } from "vitest";
import { notPlain } from "./plain-data.js";

const at = (value: unknown) => notPlain({ a: [1, { b: value }] });

describe("what is lost on the way through text", () => {
  it.each([
    ["no number", Number.NaN],
    ["an endless number", Number.POSITIVE_INFINITY],
    ["a nought below nought", -0],
    ["a date", new Date(0)],
    ["a map", new Map()],
    ["a typed array", new Float64Array(2)],
    ["an object of a class", new (class Some {})()],
    ["a function", () => 1],
    ["a symbol", Symbol("a")],
    ["a big integer", 1n],
    ["what writes itself otherwise", { toJSON: () => 1 }],
    ["a gap in a list", [undefined]],
  ])("is %s, by its path, and comparing with the copy says the same", (name, value) => {
    expect(at(value)).toEqual([name === "a gap in a list" ? ".a[1].b[0]" : ".a[1].b"]);
    const copied = () => JSON.parse(JSON.stringify({ b: value }));
    if (typeof value === "bigint") expect(copied).toThrow();
    else if (!(value instanceof Map) && name !== "an object of a class")
      expect(copied()).not.toEqual({ b: value });
  });

  it("is nothing of plain records and lists; a property without a value is as good as none", () => {
    const plain = { a: [1, "x", null, true, [], {}], b: undefined, c: { d: -1.5 } };
    expect(notPlain(plain)).toEqual([]);
    expect(JSON.parse(JSON.stringify(plain))).toEqual(plain);
    expect(notPlain(Object.create(null))).toEqual([]);
  });

  it("is told at twenty places at most", () => {
    expect(notPlain(new Array(50).fill(Number.NaN))).toHaveLength(20);
  });
});
