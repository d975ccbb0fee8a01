import { describe, expect, it } from "vitest";
import { batchesAway } from "../../src/rates/batch-energy.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { buildSeries } from "../../src/series/build-series.js";

/** An invented kitchen: powder and water, and what was written of five batches. */
const files = {
  "study.json": JSON.stringify({ title: "k", zone: "UTC", species: "sea otter" }),
  "animals.csv":
    "animal_id,species,admitted_at\nA,sea otter,2027-03-01 08:00\nB,sea otter,2027-03-01 08:00\n",
  "weighings.csv":
    "animal_id,at,mass_g,tare_g\nA,2027-03-01 08:00,2000,0\nB,2027-03-01 08:00,2100,0\n",
  "diets.csv":
    "diet_id,name,kind,water_pct,protein_pct,fat_pct,carbohydrate_pct,energy_kcal_per_g\nmilk,milk,formula,80,8,8,4,1.2\npowder,powder,supplement,0,40,40,20,6\nwater,water,supplement,100,0,0,0,0\n",
  "batches.csv":
    "batch_id,diet_id,made_at,mass_g,energy_kcal_per_g\nright,milk,2027-03-01 06:00,1000,\nthin,milk,2027-03-02 06:00,1000,\nspare,milk,2027-03-03 06:00,1000,\nodd,milk,2027-03-04 06:00,1000,\ntold,milk,2027-03-05 06:00,1000,0.9\n",
  "ingredients.csv":
    "batch_id,diet_id,mass_g\nright,powder,200\nright,water,800\nthin,powder,150\nthin,water,850\nspare,powder,200\nodd,powder,120\nodd,water,200\n",
  "feeds.csv":
    "animal_id,at,diet_id,batch_id,offered_g,refused_g\nA,2027-03-01 09:00,milk,right,50,0\nA,2027-03-02 09:00,milk,thin,60,10\nB,2027-03-02 12:00,milk,thin,40,\nA,2027-03-03 09:00,milk,spare,50,0\nA,2027-03-04 09:00,milk,odd,50,0\nB,2027-03-05 09:00,milk,told,50,0\n",
};

describe("a batch's energy", () => {
  const encode = (text: string) => new TextEncoder().encode(text);
  const series = buildSeries(
    parseStudy(Object.entries(files).map(([path, text]) => ({ path, bytes: encode(text) }))),
  );
  const feed = (batch: string) =>
    series.animals.flatMap((a) => a.feeds).find((f) => f.row.batchId === batch)!;

  it("follows from what was weighed into it (by hand: 150 of 1000 g of 6 kcal/g are 0.9 kcal/g)", () => {
    expect(feed("right").composition!.energyKcalPerG).toBeCloseTo(1.2, 12);
    expect(feed("thin").composition!.energyKcalPerG).toBeCloseTo(0.9, 12);
    expect(feed("thin").composition!.fatPct).toBeCloseTo(6, 12);
    expect(feed("thin").composition!.waterPct).toBeCloseTo(85, 12);
  });

  it("takes unwritten water as water where that gives the diet, and else says that it does not add up", () => {
    expect(feed("spare").composition!.energyKcalPerG).toBeCloseTo(1.2, 12);
    const odd = series.batches.find((b) => b.batchId === "odd")!;
    expect([odd.doesNotAddUp, odd.weighedG, odd.wholeG]).toEqual([true, 320, 1000]);
    expect(feed("odd").composition!.energyKcalPerG).toBe(1.2);
  });

  it("is what was entered on the batch where something was", () => {
    expect(feed("told").composition!.energyKcalPerG).toBe(0.9);
  });

  it("is named where it is more than 10 % off its diet, with who ate how much", () => {
    const named = batchesAway(series).map((b) => [
      b.batchId,
      b.awayPct === null ? null : Math.round(b.awayPct),
      b.eatenBy.map((e) => [e.animalId, e.eatenLowG, e.eatenHighG]),
    ]);
    expect(named).toEqual([
      [
        "thin",
        -25,
        [
          ["A", 50, 50],
          ["B", 0, 40],
        ],
      ],
      ["odd", null, [["A", 50, 50]]],
      ["told", -25, [["B", 50, 50]]],
    ]);
  });
});
