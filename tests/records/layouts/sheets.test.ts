import { describe, expect, it } from "vitest";
import { makeWorkbook, serial, type Value } from "../make-workbook.js";
import { agreedStudy, fed, steps, weighed } from "./agree.js";

const balanced = (s: {
  counts: readonly { rowsIn: number; accepted: number; setAside: number }[];
}) => s.counts.every((c) => c.rowsIn === c.accepted + c.setAside);
const day = (text: string): Value => ({ v: serial(text), z: "yyyy-mm-dd" });
const stamp = (text: string): Value => ({ v: serial(text), z: "yyyy-mm-dd hh:mm" });

describe("titles above a heading", () => {
  const truth = ["P1 2025-03-05 07:00 2350", "P2 2025-03-05 07:10 1500"];
  it("in a CSV file with our own headings need no question", async () => {
    const a = await agreedStudy({
      "weighings.csv":
        "Weights of the nursery, spring, all animals\n# kept by the night shift\n\nanimal_id,at,mass_g\nP1,2025-03-05 07:00,2350\nP2,2025-03-05 07:10,1500\n",
    });
    expect(a.added).toEqual([]);
    expect(weighed(a.study)).toEqual(truth);
    expect([...a.study.tables.weighings][0]!.origin).toEqual({ file: "weighings.csv", line: 5 });
    expect(a.study.notices.map((n) => n.code)).toContain("records-rows-above");
  });
  it("with semicolons below a title with commas, and other headings", async () => {
    const a = await agreedStudy(
      {
        "waage.csv":
          "Gewichte, Jungtiere, 2025\n\nTier;Datum;Uhrzeit;Gewicht (kg)\nP1;05.03.2025;07:00;2,350\nP2;05.03.2025;07:10;1,500\n",
      },
      { decimal: "comma", date_style: "day-month-year" },
    );
    expect(weighed(a.study)).toEqual(truth);
    expect(a.study.setAside).toEqual([]);
  });
  it("in a workbook, a merged title and a heading of two lines", async () => {
    const a = await agreedStudy({
      "book.xlsx": makeWorkbook({
        Scale: {
          rows: [
            ["Nursery scale", null, null],
            ["Pup", "Weighing", null],
            [null, "Date and time", "Weight (g)"],
            ["P1", stamp("2025-03-05 07:00"), 2350],
            ["P2", stamp("2025-03-05 07:10"), 1500],
          ],
          merged: ["A1:C1", "A2:A3", "B2:C2"],
        },
      }),
    });
    expect(weighed(a.study)).toEqual(truth);
    expect(balanced(a.study)).toBe(true);
  });
});

describe("a sheet or file for each animal", () => {
  const truth = [
    "P1 2025-03-05 07:00 2350",
    "P1 2025-03-06 07:00 2371",
    "P2 2025-03-05 07:10 1500",
  ];
  it("sheets named after the animals", async () => {
    const a = await agreedStudy({
      "book.xlsx": makeWorkbook({
        Bramble: {
          rows: [
            ["at", "mass_g"],
            [stamp("2025-03-05 07:00"), 2350],
            [stamp("2025-03-06 07:00"), 2371],
          ],
        },
        Thistle: {
          rows: [
            ["at", "mass_g"],
            [stamp("2025-03-05 07:10"), 1500],
          ],
        },
      }),
    });
    expect(weighed(a.study)).toEqual(truth);
    expect(steps(a)).toEqual(["one animal", "one animal"]);
    expect(a.settings["files"]).toEqual({ weighings: ["book.xlsx#Bramble", "book.xlsx#Thistle"] });
  });
  it("files named after them, with titles, other words and other orders of columns", async () => {
    const a = await agreedStudy({
      "weights P1.csv": "Bramble\nWeight,Date,Time\n2350,2025-03-05,07:00\n2371,2025-03-06,07:00\n",
      "weights P2.csv": "Thistle\nWeight,Date,Time\n1500,2025-03-05,07:10\n",
    });
    expect(weighed(a.study)).toEqual(truth);
  });
  it("sheets with numbers for names, the animal in a title, and ditto marks", async () => {
    const a = await agreedStudy({
      "book.xlsx": makeWorkbook({
        "1": {
          rows: [
            ["Pup: Bramble", null, null],
            ["Date", "Time", "Weight (g)"],
            ["2025-03-05", "07:00", 2350],
            ["2025-03-06", '"', 2371],
          ],
        },
        "2": {
          rows: [
            ["Pup: Thistle", null, null],
            ["Date", "Time", "Weight (g)"],
            ["2025-03-05", "07:10", 1500],
          ],
        },
      }),
    });
    expect(weighed(a.study)).toEqual(truth);
  });
  it("names above the rows of each, the heading repeated", async () => {
    const a = await agreedStudy({
      "weighings.csv":
        "Bramble,,\nDate,Time,Weight (g)\n2025-03-05,07:00,2350\n2025-03-06,07:00,2371\n,,\nThistle,,\nDate,Time,Weight (g)\n2025-03-05,07:10,1500\n",
    });
    expect(weighed(a.study)).toEqual(truth);
    expect(steps(a)).toContain("animal above its rows");
  });
});

