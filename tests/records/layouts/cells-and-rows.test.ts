import { describe, expect, it } from "vitest";
import { makeWorkbook } from "../make-workbook.js";
import { short, study } from "../small-study.js";
import { agreedStudy, fed, steps, twoAnimals, weighed } from "./agree.js";

const scale = "animal_id,at,mass_g\nP1,2025-03-05 07:00,2350\n";
const feedsOf = async (feeds: string, more: object = {}, files: Record<string, string> = {}) =>
  await agreedStudy({ "weighings.csv": scale, "feeds.csv": feeds, ...files }, more);

describe("a blank that means as above", () => {
  const truth = [
    "P1 2025-03-05 07:00 2350",
    "P1 2025-03-06 07:00 2371",
    "P1 2025-03-07 07:00 2390",
    "P2 2025-03-05 07:10 1500",
    "P2 2025-03-06 07:10 1511",
  ];
  it("in the column of animals; before it is agreed to, those rows are set aside", async () => {
    const text =
      "animal_id,at,mass_g\nP1,2025-03-05 07:00,2350\n,2025-03-06 07:00,2371\n,2025-03-07 07:00,2390\nP2,2025-03-05 07:10,1500\n,2025-03-06 07:10,1511\n";
    expect(
      short(study({ "animals.csv": twoAnimals, "weighings.csv": text }).setAside),
    ).toHaveLength(3);
    const a = await agreedStudy({ "weighings.csv": text });
    expect(weighed(a.study)).toEqual(truth);
    expect(steps(a)).toEqual(["as above"]);
    expect([...a.study.tables.weighings][1]!.origin.line).toBe(3);
  });
  it("in the column of days, animals listed below each, other words, semicolons", async () => {
    const a = await agreedStudy({
      "weighings.csv":
        "Datum;Tier;Uhrzeit;Gewicht\n2025-03-05;P1;07:00;2350\n;P2;07:10;1500\n2025-03-06;P1;07:00;2371\n;P2;07:10;1511\n2025-03-07;P1;07:00;2390\n",
    });
    expect(weighed(a.study)).toEqual(truth);
  });
  it("in a workbook, both columns; a row of totals is never filled in", async () => {
    const a = await agreedStudy({
      "book.xlsx": makeWorkbook({
        weighings: {
          rows: [
            ["Pup", "Date", "Time", "Weight (g)"],
            ["P1", "2025-03-05", "07:00", 2350],
            [null, "2025-03-06", "07:00", 2371],
            [null, "2025-03-07", "07:00", 2390],
            ["P2", "2025-03-05", "07:10", 1500],
            [null, "2025-03-06", "07:10", 1511],
            [null, null, null, 10122],
            ["Mean", null, null, 2024],
          ],
        },
      }),
    });
    expect(weighed(a.study)).toEqual(truth);
    expect(a.study.setAside.map((r) => r.line)).toEqual([7, 8]);
  });
  it("is not proposed for a cell or two that were forgotten", async () => {
    const rows = Array.from(
      { length: 30 },
      (_, i) =>
        `${i === 12 ? "" : "P1"},2025-03-${String(5 + (i % 20)).padStart(2, "0")} ${10 + Math.floor(i / 20)}:00,${2350 + i}`,
    );
    const a = await agreedStudy({ "weighings.csv": `animal_id,at,mass_g\n${rows.join("\n")}\n` });
    expect(steps(a)).toEqual([]);
    expect(a.study.setAside).toHaveLength(1);
  });
});

describe("ditto marks", () => {
  const truth = [
    "P1 2025-03-05 07:00 2350",
    "P1 2025-03-06 07:00 2350",
    "P2 2025-03-06 07:10 1500",
  ];
  it.each([
    ["a quotation mark", '""""'],
    ["ditto", "ditto"],
    ["the sign for it", "〃"],
    ["dto.", "dto."],
  ])("written as %s need no question", async (_, mark) => {
    const a = await agreedStudy({
      "weighings.csv": `animal_id,Date,Time,mass_g\nP1,2025-03-05,07:00,2350\n${mark},2025-03-06,${mark},${mark}\nP2,${mark},07:10,1500\n`,
    });
    expect(weighed(a.study)).toEqual(truth);
  });
  it("with nothing above them are set aside as they stand", () => {
    const s = study({
      "animals.csv": twoAnimals,
      "weighings.csv": "animal_id,at,mass_g\nditto,2025-03-05 07:00,2350\n",
    });
    expect(short(s.setAside)).toEqual([
      [2, "animal_id", "ditto", "records-ditto-alone", "suggest-fill-cell"],
    ]);
  });
});

