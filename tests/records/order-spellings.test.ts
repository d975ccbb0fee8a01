import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { orderSpellingsTable, withOrderSpellings } from "./readme-spellings.js";

const readme = readFileSync(new URL("../../README.md", import.meta.url), "utf8");

describe("how orders may be written", () => {
  it("stands in the README as the lists of the reader have it", () => {
    expect(readme).toContain(orderSpellingsTable());
    expect(withOrderSpellings(readme)).toBe(readme);
  });

  it("would be out of step with one spelling more or less", () => {
    expect(withOrderSpellings(readme.replace("npo, ", "")).includes("npo, ")).toBe(true);
    expect(readme.replace("npo, ", "")).not.toContain(orderSpellingsTable());
  });
});
