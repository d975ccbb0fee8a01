import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { decodeText } from "../../src/records/decode-text.js";
import { scanDelimited } from "../../src/records/scan-delimited.js";
import { balanced, study, weighingsCsv } from "./small-study.js";

const header = weighingsCsv.split("\n")[0]!;

describe("rows in = accepted + set aside", () => {
  const goodCell = fc.constantFrom(
    "P1",
    "P2",
    "2025-03-06 07:00",
    "2371",
    "0",
    "b1",
    "bucket",
    "dry",
    "before",
    "",
  );
  const badCell = fc.string({ unit: "grapheme", maxLength: 12 });
  const cell = fc.oneof({ weight: 5, arbitrary: goodCell }, { weight: 1, arbitrary: badCell });
  const row = fc.array(cell, { minLength: 1, maxLength: 11 });

  it("for tables of anything, written as CSV", () => {
    fc.assert(
      fc.property(fc.array(row, { maxLength: 30 }), (rows) => {
        const text = `${header}\n${Papa.unparse(rows, { newline: "\n" })}`;
        const s = study({ "weighings.csv": text });
        expect(balanced(s)).toBe(true);
        const real = rows.filter((r) => r.some((c) => c.trim() !== "")).length;
        expect(s.counts.find((c) => c.table === "weighings")!.rowsIn).toBe(real);
        expect(s.tables.weighings.length + s.setAside.length).toBe(real);
      }),
      { seed: 20250311, numRuns: 300 },
    );
  });

  it("for text of anything below a header, and no line is lost", () => {
    const line = fc.oneof(
      fc.constantFrom(...weighingsCsv.split("\n").slice(1, 5)),
      fc.string({ unit: fc.constantFrom(..."P1,\";\t2025-03 07:x\r'") }),
    );
    fc.assert(
      fc.property(fc.array(line, { maxLength: 20 }), (lines) => {
        const text = `${header}\n${lines.join("\n")}\n`;
        const s = study({ "weighings.csv": text });
        expect(balanced(s)).toBe(true);
        // Whatever is no blank line is in a row that was accepted or set aside.
        const starts = new Set([
          ...s.tables.weighings.map((w) => w.origin.line),
          ...s.setAside.map((r) => r.line),
        ]);
        const scanned = scanDelimited(text, ",").slice(1);
        for (const r of scanned)
          if (r.broken !== undefined || r.cells.some((c) => c.trim() !== ""))
            expect(starts).toContain(r.line);
      }),
      { seed: 20250312, numRuns: 500 },
    );
  });
});

describe("laws of reading", () => {
  const mass = fc.integer({ min: 500, max: 50_000 });

  it("the unit does not matter: kilograms in a kilogram column are the same grams", () => {
    fc.assert(
      fc.property(fc.array(mass, { minLength: 1, maxLength: 20 }), (masses) => {
        const table = (column: string, scale: number) =>
          study({
            "weighings.csv": `animal_id,at,${column},tare_g\n${masses
              .map(
                (m, i) =>
                  `P1,2025-03-06 ${String(7 + (i % 12)).padStart(2, "0")}:${String(i).padStart(2, "0")},${m / scale},0`,
              )
              .join("\n")}`,
          }).tables.weighings.map((w) => w.massG);
        expect(table("mass_kg", 1000)).toEqual(table("mass_g", 1));
        expect(table("mass_g", 1)).toEqual(masses);
      }),
      { seed: 20250313, numRuns: 100 },
    );
  });

  it("the order of rows does not matter to what is accepted", () => {
    const lines = weighingsCsv.trim().split("\n").slice(1);
    const rows = [
      ...lines,
      "P1,2025-03-09 07:00,x,0,,,,,",
      "P9,2025-03-09 07:00,2,0,,,,,",
      lines[1]!,
    ];
    const content = (text: string) => {
      const s = study({ "weighings.csv": `${header}\n${text}\n` });
      const bare = s.tables.weighings.map(({ origin: _, ...row }) => JSON.stringify(row)).sort();
      return [bare, s.setAside.map((r) => r.reason.code).sort()];
    };
    fc.assert(
      fc.property(fc.shuffledSubarray(rows, { minLength: rows.length }), (mixed) => {
        expect(content(mixed.join("\n"))).toEqual(content(rows.join("\n")));
      }),
      { seed: 20250314, numRuns: 100 },
    );
  });
});

describe("cutting text into cells", () => {
  const cell = fc.string({ unit: fc.constantFrom(..."ab 1.\"';\t|é\n"), maxLength: 8 });
  it("gives what papaparse gives on well-formed text", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(",", ";", "\t", "|"),
        fc.constantFrom("\n", "\r\n"),
        fc.integer({ min: 2, max: 5 }).chain((width) =>
          fc.array(fc.array(cell, { minLength: width, maxLength: width }), {
            minLength: 1,
            maxLength: 12,
          }),
        ),
        (delimiter, newline, rows) => {
          // Whole rows inside one cell are taken for stray quotes on purpose; leave those out.
          const safe = rows.map((r) =>
            r.map((c) => (c.includes("\n") ? c.replaceAll(delimiter, "") : c)),
          );
          const text = Papa.unparse(safe, { delimiter, newline, quotes: true });
          const theirs = Papa.parse<string[]>(text, { delimiter, newline }).data;
          expect(scanDelimited(text, delimiter).map((r) => r.cells)).toEqual(theirs);
        },
      ),
      { seed: 20250315, numRuns: 500 },
    );
  });

  it("counts lines as an editor does", () => {
    const text = 'a,b\n"one\ntwo",2\n\nx,"y"\r\n"z\r\nz",1';
    expect(scanDelimited(text, ",").map((r) => r.line)).toEqual([1, 2, 5, 6]);
  });

  it("lets no stray quote swallow the rows below it", () => {
    const text = 'a,b,c\n1,2,"wet\n3,4,5\n6,7,8"\n9,9,9\n';
    const rows = scanDelimited(text, ",");
    expect(rows.map((r) => [r.line, r.broken !== undefined])).toEqual([
      [1, false],
      [2, true],
      [3, false],
      [4, false],
      [5, false],
    ]);
    expect(rows.at(1)!.cells).toEqual(['1,2,"wet']);
    // A quote inside an unquoted cell is only a character (a 5" tube).
    expect(scanDelimited('a,b\n5" tube,2\n', ",").at(1)!.cells).toEqual(['5" tube', "2"]);
  });
});

describe("decoding", () => {
  it("loses no byte of Windows-1252 and never throws", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
        const { text, encoding } = decodeText(bytes);
        if (encoding === "Windows-1252") expect(text).toHaveLength(bytes.length);
      }),
      { seed: 20250316, numRuns: 500 },
    );
  });
});