describe("days, animals or times across", () => {
  const truth = [
    "P1 2025-03-05 12:00 2350",
    "P1 2025-03-06 12:00 2371",
    "P1 2025-03-07 12:00 2390",
    "P2 2025-03-05 12:00 1500",
    "P2 2025-03-07 12:00 1522",
  ];
  it("days across and animals down, in a CSV file, with totals", async () => {
    const a = await agreedStudy({
      "weighings.csv":
        "animal_id,2025-03-05,2025-03-06,2025-03-07,Mean\nP1,2350,2371,2390,2370\nP2,1500,,1522,1511\nTotal,3850,2371,3912,\n",
    });
    expect(weighed(a.study)).toEqual(truth);
    expect(a.study.setAside).toEqual([]);
    expect([...a.study.tables.weighings][3]!.origin).toEqual({
      file: "weighings.csv",
      line: 3,
      cell: "B3",
    });
    expect(a.study.notices.map((n) => n.code)).toContain("records-totals-left-out");
  });
  it("in a workbook, below a title, days without a year, kilograms", async () => {
    const a = await agreedStudy({
      "book.xlsx": makeWorkbook({
        Weights: {
          rows: [
            ["Weights in kg, spring 2025", null, null, null],
            ["Pup", "5 Mar", "6 Mar", "7 Mar"],
            ["Bramble", 2.35, 2.371, 2.39],
            ["Thistle", 1.5, "-", 1.522],
          ],
        },
      }),
    });
    expect(weighed(a.study)).toEqual(truth);
  });
  it("in a workbook, real dates as headings, a cell that is no number set aside with its place", async () => {
    const a = await agreedStudy({
      "book.xlsx": makeWorkbook({
        Weighings: {
          rows: [
            ["Name", day("2025-03-05"), day("2025-03-06"), day("2025-03-07")],
            ["P1", 2350, 2371, 2390],
            ["P2", 1500, "ill", 1522],
          ],
        },
      }),
    });
    expect(weighed(a.study)).toEqual(truth);
    expect(a.study.setAside).toMatchObject([
      { file: "book.xlsx#Weighings", line: 3, cell: "C3", column: "mass_g", value: "ill" },
    ]);
  });
  it("animals across and days down", async () => {
    const a = await agreedStudy({
      "weighings.csv":
        "Date,Bramble,Thistle\n2025-03-05,2350,1500\n2025-03-06,2371,\n2025-03-07,2390,1522\n",
    });
    expect(weighed(a.study)).toEqual(truth);
  });
  it("two lines of heading: days, and below them morning and evening", async () => {
    const a = await agreedStudy({
      "weighings.csv":
        ",2025-03-05,,2025-03-06,\nPup,07:00,19:00,07:00,19:00\nP1,2350,2360,2371,2380\nP2,1500,1505,1511,\n",
    });
    expect(weighed(a.study)).toEqual([
      "P1 2025-03-05 07:00 2350",
      "P1 2025-03-05 19:00 2360",
      "P1 2025-03-06 07:00 2371",
      "P1 2025-03-06 19:00 2380",
      "P2 2025-03-05 07:00 1500",
      "P2 2025-03-05 19:00 1505",
      "P2 2025-03-06 07:00 1511",
    ]);
  });
  it("clock times across and days down, a feeding chart for each animal", async () => {
    const chart = (name: string, rows: string) =>
      `Feeds offered (g): ${name}\nDate,06:00,09:00,12:00\n${rows}`;
    const a = await agreedStudy({
      "feeds Bramble.csv": chart("Bramble", "2025-03-05,60,62,65\n2025-03-06,66,,70\n"),
      "feeds Thistle.csv": chart("Thistle", "2025-03-05,40,41,42\n"),
      "weighings.csv": "animal_id,at,mass_g\nP1,2025-03-05 07:00,2350\n",
    });
    expect(fed(a.study)).toEqual([
      "P1 2025-03-05 06:00 60 ?",
      "P1 2025-03-05 09:00 62 ?",
      "P1 2025-03-05 12:00 65 ?",
      "P1 2025-03-06 06:00 66 ?",
      "P1 2025-03-06 12:00 70 ?",
      "P2 2025-03-05 06:00 40 ?",
      "P2 2025-03-05 09:00 41 ?",
      "P2 2025-03-05 12:00 42 ?",
    ]);
  });
});

