import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { cellWords, meaningOf } from "../../src/records/cell-words.js";
import { tableColumns } from "../../src/records/columns.js";
import { buildSeries } from "../../src/series/build-series.js";
import { animalsCsv, balanced, short, study, weighings } from "./small-study.js";

const words = (meaning: string) => cellWords.find((w) => w.meaning === meaning)!.spellings;
const quoted = (cell: string) => `"${cell.replaceAll('"', '""')}"`;
const feeds = (rows: string, more: object = {}) =>
  study({ "feeds.csv": `animal_id,at,offered_g,refused_g,route\n${rows}\n` }, more);
const eaten = (s: ReturnType<typeof study>) =>
  buildSeries(s).animals[0]!.feeds.map((f) => [f.eatenLowG, f.eatenHighG]);
const asked = (s: ReturnType<typeof study>) =>
  s.notices
    .filter((n) => n.level !== "info" && n.place?.line !== undefined)
    .map((n) => [n.place!.line, n.place!.column, n.code]);

describe("an error of a spreadsheet", () => {
  it.each(words("error of a spreadsheet"))("%s as a tare is neither blank nor zero", (word) => {
    const s = weighings(`P1,2025-03-06 07:00,2371,${word},b1,,,,`, { blank_tare_is_zero: true });
    expect(s.setAside).toEqual([]);
    expect([...s.tables.weighings][0]).toMatchObject({ tareG: null, unread: { tareG: word } });
    expect(asked(s)).toEqual([[2, "tare_g", "records-error-cell"]]);
    expect(buildSeries(s).animals[0]!.weighings[0]!.netG).toBeNull();
    // The same row with a blank tare does have a net mass: it is the word that counts.
    const blank = weighings("P1,2025-03-06 07:00,2371,,b1,,,,", { blank_tare_is_zero: true });
    expect(buildSeries(blank).animals[0]!.weighings[0]!.netG).toBe(2371);
  });
  it.each(["#REF!", "Err:508", "########", "#N/A"])(
    "%s where the value is needed sets the row aside",
    (word) => {
      const s = weighings(`P1,2025-03-06 07:00,${word},0,b1,,,,`);
      expect(short(s.setAside)).toEqual([
        [2, "mass_g", word, "records-error-cell", "suggest-error-cell"],
      ]);
    },
  );
});

describe("a word for unknown", () => {
  it.each(words("not known"))("%s as a refusal is unknown, though a blank means none", (word) => {
    const s = feeds(`P1,2025-03-06 08:00,60,${quoted(word)},bottle`, {
      blank_refusal_is_none: true,
    });
    expect(eaten(s)).toEqual([[0, 60]]);
    expect(s.setAside).toEqual([]);
    // An accepted spelling raises no notice.
    expect(asked(s)).toEqual([]);
  });
  it("in a cell that is needed sets the row aside with that reason", () => {
    const s = feeds("P1,2025-03-06 08:00,not weighed,0,bottle");
    expect(short(s.setAside)).toEqual([
      [2, "offered_g", "not weighed", "records-says-unknown", "suggest-fill-cell"],
    ]);
  });
  it("blank, none, unknown and an error stay four different things", () => {
    const read = (cell: string) =>
      eaten(feeds(`P1,2025-03-06 08:00,60,${cell},`, { blank_refusal_is_none: true }))[0];
    expect(read("")).toEqual([60, 60]);
    expect(read("none")).toEqual([60, 60]);
    expect(read("nil")).toEqual([60, 60]);
    expect(read("unknown")).toEqual([0, 60]);
    expect(read("#N/A")).toEqual([0, 60]);
    expect(read("about a third")).toEqual([0, 60]);
  });
  it("may be a name all the same", () => {
    const s = study({
      "animals.csv": `${animalsCsv}NA,Na,sea otter,f,2025-03-09,,,,\n`,
      "weighings.csv": "animal_id,at,mass_g,tare_g\nNA,2025-03-12 07:00,2371,0\n",
    });
    expect([...s.tables.weighings][0]!.animalId).toBe("NA");
    expect(s.tables.animals[2]!.name).toBe("Na");
  });
  it("in a batch's composition is not the diet's number", () => {
    const s = study({
      "diets.csv": "diet_id,kind,water_pct,fat_pct\nmilk,formula,80,7\n",
      "batches.csv":
        "batch_id,diet_id,made_at,water_pct,fat_pct\nb1,milk,2025-03-06 06:00,,#REF!\n",
      "feeds.csv": "animal_id,at,batch_id,offered_g\nP1,2025-03-06 08:00,b1,60\n",
    });
    expect(buildSeries(s).animals[0]!.feeds[0]!.composition).toMatchObject({
      waterPct: 80,
      fatPct: null,
    });
  });
});

