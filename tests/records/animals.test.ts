import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { animalsNamed } from "../../src/records/settle-ids.js";
import { buildSeries } from "../../src/series/build-series.js";
import { animalsCsv, balanced, short, study } from "./small-study.js";

const head = `${animalsCsv.split("\n")[0]!},outcome,outcome_date`;
const animals = (...rows: string[]) => ({ "animals.csv": `${[head, ...rows].join("\n")}\n` });
const weighed = (...rows: string[]) => ({
  "weighings.csv": `animal_id,at,mass_g,tare_g\n${rows.map((r) => `${r},0`).join("\n")}\n`,
});
const notices = (s: ReturnType<typeof study>, code: string) =>
  s.notices.filter((n) => n.code === code).map((n) => [n.place?.table, n.place?.line]);

describe("an animal without a usable row in the animals table", () => {
  it("stands in, and its rows are used", () => {
    const s = study(
      weighed("P1,2025-03-06 07:00,2371", "P9,2025-03-06 08:00,2100", "P9,2025-03-07 08:00,2110"),
    );
    expect(s.setAside).toEqual([]);
    expect(s.standIns).toMatchObject([
      {
        animalId: "P9",
        species: "sea otter",
        birthDateEarliest: null,
        admittedAt: null,
        outcome: null,
        withoutRow: { code: "records-animal-without-row" },
      },
    ]);
    expect(buildSeries(s).animals.map((a) => [a.animal.animalId, a.weighings.length])).toEqual([
      ["P1", 1],
      ["P2", 0],
      ["P9", 2],
    ]);
    // Each of its rows is asked about.
    expect(notices(s, "records-animal-without-row")).toEqual([
      ["weighings", 3],
      ["weighings", 4],
    ]);
  });
  it("keeps what its unusable row does say", () => {
    const s = study(
      {
        ...animals("P1,Bramble,,female,2025-03-01,,umbilicus,2025-03-05 14:00,2025,,"),
        ...weighed("P1,2025-03-06 07:00,2371"),
      },
      { species: ["sea otter", "harbour seal"] },
    );
    expect(short(s.setAside)).toEqual([
      [2, "species", "", "records-empty-cell", "suggest-fill-cell"],
    ]);
    expect(s.standIns).toMatchObject([
      { animalId: "P1", name: "Bramble", species: "not known", birthDateEarliest: "2025-03-01" },
    ]);
    expect(s.tables.weighings).toHaveLength(1);
  });
  it("is found even where its line cannot be cut into cells", () => {
    const s = study({
      "animals.csv": `${animalsCsv}P3,"Moss,sea otter,female,,,,2025-03-06 10:00,2025\n`,
      ...weighed("P3,2025-03-07 07:00,2000"),
    });
    expect(s.standIns?.map((a) => a.animalId)).toEqual(["P3"]);
    expect(s.tables.weighings.map((w) => w.animalId)).toEqual(["P3"]);
    expect(balanced(s)).toBe(true);
  });
  it("is no animal where its id is a slip of a known one, or the head of totals", () => {
    const s = study(
      weighed(
        "Pl,2025-03-06 07:00,2371",
        "Bramble,2025-03-06 07:00,2371",
        "Total,2025-03-06 07:00,3871",
      ),
    );
    expect(s.standIns).toBeUndefined();
    expect(s.setAside.map((r) => [r.line, r.suggestion.parameters["close"]])).toEqual([
      [2, "P1"],
      [3, "P1"],
      [4, null],
    ]);
  });
});

