import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isDitto } from "../../src/records/layouts/ditto-marks.js";
import { plainInstants } from "../../src/records/plain-instant.js";
import { scanDelimited, scanRow } from "../../src/records/scan-delimited.js";
import { ownText, SharedWords } from "../../src/records/shared-words.js";
import { cellOf } from "../../src/records/text-row.js";
import { readTime } from "../../src/units/read-time.js";

const two = (n: number) => String(n).padStart(2, "0");

describe("what is read by a shorter way is read alike", () => {
  it("instants, each date once: in zones and at hours where clocks are changed, too", () => {
    const zones = ["UTC", "Europe/Berlin", "America/St_Johns", "Australia/Lord_Howe"];
    const readers = new Map(zones.map((zone) => [zone, plainInstants(zone)] as const));
    let plain = 0;
    const dates = fc.tuple(fc.integer({ min: 2019, max: 2031 }), fc.nat(13), fc.nat(32));
    const clocks = fc.tuple(fc.nat(25), fc.nat(61), fc.constantFrom(" ", "T", "  ", "t"));
    fc.assert(
      fc.property(fc.constantFrom(...zones), dates, clocks, (zone, [y, m, d], [h, min, gap]) => {
        const text = `${y}-${two(m)}-${two(d)}${gap}${two(h)}:${two(min)}`;
        const at = readers.get(zone)!(text);
        if (Number.isNaN(at)) return;
        plain++;
        const whole = readTime(text, zone, "day-month-year");
        expect(whole).toEqual({ kind: "instant", at, dateOnly: false });
      }),
      { seed: 1717, numRuns: 4000 },
    );
    expect(plain).toBeGreaterThan(1000);
    // The whole of the days on which Berlin changes its clocks goes the long way.
    expect(readers.get("Europe/Berlin")!("2025-03-30 12:00")).toBeNaN();
    expect(readers.get("Europe/Berlin")!("2025-10-26 02:30")).toBeNaN();
  });

  it("cells of a row, one alone or all of them, however often they are cut", () => {
    const cell = fc.oneof(
      fc.constantFrom("", "do", "ditto", '"', "idem", "dry", " do.", "12", '"a,b"', '"x\ny"'),
      fc.string({ maxLength: 9 }),
    );
    const texts = fc.array(fc.array(cell, { minLength: 1, maxLength: 5 }), { maxLength: 8 });
    let dittos = 0;
    fc.assert(
      fc.property(texts, fc.constantFrom(",", ";", "\t"), (lines, mark) => {
        const text = `a${mark}b${mark}c\n${lines.map((cells) => cells.join(mark)).join("\n")}`;
        const width = 3;
        let place = { position: 0, line: 1 };
        const slow: { line: number; cells: readonly string[]; broken: boolean }[] = [];
        while (place.position < text.length) {
          const { row, next } = scanRow(text, place, mark, slow.length === 0 ? 0 : width);
          if (row !== null)
            slow.push({ line: row.line, cells: row.cells, broken: row.broken !== undefined });
          place = next;
        }
        const rows = scanDelimited(text, mark);
        expect(
          rows.map((row) => ({
            line: row.line,
            cells: row.cells,
            broken: row.broken !== undefined,
          })),
        ).toEqual(slow);
        for (const row of rows) {
          for (let i = 0; i < 7; i++) expect(cellOf(row, i)).toBe(row.cells[i] ?? "");
          const ditto = row.broken === undefined && row.cells.some(isDitto);
          if (ditto) dittos++;
          expect(ditto && row.noDitto === true).toBe(false);
        }
      }),
      { seed: 1718, numRuns: 1500 },
    );
    expect(dittos).toBeGreaterThan(50);
  });

  it("words keep their number and their text, whatever they were cut from", () => {
    const words = new SharedWords();
    fc.assert(
      fc.property(fc.string(), fc.nat(40), (text, from) => {
        const piece = `${text} and what is behind it`.slice(from);
        expect(ownText(piece)).toBe(piece);
        const code = words.codeOf(piece);
        expect(code).toBeGreaterThan(0);
        expect(words.codeOf(piece)).toBe(code);
        expect(words.textOf(code)).toBe(piece);
      }),
      { seed: 1719 },
    );
    expect(words.textOf(0)).toBeNull();
  });
});
