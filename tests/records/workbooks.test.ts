import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { deflateRawSync } from "node:zlib";
import fc from "fast-check";
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { sizeLimits } from "../../src/core/size-limits.js";
import { openWorkbookApart } from "../../src/records/files/open-workbook-apart.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { openWorkbook, serialText } from "../../src/records/open-workbook.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { buildSeries } from "../../src/series/build-series.js";
import { makeWorkbook, type SheetSketch, serial, type Value } from "./make-workbook.js";
import { animalsCsv, inputs, settings, short, type Texts, weighingsCsv } from "./small-study.js";

const stamp = (text: string, z = "yyyy-mm-dd hh:mm"): Value => ({ v: serial(text), z });
const animals: SheetSketch = {
  rows: animalsCsv
    .trim()
    .split("\n")
    .map((line) => line.split(",")),
};
const read = (texts: Texts, more: object = {}) =>
  parseStudy(inputs({ "study.json": JSON.stringify({ ...settings, ...more }), ...texts }));

const weighingRows: readonly (readonly Value[])[] = [
  ["animal_id", "at", "mass_g", "tare_g", "coat"],
  ["P1", stamp("2025-03-05 14:30"), 2350, 410, "dry"],
  ["P1", stamp("2025-03-06 07:00"), 2371.5, 410, "dry"],
  ["P2", stamp("2025-03-06 10:00"), 1500, 0, "wet"],
];
const plain = { animals, weighings: { rows: weighingRows } };
const expected = [
  [Date.parse("2025-03-05T13:30Z"), 2350],
  [Date.parse("2025-03-06T06:00Z"), 2371.5],
  [Date.parse("2025-03-06T09:00Z"), 1500],
];
const got = (s: ReturnType<typeof read>) => s.tables.weighings.map((w) => [w.at, w.massG]);