describe("numbers as people write them", () => {
  const offered = (cell: string) => {
    const s = feeds(`P1,2025-03-06 08:00,${quoted(cell)},0,bottle`);
    return [
      [...s.tables.feeds][0]?.offeredG ?? null,
      ...s.setAside.map((r) => r.suggestion.code),
      ...asked(s).map((a) => a[2]),
    ];
  };
  // What a careful person reads, written by hand.
  it.each([
    ["60 g", [60]],
    ["60g", [60]],
    ["0.06 kg", [60]],
    ["1 250", [1250]],
    ["1\u00a0250", [1250]],
    ["1\u2009250", [1250]],
    ["６０", [60]],
    ["٦٠", [60]],
    ["\u200b60", [60]],
    ["'60", [60]],
    ["+60", [60]],
    ["60 (g)", [60]],
    ["60 (bottle leaked)", [60, "records-remark-in-cell"]],
    ["60; fed by hand", [60, "records-remark-in-cell"]],
    ["6e1", [60, "records-power-of-ten"]],
    ["6.0E+01", [60, "records-power-of-ten"]],
    ["6O", [null, "suggest-signs-alike"]],
    ["l2O", [null, "suggest-signs-alike"]],
    ["(60)", [null, "suggest-number-inside"]],
    ["60?", [null, "suggest-number-inside"]],
    ["60-70", [null, "suggest-number-inside"]],
    ["60 (or 70)", [null, "suggest-number-inside"]],
    ["60 (not given)", [null, "suggest-known-unit"]],
    ["-60", [null, "suggest-without-sign"]],
    ["1,250", [null, "suggest-one-reading"]],
    ["a little", [null, "suggest-number"]],
    ["=60-5", [null, "suggest-number-inside"]],
  ] as [string, unknown[]][])("%s", (cell, expected) => {
    expect(offered(cell)).toEqual(expected);
  });
  it("proposes the digits that letters stand for", () => {
    const s = feeds("P1,2025-03-06 08:00,l2O,0,bottle");
    expect(noticeText(s.setAside[0]!.suggestion)).toContain("120");
  });
});

describe("times as people write them", () => {
  const at = (cell: string) =>
    weighings(`P1,${cell},2371,0,b1,,,,`).tables.weighings.map((w) =>
      new Date(w.at).toISOString().slice(0, 16),
    );
  it.each([
    // Europe/Berlin in winter: one hour ahead of UTC.
    ["2025-03-09 24:00", ["2025-03-09T23:00"]],
    ["2025-03-09 0605", ["2025-03-09T05:05"]],
    ["2025-03-09T06:05", ["2025-03-09T05:05"]],
    ["2025-03-09\u00a006:05", ["2025-03-09T05:05"]],
    ["9th March 2025 6:05 pm", ["2025-03-09T17:05"]],
    ["2025-03-09 06:05 h", ["2025-03-09T05:05"]],
    ["2025-03-09 24:01", []],
    ["2025-03-09 morning", []],
  ])("%s", (cell, expected) => expect(at(cell)).toEqual(expected));
});