describe("names where ids belong", () => {
  const truth = ["P1 2025-03-05 07:00 2350", "P2 2025-03-05 07:10 1500"];
  it("are proposed by the table of animals and kept in study.json", async () => {
    const text =
      "animal_id,at,mass_g\nBramble,2025-03-05 07:00,2350\nthistle,2025-03-05 07:10,1500\n";
    expect(study({ "animals.csv": twoAnimals, "weighings.csv": text }).setAside).toHaveLength(2);
    const a = await agreedStudy({ "weighings.csv": text });
    expect(weighed(a.study)).toEqual(truth);
    expect(a.settings["also_called"]).toEqual({ P1: ["Bramble"], P2: ["thistle"] });
  });
  it("short names are proposed as less sure; a name of two animals is not", async () => {
    const animals = `${twoAnimals}P3,Thrift,sea otter,male,2025-03-03,,observed,2025-03-04 15:00,2025\n`;
    const a = await agreedStudy({
      "animals.csv": animals,
      "weighings.csv":
        "animal_id,at,mass_g\nBram,2025-03-05 07:00,2350\nThistl,2025-03-05 07:10,1500\nTh,2025-03-05 07:20,1600\n",
    });
    expect(a.proposal.names).toMatchObject([
      { name: "Bram", animal: "P1", sure: false },
      { name: "Thistl", animal: "P2", sure: false },
    ]);
    // What fits two is nobody's: it stands by itself, and is asked about.
    expect(weighed(a.study)).toEqual([...truth, "Th 2025-03-05 07:20 1600"]);
    const asked = a.study.notices.filter((n) => n.code === "records-animal-without-row");
    expect(asked.map((n) => n.place?.animal)).toContain("Th");
  });
  it("ids in other capitals need no question, unless two differ by nothing else", async () => {
    const a = await agreedStudy({
      "weighings.csv": "animal_id,at,mass_g\np1,2025-03-05 07:00,2350\nP 2,2025-03-05 07:10,1500\n",
    });
    expect(a.added).toEqual([]);
    expect(weighed(a.study)).toEqual(truth);
    const twins = twoAnimals.replace("P2,", "p1,");
    const s = study({
      "animals.csv": twins,
      "weighings.csv": "animal_id,at,mass_g\nP 1,2025-03-05 07:00,2350\n",
    });
    expect(weighed(s)).toEqual(["P 1 2025-03-05 07:00 2350"]);
    expect(s.notices.map((n) => n.code)).toContain("records-animal-without-row");
  });
});

describe("days as a spreadsheet counts them", () => {
  // 45721 is 2025-03-05: 20,152 days after 1970-01-01, which is 25,569 (ECMA-376 part 1, 18.17.4.1).
  const truth = ["P1 2025-03-05 07:00 2350", "P2 2025-03-06 00:00 1500"];
  it("with the time in the number", async () => {
    const a = await agreedStudy({
      "weighings.csv": "animal_id,at,mass_g\nP1,45721.2916667,2350\nP2,45722,1500\n",
    });
    expect(weighed(a.study)).toEqual(truth);
    expect(a.study.tables.weighings).toHaveLength(2);
  });
  it("counted from 1904, with decimal commas", async () => {
    const a = await agreedStudy(
      { "weighings.csv": "animal_id;at;mass_g\nP1;44259,2916667;2350\nP2;44260;1500\n" },
      {
        decimal: "comma",
        layouts: { "weighings.csv": [{ layout: "day numbers", columns: ["at"], from: 1904 }] },
      },
    );
    expect(weighed(a.study)).toEqual(truth);
  });
  it("the day and the part of the day in two columns, in birth dates too", async () => {
    const a = await agreedStudy({
      "animals.csv":
        "animal_id,name,birth_date_earliest,admitted_at\nP1,Bramble,45717,45720.5\nP2,Thistle,45719,45720.625\n",
      "weighings.csv": "animal_id,Date,Time,mass_g\nP1,45721,0.2916667,2350\nP2,45722,0.25,1500\n",
    });
    expect(weighed(a.study)).toEqual(["P1 2025-03-05 07:00 2350", "P2 2025-03-06 06:00 1500"]);
    expect(a.study.tables.animals.map((x) => x.birthDateEarliest)).toEqual([
      "2025-03-01",
      "2025-03-03",
    ]);
  });
});

