import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { readStudy } from "../../src/records/files/read-study.js";
import type { DecisionRow, FeedRow } from "../../src/records/study.js";
import { buildSeries } from "../../src/series/build-series.js";
import { smoothedMassAt } from "../../src/series/smoothed-mass.js";
import { addDays } from "../../src/units/calendar.js";
import { study } from "../records/small-study.js";
import { grown, settings, start, studyOf, weighing } from "./grow-study.js";

const DAY = 86_400_000;
const HOUR = 3_600_000;

describe("the weighing that stands for a day", () => {
  const morning = start + HOUR; // 08:00 in Berlin
  const others = [1, 2, 3, 4].map((d) => weighing("P1", morning + d * DAY, 2010 + 20 * d));
  const first = (rows: Parameters<typeof studyOf>[0]) =>
    buildSeries(studyOf([...rows, ...others]), { slips: false }).animals[0]!;

  it("is the dry one before a meal, nearest the usual clock time, ties to the earliest", () => {
    const a = first([
      weighing("P1", morning - HOUR, 2000, { coat: "wet" }),
      weighing("P1", morning + 10 * 60_000, 2003),
      weighing("P1", morning + 5 * HOUR, 2001),
      weighing("P1", morning + 6 * HOUR, 2100, { meal: "after" }),
    ]);
    expect(a.daily[0]).toMatchObject({
      massG: 2003,
      at: morning + 10 * 60_000,
      usualCondition: true,
      nWeighings: 4,
    });
    expect(a.weighings.slice(0, 4).map((w) => w.standing)).toEqual([
      "shown only",
      "stands for the day",
      "shown only",
      "shown only",
    ]);
    const tie = first([weighing("P1", morning - HOUR, 2000), weighing("P1", morning + HOUR, 2001)]);
    expect(tie.daily[0]!.massG).toBe(2000);
  });

  it("carries a larger error where none was in the usual condition", () => {
    const usual = first([weighing("P1", morning, 2000)]).daily[0]!;
    const wet = first([weighing("P1", morning, 2000, { coat: "wet" })]).daily[0]!;
    expect(wet.usualCondition).toBe(false);
    expect(wet.errorG).toBeGreaterThan(2 * usual.errorG);
    // Scale 3 g and 0.7 % of 2000 g: sqrt(9 + 196).
    expect(usual.errorG).toBeCloseTo(Math.sqrt(205), 10);
  });

  it("needs a tare: blank means zero only where the study says so", () => {
    const rows = [weighing("P1", morning, 2000, { tareG: null })];
    const a = first(rows);
    expect(a.weighings[0]).toMatchObject({ netG: null, standing: "shown only" });
    expect(a.daily).toHaveLength(4);
    const s = studyOf([...rows, ...others]);
    const b = buildSeries({ ...s, settings: { ...settings, blankTareIsZero: true } }).animals[0]!;
    expect(b.daily).toHaveLength(5);
  });

  it("belongs to the feeding day that began the evening's morning", () => {
    const night = Date.parse("2025-03-30T01:30Z"); // 03:30 in Berlin, just after the clocks went on
    const a = buildSeries(studyOf([weighing("P1", night, 2000)])).animals[0]!;
    expect(a.daily[0]!.feedingDay).toBe("2025-03-29");
    expect(a.daily[0]!.at).toBe(night);
  });

  it("has its age from local noon, in parts of days", () => {
    const a = buildSeries(studyOf([weighing("P1", Date.parse("2025-03-05T17:00Z"), 2000)]))
      .animals[0]!;
    // Noon of 23 February in Berlin is 11:00 UTC.
    expect(a.daily[0]!.ageD).toBe(10.25);
    expect(a.daily[0]!.sinceAdmissionD).toBeCloseTo(11 / 24, 12);
  });
});

