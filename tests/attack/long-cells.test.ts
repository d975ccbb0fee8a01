import { describe, expect, it } from "vitest";
import { tableColumns, tableNames } from "../../src/records/columns.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { animalsCsv, inputs, settings, weighingsCsv } from "../records/small-study.js";

/**
 * A cell of very many letters in every column of every table, in every form that a reader
 * looks for something in. Work that grows with the square of the letters (10,000 million
 * steps) does not end in the time that a test has, and a pattern that overflows its stack
 * is no sentence.
 */
const isWhole = process.env["ATTACKS"] === "all";
const letters = isWhole ? 100_000 : 20_000;
const forms: Readonly<Record<string, string>> = {
  digits: "7",
  "digits and spaces": "7 ",
  signs: "-",
  pluses: "+",
  apostrophes: "'",
  "quotation marks": '""',
  units: "7 kg ",
  dates: "2025-03-01 ",
  clocks: "07:00 ",
  "one letter": "a",
  "brackets not closed": "(",
  "brackets of all kinds": "([{",
  "decimal commas": "1,",
  points: "1.",
  strokes: "1/",
  shares: "7%",
  spaces: " x",
  accents: "e\u0301",
  "wide digits": "\uff17",
  "signs not seen": "\u200b",
  colons: ":",
  dashes: "\u2013",
  "line ends": "\n",
  "about and less": "~<7 ",
  times: "3 x 40 g ",
  ranges: "7 to ",
  months: "1 Mar ",
  every: "every 3 h ",
  ditto: '"" "" ',
  semicolons: "; ",
};
const tried = Object.entries(forms).filter(
  ([name]) => isWhole || /^(digits|units|brackets)/.test(name),
);

describe.each(tableNames)("a cell of very many letters in the table of %s", (table) => {
  it.each(tried)("%s", (_, bit) => {
    const columns = tableColumns[table].map((column) => column.name);
    const cell = `"${bit.repeat(Math.floor(letters / bit.length))}"`;
    // One row for each column, so that a row set aside for one says nothing of the others.
    const rows = columns.map((long) =>
      columns.map((name) => (name === long ? cell : name === "animal_id" ? "P1" : "")).join(","),
    );
    const files: Record<string, string> = {
      "study.json": JSON.stringify(settings),
      "animals.csv": animalsCsv,
      "weighings.csv": weighingsCsv,
    };
    files[`${table}.csv`] = `${columns.join(",")}\n${rows.join("\n")}\n`;
    const study = parseStudy(inputs(files));
    const count = study.counts.find((each) => each.table === table)!;
    expect(count.accepted + count.setAside).toBe(count.rowsIn);
    expect(count.rowsIn).toBeGreaterThanOrEqual(columns.length - 1);
  });
});