describe("blocks side by side", () => {
  const truth = [
    "P1 2025-03-05 07:00 2350",
    "P1 2025-03-06 07:00 2371",
    "P2 2025-03-05 07:10 1500",
    "P2 2025-03-06 07:10 1511",
  ];
  it("of the same headings, a blank column between them", async () => {
    const a = await agreedStudy({
      "weighings.csv":
        "animal_id,at,mass_g,,animal_id,at,mass_g\nP1,2025-03-05 07:00,2350,,P2,2025-03-05 07:10,1500\nP1,2025-03-06 07:00,2371,,P2,2025-03-06 07:10,1511\n",
    });
    expect(weighed(a.study)).toEqual(truth);
    expect(a.study.counts.filter((c) => c.table === "weighings").map((c) => c.rowsIn)).toEqual([
      2, 2,
    ]);
  });
  it("one for each animal below merged names, in a workbook", async () => {
    const a = await agreedStudy({
      "book.xlsx": makeWorkbook({
        Weights: {
          rows: [
            ["Bramble", null, "Thistle", null],
            ["Date and time", "Weight (g)", "Date and time", "Weight (g)"],
            ["2025-03-05 07:00", 2350, "2025-03-05 07:10", 1500],
            ["2025-03-06 07:00", 2371, "2025-03-06 07:10", 1511],
          ],
          merged: ["A1:B1", "C1:D1"],
        },
      }),
    });
    expect(weighed(a.study)).toEqual(truth);
  });
  it("of different tables: weighings left, feeds right", async () => {
    const a = await agreedStudy({
      "log.csv":
        "Pup,When,Weight (g),,Pup,When,Offered (g),Left over (g)\nP1,2025-03-05 07:00,2350,,P1,2025-03-05 08:00,60,5\nP1,2025-03-06 07:00,2371,,P2,2025-03-05 08:10,40,0\nP2,2025-03-05 07:10,1500,,,,,\nP2,2025-03-06 07:10,1511,,,,,\n",
    });
    expect(weighed(a.study)).toEqual(truth);
    expect(fed(a.study)).toEqual(["P1 2025-03-05 08:00 60 5", "P2 2025-03-05 08:10 40 0"]);
  });
});
