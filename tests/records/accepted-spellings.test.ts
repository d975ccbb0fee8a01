import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { acceptedSpellings } from "../../src/records/accepted-spellings.js";
import { meaningOf } from "../../src/records/cell-words.js";
import { unitNamed } from "../../src/units/quantity.js";
import { readRoughDate } from "../../src/units/read-rough-date.js";

const readme = readFileSync(fileURLToPath(new URL("../../README.md", import.meta.url)), "utf8");

/** One row of the table in the README; a bar inside a cell would end it. */
const row = (s: ReturnType<typeof acceptedSpellings>[number]) =>
  `| ${s.where} | ${s.written.map((w) => `\`${w.replaceAll("|", "\\|")}\``).join(" ")} | ${s.readAs} |`;

describe("the accepted spellings", () => {
  it("stand in the README as the readers use them, all in the table of their step", () => {
    for (const spelling of acceptedSpellings()) expect(readme).toContain(`\n   ${row(spelling)}\n`);
  });
  it("are read as they say", () => {
    for (const { where, written, readAs } of acceptedSpellings()) {
      if (where.startsWith("any cell") || where.startsWith("refused"))
        for (const word of written) expect(readAs).toContain(meaningOf(word)!);
      if (where.startsWith("after a number"))
        for (const word of written) expect(unitNamed(word)).toBe(readAs);
      if (where === "birth dates")
        for (const date of written.flatMap((w) => w.split(", ")).filter((d) => !d.includes(" / ")))
          expect([date, readRoughDate(date, "day-month-year").kind]).not.toEqual([
            date,
            "not a date",
          ]);
    }
  });
});
