import { describe, expect, it } from "vitest";
import { intervalChart } from "../../src/charts/interval-chart.js";
import { pictureNumbers } from "../../src/report/section/picture-numbers.js";
import { full } from "../charts/sample-charts.js";
import { wordFaults } from "../look/word-faults.js";

const of = (name: string) => pictureNumbers(full[name]!, name);
const at = (row: readonly unknown[], titles: readonly string[], title: string) =>
  row[titles.indexOf(title)];

describe("the numbers under a picture", () => {
  it.each(Object.keys(full))("of %s are written as the page's sentences are", (name) => {
    const { columns, rows } = of(name);
    const titles = columns.map((c) => c.title);
    for (const row of rows) {
      const [lower, upper] = [at(row, titles, "lower limit"), at(row, titles, "upper limit")];
      const about = titles.find(
        (title) =>
          /^(?:value|mass|gain|mean gain|middle)/i.test(title) &&
          typeof at(row, titles, title) === "string",
      );
      if (about !== undefined && typeof lower === "string" && typeof upper === "string")
        expect(wordFaults(`${at(row, titles, about)} (${lower} to ${upper})`)).toEqual([]);
      for (const cell of row) {
        expect(typeof cell).not.toBe("number");
        expect(String(cell)).not.toMatch(/NaN|undefined|^-|\d\.\d{3,}/);
      }
    }
    expect(titles).not.toContain("lower");
  });

  it("are rounded by the interval, and never finer than their unit", () => {
    const chart = (valueTitle: string) =>
      intervalChart({
        title: "t",
        valueTitle,
        of: "season",
        intervalIs: "95 % intervals",
        rows: [
          { name: "a", value: 61.234, lower: 55.12, upper: 67.4 },
          { name: "b", value: 1.699, lower: 1.104, upper: 2.295 },
          { name: "c", value: 487.2, lower: 372.1, upper: 602.3 },
          { name: "d", value: 14.65, lower: 14.65, upper: 14.65 },
        ],
      });
    expect(pictureNumbers(chart("Gain (g/d)"), "t").rows).toEqual([
      ["a", "61", "55", "67"],
      ["b", "2", "1", "2"],
      ["c", "490", "370", "600"],
      ["d", "15", "15", "15"],
    ]);
    const percent = pictureNumbers(chart("Gain (% of body mass a day)"), "t").rows;
    expect(percent[1]).toEqual(["b", "1.7", "1.1", "2.3"]);
  });

  it("keep readings as they were read", () => {
    const { rows } = pictureNumbers(
      {
        ...full["gain"]!,
        rows: [
          { day: 1.234, temperature: 37.9 },
          { day: 2, temperature: 38 },
        ],
      },
      "t",
    );
    expect(rows).toEqual([
      ["1.2", "37.9"],
      ["2.0", "38.0"],
    ]);
  });
});
