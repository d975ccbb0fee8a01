import { describe, expect, it } from "vitest";
import { proposalLines } from "../../src/command-line/check-proposals.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { readPrior } from "../../src/records/prior-file.js";
import { proposeForStudy } from "../../src/records/propose-for-study.js";
import { screenWording } from "../../src/units/format.js";
import { animalsCsv, inputs, settings, weighingsCsv } from "../records/small-study.js";

/** Files that are tables or settings in form, and nothing of the kind in size or content. */
const study = (weighings: string, more: object = {}) =>
  inputs({
    "study.json": JSON.stringify({ ...settings, ...more }),
    "animals.csv": animalsCsv,
    "weighings.csv": weighings,
  });
const wide = (columns: number) =>
  `animal_id,at,mass_g${",x".repeat(columns)}\nP1,2025-03-01 06:00,2000${",1".repeat(columns)}\n`;
const sentence = (make: () => unknown): string => {
  try {
    make();
  } catch (error) {
    expect((error as Error).name).toBe("UsageError");
    return (error as Error).message;
  }
  throw new Error("it was not refused");
};

describe("a table wider than any is", () => {
  it("of 100,000 columns is refused by name, and nothing is proposed for it", () => {
    const inputs = study(wide(100_000));
    expect(sentence(() => parseStudy(inputs))).toMatch(
      /weighings\.csv: needed a table of at most 2000 columns, but it has 100003/,
    );
    const named = proposeForStudy(inputs).tables.map((table) => table.file);
    expect(named.filter((file) => file.startsWith("weighings.csv"))).toEqual([]);
  });

  it("of many blocks is proposed on a few lines, with the number of those left out", () => {
    const proposed = proposeForStudy(study(wide(300)));
    expect(proposed.tables.length).toBeGreaterThan(100);
    const shown = proposalLines(proposed, screenWording("UTC")).join("\n");
    expect(shown.length).toBeLessThan(2000);
    expect(shown).toMatch(/and 290 more as the table of weighings/);
  });
});

describe("settings that are none", () => {
  const bad: readonly [string, unknown, RegExp][] = [
    ["zone", 5, /5 came \(a text is needed\)/],
    ["zone", "", /"" came \(it is empty\)/],
    ["species", {}, /came \(/],
    ["scale_error_g", { b: -1e308 }, /came \(it must be above 0\)/],
    ["feeding_day_start_hour", 1e308, /came \(it must be at most 23\)|came \(/],
    ["blank_tare_is_zero", "yes", /"yes" came \(true or false is needed\)/],
    ["date_style", "backwards", /came \(one of .*year-month-day.* is needed\)/],
    ["mass_bands", [], /came \(names with their values in \{ \} is needed\)/],
    ["priors", 7, /came \(a list is needed\)/],
  ];
  it.each(bad)("%s = %j is refused in a person's words", (key, value, words) => {
    const said = sentence(() => parseStudy(study(weighingsCsv, { [key]: value })));
    expect(said).toMatch(words);
    expect(said).not.toMatch(/Invalid|expected|received|Too (small|big)|>=|NaN|Infinity|\[object/);
  });

  it("a number beyond all bounds is called so, not nothing", () => {
    const made = JSON.stringify({ ...settings, scale_error_g: { b: 7.5 } }).replace("7.5", "1e400");
    const files = { "study.json": made, "animals.csv": animalsCsv, "weighings.csv": weighingsCsv };
    expect(sentence(() => parseStudy(inputs(files)))).toMatch(
      /scale_error_g\.b", but a number beyond all bounds came/,
    );
  });

  it("a prior file that is none is refused in a person's words", () => {
    const said = sentence(() => readPrior('{"kind":"gramline-prior","schema":1}', "p.json"));
    expect(said).not.toMatch(/Invalid|received|Too (small|big)/);
  });
});
