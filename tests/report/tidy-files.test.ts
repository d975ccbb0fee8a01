import { beforeAll, describe, expect, it } from "vitest";
import { askReport } from "../../src/analysis/ask-report.js";
import { measured } from "../../src/core/measured.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { reportTables } from "../../src/report/husbandry/study-report.js";
import { sheetCells } from "../../src/report/renderers/sheet/sheet-cells.js";
import { columnDecimals } from "../../src/report/section/column-decimals.js";
import { type Table, table } from "../../src/report/section/section.js";
import { demoStudyText, onlyAnimals, studyFiles } from "../look/study-text.js";
import { reportOf } from "../look/words-of-report.js";

/**
 * Tidy data (H. Wickham, Journal of Statistical Software 59(10), 2014): each
 * variable a column, each value a cell; here with units in the heading.
 */
describe("the files of a report are tidy", () => {
  let tables: readonly { table: Table; cells: ReturnType<typeof sheetCells> }[];
  beforeAll(async () => {
    const few = [
      "O23-01",
      "O23-02",
      "O24-02",
      "O24-04",
      "O24-06",
      "O24-07",
      "S23-03",
      "S24-01",
      "S24-03",
    ];
    const study = onlyAnimals(demoStudyText(), few);
    const files = [...studyFiles(study)].map(([path, of]) => ({ path, bytes: Buffer.from(of) }));
    const answer = (await askReport(parseStudy(files), { curves: ["gompertz"] })).value;
    const report = reportOf(answer);
    const { animals } = answer.analysis.value;
    tables = [...reportTables(report.sections), ...report.sheetsOnly].map((each) => ({
      table: each,
      cells: sheetCells(each, undefined, animals),
    }));
  }, 120_000);

  it("one value a cell: no range, no number with its unit, no list of numbers, no dash", () => {
    // These repeat what was written, or are sentences.
    const words =
      /as written|^written$|why|evidence|read as|notes?$|^value$|holds|^what|unit$|remarks|by group|decision|sha-256/i;
    const several =
      /\d (?:to|or) [−-]?\d|^[−-]?[\d.\u202f]+ (?:g|kg|d|h|%|kcal|g\/d|%\/d|count|°C|cm)$|\d \(|^–$/;
    const found = tables.flatMap(({ table: { name }, cells: [head, ...rows] }) =>
      head.flatMap((title, at) =>
        words.test(title)
          ? []
          : rows.flatMap((row) =>
              typeof row[at] === "string" && several.test(row[at])
                ? [`${name}, ${title}: ${row[at]}`]
                : [],
            ),
      ),
    );
    expect([...new Set(found)]).toEqual([]);
    expect(tables.length).toBeGreaterThan(30);
  });

  it("units in the heading, and no heading twice", () => {
    for (const {
      table: { name },
      cells: [head],
    } of tables)
      expect(new Set(head).size, `${name}: ${head.join("; ")}`).toBe(head.length);
  });

  it("species and season stand in columns: of each animal, and where a table is of one species", () => {
    const names = tables.map((t) => t.table.name);
    const twice = new Set(names.filter((name, at) => names.indexOf(name) !== at));
    expect(twice.size).toBeGreaterThan(3);
    for (const {
      table: { name },
      cells: [head],
    } of tables) {
      if (head.includes("Animal"))
        expect(head, name).toEqual(expect.arrayContaining(["Name", "Species", "Season"]));
      if (twice.has(name)) expect(head, name).toContain("Species");
      expect(head.join(" "), name).not.toMatch(/\b20\d\d\b/);
    }
  });
});

describe("a sheet", () => {
  it("gives the unit its own column where rows have different ones", () => {
    const mixed = table(
      "mixed",
      "Mixed",
      [{ title: "Signal" }, { title: "Value" }],
      [
        ["vomit", measured(2, "count")],
        ["slowed gain", measured(8.2, "evidence")],
      ],
    );
    expect(sheetCells(mixed)).toEqual([
      ["Signal", "Value", "Value unit"],
      ["vomit", 2, "count"],
      ["slowed gain", 8.2, "evidence"],
    ]);
  });

  it("names an animal by id, name, species and season", () => {
    const own = table("own", "Own", [{ title: "Animal" }, { title: "Days" }], [["Fern (P1)", 3]]);
    const fern = { animalId: "P1", name: "Fern", species: "sea otter", season: "2025" };
    expect(sheetCells(own, undefined, [fern])).toEqual([
      ["Animal", "Name", "Species", "Season", "Days"],
      ["P1", "Fern", "sea otter", "2025", 3],
    ]);
  });
});

describe("the numbers of a column have one number of decimals", () => {
  it.each([
    [[79, 67.3, null], 3, 1],
    [[65.2, 30.6, 4.42], 2, 0],
    [[5, 12], 3, 0],
    [[1.907, 0.822], 3, 2],
    // Shown with the decimals of the largest the smallest would be nothing.
    [[1250, 0.0004], 3, undefined],
    [["asleep", 2.5], 3, undefined],
    [[], 3, undefined],
  ])("%j with %i digits", (cells, digits, decimals) => {
    expect(columnDecimals(cells, digits)).toBe(decimals);
  });
});