describe("eaten, offered and left in one cell", () => {
  it("60/75 (15 left), proposed", async () => {
    const text =
      "animal_id,at,offered_g\nP1,2025-03-05 08:00,60/75 (15 left)\nP1,2025-03-05 11:00,75\nP1,2025-03-05 14:00,70/75 (9 left)\n";
    const a = await feedsOf(text);
    expect(fed(a.study)).toEqual(["P1 2025-03-05 08:00 75 15", "P1 2025-03-05 11:00 75 ?"]);
    // 70 of 75 leaves 5: the cell contradicts itself and stays for a person.
    expect(a.study.setAside).toMatchObject([{ line: 4, value: "70/75 (9 left)" }]);
  });
  it("60 of 75 and 75 (15 left), other words", async () => {
    const a = await feedsOf(
      "Pup,When,Amount\nP1,2025-03-05 08:00,60 of 75\nP1,2025-03-05 11:00,75 g (15 g left)\nP1,2025-03-05 14:00,75/75\n",
    );
    expect(fed(a.study)).toEqual([
      "P1 2025-03-05 08:00 75 15",
      "P1 2025-03-05 11:00 75 15",
      "P1 2025-03-05 14:00 75 0",
    ]);
  });
  it("in millilitres, and never against a refusal that is written", async () => {
    const a = await feedsOf(
      "animal_id,at,diet_id,offered_g,refused_g\nP1,2025-03-05 08:00,milk,60/75 ml,\nP1,2025-03-05 11:00,milk,60/75,20\nP1,2025-03-05 14:00,milk,50/50,0\n",
      {},
      { "diets.csv": "diet_id,kind,density_g_per_ml\nmilk,formula,1.04\n" },
    );
    expect(fed(a.study)).toEqual(["P1 2025-03-05 08:00 78 15.6", "P1 2025-03-05 14:00 50 0"]);
    expect(a.study.setAside).toMatchObject([{ line: 3, value: "60/75" }]);
  });
});

describe("millilitres", () => {
  const diets = "diet_id,kind,density_g_per_ml\nmilk,formula,1.04\nsquid,solid,\n";
  it("are weighed where the density is known, by cell or by heading", () => {
    const files = { "animals.csv": twoAnimals, "weighings.csv": scale, "diets.csv": diets };
    const cells = study({
      ...files,
      "feeds.csv":
        "animal_id,at,diet_id,offered_g,refused_g\nP1,2025-03-05 08:00,milk,50 ml,5 mL\n",
    });
    expect(fed(cells)).toEqual(["P1 2025-03-05 08:00 52 5.2"]);
    const heading = study({
      ...files,
      "batches.csv": "batch_id,diet_id,made_at\nb1,milk,2025-03-05 06:00\n",
      "feeds.csv": "animal_id,at,batch_id,offered (ml)\nP1,2025-03-05 08:00,b1,50\n",
    });
    expect(fed(heading)).toEqual(["P1 2025-03-05 08:00 52 ?"]);
  });
  it("are set aside where it is not, or the diet is not named", () => {
    const s = study({
      "animals.csv": twoAnimals,
      "weighings.csv": scale,
      "diets.csv": diets,
      "feeds.csv":
        "animal_id,at,diet_id,offered_g\nP1,2025-03-05 08:00,squid,50 ml\nP1,2025-03-05 09:00,,50 ml\n",
    });
    expect(short(s.setAside)).toEqual([
      [2, "offered_g", "50 ml", "records-volume-without-density", "suggest-add-density"],
      [3, "offered_g", "50 ml", "records-volume-without-density", "suggest-add-density"],
    ]);
  });
});

const clocks = (times: readonly string[], days = 4) =>
  Array.from({ length: days }, (_, d) =>
    times.map((t) => [`2025-03-${String(5 + d).padStart(2, "0")}`, t] as const),
  ).flat();

