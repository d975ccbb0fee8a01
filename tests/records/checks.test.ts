import { describe, expect, it } from "vitest";
import { dataDictionary } from "../../src/records/data-dictionary.js";
import { summariseStudy } from "../../src/records/summarise-study.js";
import { animalsCsv, short, study, weighings } from "./small-study.js";

const noticed = (s: ReturnType<typeof study>, code: string) =>
  s.notices.filter((n) => n.code === code).map((n) => n.place?.line);

describe("two thresholds for masses", () => {
  // The sea otter profile: unusual outside 1000-7000 g, impossible outside 500-14000 g at 10 days.
  it("look again, set aside, or a likely slip", () => {
    const s = weighings(
      [
        "P1,2025-03-06 07:00,2371,0,b1,,,,",
        "P1,2025-03-07 07:00,800,0,b1,,,,",
        "P1,2025-03-08 07:00,2.4,0,b1,,,,",
        "P1,2025-03-09 07:00,24000,0,b1,,,,",
        "P1,2025-03-10 07:00,90,0,b1,,,,",
        "P1,2025-03-11 07:00,4000000,0,b1,,,,",
      ].join("\n"),
    );
    expect(noticed(s, "records-mass-unusual")).toEqual([3]);
    expect(noticed(s, "records-mass-slip-likely")).toEqual([4, 5, 7]);
    expect(short(s.setAside)).toEqual([
      [6, "mass_g", "90", "records-mass-impossible", "suggest-check-value"],
    ]);
  });
  it("do not judge a species without limits", () => {
    const s = study(
      {
        "animals.csv": animalsCsv.replaceAll("sea otter", "chick"),
        "weighings.csv": "animal_id,at,mass_g,tare_g\nP1,2025-03-06 07:00,42,0\n",
      },
      { species: "chick" },
    );
    expect(s.setAside).toEqual([]);
    expect(s.notices.filter((n) => n.code.startsWith("records-mass"))).toEqual([]);
  });
});

describe("impossible orders", () => {
  const animals = `${animalsCsv.replace("admitted_at,season", "admitted_at,season,outcome,outcome_date").replace("14:00,2025", "14:00,2025,died,2025-03-20").replace("09:30,2025", "09:30,2025,released,2025-05-01")}`;
  it("nothing before birth or after death; little outside the stay", () => {
    const s = study({
      "animals.csv": animals,
      "weighings.csv":
        "animal_id,at,mass_g,tare_g\nP1,2025-02-20 07:00,2000,0\nP1,2025-03-20 18:00,2000,0\nP1,2025-03-25 07:00,2000,0\nP2,2025-05-03 07:00,4000,0\nP2,2025-03-04 07:00,2000,0\n",
      "feeds.csv": "animal_id,at,offered_g\nP1,2025-04-03 07:00,60\n",
    });
    expect(short(s.setAside)).toEqual([
      [2, "at", "2025-04-03 07:00", "records-after-death", "suggest-exchanged-date"],
      [2, "at", "2025-02-20 07:00", "records-before-birth", "suggest-check-dates"],
      [4, "at", "2025-03-25 07:00", "records-after-death", "suggest-check-dates"],
    ]);
    expect(s.setAside[0]!.suggestion.parameters["exchanged"]).toBe("2025-03-04");
    expect(noticed(s, "records-after-leaving")).toEqual([5]);
    expect(noticed(s, "records-before-arrival")).toEqual([6]);
  });
  it("weaned before the first solid; stays that overlap", () => {
    const s = study({
      "diets.csv": "diet_id,kind\nfish,solid\n",
      "feeds.csv": "animal_id,at,diet_id,offered_g\nP1,2025-04-20 08:00,fish,10\n",
      "observations.csv":
        "animal_id,at,kind,value\nP1,2025-04-10 08:00,milestone,weaned\nP1,2025-04-25 08:00,milestone,weaned\n",
      "housing.csv":
        "animal_id,from,to,place\nP1,2025-03-05,2025-03-20,a\nP1,2025-03-19,,b\nP1,2025-03-25,,c\n",
    });
    expect(noticed(s, "records-weaned-before-solid")).toEqual([2]);
    expect(noticed(s, "records-overlap")).toEqual([3]);
  });
});

describe("day and month", () => {
  it("exchanged in one row: told where the file's order shows it", () => {
    const s = weighings(
      [
        "P1,2025-04-02 07:00,2371,0,b1,,,,",
        "P1,2025-04-03 07:00,2380,0,b1,,,,",
        "P1,2025-05-04 07:00,2390,0,b1,,,,",
        "P1,2025-04-06 07:00,2400,0,b1,,,,",
        "P1,2025-04-07 07:00,2400,0,b1,,,,",
      ].join("\n"),
    );
    // 4 May exchanged is 5 April, between the 3rd and the 6th.
    expect(noticed(s, "records-date-exchanged")).toEqual([4]);
  });
  it("of a whole file against the study's style: nothing is read on a guess", () => {
    const s = weighings(
      [
        "P1,25/03/2025 07:00,2371,0,b1,,,,",
        "P1,26/03/2025 07:00,2380,0,b1,,,,",
        "P1,04/05/2025 07:00,2390,0,b1,,,,",
        "P1,2025-04-06 07:00,2400,0,b1,,,,",
      ].join("\n"),
      { date_style: "month-day-year" },
    );
    expect(short(s.setAside).map((r) => [r[0], r[3]])).toEqual([
      [2, "records-other-date-style"],
      [3, "records-other-date-style"],
      [4, "records-date-style-doubtful"],
    ]);
    expect(s.tables.weighings.map((w) => w.origin.line)).toEqual([5]);
    expect(noticed(s, "records-date-style-of-file")).toHaveLength(1);
  });
});

describe("the summary", () => {
  it("counts every row and says what comes most", () => {
    const s = weighings("P1,2025-03-06 07:00,x,0,b1,,,,\nP1,2025-03-07 07:00,y,0,b1,,,,\n");
    const summary = summariseStudy(s);
    expect([summary.rowsIn, summary.accepted, summary.setAside]).toEqual([4, 2, 2]);
    expect(summary.reasons).toMatchObject([{ code: "records-not-a-number", count: 2 }]);
  });
});

describe("the data dictionary", () => {
  it("has every column of every table, its unit and what is allowed", () => {
    const all = dataDictionary();
    expect(all.filter((c) => c.table === "weighings").map((c) => c.column)).toEqual([
      "animal_id",
      "at",
      "mass_g",
      "tare_g",
      "scale_id",
      "method",
      "coat",
      "meal",
      "notes",
    ]);
    expect(all.find((c) => c.column === "coat")?.allowed).toEqual(["dry", "damp", "wet"]);
    expect(all.every((c) => c.about.length > 0)).toBe(true);
  });
});
