import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { openWorkbook } from "../../src/records/open-workbook.js";
import { makeWorkbook } from "./make-workbook.js";
import { tryText, tryWorkbook } from "./mutate.js";

/** Texts read and built into series; read, analysed and made into pages they are in `tests/attack`, and 100,000 times with 5,000 workbooks in the bench `records-spoilt`. */
describe("spoilt files", () => {
  it("600 texts: none crashes, hangs or loses a row", () => {
    const random = seededRandom(20250322);
    let read = 0;
    let worst = 0;
    for (let i = 0; i < 600; i++) {
      const from = performance.now();
      if (tryText(random.split(i)) !== "refused") read++;
      worst = Math.max(worst, performance.now() - from);
    }
    expect(read).toBeGreaterThan(300);
    expect(worst).toBeLessThan(5000);
  });
  it("60 workbooks: none crashes, hangs or loses a row", () => {
    const random = seededRandom(20250323);
    let read = 0;
    for (let i = 0; i < 60; i++) if (tryWorkbook(random.split(i)) !== "refused") read++;
    expect(read).toBeGreaterThan(10);
  });
  it("a workbook with a sheet without a name once crashed the reader (bench, files 2128 and 4425)", () => {
    const random = seededRandom(20250323);
    for (const file of [2128, 4425]) expect(tryWorkbook(random.split(file))).toBeTruthy();
  });
  it("a sheet that claims a million rows once took a minute (bench, file 546)", () => {
    const from = performance.now();
    expect(tryWorkbook(seededRandom(20250323).split(546))).toBeTruthy();
    const wide = makeWorkbook({ Sheet: { rows: [["animal_id", "x"]], merged: ["A1:XFD1048576"] } });
    expect(openWorkbook("wide.xlsx", wide)[0]!.rows.length).toBeLessThan(10);
    expect(performance.now() - from).toBeLessThan(20_000);
  });
});