describe("a clock of twelve hours without am and pm", () => {
  const face = ["6:00", "9:00", "12:00", "3:00", "6:00", "9:00"];
  const full = ["06:00", "09:00", "12:00", "15:00", "18:00", "21:00"];
  const truth = clocks(full)
    .map(([d, t]) => `P1 ${d} ${t} 60 ?`)
    .sort();
  it("is never read as it stands: every row is asked about, then read by its order", async () => {
    const text = `animal_id,at,offered_g\n${clocks(face)
      .map(([d, t]) => `P1,${d} ${t},60`)
      .join("\n")}\n`;
    const plain = study({ "animals.csv": twoAnimals, "weighings.csv": scale, "feeds.csv": text });
    expect([...plain.tables.feeds]).toEqual([]);
    expect(new Set(plain.setAside.map((r) => r.reason.code))).toEqual(
      new Set(["records-half-of-day-doubtful"]),
    );
    expect(fed((await feedsOf(text)).study)).toEqual(truth);
  });
  it("day and time in two columns, newest day last or first", async () => {
    const rows = clocks(face).map(([d, t]) => `${t},60,P1,${d}`);
    for (const lines of [rows, [...rows].reverse()]) {
      const a = await feedsOf(`Time,Offered (g),Pup,Date\n${lines.join("\n")}\n`);
      expect(fed(a.study)).toEqual(truth);
    }
  });
  it("a day whose order says nothing is asked about, whatever the days beside it say", async () => {
    const rows = clocks(face).map(([d, t]) => `P1,${d} ${t},60`);
    // The pup came on the 4th at three in the afternoon, or at three in the morning.
    const arrival = ["P1,2025-03-04 3:00,60", "P1,2025-03-04 6:00,60", "P1,2025-03-04 9:00,60"];
    const a = await feedsOf(`animal_id,at,offered_g\n${[...arrival, ...rows].join("\n")}\n`);
    expect(fed(a.study)).toEqual(truth);
    expect(a.study.setAside.map((r) => [r.line, r.reason.code])).toEqual(
      [2, 3, 4].map((line) => [line, "records-half-of-day"]),
    );
    const shuffled = rows.map((row, i) => rows[(i * 7) % rows.length] ?? row);
    const b = await feedsOf(`animal_id,at,offered_g\n${shuffled.join("\n")}\n`, {
      layouts: { "feeds.csv": [{ layout: "twelve hours", time: "at", animal: "animal_id" }] },
    });
    expect([...b.study.tables.feeds]).toEqual([]);
  });
  it("is not seen in a day shift that ends at noon, nor where study.json says times are right", () => {
    const files = { "animals.csv": twoAnimals, "weighings.csv": scale };
    const shift = clocks(["07:00", "09:30", "12:00"])
      .map(([d, t]) => `P1,${d} ${t},60`)
      .join("\n");
    const s = study({ ...files, "feeds.csv": `animal_id,at,offered_g\n${shift}\n` });
    expect(s.tables.feeds).toHaveLength(12);
    const odd = clocks(face)
      .map(([d, t]) => `P1,${d} ${t},60`)
      .join("\n");
    const told = study(
      { ...files, "feeds.csv": `animal_id,at,offered_g,notes\n${odd}\n` },
      { layouts: { "feeds.csv": [{ layout: "times as written" }] } },
    );
    expect(told.setAside.map((r) => r.reason.code)).not.toContain("records-half-of-day-doubtful");
  });
});

describe("night feeds under the evening's date", () => {
  const written = ["06:00", "12:00", "18:00", "00:00", "03:00"];
  const next = (d: string) => `2025-03-${String(Number(d.slice(8)) + 1).padStart(2, "0")}`;
  const truth = clocks(written)
    .map(([d, t]) => `P1 ${t < "06:00" ? next(d) : d} ${t} 60 ?`)
    .sort();
  // However exactly the clock is written, the date is the evening's.
  it.each([
    ["a space", (d: string, t: string) => `${d} ${t}`],
    ["T and seconds", (d: string, t: string) => `${d}T${t}:00`],
    ["T and the offset", (d: string, t: string) => `${d}T${t}:00+01:00`],
    ["T and the offset without a colon", (d: string, t: string) => `${d}T${t}+0100`],
  ])("with %s are set aside until it is agreed, then put under the next day", async (_, stamp) => {
    const text = `animal_id,at,offered_g\n${clocks(written)
      .map(([d, t]) => `P1,${stamp(d, t)},60`)
      .join("\n")}\n`;
    const plain = study({ "animals.csv": twoAnimals, "weighings.csv": scale, "feeds.csv": text });
    expect(plain.setAside).toHaveLength(8);
    expect(plain.setAside[0]!.reason.code).toBe("records-night-date-doubtful");
    const a = await feedsOf(text);
    expect(fed(a.study)).toEqual(truth);
    expect(steps(a)).toContain("night under the evening's date");
  });
  it("in two columns, for two animals in turn, dates day first", async () => {
    const rows = clocks(written).flatMap(([d, t]) =>
      ["P1", "P2"].map((id) => `${d.slice(8)}.${d.slice(5, 7)}.2025,${t},${id},60`),
    );
    const a = await feedsOf(`Date,Time,Pup,Offered (g)\n${rows.join("\n")}\n`, {
      date_style: "day-month-year",
    });
    expect(fed(a.study)).toEqual([...truth, ...truth.map((row) => row.replace("P1", "P2"))]);
  });
  it("are not seen where the small hours stand under their own date", () => {
    const own = clocks(["00:00", "03:00", "06:00", "12:00", "18:00"]);
    const s = study({
      "animals.csv": twoAnimals,
      "weighings.csv": scale,
      "feeds.csv": `animal_id,at,offered_g\n${own.map(([d, t]) => `P1,${d} ${t},60`).join("\n")}\n`,
    });
    expect(s.tables.feeds).toHaveLength(20);
  });
});