describe("a row for more than one animal", () => {
  const known = new Set(["O24-02", "O24-05", "O24-15", "A/B"]);
  it.each([
    ["O24-02, O24-05", ["O24-02", "O24-05"]],
    ["O24-02/05", ["O24-02", "O24-05"]],
    ["O24-02/O24-05", ["O24-02", "O24-05"]],
    ["O24-02 & 05 & 15", ["O24-02", "O24-05", "O24-15"]],
    ["O24-02 and O24-05", ["O24-02", "O24-05"]],
    ["O24-02+O24-05", ["O24-02", "O24-05"]],
    ["O24-02/5", ["O24-02", "O24-05"]],
    ["O24-02/99", ["O24-02"]],
    ["both", ["O24-02", "O24-05", "O24-15", "A/B"]],
    ["O24-02", []],
    ["Sandy and Moss", []],
  ])("%s", (cell, expected) => expect(animalsNamed(cell, known)).toEqual(expected));
  it("is set aside and asked about for each of them", () => {
    const s = study(weighed("P1/P2,2025-03-06 18:00,3900"));
    expect(short(s.setAside)).toEqual([
      [2, "animal_id", "P1/P2", "records-several-animals", "suggest-row-each"],
    ]);
    expect(s.questions).toMatchObject([
      { animals: ["P1", "P2"], row: "P1/P2, 2025-03-06 18:00, 3900, 0" },
    ]);
  });
});

describe("an id on two rows of the animals table", () => {
  const first =
    "P1,Bramble,sea otter,female,2025-03-01,2025-03-01,umbilicus,2025-03-05 14:00,2025,released,2025-05-01";
  const second = "P1,Bramble,sea otter,female,,,,2025-05-20 09:00,2025,,";
  const rows = weighed("P1,2025-03-06 07:00,2371", "P1,2025-05-21 07:00,5100");
  it.each([
    ["in order of time", [first, second]],
    ["the later row first", [second, first]],
  ])("is an animal that came back, where one stay follows the other: %s", (_, order) => {
    const s = study({ ...animals(...order), ...rows });
    expect(s.setAside).toEqual([]);
    expect(notices(s, "records-came-back")).toHaveLength(2);
    // Neither stay's rows lie outside of it.
    expect(s.notices.filter((n) => /before-arrival|after-leaving/.test(n.code))).toEqual([]);
    expect(buildSeries(s).animals).toMatchObject([
      {
        animal: {
          outcome: null,
          birthDateEarliest: "2025-03-01",
          admittedAt: Date.parse("2025-05-20T07:00Z"),
        },
        weighings: [{}, {}],
      },
    ]);
  });
  it("is another animal of another season, where the two cannot be one: each keeps its own rows", () => {
    const other =
      "P1,Sorrel,sea otter,male,2024-03-10,2024-03-10,observed,2024-03-24 14:00,2024,died,2024-06-01";
    const s = study({
      ...animals(other, second),
      ...weighed("P1,2024-04-01 07:00,2100", "P1,2025-05-21 07:00,5100"),
    });
    expect(s.setAside).toEqual([]);
    expect(notices(s, "records-id-used-again")).toHaveLength(2);
    expect(
      buildSeries(s).animals.map((a) => [
        a.animal.animalId,
        a.animal.name,
        a.weighings[0]?.row.massG,
      ]),
    ).toEqual([
      ["P1", "Bramble", 5100],
      ["P1 (2024)", "Sorrel", 2100],
    ]);
  });
  it("else keeps the row that keeps the animal in care, and asks about the other", () => {
    const s = study({
      ...animals(
        first,
        "P1,Bramble,sea otter,female,2025-03-01,2025-03-01,umbilicus,2025-03-05 14:00,2025,,",
      ),
      ...rows,
    });
    expect(short(s.setAside)).toEqual([
      [2, "animal_id", "P1", "records-name-twice", "suggest-another-name"],
    ]);
    expect(s.tables.animals.map((a) => a.outcome)).toEqual([null]);
  });
});