describe("workbooks", () => {
  it.each([
    [23, "#REF!"],
    [7, "#DIV/0!"],
    [42, "#N/A"],
    [15, "#VALUE!"],
  ])("keep an error of the spreadsheet (%i, %s): no tare of zero, no blank", (code, word) => {
    for (const format of ["xlsx", "biff8"] as const) {
      const weighings = { rows: weighingRows, errors: { D2: code, C3: code } };
      const book = makeWorkbook({ animals, weighings }, { format });
      const s = read(
        { [format === "xlsx" ? "r.xlsx" : "r.xls"]: book },
        { blank_tare_is_zero: true },
      );
      // Without its mass a row is set aside; without its tare it stays, and stands for no day.
      expect(s.setAside.map((row) => [row.line, row.column, row.value])).toEqual([
        [3, "mass_g", word],
      ]);
      const first = [...s.tables.weighings].find((w) => w.origin.line === 2)!;
      expect([first.massG, first.tareG, first.unread?.["tareG"]]).toEqual([2350, null, word]);
      expect(buildSeries(s).animals[0]!.weighings[0]!.netG).toBeNull();
    }
  });

  it("keeps an error that the workbook library does not know", () => {
    const book = makeWorkbook({ animals, weighings: { rows: weighingRows, errors: { D2: 23 } } });
    const parts = unzipSync(book);
    const name = "xl/worksheets/sheet2.xml";
    parts[name] = strToU8(strFromU8(parts[name]!).replace("#REF!", "#SPILL!"));
    expect(strFromU8(parts[name])).toContain("#SPILL!");
    const s = read({ "r.xlsx": zipSync(parts) }, { blank_tare_is_zero: true });
    const first = [...s.tables.weighings].find((w) => w.origin.line === 2)!;
    expect([first.tareG, first.unread?.["tareG"]]).toEqual([null, "#ERROR!"]);
  });

  it("are read as XLSX, XLS and ODS alike, to the minute in the study's zone", () => {
    for (const format of ["xlsx", "biff8", "ods"] as const) {
      const name =
        format === "ods" ? "records.ods" : format === "xlsx" ? "records.xlsx" : "records.xls";
      const s = read({ [name]: makeWorkbook(plain, { format }) });
      expect(got(s), format).toEqual(expected);
      expect(s.setAside).toEqual([]);
      expect([...s.tables.weighings][0]!.origin).toEqual({ file: `${name}#weighings`, line: 2 });
    }
  });

  it("keep dates in the 1904 system", () => {
    const rows = weighingRows.map((row) =>
      row.map((x) => (x !== null && typeof x === "object" ? { ...x, v: x.v - 1462 } : x)),
    );
    expect(
      got(read({ "r.xlsx": makeWorkbook({ animals, weighings: { rows } }, { date1904: true }) })),
    ).toEqual(expected);
  });

  it("with title rows, a two-row header, merged cells, hidden rows and decimal commas", () => {
    const sheet: SheetSketch = {
      rows: [
        ["Weights of the nursery", null, null, null],
        ["kept by the night shift", null, null, null],
        [null, null, null, null],
        ["animal_id", "Weighing", null, null],
        [null, "at", "mass (kg)", "tare (g)"],
        ["P1", stamp("2025-03-05 14:30"), 2.35, 410],
        [null, stamp("2025-03-06 07:00"), "2,3715", 410],
        ["P2", stamp("2025-03-06 10:00"), "1500 g", 0],
      ],
      merged: ["A1:D1", "A4:A5", "B4:D4", "A6:A7"],
      hiddenRows: [7],
    };
    const s = read({ "r.xlsx": makeWorkbook({ animals, Weights: sheet }) }, { decimal: "comma" });
    expect(got(s)).toEqual(expected);
    expect(s.tables.weighings.map((w) => [w.animalId, w.origin.line])).toEqual([
      ["P1", 6],
      ["P1", 7],
      ["P2", 8],
    ]);
    const codes = s.notices.map((n) => n.code);
    expect(codes).toContain("records-rows-hidden");
    expect(codes).toContain("records-merged-cells");
    expect(codes).toContain("records-rows-above");
  });

  it("with several tables one below the other, and their titles", () => {
    const stacked: SheetSketch = {
      rows: [
        ["Animals"],
        ...animals.rows,
        [null],
        ["Weighings"],
        ...weighingRows,
        [null],
        ["and again, next page"],
        weighingRows[0]!,
        ["P2", stamp("2025-03-07 07:00"), 1512, 0, "dry"],
        ["P2", "soon", 1512, 0, "dry"],
      ],
    };
    const s = read({ "r.xlsx": makeWorkbook({ Everything: stacked }) });
    expect(got(s)).toEqual([...expected, [Date.parse("2025-03-07T06:00Z"), 1512]]);
    expect(s.tables.animals).toHaveLength(2);
    expect(short(s.setAside)).toEqual([
      [15, "at", "soon", "records-not-a-time", "suggest-time-form"],
    ]);
    expect(s.counts.every((c) => c.rowsIn === c.accepted + c.setAside)).toBe(true);
  });

  it("with date and time in two columns, the time a fraction of a day", () => {
    const rows: Value[][] = [
      ["animal_id", "Day", "Time", "mass_g"],
      ["P1", stamp("2025-03-05 00:00", "dd/mm/yyyy"), { v: 14.5 / 24, z: "h:mm AM/PM" }, 2350],
      ["P2", stamp("2025-03-06 00:00", "dd/mm/yyyy"), { v: 10 / 24, z: "h:mm AM/PM" }, 1500],
    ];
    const s = read(
      { "r.xlsx": makeWorkbook({ animals, weighings: { rows } }) },
      { columns: { weighings: { at: "Day + Time" } } },
    );
    expect(got(s)).toEqual([expected[0], expected[2]]);
  });

  it("tell sheets that hold no table, and hidden ones", () => {
    const s = read({
      "r.xlsx": makeWorkbook({
        animals,
        weighings: { rows: weighingRows, hidden: true },
        Ideas: { rows: [["buy", "fish"]] },
      }),
    });
    expect(s.notices.map((n) => n.code)).toEqual(
      expect.arrayContaining(["records-sheet-ignored", "records-sheet-hidden"]),
    );
  });
});

describe("serial dates", () => {
  it("are those of ECMA-376 part 1, 18.17.4.1", () => {
    // The standard's own examples: 1 is 1900-01-01, 59 is 1900-02-28, 61 is 1900-03-01, 2958465 is 9999-12-31.
    expect(serialText(1, false, false)).toBe("1900-01-01");
    expect(serialText(59, false, false)).toBe("1900-02-28");
    expect(serialText(60, false, false)).toBeNull();
    expect(serialText(61, false, false)).toBe("1900-03-01");
    expect(serialText(2_958_465, false, false)).toBe("9999-12-31");
    expect(serialText(0, true, false)).toBe("1904-01-01");
    expect(serialText(0.25, false, true)).toBe("06:00");
    expect(serialText(45_779 + 59.9999 / 1440, false, true)).toBe("2025-05-02 01:00");
  });
  it("give back every minute they were made of", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: Date.UTC(1990, 0, 1) / 60_000, max: Date.UTC(2090, 0, 1) / 60_000 }),
        (m) => {
          const text = new Date(m * 60_000).toISOString().slice(0, 16).replace("T", " ");
          expect(serialText(serial(text), false, true)).toBe(text);
          expect(serialText(serial(text) - 1462, true, true)).toBe(text);
        },
      ),
      { seed: 20250317, numRuns: 1000 },
    );
  });
});

