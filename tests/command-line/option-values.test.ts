import { describe, expect, it } from "vitest";
import {
  agesBetween,
  civilDay,
  namedValues,
  wholeNumber,
} from "../../src/command-line/option-values.js";

describe("an option's value", () => {
  it.each(["abc", "", "-1", "1.5", "1e3", "NaN", "Infinity", "9".repeat(16), "0x10"])(
    "is refused as a whole number: %j",
    (text) => {
      expect(() => wholeNumber("--seed", text)).toThrow(/--seed/);
    },
  );
  it("is a whole number from the least on", () => {
    expect(wholeNumber("--seed", "0")).toBe(0);
    expect(wholeNumber("--cell-seconds", " 30 ", 1)).toBe(30);
    expect(() => wholeNumber("--cell-seconds", "0", 1)).toThrow(/from 1 on/);
  });
  it.each(["2026-02-30", "31.1.2026", "today", ""])("is refused as a day: %j", (text) => {
    expect(() => civilDay("--on", text)).toThrow(/--on/);
  });
  it("is a day of the calendar", () => {
    expect(civilDay("--on", "2024-02-29")).toBe("2024-02-29");
  });
  it.each(["63-21", "21", "21-21", "a-b", "21 to 63"])("is refused as ages: %j", (text) => {
    expect(() => agesBetween("--ages", text)).toThrow(/younger first/);
  });
  it("is two ages", () => {
    expect(agesBetween("--ages", "21-63")).toEqual({ fromAgeD: 21, toAgeD: 63 });
  });
  it("is a name and its value, which may hold the sign itself", () => {
    expect(namedValues("--set", ["a=1=2", "b="])).toEqual({ a: "1=2", b: "" });
    expect(() => namedValues("--set", ["=x"])).toThrow(/name=value/);
  });
});
