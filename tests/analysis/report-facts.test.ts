import { beforeAll, describe, expect, it } from "vitest";
import { dietsFed } from "../../src/analysis/diets-fed.js";
import { feedingByAge } from "../../src/analysis/feeding-by-age.js";
import { staysByPlace } from "../../src/analysis/stays-by-place.js";
import type { AnimalAnalysis, StudyAnalysis } from "../../src/analysis/study-analysis.js";
import { intakeByDay } from "../../src/rates/intake-by-day.js";
import { readStudy } from "../../src/records/files/read-study.js";
import type { Study } from "../../src/records/study.js";
import { outcomesOfCare } from "../../src/seasons/outcomes-of-care.js";
import type { StudySeries } from "../../src/series/animal-series.js";
import { buildSeries } from "../../src/series/build-series.js";
import { type Cells, demoFolder, demoRows, demoTruth } from "../data-demo/demo-files.js";

/** What the report says of feeding, housing and survival, against the demo's cells added up here. */
let study: Study;
let series: StudySeries;
const slips = new Set(demoTruth().slips.map((s) => `${s.file}:${s.line}`));
const speciesOf = new Map(demoRows("animals").map((a) => [a["animal_id"]!, a["species"]!]));

beforeAll(async () => {
  study = await readStudy(demoFolder);
  series = buildSeries(study);
});

const named = () =>
  series.animals.map((s) => ({
    animalId: s.animal.animalId,
    species: s.animal.species,
    series: s,
  }));

describe("diets that were fed", () => {
  it("have the grams and the composition of the file", () => {
    const rows = demoRows("feeds").filter(
      (f, i) =>
        f["diet_id"] === "otter-formula-2" &&
        speciesOf.get(f["animal_id"]!) === "sea otter" &&
        !slips.has(`feeds.csv:${i + 2}`),
    );
    // A refusal left blank: half of what was offered, the middle of all that is possible.
    const eaten = (f: Cells) =>
      Number(f["offered_g"]) -
      (f["refused_g"] === "" ? Number(f["offered_g"]) / 2 : Number(f["refused_g"]));
    const grams = rows.reduce((sum, f) => sum + eaten(f), 0);
    const found = dietsFed(named(), study.tables.diets);
    const own = found.find((d) => d.dietId === "otter-formula-2" && d.species === "sea otter")!;
    expect(own.name).toBe("otter formula, second mixture");
    expect(Math.abs(own.eatenG / grams - 1)).toBeLessThan(0.001);
    // The batches are weighed to the gram: within a hundredth of the diet's own line.
    const diet = demoRows("diets").find((d) => d["diet_id"] === "otter-formula-2")!;
    expect(own.kcalPerG! / Number(diet["energy_kcal_per_g"])).toBeCloseTo(1, 2);
    expect(own.waterPct! / Number(diet["water_pct"])).toBeCloseTo(1, 2);
    const shares = found.filter((d) => d.species === "sea otter").map((d) => d.sharePct);
    expect(shares.reduce((a, b) => a + b, 0)).toBeCloseTo(100, 9);
  });
});

describe("feeding by age", () => {
  it("has the orders' feeds, their rhythm, and what was eaten of them", () => {
    const two = named()
      .filter((a) => ["O22-02", "O24-02"].includes(a.animalId))
      .map((a) => ({
        ...a,
        intake: intakeByDay(a.series, { settings: series.settings }),
      })) as unknown as AnimalAnalysis[];
    const found = feedingByAge(two);
    const [young, later] = [found.find((f) => f.fromD === 0)!, found.find((f) => f.fromD === 60)!];
    expect(young.feedsOrdered).toBe(12);
    expect(young.feedsGiven).toBe(12);
    expect(Math.abs(young.betweenH! - 2)).toBeLessThan(0.1);
    expect(young.solidsPct).toBe(0);
    expect(later.feedsOrdered).toBe(8);
    expect(Math.abs(later.betweenH! - 3)).toBeLessThan(0.15);
    // One order added up by hand: grams of a feed times feeds of a day, against what was taken.
    expect(young.ofOrderedPct!).toBeGreaterThan(75);
    expect(young.ofOrderedPct!).toBeLessThan(100);
    expect(found.reduce((sum, f) => sum + f.days, 0)).toBeGreaterThan(200);
  });
});

describe("stays by place", () => {
  const end = Date.parse("2025-07-17T08:15Z");
  const places = () =>
    staysByPlace(
      {
        records: { end },
        animals: named().map((a) => ({
          ...a,
          inCare: a.series.animal.outcome === "in care",
        })),
      } as unknown as StudyAnalysis,
      study.tables.housing,
    );

  it("count the animals of the file, and those that are there as the records end", () => {
    const rows = demoRows("housing");
    for (const place of places()) {
      const own = rows.filter(
        (r) => r["place"] === place.place && speciesOf.get(r["animal_id"]!) === place.species,
      );
      expect(place.animals).toBe(new Set(own.map((r) => r["animal_id"])).size);
      expect(place.now).toBe(own.filter((r) => r["to"] === "").length);
      expect(place.most).toBeGreaterThanOrEqual(Math.max(1, place.now));
      expect(place.most).toBeLessThanOrEqual(place.animals);
    }
    expect(places().reduce((sum, p) => sum + p.now, 0)).toBe(9);
  });
});

describe("outcomes of care", () => {
  /** Four animals: died on day 5, left on day 10, died on day 20, in care to day 40. */
  const four = (): StudySeries => {
    const day = (n: number) => new Date(Date.UTC(2025, 4, 1 + n)).toISOString().slice(0, 10);
    const one = (animalId: string, outcome: string, n: number | null) => ({
      animal: {
        animalId,
        species: "sea otter",
        season: "2025",
        admittedAt: Date.UTC(2025, 4, 1),
        outcome,
        outcomeDate: n === null ? null : day(n),
      },
    });
    return {
      settings: { zone: "UTC", feedingDayStartHour: 0 },
      animals: [
        one("A", "died", 5),
        one("B", "released", 10),
        one("C", "euthanised", 20),
        one("D", "in care", null),
      ],
    } as unknown as StudySeries;
  };

  it("give Aalen and Johansen's shares, worked out by hand", () => {
    const { deaths, seasons } = outcomesOfCare(four(), Date.UTC(2025, 5, 10));
    // Day 5: 1 of 4. Day 20: half are left, 1 of the 2 at risk dies: 0.25 + 0.5 x 0.5.
    expect(deaths.map((d) => [d.day, d.atRisk, d.died.value])).toEqual([
      [7, 3, 25],
      [30, 1, 50],
      [90, 0, 50],
    ]);
    for (const d of deaths) {
      expect(d.died.interval!.lower!).toBeLessThan(d.died.value!);
      expect(d.died.interval!.upper!).toBeGreaterThan(d.died.value!);
    }
    expect(seasons).toMatchObject([{ admitted: 4, outcomes: { died: 1, euthanised: 1 } }]);
  });

  it("bound a share without a death by the exact binomial limit", () => {
    const alive = four();
    const animals = Array.from({ length: 12 }, () => alive.animals[3]!);
    const { deaths } = outcomesOfCare({ ...alive, animals }, Date.UTC(2025, 5, 10));
    // Clopper and Pearson 1934: with 0 of 12 the upper 97.5 % limit is 1 - 0.025^(1/12) = 26.5 %.
    expect(deaths[1]!.died.value).toBe(0);
    expect(deaths[1]!.died.interval!.upper).toBeCloseTo(26.465, 2);
  });
});
