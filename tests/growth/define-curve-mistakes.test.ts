import { describe, expect, it } from "vitest";
import { defineCurve, type OwnCurve } from "../../src/growth/define-curve.js";

const power: OwnCurve = {
  name: "power",
  formula: "a * t ^ b",
  parameters: [
    { name: "a", meaning: "the mass at age 1", kind: "mass", start: 10 },
    { name: "b", meaning: "the power of age", kind: "shape", start: 1 },
  ],
};

describe("a curve of one's own", () => {
  it.each([
    ["a function in place of the formula", { formula: () => 1 }],
    ["no formula", { formula: undefined }],
    ["names alone as parameters", { parameters: ["a", "b"] }],
    ["a parameter without a start", { parameters: [{ name: "a", meaning: "m", kind: "mass" }] }],
    ["no name", { name: undefined }],
  ])("names what it needs: %s", (_, wrong) => {
    const curve = { ...power, ...wrong } as unknown as OwnCurve;
    expect(() => defineCurve(curve)).toThrow(/defineCurve: needed a name, a formula as text/);
  });

  it("is made where all is there", () => {
    expect(defineCurve(power).equation).toBe("W(t) = a * t ^ b");
  });
});