describe("feeds", () => {
  const feed = (more: Partial<FeedRow>): FeedRow => ({
    animalId: "P1",
    groupId: null,
    at: start + HOUR,
    dietId: null,
    batchId: null,
    offeredG: 60,
    refusedG: 5,
    route: "bottle",
    notes: null,
    origin: { file: "feeds.csv", line: 2 },
    ...more,
  });
  const nothing = {
    waterPct: null,
    proteinPct: null,
    fatPct: null,
    carbohydratePct: null,
    fibrePct: null,
    ashPct: null,
    energyKcalPerG: null,
  };
  const origin = { file: "x", line: 2 };
  const study = studyOf([weighing("P1", start, 2000)], {
    diets: [
      {
        ...nothing,
        dietId: "milk",
        name: null,
        kind: "formula",
        fatPct: 7,
        energyKcalPerG: 1.1,
        densityGPerMl: 1.03,
        useByH: 24,
        origin,
      },
    ],
    batches: [
      {
        ...nothing,
        batchId: "b",
        dietId: "milk",
        madeAt: start,
        massG: null,
        useByH: null,
        energyKcalPerG: 1.2,
        notes: null,
        origin,
      },
    ],
    housing: [
      { animalId: "P1", groupId: "pool", from: start, to: start + DAY, place: "pool", origin },
    ],
    feeds: [
      feed({ batchId: "b" }),
      feed({ at: start + 2 * HOUR, refusedG: null, dietId: "unheard of" }),
      feed({ at: start + 3 * HOUR, animalId: null, groupId: "pool" }),
      feed({ at: start + 30 * HOUR, animalId: null, groupId: "pool" }),
    ],
  });
  it("carry what was in them, the batch over the diet, and bounds where refusal is unknown", () => {
    const [a, b] = buildSeries(study).animals[0]!.feeds;
    expect(a).toMatchObject({
      dietId: "milk",
      eatenG: 55,
      eatenLowG: 55,
      eatenHighG: 55,
      composition: { kind: "formula", fatPct: 7, energyKcalPerG: 1.2 },
      batchAgeH: 1,
      useByH: 24,
      densityGPerMl: 1.03,
    });
    expect(b).toMatchObject({
      eatenG: null,
      eatenLowG: 0,
      eatenHighG: 60,
      composition: null,
      batchAgeH: null,
    });
  });
  it("of a group the animal is in are shared, and only while it is in it", () => {
    expect(buildSeries(study).animals[0]!.sharedFeeds.map((f) => f.at)).toEqual([start + 3 * HOUR]);
  });
});

describe("laws of the series", () => {
  const rows = grown(3, 20, 20250403);
  const series = buildSeries(studyOf(rows));

  it("the order of rows does not matter", () => {
    const bare = JSON.stringify(series.animals.map((a) => [a.weighings, a.daily, a.span]));
    fc.assert(
      fc.property(fc.shuffledSubarray(rows, { minLength: rows.length }), (mixed) => {
        const other = buildSeries({
          ...studyOf(rows),
          tables: { ...studyOf(rows).tables, weighings: mixed },
        });
        expect(JSON.stringify(other.animals.map((a) => [a.weighings, a.daily, a.span]))).toBe(bare);
      }),
      { seed: 20250404, numRuns: 25 },
    );
  });

  it("a shift of all times by whole days without a clock change shifts the results", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 150 }), (days) => {
        // UTC has no clock changes, so whole days are whole days.
        const utc = { ...settings, zone: "UTC" };
        const base = { ...studyOf(rows), settings: utc };
        const shifted = {
          ...base,
          tables: {
            ...base.tables,
            animals: base.tables.animals.map((a) => ({
              ...a,
              birthDateEarliest: addDays(a.birthDateEarliest!, days),
              birthDateLatest: addDays(a.birthDateLatest!, days),
              admittedAt: a.admittedAt! + days * DAY,
            })),
            weighings: rows.map((r) => ({ ...r, at: r.at + days * DAY })),
          },
        };
        const [a, b] = [buildSeries(base), buildSeries(shifted)];
        const strip = (s: typeof a) =>
          s.animals.map((x) => x.daily.map((d) => [d.massG, d.errorG, d.nWeighings]));
        expect(strip(b)).toEqual(strip(a));
        expect(b.animals[0]!.daily[0]!.at - a.animals[0]!.daily[0]!.at).toBe(days * DAY);
      }),
      { seed: 20250405, numRuns: 20 },
    );
  });

  it("a change of unit changes nothing but the unit: slips and choices scale", () => {
    const doubled = buildSeries(
      studyOf(rows.map((r) => ({ ...r, massG: r.massG * 2, tareG: r.tareG! * 2 }))),
    );
    doubled.animals.forEach((a, i) => {
      expect(a.daily.map((d) => d.massG)).toEqual(series.animals[i]!.daily.map((d) => 2 * d.massG));
    });
  });

  it("is plain data without NaN", () => {
    expect(JSON.parse(JSON.stringify(series))).toEqual(series);
  });
});

