import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { notice } from "../../src/core/notice.js";
import { ColumnTable } from "../../src/records/column-table.js";
import { type Column, tableColumns } from "../../src/records/columns.js";
import { DraftTable } from "../../src/records/draft-row.js";
import { SharedWords } from "../../src/records/shared-words.js";
import type { ReadRow, TableName } from "../../src/records/study.js";
import { study } from "./small-study.js";

/** Rows as one would make them by hand: one object each, keys in the order of the columns. */
interface Written {
  readonly values: Readonly<Record<string, unknown>>;
  readonly line: number;
  readonly cell: string | undefined;
  readonly unread: Readonly<Record<string, string>> | undefined;
  readonly setAside: boolean;
}

const anyValue = ({ holds, blankIs }: Column): fc.Arbitrary<unknown> => {
  const blank = fc.constant(blankIs ?? null);
  switch (holds) {
    case "number":
    case "instant":
    case "day start":
      return fc.oneof(blank, fc.integer(), fc.double({ noNaN: true, noDefaultInfinity: true }));
    case "id":
    case "text":
    case "value":
    case "choice":
    case "date":
      return fc.oneof(blank, fc.constantFrom("a", "b", "a long word of a note"), fc.string());
    default:
      return fc.oneof(blank, fc.record({ words: fc.string(), value: fc.option(fc.integer()) }));
  }
};

const rowsOf = (table: TableName): fc.Arbitrary<readonly Written[]> =>
  fc.array(
    fc.record({
      values: fc.record(
        Object.fromEntries(tableColumns[table].map((c) => [c.key, anyValue(c)] as const)),
      ),
      line: fc.nat(1_000_000),
      cell: fc.option(fc.constantFrom("D7", "AB12"), { nil: undefined, freq: 5 }),
      unread: fc.option(fc.constant({ notes: "?" }), { nil: undefined, freq: 5 }),
      setAside: fc.integer({ min: 0, max: 4 }).map((n) => n === 0),
    }),
    { maxLength: 12 },
  );

function kept(table: TableName, file: string, rows: readonly Written[], words: SharedWords) {
  const raw = rows.map(({ line, cell }) => ({
    ...{ line, cells: [] },
    ...(cell === undefined ? {} : { cell }),
  }));
  const drafts = new DraftTable(table, file, new Map(), raw, words);
  for (const [i, { values, unread, setAside }] of rows.entries()) {
    const draft = drafts.add(i);
    for (const [key, value] of Object.entries(values)) draft.set(key, value);
    for (const [key, text] of Object.entries(unread ?? {})) draft.keepUnread(key, text);
    if (!setAside) continue;
    const told = notice("records-broken-quote", "problem");
    draft.fault = { column: null, value: null, reason: told, suggestion: told };
  }
  return drafts.accepted();
}

function byHand(table: TableName, file: string, rows: readonly Written[]): ReadRow[] {
  return rows
    .filter((row) => !row.setAside)
    .map(({ values, line, cell, unread }) => ({
      ...Object.fromEntries(tableColumns[table].map((c) => [c.key, values[c.key]] as const)),
      origin: cell === undefined ? { file, line } : { file, line, cell },
      ...(unread === undefined ? {} : { unread }),
    }));
}

describe("a table of columns", () => {
  it("is its rows: one by one, in turn, changed, chosen and as JSON", () => {
    const names = fc.constantFrom<TableName>("weighings", "feeds", "observations", "plans");
    const files = names.chain((name) =>
      fc.tuple(fc.constant(name), fc.array(rowsOf(name), { maxLength: 3 })),
    );
    let seen = 0;
    fc.assert(
      fc.property(files, ([name, parts]) => {
        const words = new SharedWords();
        const table = new ColumnTable<ReadRow>(
          parts.map((rows, i) => kept(name, `${name}-${i}.csv`, rows, words)),
        );
        words.close();
        const rows = parts.flatMap((own, i) => byHand(name, `${name}-${i}.csv`, own));
        seen += rows.length;
        expect(table).toHaveLength(rows.length);
        expect([...table]).toEqual(rows);
        expect(rows.map((_, i) => table.row(i))).toEqual(rows);
        expect(JSON.stringify(table)).toBe(JSON.stringify(rows));
        expect(table.map((row, i) => [row, i])).toEqual(rows.map((row, i) => [row, i]));
        const odd = (row: ReadRow) => row.origin.line % 2 === 1;
        expect(table.filter(odd)).toEqual(rows.filter(odd));
        expect(table.flatMap((row, i) => [row.origin, i])).toEqual(
          rows.flatMap((row, i) => [row.origin, i]),
        );
        for (const at of [-1, -2, -rows.length - 1, rows.length]) {
          expect(table.at(at)).toEqual(rows.at(at));
          expect([...table.slice(at)]).toEqual(rows.slice(at));
          expect([...table.slice(1, at)]).toEqual(rows.slice(1, at));
        }
        expect(table.find(() => false)).toBeUndefined();
        expect(() => table.row(rows.length)).toThrow(RangeError);
        expect(() => table.row(-1)).toThrow(RangeError);
      }),
      { seed: 2017, numRuns: 400 },
    );
    expect(seen).toBeGreaterThan(2000);
  });

  it("takes no value of another kind for a blank", () => {
    const blank = [{ line: 2, cells: [] }];
    const drafts = new DraftTable("feeds", "feeds.csv", new Map(), blank, new SharedWords());
    const draft = drafts.add(0);
    expect(() => draft.set("offeredG", "60")).toThrow(TypeError);
    expect(() => draft.set("dietId", 60)).toThrow(TypeError);
    expect(draft.get("no such column")).toBeUndefined();
  });

  it("keeps an observation's value as text and as a number, as JSON in the same order", () => {
    const s = study({
      "observations.csv":
        "animal_id,at,kind,value,unit\nP1,2025-03-06 09:00,temperature,37.8,degC\nP1,2025-03-06 10:00,stool,soft,\n",
    });
    const [warm, stool] = s.tables.observations;
    expect(warm).toMatchObject({ value: 37.8, valueText: "37.8" });
    expect(stool).toMatchObject({ value: null, valueText: "soft" });
    expect(Object.keys(warm!)).toEqual([
      ...["animalId", "at", "kind", "value", "unit", "notes", "origin", "valueText"],
    ]);
  });
});