describe("a date of the animals table that most rows of the animal contradict", () => {
  const p1 = (born: string, arrived: string, end: string) =>
    `P1,Bramble,sea otter,female,${born},${born},umbilicus,${arrived},2025,${end}`;
  const rows = weighed(
    "P1,2025-03-06 07:00,2371",
    "P1,2025-03-07 07:00,2380",
    "P1,2025-03-08 07:00,2390",
    "P1,2025-03-09 07:00,2400",
  );
  const read = (row: string) => {
    const s = study({ ...animals(row), ...rows });
    expect(s.tables.weighings).toHaveLength(4);
    return { s, animal: s.tables.animals[0]! };
  };
  it("is in doubt, and not the rows: birth, arrival, death", () => {
    const born = read(p1("2026-03-01", "2025-03-05 14:00", ","));
    expect(born.animal.birthDateEarliest).toBeNull();
    expect(notices(born.s, "records-born-after-rows")).toEqual([
      ["animals", 2],
      ["animals", 2],
    ]);
    const arrived = read(p1("2025-03-01", "2026-03-05 14:00", ","));
    expect(arrived.animal.admittedAt).toBeNull();
    expect(notices(arrived.s, "records-arrival-after-rows")).toEqual([["animals", 2]]);
    expect(notices(arrived.s, "records-before-arrival")).toEqual([]);
    const died = read(p1("2025-03-01", "2025-03-05 14:00", "died,2025-03-05"));
    expect(notices(died.s, "records-after-death")).toHaveLength(3);
  });
  it("is not in doubt for one row that lies outside", () => {
    const s = study({
      ...animals(p1("2025-03-01", "2025-03-05 14:00", ",")),
      ...weighed(
        "P1,2025-02-06 07:00,2371",
        "P1,2025-03-07 07:00,2380",
        "P1,2025-03-08 07:00,2390",
      ),
    });
    expect(short(s.setAside).map((r) => [r[0], r[3]])).toEqual([[2, "records-before-birth"]]);
    expect(s.tables.animals[0]!.birthDateEarliest).toBe("2025-03-01");
  });
});

describe("rows and animals under any spoiling", () => {
  const id = fc.constantFrom(
    "P1",
    "P2",
    "P3",
    "P9",
    "P1/P2",
    "Q7",
    "?",
    "",
    "#REF!",
    "p1",
    "Total",
  );
  const cell = fc.constantFrom(
    "2025-03-06",
    "2025-03-05 14:00",
    "ca. 10 March",
    "#N/A",
    "",
    "x",
    "2062-01-01",
  );
  const animalRow = fc
    .tuple(
      id,
      fc.constantFrom("sea otter", "", "#REF!"),
      cell,
      cell,
      cell,
      fc.constantFrom("", "died", "in care", "?"),
      cell,
    )
    .map(([a, species, b1, b2, arrived, outcome, out]) =>
      [a, "", species, "f", b1, b2, "", arrived, "2025", outcome, out].join(","),
    );
  const feedRow = fc
    .tuple(id, cell, fc.constantFrom("60", "#REF!", "a little"))
    .map((r) => r.join(","));

  it("in = accepted + set aside, and every id with a good row or a row of its own is an animal", () => {
    fc.assert(
      fc.property(
        fc.array(animalRow, { maxLength: 5 }),
        fc.array(feedRow, { maxLength: 8 }),
        (rows, fed) => {
          const s = study({
            ...animals(...rows),
            "feeds.csv": `animal_id,at,offered_g\n${fed.join("\n")}\n`,
            "weighings.csv": "animal_id,at,mass_g\nP1,2025-03-06 07:00,2371\n",
          });
          expect(balanced(s)).toBe(true);
          const all = new Set(buildSeries(s).animals.map((a) => a.animal.animalId));
          // Whoever is fed or weighed in a row that is used is an animal of the study.
          for (const row of [...s.tables.feeds, ...s.tables.weighings])
            expect(all).toContain(row.animalId);
          // Whoever stands in the animals table under a readable id is one, too.
          for (const row of rows) {
            const named = row.split(",")[0]!;
            if (!["?", "", "#REF!"].includes(named))
              expect([...all].some((a) => a === named || a.startsWith(`${named} (`))).toBe(true);
          }
          // Every other row with anything in it is set aside and asked about.
          for (const aside of s.setAside)
            expect(s.questions?.some((q) => q.line === aside.line && q.file === aside.file)).toBe(
              true,
            );
        },
      ),
      { seed: 20261127, numRuns: 400 },
    );
  });
});