describe("what a person decided", () => {
  const rows = grown(2, 20, 20250406);
  const slip = { ...rows[10]!, massG: rows[10]!.massG * 10 };
  const dirty = rows.map((r, i) => (i === 10 ? slip : r));
  const decision = (more: object): DecisionRow => ({
    animalId: slip.animalId,
    at: slip.at,
    massG: slip.massG,
    decision: "correct",
    newAnimalId: null,
    newAt: null,
    newMassG: null,
    newTareG: null,
    decidedBy: "R. Quay",
    decidedOn: "2025-04-01",
    why: "seen on the paper page",
    origin: { file: "decisions.csv", line: 2 },
    ...more,
  });
  const decide = (d: DecisionRow) => buildSeries({ ...studyOf(dirty), decisions: [d] });
  const day = (s: ReturnType<typeof decide>) =>
    s.animals[0]!.weighings.find((w) => w.row.massG === slip.massG)!;

  it("corrects what a weighing is taken for, keeps the row, and is reported", () => {
    expect(day(buildSeries(studyOf(dirty))).slip?.kind).toBe("times ten");
    const s = decide(decision({ newMassG: rows[10]!.massG }));
    expect(day(s)).toMatchObject({
      row: { massG: slip.massG },
      netG: rows[10]!.massG - 410,
      slip: null,
      standing: "stands for the day",
    });
    expect(s.notices).toHaveLength(1);
    expect(noticeText(s.notices[0]!)).toMatch(/R\. Quay on 2025-04-01: seen on the paper page/);
  });
  it("keeps or leaves out, and says when there is no such weighing", () => {
    expect(day(decide(decision({ decision: "leave out" }))).standing).toBe("shown only");
    const kept = day(decide(decision({ decision: "keep" })));
    expect([kept.slip, kept.netG]).toEqual([null, slip.massG - 410]);
    expect(decide(decision({ massG: 1 })).notices.map((n) => n.code)).toEqual([
      "series-decision-without-row",
    ]);
  });
  it("moves a weighing to the animal it belongs to", () => {
    const s = decide(decision({ newAnimalId: "P2", newMassG: rows[10]!.massG }));
    expect(s.animals.map((a) => a.weighings.length)).toEqual([19, 21]);
  });
  it("is read from decisions.csv", () => {
    const study_ = study({
      "decisions.csv":
        "animal_id,at,mass_g,decision,new_mass_g,decided_by,decided_on,why\nP1,2025-03-05 14:30,2350,correct,2360,R. Quay,2025-04-01,page\nP1,2025-03-05 14:30,2350,perhaps,,R. Quay,2025-04-01,page\n",
    });
    expect(study_.decisions).toHaveLength(1);
    expect(study_.setAside.map((r) => r.reason.code)).toEqual(["records-unknown-choice"]);
    const first = buildSeries(study_).animals[0]!.weighings[0]!;
    expect([first.row.massG, first.netG]).toEqual([2350, 1950]);
  });
});

describe("decisions about feeds and observations, and those without a row", () => {
  const files = {
    "feeds.csv":
      "animal_id,at,diet_id,offered_g,refused_g\nP1,2025-03-05 12:00,,750,0\nP1,2025-03-05 15:00,,75,0\n",
    "observations.csv":
      "animal_id,at,kind,value,unit\nP1,2025-03-05 12:30,temperature,73.1,degC\nP1,2025-03-05 12:40,vomit,1,\n",
  };
  const head =
    "animal_id,at,mass_g,offered_g,kind,value,decision,new_offered_g,new_refused_g,new_value,decided_by,decided_on,why\n";
  const with_ = (...lines: string[]) =>
    study({
      ...files,
      "decisions.csv":
        head + lines.map((line) => `P1,${line},R. Quay,2025-03-06,looked\n`).join(""),
    });
  const texts = (s: ReturnType<typeof with_>) => buildSeries(s).notices.map((n) => noticeText(n));
  const first = (s: ReturnType<typeof with_>) => buildSeries(s).animals[0]!;

  it("correct, keep or leave out a feed; the file's row stays as it is", () => {
    const corrected = with_("2025-03-05 12:00,,750,,,correct,75,5,");
    expect(first(corrected).feeds.map((f) => f.eatenG)).toEqual([70, 75]);
    expect([...corrected.tables.feeds][0]!.offeredG).toBe(750);
    expect(first(corrected).feeds.every((f) => f.slip === undefined)).toBe(true);
    expect(texts(corrected)[0]).toMatch(/applied: .*feed of 750 g: correct to offered 75 g/);
    const left = with_("2025-03-05 12:00,,750,,,leave out,,,");
    expect(first(left).feeds.map((f) => f.offeredG)).toEqual([75]);
    const kept = with_("2025-03-05 12:00,,750,,,keep,,,");
    expect(first(kept).feeds[0]!.eatenG).toBe(750);
    expect(first(with_()).feeds[0]!.eatenG).toBeNull();
  });
  it("correct, keep or leave out an observation", () => {
    const seen = (...lines: string[]) =>
      first(with_(...lines)).signs.map((o) => [o.kind, o.row.value, o.row.decided]);
    expect(seen("2025-03-05 12:30,,,temperature,73.1,correct,,,37.1")).toEqual([
      ["temperature", 37.1, "correct"],
      ["vomit", 1, undefined],
    ]);
    expect(seen("2025-03-05 12:40,,,vomit,1,leave out,,,")).toEqual([
      ["temperature", 73.1, undefined],
    ]);
    expect(seen("2025-03-05 12:40,,,vomit,1,keep,,,")[1]).toEqual(["vomit", 1, "keep"]);
  });
  it("that meet no row are said with the nearest one that was perhaps meant", () => {
    const said = (line: string) => texts(with_(line))[0]!;
    expect(said("2025-03-05 12:01,,750,,,keep,,,")).toMatch(
      /not applied: no row says P1, .*feed of 750 g.*Perhaps meant: P1, .*11:00.*750 g offered \(feeds.csv line 2\)/,
    );
    expect(said("2025-03-05 15:00,,57,,,keep,,,")).toMatch(/75 g offered \(feeds.csv line 3\)/);
    expect(said("2025-03-05 12:31,,,temperature,73.1,keep,,,")).toMatch(
      /temperature 73.1 degC \(observations.csv line 2\)/,
    );
    expect(said("2025-03-05 14:31,2350,,,,keep,,,")).toMatch(
      /a reading of 2350 g \(weighings.csv line 2\)/,
    );
    expect(said("2025-01-05 14:31,99,,,,keep,,,")).toMatch(/No row is near it/);
  });
  it("must name one kind of row", () => {
    const both = with_("2025-03-05 12:00,75,750,,,keep,,,", "2025-03-05 12:00,,,,,keep,,,");
    expect(both.decisions).toBeUndefined();
    expect(both.setAside.map((r) => r.reason.code)).toEqual([
      "records-decision-about",
      "records-decision-about",
    ]);
  });
});

