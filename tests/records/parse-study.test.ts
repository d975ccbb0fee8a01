import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { UsageError } from "../../src/core/usage-error.js";
import { closestName, nameGuesser } from "../../src/records/closest-name.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { parseStudy } from "../../src/records/parse-study.js";
import {
  animalsCsv,
  balanced,
  inputs,
  short,
  study,
  weighings,
  weighingsCsv,
} from "./small-study.js";

const codes = (s: ReturnType<typeof study>) => s.notices.map((n) => n.code);

describe("a good study", () => {
  const s = study();
  it("is read with every row accepted", () => {
    expect(s.setAside).toEqual([]);
    expect(s.counts.map((c) => [c.table, c.rowsIn, c.accepted])).toEqual([
      ["animals", 2, 2],
      ["weighings", 4, 4],
    ]);
    expect([...s.tables.weighings][0]).toEqual({
      animalId: "P1",
      at: Date.parse("2025-03-05T13:30Z"),
      massG: 2350,
      tareG: 410,
      scaleId: "b1",
      method: "bucket",
      coat: "dry",
      meal: "before",
      notes: "arrival",
      origin: { file: "weighings.csv", line: 2 },
    });
    expect(s.tables.animals[1]).toMatchObject({
      sex: "male",
      birthDateEarliest: "2025-03-03",
      birthDateLatest: "2025-03-03",
      outcome: null,
    });
    expect([...s.tables.weighings][2]!.notes).toBe("small, quiet");
    expect([...s.tables.feeds]).toEqual([]);
  });
  it("is plain data, each table as JSON the array of its rows", () => {
    const tables = Object.entries(s.tables).map(([name, rows]) => [name, [...rows]] as const);
    expect(JSON.parse(JSON.stringify(s))).toEqual({ ...s, tables: Object.fromEntries(tables) });
  });
  it("names the SHA-256 of its inputs", () => {
    // SHA-256 of the empty string is in FIPS 180-4's example vectors.
    const empty = study({ "events.csv": "" }).inputs.find((i) => i.path === "events.csv");
    expect(empty?.sha256).toBe("e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  });
});

describe("a user's mistake", () => {
  const fails = (run: () => unknown) => {
    try {
      run();
    } catch (error) {
      expect(error).toBeInstanceOf(UsageError);
      return (error as UsageError).message;
    }
    throw new Error("nothing was thrown");
  };
  it("says what is missing and what to do", () => {
    expect(fails(() => parseStudy([]))).toMatch(/study\.json.*empty.*gramline new/s);
    expect(fails(() => parseStudy(inputs({ "study.json": "{" })))).toMatch(/study\.json.*JSON/);
    expect(fails(() => parseStudy(inputs({ "study.json": "[]" })))).toMatch(/study\.json.*object/);
    expect(fails(() => study({}, { zone: undefined }))).toMatch(/"zone".*missing.*time zone/);
    expect(fails(() => study({}, { zone: "Mars" }))).toMatch(/"Mars" came/);
    expect(fails(() => study({}, { feeding_day_start_hour: 24 }))).toMatch(
      /feeding_day_start_hour.*24/,
    );
    expect(
      fails(() =>
        parseStudy(inputs({ "study.json": '{"zone":"UTC"}', "animals.csv": animalsCsv })),
      ),
    ).toMatch(/weighings\.csv.*animals\.csv.*"files"/s);
  });
  it("names wrong and missing columns", () => {
    const message = fails(() =>
      study({ "weighings.csv": "animal,when,grams\nP1,2025-03-06 07:00,1\n" }),
    );
    expect(message).toMatch(/"animal_id", "at", "mass_g"/);
    expect(message).toMatch(/"animal", "when", "grams"/);
    expect(message).toMatch(/"columns"/);
    expect(fails(() => study({ "weighings.csv": "" }))).toMatch(/empty/);
  });
  it("sets the rows of a lesser table aside where a column of it is missing", () => {
    const s = study({
      "feeds.csv": "animal_id,when,offered_g\nP1,2025-03-06 08:00,60\n\nP1,x,y\n",
    });
    expect(short(s.setAside)).toEqual([
      [2, "at", null, "records-column-missing", "suggest-map-column"],
      [4, "at", null, "records-column-missing", "suggest-map-column"],
    ]);
    expect(codes(s)).toContain("records-columns-missing");
    expect(balanced(s)).toBe(true);
  });
  it("is a table of a million columns, or nested without end", () => {
    const wide = `animal_id,at,mass_g${",".repeat(1_000_000)}\n`;
    expect(fails(() => study({ "weighings.csv": wide }))).toMatch(/at most 2000 columns/);
    expect(fails(() => parseStudy(inputs({ "study.json": `${"[".repeat(1e5)}` })))).toMatch(
      /nested/,
    );
  });
  it("is a mistake of the folder on disk", async () => {
    await expect(readStudy("/no/such/folder")).rejects.toThrow(/no such folder/);
    await expect(readStudy(fileURLToPath(import.meta.url))).rejects.toThrow(/a file came/);
  });
});

describe("bad rows", () => {
  it("are set aside with line, column, value, reason and suggestion", () => {
    const s = weighings(
      [
        "P1,2025-03-06 07:00,heavy,0,b1,bucket,dry,before,",
        "P1,2025-03-07 07:00,2371?,0,b1,bucket,dry,before,",
        "P1,2025-03-08 07:00,-2371,0,b1,bucket,dry,before,",
        "Pl,2025-03-08 07:00,2371,0,b1,bucket,dry,before,",
        "P1,2025-02-30 07:00,2371,0,b1,bucket,dry,before,",
        "P1,30/03/2025 07:00,2371,0,b1,bucket,dry,before,",
        "P1,2025-03-30 02:30,2371,0,b1,bucket,dry,before,",
        "P1,2025-10-26 02:30,2371,0,b1,bucket,dry,before,",
        "P1,2025-03-09 07:00,,0,b1,bucket,dry,before,",
        "P1,2025-03-09 07:00,0,0,b1,bucket,dry,before,",
        ",2025-03-09 07:00,2400,0,b1,bucket,dry,before,",
        "P1,2025-03-09 07:00,2,400,0,b1,bucket,dry,before,,",
        'P1,2025-03-09 07:00,2401,0,b1,bucket,dry,before,"open',
        "P1,2025-03-10 07:00,2 stone,0,b1,bucket,dry,before,",
        'P1,2025-03-10 07:00,"2,400",0,b1,bucket,dry,before,',
        "P1,2025-03-11 07:00,2410,0,b1,bucket,dry,before,fine",
        "P1,2025-03-11 07:00,2410,0,b1,bucket,dry,before,fine",
      ].join("\n"),
    );
    expect(short(s.setAside)).toEqual([
      [2, "mass_g", "heavy", "records-not-a-number", "suggest-number"],
      [3, "mass_g", "2371?", "records-not-a-number", "suggest-number-inside"],
      [4, "mass_g", "-2371", "records-negative", "suggest-without-sign"],
      [5, "animal_id", "Pl", "records-unknown-animal", "suggest-close-name"],
      [6, "at", "2025-02-30 07:00", "records-not-a-time", "suggest-time-form"],
      [7, "at", "30/03/2025 07:00", "records-other-date-style", "suggest-date-style"],
      [8, "at", "2025-03-30 02:30", "records-time-does-not-exist", "suggest-time-skipped"],
      [9, "at", "2025-10-26 02:30", "records-time-happens-twice", "suggest-offset"],
      [10, "mass_g", "", "records-empty-cell", "suggest-fill-cell"],
      [11, "mass_g", "0", "records-not-above", "suggest-fill-cell"],
      [12, "animal_id", "", "records-empty-cell", "suggest-fill-cell"],
      [13, null, "b1", "records-too-many-cells", "suggest-quote-delimiter"],
      [
        14,
        null,
        'P1,2025-03-09 07:00,2401,0,b1,bucket,dry,before,"open',
        "records-broken-quote",
        "suggest-close-quote",
      ],
      [15, "mass_g", "2 stone", "records-unknown-unit", "suggest-known-unit"],
      [16, "mass_g", "2,400", "records-ambiguous-number", "suggest-one-reading"],
      [18, "at", "2025-03-11 07:00", "records-row-twice", "suggest-remove-repeat"],
    ]);
    expect(s.tables.weighings.map((w) => w.origin.line)).toEqual([17]);
    expect(balanced(s)).toBe(true);
    expect(s.counts.find((c) => c.table === "weighings")?.rowsIn).toBe(17);
    expect(noticeText(s.setAside[7]!.suggestion)).toBe(
      "Write 2025-10-26 02:30+02:00 or 2025-10-26 02:30+01:00.",
    );
    for (const row of s.setAside) {
      expect(noticeText(row.reason)).not.toMatch(/\?$|undefined|NaN/);
      expect(row.file).toBe("weighings.csv");
      expect(row.raw.length).toBeGreaterThan(0);
    }
  });

  it("with a bad birth date keep the animal: that cell alone is lost, word for word", () => {
    const s = study({ "animals.csv": `${animalsCsv}P3,X,sea otter,f,2025-03-99,2025-03-01,,,\n` });
    expect(s.setAside).toEqual([]);
    expect(s.tables.animals[2]).toMatchObject({
      animalId: "P3",
      birthDateEarliest: null,
      birthDateLatest: "2025-03-01",
      unread: { birthDateEarliest: "2025-03-99" },
    });
    expect(s.notices.find((n) => n.code === "records-not-a-date")).toMatchObject({
      parameters: { written: "2025-03-99", lost: true },
      place: { file: "animals.csv", line: 4, column: "birth_date_earliest" },
    });
  });

  it("of feeds and animals too", () => {
    const s = study({
      "animals.csv": `${animalsCsv}P1,Twin,sea otter,female,,,,,\nP3,Bad,sea otter,f,2025-03-09,2025-03-01,,,\n`,
      "feeds.csv": [
        "animal_id,group_id,at,diet_id,offered_g,refused_g",
        "P1,,2025-03-06 08:00,milk,60,70",
        "P1,g,2025-03-06 09:00,milk,60,0",
        ",,2025-03-06 10:00,milk,60,0",
        "P1,,2025-03-06 11:00,milk,about 60,0",
        "P3,,2025-03-06 12:00,milk,60,0",
        "P1,,2025-03-06 13:00,milk,60,",
      ].join("\n"),
    });
    expect(short(s.setAside)).toEqual([
      [4, "animal_id", "P1", "records-name-twice", "suggest-another-name"],
      [3, "group_id", "g", "records-animal-and-group", "suggest-animal-or-group"],
      [4, "animal_id", "", "records-no-animal-no-group", "suggest-animal-or-group"],
      [5, "offered_g", "about 60", "records-not-a-number", "suggest-number-inside"],
    ]);
    // P3's birth range is written backwards: both ends are lost, the animal and its feed are not.
    expect(s.tables.animals.at(-1)).toMatchObject({ animalId: "P3", birthDateEarliest: null });
    // More refused than offered: asked about, and the feed stays.
    expect(s.tables.feeds.map((f) => f.animalId)).toEqual(["P1", "P3", "P1"]);
    expect(codes(s)).toContain("records-refused-more");
    expect([...s.tables.feeds][2]!.refusedG).toBeNull();
    expect(codes(s)).toContain("records-blank-refusals");
    expect(codes(s)).toContain("records-unknown-reference");
    expect(balanced(s)).toBe(true);
  });
});

describe("files as they come", () => {
  const expected = [...study().tables.weighings];
  it("with a byte-order mark, other line ends, other delimiters", () => {
    expect([...study({ "weighings.csv": `\ufeff${weighingsCsv}` }).tables.weighings]).toEqual(
      expected,
    );
    expect([
      ...study({ "weighings.csv": weighingsCsv.replaceAll("\n", "\r\n") }).tables.weighings,
    ]).toEqual(expected);
    expect([
      ...study({ "weighings.csv": weighingsCsv.replaceAll("\n", "\r") }).tables.weighings,
    ]).toEqual(expected);
    const semicolons = weighingsCsv
      .replace('"small, quiet"', "small§ quiet")
      .replaceAll(",", ";")
      .replace("§", ",");
    expect([...study({ "weighings.csv": semicolons }).tables.weighings]).toEqual(expected);
    const tabs = semicolons.replaceAll(";", "\t");
    expect([...study({ "weighings.csv": tabs }).tables.weighings]).toEqual(expected);
  });

  it("with semicolons and decimal commas", () => {
    const s = study(
      {
        "weighings.csv":
          "animal_id;at;mass_kg;tare_g\nP1;06.03.2025 07:00;2,371;410\nP1;07.03.2025 07:00;2,4;410\n",
      },
      { decimal: "comma", date_style: "day-month-year" },
    );
    expect(s.tables.weighings.map((w) => w.massG)).toEqual([2371, 2400]);
  });

  it("in UTF-16 and Windows-1252", () => {
    const text = weighingsCsv.replace("arrival", "Zürich – „klein“");
    const little = new Uint8Array(2 + 2 * text.length);
    little.set([0xff, 0xfe]);
    const big = new Uint8Array(2 + 2 * text.length);
    big.set([0xfe, 0xff]);
    [...text].forEach((c, i) => {
      const code = c.charCodeAt(0);
      little.set([code & 255, code >> 8], 2 + 2 * i);
      big.set([code >> 8, code & 255], 2 + 2 * i);
    });
    const note = (bytes: Uint8Array) =>
      [...study({ "weighings.csv": bytes }).tables.weighings][0]!.notes;
    expect(note(little)).toBe("Zürich – „klein“");
    expect(note(big)).toBe("Zürich – „klein“");
    expect(note(little.subarray(2))).toBe("Zürich – „klein“");
    const narrow = Uint8Array.from([...text], (c) =>
      c === "ü" ? 0xfc : c === "–" ? 0x96 : c === "„" ? 0x84 : c === "“" ? 0x93 : c.charCodeAt(0),
    );
    const s = study({ "weighings.csv": narrow });
    expect([...s.tables.weighings][0]!.notes).toBe("Zürich – „klein“");
    expect(codes(s)).toContain("records-encoding-assumed");
  });

  it("with their own headers and units, as study.json says", () => {
    const s = study(
      {
        "scale log.csv":
          "Pup,When,Weight\nP1,2025-03-06 07:00,2.371\nP2,2025-03-06 07:05,3 lb 5 oz\n",
      },
      {
        files: { weighings: "scale log.csv" },
        columns: { weighings: { animal_id: "Pup", at: "When", mass_g: "Weight" } },
        units: { weighings: { mass_g: "kg" } },
      },
    );
    const all = s.tables.weighings.filter((w) => w.origin.file === "scale log.csv");
    expect(all.map((w) => w.massG)).toEqual([2371, 1502.524725625]);
  });

  it("with another decimal mark in one column", () => {
    const s = study(
      { "weighings.csv": "animal_id;at;mass_kg;tare_g\nP1;2025-03-06 07:00;2,371;410.5\n" },
      { decimals: { "weighings.mass_g": "comma" } },
    );
    expect([...s.tables.weighings][0]).toMatchObject({ massG: 2371, tareG: 410.5 });
  });

  it("with a unit in the header", () => {
    const read = (header: string) =>
      study({ "weighings.csv": `animal_id,at,${header}\nP1,2025-03-06 07:00,2.5\n` });
    expect([...read("Mass (kg)").tables.weighings][0]!.massG).toBe(2500);
    expect([...read("mass_lb").tables.weighings][0]!.massG).toBeCloseTo(1133.980925, 9);
    const bare = read("mass");
    expect([...bare.tables.weighings][0]!.massG).toBe(2.5);
    expect(codes(bare)).toContain("records-unit-assumed");
  });

  it("with blank lines, short rows and columns of nobody", () => {
    const s = study({
      "weighings.csv":
        "animal_id,at,mass_g,__proto__,constructor,tare_g\n\n,,,,,\nP1,2025-03-06 07:00,2371,x,y\n",
    });
    expect(s.tables.weighings).toHaveLength(1);
    expect([...s.tables.weighings][0]).toMatchObject({
      massG: 2371,
      tareG: null,
      origin: { line: 4 },
    });
    expect(s.counts.find((c) => c.table === "weighings")?.rowsIn).toBe(1);
    expect(codes(s)).toContain("records-columns-ignored");
    expect(({} as Record<string, unknown>)["x"]).toBeUndefined();
  });

  it("empty, where the table may be missing", () => {
    const s = study({ "feeds.csv": "", "events.csv": "\n\n" });
    expect(codes(s).filter((c) => c === "records-file-empty")).toHaveLength(2);
  });
});

describe("the demo study", () => {
  const demo = fileURLToPath(new URL("../fixtures/demo-853cc0e", import.meta.url));
  it("has its deliberate errors found, and no others", async () => {
    const s = await readStudy(demo);
    expect(balanced(s)).toBe(true);
    const truth = JSON.parse(readFileSync(`${demo}/truth.json`, "utf8")) as {
      slips: { kind: string; file: string; line: number; expected: string }[];
    };
    // When the fixture was made such a feed was set aside; now its row stays and is asked about.
    for (const slip of truth.slips)
      if (slip.kind === "more refused than offered") slip.expected = "accepted with a notice";
    const place = (r: { file: string; line: number }) => `${r.file}:${r.line}`;
    expect(s.setAside.map(place).sort()).toEqual(
      truth.slips
        .filter((t) => t.expected === "set aside")
        .map(place)
        .sort(),
    );
    const noticed = new Set(s.notices.map((n) => `${n.place?.file}:${n.place?.line}`));
    for (const t of truth.slips.filter((each) => each.expected === "accepted with a notice"))
      expect(noticed).toContain(place(t));
  });
});

describe("names that are nearly right", () => {
  it("are suggested where one alone is near", () => {
    const known = new Set(["O22-01", "O22-02", "O23-11"]);
    expect(closestName("O22-0l", known)).toBe("O22-01"); // looks like it on paper
    expect(closestName("O22-03", known)).toBeNull(); // as near to -01 as to -02
    expect(closestName("O23-1l", known)).toBe("O23-11");
    expect(closestName("o23-11", known)).toBe("O23-11");
    expect(closestName("Bramble", known)).toBeNull();
  });
  it("are not looked for without end", () => {
    const known = new Set(Array.from({ length: 3000 }, (_, i) => `animal-${i}-with-a-long-name`));
    const guess = nameGuesser(known, 20);
    const from = performance.now();
    for (let i = 0; i < 100_000; i++) guess(`stranger-${i}-with-a-long-name`);
    expect(performance.now() - from).toBeLessThan(20_000);
    expect(guess("animal-7-with-a-long-nam")).toBeNull();
  });
});