describe("a birth date known only roughly", () => {
  const p2 = "P2,Thistle,sea otter,m,2025-03-03,,observed,2025-03-06 09:30,2025";
  const born = (earliest: string, latest = "", arrival = "2025-03-26 09:30") => {
    const row = p2
      .replace("2025-03-03,", `${quoted(earliest)},${quoted(latest)}`)
      .replace("2025-03-06 09:30", arrival);
    const s = study({ "animals.csv": animalsCsv.replace(p2, row) });
    expect(s.setAside.filter((r) => r.table === "animals")).toEqual([]);
    const { birthDateEarliest, birthDateLatest } = s.tables.animals[1]!;
    return [birthDateEarliest, birthDateLatest, asked(s).some((a) => a[0] === 3)];
  };
  // Three days to either side of "about" are our own choice; the rest follows from the calendar.
  it.each([
    ["2025-03-03", "", ["2025-03-03", "2025-03-03", false]],
    ["ca. 10 March 2025", "", ["2025-03-07", "2025-03-13", true]],
    ["~2025-03-10", "", ["2025-03-07", "2025-03-13", true]],
    ["10 March 2025?", "", ["2025-03-07", "2025-03-13", true]],
    ["ca. 10 March", "", ["2025-03-07", "2025-03-13", true]],
    ["ca. 30 December", "", ["2024-12-27", "2025-01-02", true]],
    ["early March 2025", "", ["2025-03-01", "2025-03-10", true]],
    ["late February 2025", "", ["2025-02-21", "2025-02-28", true]],
    ["February 2025", "", ["2025-02-01", "2025-02-28", true]],
    ["2025-02", "", ["2025-02-01", "2025-02-28", true]],
    ["10-12 March 2025", "", ["2025-03-10", "2025-03-12", true]],
    ["between 28 February and 2 March 2025", "", ["2025-02-28", "2025-03-02", true]],
    // Nobody is born after its arrival on the 26th.
    ["March 2025", "", ["2025-03-01", "2025-03-26", true]],
    // 17.5 to 24.5 days before 26 March.
    ["about 3 weeks before admission", "", ["2025-03-01", "2025-03-09", true]],
    ["ca. 3 March 2025", "ca. 10 March 2025", ["2025-02-28", "2025-03-13", true]],
    ["", "ca. 10 March 2025", ["2025-03-07", "2025-03-13", true]],
    ["unknown", "", [null, null, false]],
    ["early spring", "", [null, null, true]],
    ["before 10 March 2025", "", [null, null, true]],
    // The other end is not taken for the one that cannot be read.
    ["2025-03-03", "soon after", ["2025-03-03", null, true]],
    ["2025-03-10", "2025-03-03", [null, null, true]],
  ] as [string, string, unknown[]][])("%s | %s", (earliest, latest, expected) => {
    expect(born(earliest, latest)).toEqual(expected);
  });
  it("without a year needs the arrival", () => {
    expect(born("ca. 10 March", "", "")).toEqual(["2025-03-07", "2025-03-13", true]); // season 2025
    const row = p2.replace("2025-03-03,", "ca. 10 March,").replace("2025-03-06 09:30,2025", ",");
    const s = study({ "animals.csv": animalsCsv.replace(p2, row) });
    expect(s.tables.animals[1]).toMatchObject({ birthDateEarliest: null, birthDateLatest: null });
    expect(asked(s)).toContainEqual([3, "birth_date_earliest", "records-date-needs-arrival"]);
  });
});

