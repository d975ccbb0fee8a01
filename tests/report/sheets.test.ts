import { createRequire } from "node:module";
import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { measured, notDefined } from "../../src/core/measured.js";
import { notice } from "../../src/core/notice.js";
import { csvText, guarded } from "../../src/report/renderers/sheet/csv-text.js";
import { sheetCells } from "../../src/report/renderers/sheet/sheet-cells.js";
import { sheetNames, workbook } from "../../src/report/renderers/sheet/workbook.js";
import { table } from "../../src/report/section/section.js";

const xlsx = createRequire(import.meta.url)("@e965/xlsx");

const gains = table(
  "gains",
  "Gains",
  [{ title: "Animal" }, { title: "Gain", unit: "g/d" }],
  [
    ['=HYPERLINK("x")', measured(61.23456789012345, "g/d", { se: 3.1, n: 8 })],
    ["+49 170", notDefined("g/d", notice("series-no-weighings", "problem", { animal: "P" }))],
    ['-Fern, "the" second', measured(-2, "g/d", { se: 1 })],
  ],
);

describe("sheetCells", () => {
  it("keeps every digit and puts error, n and reason in columns of their own", () => {
    const [header, first, second] = sheetCells(gains);
    expect(header).toEqual([
      "Animal",
      "Gain (g/d)",
      "Gain (g/d) standard error",
      "Gain (g/d) n",
      "Gain (g/d) why not defined",
    ]);
    expect(first!.slice(1)).toEqual([61.23456789012345, 3.1, 8, null]);
    expect(second![1]).toBeNull();
    expect(second![4]).toMatch(/.+/);
  });
});

describe("csvText", () => {
  it("guards texts that would act as formulas and leaves numbers alone", () => {
    // The characters named under "CSV Injection" by the Open Worldwide Application Security Project.
    for (const start of ["=", "+", "-", "@", "\t", "\r", " ="]) {
      expect(guarded(`${start}1`)).toBe(`'${start}1`);
    }
    expect(guarded("O24-01")).toBe("O24-01");
    expect(csvText([["mass"], [-2.5]])).toBe("\ufeffmass\r\n-2.5\r\n");
  });

  it("comes back as it was through an independent reader (papaparse)", () => {
    const cell = fc.oneof(
      fc.string({ maxLength: 12 }),
      fc.constantFrom("a,b", 'say "x"', "x\r\ny", "ü"),
    );
    fc.assert(
      fc.property(
        fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { minLength: 1 }),
        (rows) => {
          const { data } = Papa.parse<string[]>(csvText(rows).slice(1), {
            delimiter: ",",
            newline: "\r\n",
          });
          expect(data.slice(0, -1)).toEqual(rows.map((row) => row.map(guarded)));
        },
      ),
      { seed: 20241125, numRuns: 200 },
    );
  });
});

describe("workbook", () => {
  const make = () => workbook([gains, gains], { title: "A study", date: "2026-01-31" });

  it("gives the same bytes twice, at another time and in another zone of the machine", async () => {
    const first = make();
    const zone = process.env["TZ"];
    process.env["TZ"] = "Pacific/Auckland";
    await new Promise((done) => setTimeout(done, 2100));
    const second = make();
    process.env["TZ"] = zone ?? "";
    expect(Buffer.from(second).equals(Buffer.from(first))).toBe(true);
  });

  it("holds texts as texts, numbers as numbers, and a sheet for each table", () => {
    const book = xlsx.read(make(), { type: "buffer" });
    expect(book.SheetNames).toEqual(["contents", "gains", "gains 2"]);
    const sheet = book.Sheets["gains"];
    expect(sheet["A2"]).toMatchObject({ t: "s", v: '=HYPERLINK("x")' });
    expect(sheet["A2"].f).toBeUndefined();
    expect(sheet["B2"]).toMatchObject({ t: "n", v: 61.23456789012345 });
  });

  it("makes names that the format takes", () => {
    expect(sheetNames(["a/b?", "A B", "x".repeat(40), ""])).toEqual([
      "a b",
      "A B 2",
      `${"x".repeat(30)}…`,
      "table",
    ]);
  });
});