describe("hostile workbooks", () => {
  /** One part that unpacks to many zeros, in a ZIP that declares `declared` bytes. */
  const bomb = (unpacked: number, declared: number) => {
    const name = new TextEncoder().encode("xl/worksheets/sheet1.xml");
    const packed = deflateRawSync(new Uint8Array(unpacked), { level: 9 });
    const local = new DataView(new ArrayBuffer(30));
    const central = new DataView(new ArrayBuffer(46));
    const end = new DataView(new ArrayBuffer(22));
    local.setUint32(0, 0x04034b50, true);
    local.setUint16(8, 8, true);
    local.setUint32(18, packed.length, true);
    local.setUint32(22, declared, true);
    local.setUint16(26, name.length, true);
    central.setUint32(0, 0x02014b50, true);
    central.setUint16(10, 8, true);
    central.setUint32(20, packed.length, true);
    central.setUint32(24, declared, true);
    central.setUint16(28, name.length, true);
    end.setUint32(0, 0x06054b50, true);
    end.setUint16(8, 1, true);
    end.setUint16(10, 1, true);
    end.setUint32(12, 46 + name.length, true);
    end.setUint32(16, 30 + name.length + packed.length, true);
    const parts = [local, name, packed, central, name, end].map((p) =>
      p instanceof DataView ? new Uint8Array(p.buffer) : p,
    );
    return new Uint8Array(Buffer.concat(parts));
  };
  const limits = { ...sizeLimits, unpackedBytes: 2 ** 20 };

  it("are refused by what they declare, and by what comes out", () => {
    expect(() => openWorkbook("b.xlsx", bomb(2 ** 22, 2 ** 22), limits)).toThrow(
      /b\.xlsx.*at most 1 MB.*4 MB/,
    );
    expect(() => openWorkbook("b.xlsx", bomb(2 ** 22, 10), limits)).toThrow(
      /more than that, though it declares/,
    );
    expect(() => openWorkbook("b.xlsx", bomb(100, 100), { ...limits, workbookBytes: 50 })).toThrow(
      /at most 0 MB/,
    );
  });

  it("that are cut off or scrambled are refused by name or read, never more", () => {
    const whole = makeWorkbook(plain);
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: whole.length }),
        fc.array(fc.tuple(fc.nat(whole.length - 1), fc.nat(255)), { maxLength: 5 }),
        (length, changes) => {
          const bytes = whole.slice(0, length);
          for (const [at, value] of changes) if (at < length) bytes[at] = value;
          try {
            const s = read({
              "r.xlsx": bytes,
              "animals.csv": animalsCsv,
              "weighings.csv": weighingsCsv,
            });
            expect(s.counts.every((c) => c.rowsIn === c.accepted + c.setAside)).toBe(true);
          } catch (error) {
            expect((error as Error).name).toBe("UsageError");
          }
        },
      ),
      { seed: 20250318, numRuns: 150 },
    );
  });

  it("are opened in a worker that is stopped when its time is over", async () => {
    const bytes = makeWorkbook(plain);
    expect(await openWorkbookApart("r.xlsx", bytes)).toEqual(openWorkbook("r.xlsx", bytes));
    await expect(
      openWorkbookApart("r.xlsx", bytes, { ...sizeLimits, workbookSeconds: 0 }),
    ).rejects.toThrow(/r\.xlsx.*within 0 s/);
    await expect(openWorkbookApart("bad.xlsx", bytes.slice(0, 300))).rejects.toThrow(/bad\.xlsx/);
  });

  it("are read from a folder like any table", async () => {
    const folder = await mkdtemp(join(tmpdir(), "gramline-"));
    await writeFile(join(folder, "study.json"), JSON.stringify(settings));
    await writeFile(join(folder, "records.xlsx"), makeWorkbook(plain));
    expect(got(await readStudy(folder))).toEqual(expected);
  });
});

describe("tables as JSON", () => {
  const rows = [
    { animal_id: "P1", at: "2025-03-05 14:30", mass_g: 2350, tare_g: 410, __proto__: 1 },
    { animal_id: "P1", at: "2025-03-06 07:00", mass_g: { g: 3 } },
    7,
  ];
  it("are read row by row, and what is no row is set aside", () => {
    const s = read({ "animals.csv": animalsCsv, "weighings.json": JSON.stringify(rows) });
    expect(got(s)).toEqual([expected[0]]);
    expect(s.setAside).toHaveLength(2);
    const lists = [
      ["animal_id", "at", "mass_g"],
      ["P1", "2025-03-05 14:30", 2350],
    ];
    expect(
      got(read({ "animals.csv": animalsCsv, "weighings.json": JSON.stringify(lists) })),
    ).toEqual([expected[0]]);
  });
  it("nested without end are refused", () => {
    const deep = `${"[".repeat(200_000)}${"]".repeat(200_000)}`;
    expect(() => read({ "animals.csv": animalsCsv, "weighings.json": deep })).toThrow(
      /nested deeper/,
    );
    expect(() => read({ "animals.csv": animalsCsv, "weighings.json": "{" })).toThrow(/JSON/);
  });
});