describe("a cell that is not needed", () => {
  const tables = {
    "animals.csv": `${animalsCsv.trim().replace("season", "season,outcome,outcome_date,notes")}\n`,
    "weighings.csv":
      "animal_id,at,mass_g,tare_g,scale_id,method,coat,meal,notes\nP1,2025-03-06 07:00,2371,410,b1,bucket,dry,before,x\nP2,2025-03-07 07:00,1512,10,b1,carried,dry,after,y\n",
    "feeds.csv":
      "animal_id,group_id,at,diet_id,batch_id,offered_g,refused_g,route,notes\nP1,,2025-03-06 08:00,milk,m1,60,5,bottle,x\nP2,,2025-03-06 08:00,milk,m1,50,0,tube,y\n",
    "plans.csv":
      "animal_id,from,to,diet_id,g_per_feed,feeds_per_day,feed_times,target_mass_g,ordered_by\nP1,2025-03-05 06:00,2025-03-08 06:00,milk,60,8,06:00 09:00,2400,x\n",
    "diets.csv":
      "diet_id,name,kind,water_pct,fat_pct,energy_kcal_per_g,density_g_per_ml,use_by_h\nmilk,Milk,formula,80,7,1.1,1.03,24\n",
    "batches.csv":
      "batch_id,diet_id,made_at,mass_g,use_by_h,fat_pct\nm1,milk,2025-03-06 06:00,500,12,7\n",
    "observations.csv":
      "animal_id,at,kind,value,unit,notes\nP1,2025-03-06 09:00,temperature,37.8,degC,x\n",
    "housing.csv": "animal_id,from,to,place\nP1,2025-03-05,2025-03-09,pool\n",
  } as const;
  const rowCounts = (s: ReturnType<typeof study>) =>
    Object.fromEntries(Object.entries(s.tables).map(([name, rows]) => [name, rows.length]));
  const whole = study(tables);

  const spots = Object.entries(tables).flatMap(([file, text]) => {
    const lines = text.trim().split("\n");
    const header = lines[0]!.split(",");
    const columns = tableColumns[file.replace(".csv", "") as keyof typeof tableColumns];
    return header.flatMap((name, index) => {
      const column = columns.find((c) => c.name === name)!;
      const named = name === "animal_id" || name === "group_id";
      return column.required || named
        ? []
        : lines.slice(1).map((_, row) => ({ file, row: row + 1, index, column }));
    });
  });
  const spoilt = fc.constantFrom(
    "",
    "?",
    "unknown",
    "#REF!",
    "#DIV/0!",
    "n/a",
    "-",
    "soon",
    "ca. 5",
    "99:99",
    "2025-13-45",
    "☃",
  );

  it("blank or spoilt, changes no other cell and no number of rows", () => {
    fc.assert(
      fc.property(fc.constantFrom(...spots), spoilt, (spot, cell) => {
        const lines = tables[spot.file as keyof typeof tables].trim().split("\n");
        const cells = lines[spot.row]!.split(",");
        cells[spot.index] = cell;
        lines[spot.row] = cells.join(",");
        const s = study({ ...tables, [spot.file]: `${lines.join("\n")}\n` });
        expect(balanced(s)).toBe(true);
        expect(rowCounts(s)).toEqual(rowCounts(whole));
        const apart = (of: typeof s) =>
          Object.entries(of.tables).flatMap(([table, rows]) =>
            (rows as readonly object[]).map((row, i) => {
              const { unread: _, ...values } = row as Record<string, unknown>;
              if (`${table}.csv` === spot.file && i === spot.row - 1) {
                delete values[spot.column.key];
                // One birth cell alone gives both ends; an observation keeps its value as text too.
                if (spot.column.holds === "rough date") {
                  delete values["birthDateEarliest"];
                  delete values["birthDateLatest"];
                }
                if (spot.column.key === "value") delete values["valueText"];
              }
              return values;
            }),
          );
        expect(apart(s)).toEqual(apart(whole));
      }),
      { seed: 20261126, numRuns: 600 },
    );
  });
});

describe("the list of words", () => {
  it("gives every spelling its own meaning, in any case, with a stop or in brackets", () => {
    for (const { meaning, spellings } of cellWords)
      for (const word of spellings) {
        expect([word, meaningOf(word)]).toEqual([word, meaning]);
        expect(meaningOf(word.toUpperCase())).toBe(meaning);
        if (meaning !== "error of a spreadsheet" && /[a-z]/.test(word))
          expect(meaningOf(`(${word})`)).toBe(meaning);
      }
  });
  it("takes no number and no plain word for one of them", () => {
    for (const text of ["60", "0", "2025-03-06", "sea otter", "Bramble", "no appetite", "+5"])
      expect(meaningOf(text)).toBeNull();
  });
});
