import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { type TotalOptions, totalRecords } from "../../src/records/files/total-records.js";
import { feedingDayOf } from "../../src/units/calendar.js";
import { animalsCsv, study } from "./small-study.js";

const folder = await mkdtemp(join(tmpdir(), "gramline-"));
const options: TotalOptions = {
  settings: {
    zone: "Europe/Berlin",
    feedingDayStartHour: 6,
    dateStyle: "year-month-day",
    decimal: "point",
  },
  table: "feeds",
  headers: { kind: "diet_id" },
  // One of them is in no animals table: the reader of small files takes it for one all the same.
  knownAnimals: new Set(["P1", "P2", "P\u00fc"]),
};
let files = 0;
async function total(text: string | Uint8Array, more: Partial<TotalOptions> = {}) {
  const path = join(folder, `${files++}.csv`);
  await writeFile(path, text);
  const r = await totalRecords(path, { ...options, ...more });
  return { ...r, list: [...r.groups()] };
}

/** The same file through the reader of small files, added up by plain means. */
function small(text: string) {
  const s = study({ "feeds.csv": text });
  const groups = new Map<string, { n: number; sum: number }>();
  for (const f of s.tables.feeds) {
    const key = [f.animalId, f.dietId ?? "", feedingDayOf(f.at, "Europe/Berlin", 6)].join("|");
    const g = groups.get(key) ?? { n: 0, sum: 0 };
    groups.set(key, { n: g.n + 1, sum: g.sum + f.offeredG });
  }
  const count = s.counts.find((c) => c.table === "feeds")!;
  return {
    count,
    setAside: s.setAside.map((r) => [r.line, r.column, r.reason.code]),
    groups: [...groups].map(([key, g]) => [key, g.n, g.sum]).sort(),
  };
}

const header = "animal_id,at,diet_id,offered_g";

