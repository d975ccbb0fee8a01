import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { readFolder } from "../../../src/records/files/read-study.js";
import { proposeForStudy } from "../../../src/records/propose-for-study.js";
import { makeWorkbook, type Value } from "../make-workbook.js";
import { agreedStudy, fed, weighed } from "./agree.js";

const scale = "animal_id,at,mass_g\nP1,2025-03-04 07:00,2350\n";
const charted = async (name: string, text: string, more: object = {}) =>
  fed((await agreedStudy({ "weighings.csv": scale, [name]: text }, more)).study);

describe("a study that reads as it is", () => {
  it("gets no proposal", async () => {
    const demo = fileURLToPath(new URL("../../fixtures/demo-853cc0e", import.meta.url));
    expect(proposeForStudy(await readFolder(demo))).toEqual({ tables: [], names: [] });
  });
});

describe("layouts that meet in one file", () => {
  it("a feeding chart over midnight: clock times across, the small hours last", async () => {
    const rows = ["2025-03-05", "2025-03-06", "2025-03-07"].map((d) => `${d},60,62,65,66`);
    expect(
      await charted("feeds Bramble.csv", `Date,06:00,18:00,00:00,03:00\n${rows.join("\n")}\n`),
    ).toEqual(
      [5, 6, 7]
        .flatMap((d) => [
          `P1 2025-03-0${d} 06:00 60 ?`,
          `P1 2025-03-0${d} 18:00 62 ?`,
          `P1 2025-03-0${d + 1} 00:00 65 ?`,
          `P1 2025-03-0${d + 1} 03:00 66 ?`,
        ])
        .sort(),
    );
  });

  it("a sheet for a day: animals down, hours with am and pm across, the day in the title", async () => {
    expect(
      await charted(
        "feeds.csv",
        "Feeds of 5 March 2025 (g)\nPup,6 am,12 pm,6 pm\nBramble,60,62,65\nThistle,40,-,42\nTotal,100,62,107\n",
      ),
    ).toEqual([
      "P1 2025-03-05 06:00 60 ?",
      "P1 2025-03-05 12:00 62 ?",
      "P1 2025-03-05 18:00 65 ?",
      "P2 2025-03-05 06:00 40 ?",
      "P2 2025-03-05 18:00 42 ?",
    ]);
  });

  it("blank days as above and a clock of twelve hours", async () => {
    const day = (d: number) =>
      `P1,2025-03-0${d},6:00,60\n,,9:00,61\n,,12:00,62\n,,3:00,63\n,,9:00,64\n`;
    expect(
      await charted("feeds.csv", `Pup,Date,Time,Offered (g)\n${[5, 6, 7].map(day).join("")}`),
    ).toEqual(
      [5, 6, 7].flatMap((d) =>
        ["06:00 60", "09:00 61", "12:00 62", "15:00 63", "21:00 64"].map(
          (rest) => `P1 2025-03-0${d} ${rest} ?`,
        ),
      ),
    );
  });

  it("one log of weights and feeds, and rows that have only one of them", async () => {
    const a = await agreedStudy({
      "log.csv":
        "Pup,Date,Time,Weight (g),Fed (g),Left (g)\nP1,2025-03-05,07:00,2350,60,5\nP1,2025-03-05,10:00,,62,0\nP2,2025-03-05,07:10,1500,,\n,2025-03-06,07:00,,,\n",
    });
    expect(weighed(a.study)).toEqual(["P1 2025-03-05 07:00 2350", "P2 2025-03-05 07:10 1500"]);
    expect(fed(a.study)).toEqual(["P1 2025-03-05 07:00 60 5", "P1 2025-03-05 10:00 62 0"]);
    // The row that is neither is lost to nobody: it is set aside once.
    expect(a.study.setAside.map((r) => r.line)).toEqual([5]);
  });

  it("animals above their measures, beside a date that all of them share", async () => {
    const rows: Value[][] = [
      [null, "Bramble", null, "Thistle", null],
      ["Date", "Weight (g)", "Fed (g)", "Weight (g)", "Fed (g)"],
      ["2025-03-05 07:00", 2350, 400, 1500, 300],
      ["2025-03-06 07:00", 2371, null, 1511, 310],
    ];
    const truth = [
      "P1 2025-03-05 07:00 2350",
      "P1 2025-03-06 07:00 2371",
      "P2 2025-03-05 07:00 1500",
      "P2 2025-03-06 07:00 1511",
    ];
    const text = rows.map((row) => row.map((cell) => cell ?? "").join(",")).join("\n");
    for (const files of [
      { "log.csv": text },
      { "log.xlsx": makeWorkbook({ Log: { rows, merged: ["B1:C1", "D1:E1"] } }) },
    ]) {
      const { study } = await agreedStudy(files);
      expect(weighed(study)).toEqual(truth);
      expect(fed(study)).toEqual([
        "P1 2025-03-05 07:00 400 ?",
        "P2 2025-03-05 07:00 300 ?",
        "P2 2025-03-06 07:00 310 ?",
      ]);
      expect(study.setAside).toEqual([]);
    }
  });

  it("days of a month that only the file's name gives, cells under no heading listed", async () => {
    const a = await agreedStudy({
      "weights march 2025.csv": "Pup,5,6,7,8\nP1,2350,2371,2390,2400\nP2,1500,1511,1522,1530,ill\n",
    });
    expect(weighed(a.study)).toHaveLength(8);
    expect(weighed(a.study)[7]).toBe("P2 2025-03-08 12:00 1530");
    const left = a.study.notices.find((n) => n.code === "records-cells-left")!;
    expect(left.parameters).toEqual({ count: 1, cells: ["F3 ill"] });
  });

  it("points between thousands of grams, dates day first, names, a title: one acceptance", async () => {
    const a = await agreedStudy({
      "messung.csv":
        "Messungen Frühjahr;;;\n;;;\nTiername;Datum;Uhrzeit;Masse in g\nBramble;5.3.2025;7:00 Uhr;2.350\nThistle;15.3.2025;7:10 Uhr;1.500\n",
    });
    expect(weighed(a.study)).toEqual(["P1 2025-03-05 07:00 2350", "P2 2025-03-15 07:10 1500"]);
    expect(a.study.setAside).toEqual([]);
  });

  it("kilograms in their cells under a heading of grams keep their decimal point", async () => {
    const truth = ["P1 2025-03-05 07:00 2350", "P2 2025-03-05 07:10 1500"];
    const points = await agreedStudy({
      "weighings.csv":
        "animal_id,at,mass_g\nP1,2025-03-05 07:00,2.350 kg\nP2,2025-03-05 07:10,1.500 kg\n",
    });
    expect(points.added).toEqual([]);
    expect(weighed(points.study)).toEqual(truth);
    const commas = await agreedStudy({
      "weighings.csv":
        "animal_id;at;mass_g\nP1;2025-03-05 07:00;2,350 kg\nP2;2025-03-05 07:10;1,500 kg\n",
    });
    expect(weighed(commas.study)).toEqual(truth);
  });

  it("animals known by nothing but their names", async () => {
    const a = await agreedStudy({
      "animals.csv": "Name,Born\nBramble,2025-03-01\nThistle,2025-03-01\n",
      "weighings.csv": "Name,Date and time,Weight (g)\nbramble,2025-03-05 07:00,2350\n",
    });
    expect(weighed(a.study)).toEqual(["Bramble 2025-03-05 07:00 2350"]);
  });

  it("what agrees with nothing is refused with what to do, and nothing is written", async () => {
    const nothing = agreedStudy({ "weighings.csv": "a,b\n1,2\n" });
    await expect(nothing).rejects.toThrow(/needed columns.*Rename the column/);
  });
});