describe("files by year or month", () => {
  it("each with its own spelling of the headings", async () => {
    const a = await agreedStudy({
      "weighings 2025-03.csv": "animal_id,at,mass_g\nP1,2025-03-05 07:00,2350\n",
      "weighings april.csv": "Pup,When,Weight (g)\nP1,2025-04-05 07:00,3350\n",
      "weighings-05.csv": "Tier;Datum;Gewicht (kg)\nP1;2025-05-05 07:00;4.35\n",
    });
    expect(weighed(a.study)).toEqual([
      "P1 2025-03-05 07:00 2350",
      "P1 2025-04-05 07:00 3350",
      "P1 2025-05-05 07:00 4350",
    ]);
  });
  it("sheets by month, one of them hidden and told", async () => {
    const a = await agreedStudy({
      "book.xlsx": makeWorkbook({
        March: {
          rows: [
            ["Pup", "When", "Weight (g)"],
            ["P1", "2025-03-05 07:00", 2350],
          ],
        },
        April: {
          rows: [
            ["Pup", "When", "Weight (g)"],
            ["P1", "2025-04-05 07:00", 3350],
          ],
          hidden: true,
        },
      }),
    });
    expect(weighed(a.study)).toEqual(["P1 2025-03-05 07:00 2350", "P1 2025-04-05 07:00 3350"]);
    expect(a.study.notices.map((n) => n.code)).toContain("records-sheet-hidden");
  });
  it("a copy that is to be left out is said and not read", () => {
    const s = study(
      {
        "animals.csv": twoAnimals,
        "weighings.csv": scale,
        "weighings-old.csv": "animal_id,at,mass_g\nP1,2025-03-05 07:00,2351\n",
      },
      {
        files: { weighings: "weighings-old.csv" },
        layouts: { "weighings-old.csv": [{ layout: "leave out" }] },
      },
    );
    expect(weighed(s)).toEqual(["P1 2025-03-05 07:00 2350"]);
    expect(s.notices.map((n) => n.code)).toContain("records-left-out");
  });
});

describe("headings that stand again", () => {
  it("with titles above them are no records, and are counted", () => {
    const s = study({
      "animals.csv": twoAnimals,
      "weighings.csv":
        "animal_id,at,mass_g\nP1,2025-03-05 07:00,2350\nApril,,\nANIMAL_ID,At,mass_g\nP1,2025-04-05 07:00,3350\n",
    });
    expect(weighed(s)).toEqual(["P1 2025-03-05 07:00 2350", "P1 2025-04-05 07:00 3350"]);
    expect(s.setAside).toEqual([]);
    const told = s.notices.find((n) => n.code === "records-headings-repeated")!;
    expect(told.parameters).toMatchObject({ count: 2, lines: [4, 3] });
  });
});

it("a layout that study.json gives wrongly is refused, and one for no file is told", () => {
  expect(() => study({}, { layouts: { "weighings.csv": [{ layout: "upside down" }] } })).toThrow(
    /layouts/,
  );
  const s = study({}, { layouts: { "nowhere.csv": [{ layout: "leave out" }] } });
  expect(s.notices.map((n) => n.code)).toContain("records-layout-unused");
});

describe("a JSON table", () => {
  it("is laid out as study.json says, like any other", async () => {
    const rows = [
      { Pup: "P1", Date: "05.03.2025", Time: "07:00", "Weight (kg)": "2,350" },
      { Pup: "P2", Date: "05.03.2025", Time: "07:10", "Weight (kg)": "1,500" },
      { Pup: "P1", Date: "25.03.2025", Time: "07:00", "Weight (kg)": "2,371" },
    ];
    const a = await agreedStudy({ "weighings.json": JSON.stringify(rows) });
    expect(weighed(a.study)).toEqual([
      "P1 2025-03-05 07:00 2350",
      "P1 2025-03-25 07:00 2371",
      "P2 2025-03-05 07:10 1500",
    ]);
    expect(a.study.notices.map((n) => n.code)).not.toContain("records-layout-unused");
  });
});