describe("adding up a file as it streams", () => {
  it("accepts, sets aside and adds up as the reader of small files does", async () => {
    // Every row has a time of its own, so that no row stands twice (which a stream cannot see).
    const cell = {
      animal: fc.constantFrom("P1", "P2", "P1", "Pl", "", " P1 ", "P\u00fc"),
      amount: fc.constantFrom(
        "60",
        "61.5",
        "0",
        "-3",
        "about 60",
        "",
        "1e2",
        "0.06 kg",
        "1,250",
        "60.123456789012345",
      ),
      diet: fc.constantFrom("milk", "fish", "", 'a "b", c', "two\nlines"),
      time: fc.constantFrom(" ", "T"),
      odd: fc.integer({ min: 0, max: 19 }),
      tail: fc.constantFrom("", "", "", ",", ",x"),
    };
    const row = fc.record(cell);
    const line = fc.tuple(row, fc.boolean());
    await fc.assert(
      fc.asyncProperty(
        fc.array(line, { maxLength: 25 }),
        fc.constantFrom("\n", "\r\n"),
        fc.boolean(),
        async (rows, newline, lastNewline) => {
          const lines = rows.map(([r, quote], i) => {
            const minute = `2025-03-${String(29 + (i % 2)).padStart(2, "0")}${r.time}${String((i * 7) % 24).padStart(2, "0")}:${String(i).padStart(2, "0")}`;
            const at =
              r.odd === 0
                ? "2025-03-30 02:30"
                : r.odd === 1
                  ? "soon"
                  : r.odd === 2
                    ? `${minute}Z`
                    : minute;
            return (
              Papa.unparse([[r.animal, at, r.diet, r.amount]], { quotes: quote, newline: "\n" }) +
              r.tail
            );
          });
          const text = [header, ...lines].join(newline) + (lastNewline ? newline : "");
          const ours = await total(text);
          const theirs = small(text);
          const twice = theirs.setAside.filter(([, , code]) => code === "records-row-twice");
          if (twice.length > 0) return;
          // A blank animal is told by its cell here, by the missing group there: compare the lines,
          // and what is said of every other row.
          expect(ours.firstSetAside.map((r) => r.line)).toEqual(theirs.setAside.map(([l]) => l));
          ours.firstSetAside.forEach((r, i) => {
            if (r.reason.code !== "records-empty-cell")
              expect([r.line, r.column, r.reason.code]).toEqual(theirs.setAside[i]);
          });
          expect([ours.rowsIn, ours.accepted]).toEqual([
            theirs.count.rowsIn,
            theirs.count.accepted,
          ]);
          expect(
            ours.list.map((g) => [`${g.animalId}|${g.kind}|${g.day}`, g.n, g.sumG]).sort(),
          ).toEqual(theirs.groups);
        },
      ),
      { seed: 20250320, numRuns: 150 },
    );
  });

  it("puts nights across both clock changes into the right feeding day", async () => {
    const r = await total(
      `${header}\nP1,2025-03-30 05:59,milk,1\nP1,2025-03-30 06:00,milk,2\nP1,2025-10-26 04:30Z,milk,4\nP1,2025-10-26T05:30:00Z,milk,8\nP1,2025-10-26 02:30,milk,16\n`,
    );
    expect(r.list.map((g) => [g.day, g.sumG])).toEqual([
      ["2025-03-29", 1],
      ["2025-03-30", 2],
      ["2025-10-25", 4],
      ["2025-10-26", 8],
    ]);
    expect(r.reasons).toEqual({ "records-time-happens-twice": 1 });
  });

  it("reads pieces cut anywhere: rows across the bounds of a megabyte", async () => {
    const filler = "x".repeat(997);
    const rows = Array.from(
      { length: 3000 },
      (_, i) =>
        `P${1 + (i % 2)},2025-05-01 ${String(i % 24).padStart(2, "0")}:${String(i % 60).padStart(2, "0")},${i % 5 === 0 ? `"${filler}\n,"` : filler},${i}`,
    );
    const r = await total(`\ufeff${header}\n${rows.join("\r\n")}`);
    expect([r.rowsIn, r.accepted]).toEqual([3000, 3000]);
    expect(r.list.reduce((sum, g) => sum + g.sumG, 0)).toBe((2999 * 3000) / 2);
    expect(r.list.find((g) => g.kind.startsWith("xx"))?.n).toBeGreaterThan(0);
  });

  it("follows other headers, delimiters, units and decimal commas", async () => {
    const r = await total("Tier;Zeit;Menge\nA;01.05.2025 07:00;0,06\nA;01.05.2025 09:00;0,5\n", {
      settings: { ...options.settings, dateStyle: "day-month-year", decimal: "comma" },
      headers: { animal: "Tier", at: "Zeit", amount: "Menge" },
      unit: "kg",
      knownAnimals: new Set(["A"]),
    });
    expect(r.list).toEqual([{ animalId: "A", kind: "", day: "2025-05-01", n: 2, sumG: 560 }]);
  });

  it("says what is wrong with the file, once and by name", async () => {
    await expect(totalRecords(join(folder, "none.csv"), options)).rejects.toThrow(
      /none\.csv.*cannot be opened/,
    );
    await expect(total("")).rejects.toThrow(/empty/);
    await expect(total("a,b\n1,2\n")).rejects.toThrow(/"animal_id".*a, b/);
    await expect(total(Uint8Array.from([0xff, 0xfe, 65, 0]))).rejects.toThrow(/UTF-16/);
  });

  it("stays bounded on rows without end, quotes without end and a million columns", async () => {
    const good = "P1,2025-05-01 07:00,milk,5\n";
    const long = await total(`${header}\n${good}${"y".repeat(5_000_000)}\n${good}`);
    expect([long.accepted, long.setAside, long.reasons]).toEqual([
      2,
      1,
      { "records-row-too-long": 1 },
    ]);
    expect(long.list[0]!.n).toBe(2);
    const quote = await total(`${header}\nP1,2025-05-01 07:00,"milk,5\n${good.repeat(20_000)}`);
    expect([quote.accepted, quote.reasons]).toEqual([20_000, { "records-broken-quote": 1 }]);
    const wide = await total(`${header}\n${good.trim()}${",".repeat(900_000)}z\n${good}`);
    expect([wide.accepted, wide.reasons]).toEqual([1, { "records-too-many-cells": 1 }]);
    expect(animalsCsv).toContain("P1");
  });

  it("refuses a file that study.json lays out otherwise, and takes no ditto mark for an animal", async () => {
    const home = await mkdtemp(join(tmpdir(), "gramline-"));
    const rows = `${header}\nP1,2025-05-01 07:00,milk,60\n",2025-05-01 10:00,milk,50\n-,2025-05-01 13:00,milk,40\n`;
    await writeFile(join(home, "feeds.csv"), rows.replace('\n",', '\n"""",'));
    const open = { ...options, knownAnimals: undefined } as unknown as TotalOptions;
    const r = await totalRecords(join(home, "feeds.csv"), open);
    expect([r.rowsIn, r.accepted, r.animals]).toEqual([3, 1, ["P1"]]);
    const layouts = { "feeds.csv": [{ layout: "ditto marks", columns: ["animal_id"] }] };
    await writeFile(join(home, "study.json"), JSON.stringify({ layouts }));
    await expect(totalRecords(join(home, "feeds.csv"), open)).rejects.toThrow(
      /feeds\.csv.*plain list|feeds\.csv.*layout/,
    );
    // A study.json that says nothing of this file, or nothing at all, changes nothing.
    for (const text of ['{"layouts":{"other.csv":[{"layout":"x"}]}}', "{", "[]"]) {
      await writeFile(join(home, "study.json"), text);
      expect((await totalRecords(join(home, "feeds.csv"), open)).accepted).toBe(1);
    }
  });

  it.each([
    [
      "a clock of twelve hours",
      ["6:00", "9:00", "12:00", "3:00", "6:10", "9:10"],
      "records-half-of-day-doubtful",
      60,
    ],
    [
      "night feeds under the evening's date",
      ["06:00", "12:00", "18:00", "22:00", "01:00", "04:00"],
      "records-night-date-doubtful",
      20,
    ],
  ])(
    "asks about %s as the reader of small files does, however long the file",
    async (_, clocks, code, asked) => {
      const days = (n: number) =>
        Array.from({ length: n }, (_, i) => new Date(Date.UTC(2025, 2, 1 + i)).toISOString());
      const file = (n: number, animals: readonly string[]) =>
        `${header}\n${days(n)
          .flatMap((d) =>
            animals.flatMap((id) => clocks.map((c) => `${id},${d.slice(0, 10)} ${c},milk,60`)),
          )
          .join("\n")}\n`;
      const text = file(10, ["P1"]);
      const ours = await total(text);
      const theirs = small(text);
      expect(ours.firstSetAside.map((r) => [r.line, r.column, r.reason.code])).toEqual(
        theirs.setAside,
      );
      expect(ours.reasons).toEqual({ [code]: asked });
      expect(ours.list.map((g) => [`P1|milk|${g.day}`, g.n, g.sumG])).toEqual(theirs.groups);
      // 1.3 MB: longer than what is looked at.
      const long = await total(file(4000, ["P1", "P2"]));
      expect(long.setAside).toBe((asked / 60) * 48_000);
      expect(long.accepted).toBe(48_000 - long.setAside);
      // Said to be right as they stand, they are added up.
      const home = await mkdtemp(join(tmpdir(), "gramline-"));
      await writeFile(join(home, "feeds.csv"), text);
      const layouts = { "feeds.csv": [{ layout: "times as written" }] };
      await writeFile(join(home, "study.json"), JSON.stringify({ layouts }));
      expect((await totalRecords(join(home, "feeds.csv"), options)).accepted).toBe(60);
    },
  );

  it("can be stopped", async () => {
    await expect(total(`${header}\n`, { signal: AbortSignal.abort() })).rejects.toThrow(/abort/i);
  });
});