describe("smoothed mass", () => {
  it("follows an exact growth of 1 % a day exactly", () => {
    const rows = Array.from({ length: 15 }, (_, d) =>
      weighing("P1", start + d * DAY, 2000 * Math.exp(0.01 * d)),
    );
    const a = buildSeries(studyOf(rows)).animals[0]!;
    const m = smoothedMassAt(a, start + 7.3 * DAY);
    expect(m.value! / (2000 * Math.exp(0.073)) - 1).toBeCloseTo(0, 10);
    expect(m.unit).toBe("g");
    expect(m.se!).toBeGreaterThan(0);
  });
  it("is moved little by one wild day and says when nothing is near", () => {
    const rows = Array.from({ length: 15 }, (_, d) =>
      weighing("P1", start + d * DAY, 2000 * Math.exp(0.01 * d) * (d === 7 ? 1.08 : 1)),
    );
    const a = buildSeries(studyOf(rows)).animals[0]!;
    const m = smoothedMassAt(a, start + 7 * DAY);
    expect(Math.abs(m.value! / (2000 * Math.exp(0.07)) - 1)).toBeLessThan(0.01);
    const far = smoothedMassAt(a, start + 60 * DAY);
    expect(far.value).toBeNull();
    expect(far.why?.code).toBe("series-no-mass-near");
  });
  it("uses nothing after the instant up to which things were known", () => {
    const rows = Array.from({ length: 15 }, (_, d) =>
      weighing("P1", start + d * DAY, 2000 + 10 * d),
    );
    const a = buildSeries(studyOf(rows)).animals[0]!;
    const cut = buildSeries(studyOf(rows.slice(0, 8))).animals[0]!;
    const at = start + 7 * DAY;
    expect(smoothedMassAt(a, at, { upTo: at }).value).toBe(smoothedMassAt(cut, at).value);
  });
});

describe("fifty chicks, real weighings without feeds", () => {
  it("have the published mean gains from day 0 to 21 by diet", async () => {
    // Crowder and Hand (1990); means as computed from R's ChickWeight: 16, 10, 10 and 9 chicks reach day 21.
    const study = await readStudy(fileURLToPath(new URL("../fixtures/chicks", import.meta.url)));
    const series = buildSeries(study);
    const gains = new Map<string, number[]>();
    for (const a of series.animals) {
      const first = a.daily.find((d) => d.ageD === 0)!;
      const last = a.daily.find((d) => d.ageD === 21);
      if (last === undefined) continue;
      const list = gains.get(a.animal.season!) ?? [];
      list.push((last.massG - first.massG) / (last.ageD! - first.ageD!));
      gains.set(a.animal.season!, list);
    }
    const mean = (name: string) => {
      const list = gains.get(name)!;
      return [list.length, Number((list.reduce((x, y) => x + y, 0) / list.length).toFixed(6))];
    };
    expect(["diet 1", "diet 2", "diet 3", "diet 4"].map(mean)).toEqual([
      [16, 6.485119],
      [10, 8.285714],
      [10, 10.928571],
      [9, 9.412698],
    ]);
  });
});
