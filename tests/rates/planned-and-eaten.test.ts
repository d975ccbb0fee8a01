import { describe, expect, it } from "vitest";
import { comparablePlan, plannedAndEaten } from "../../src/rates/planned-and-eaten.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { buildSeries } from "../../src/series/build-series.js";

/** One invented pup; sums worked out by hand beside each check. */
function series(feeds: readonly string[], plans: readonly string[]) {
  const files = {
    "study.json": JSON.stringify({
      title: "Plan",
      species: ["sea otter"],
      zone: "UTC",
      feeding_day_start_hour: 6,
      date_style: "year-month-day",
      decimal: "point",
    }),
    "animals.csv":
      "animal_id,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season,outcome\n" +
      "P1,sea otter,female,2025-05-01,2025-05-01,observed,2025-05-03 10:00,2025,in care\n",
    "weighings.csv": "animal_id,at,mass_g,method\nP1,2025-05-10 09:00,2000,platform\n",
    "diets.csv":
      "diet_id,name,kind,energy_kcal_per_g\nmilk,Formula,formula,1.2\nclam,Clam,solid,0.75\nodd,Not known,solid,\n",
    "feeds.csv": `animal_id,at,diet_id,offered_g,refused_g,route\n${feeds.join("\n")}\n`,
    "plans.csv": `animal_id,from,to,diet_id,g_per_feed,feeds_per_day\n${plans.join("\n")}\n`,
  };
  const inputs = Object.entries(files).map(([path, text]) => ({ path, bytes: Buffer.from(text) }));
  return buildSeries(parseStudy(inputs)).animals[0]!;
}

const from = Date.UTC(2025, 4, 11, 6);
const to = Date.UTC(2025, 4, 12, 6);
const milkPlan = "P1,2025-05-05 06:00,,milk,50,8";

describe("plan and intake of a stretch", () => {
  it("stay in grams while only the planned diet is fed; a refusal left blank opens a range", () => {
    // 100 - 10 + 80 (refusal not written: 0 to 80) = 90 to 170 g of 8 x 50.
    const s = series(
      ["P1,2025-05-11 07:00,milk,100,10,bottle", "P1,2025-05-11 12:00,milk,80,,bottle"],
      [milkPlan],
    );
    expect(plannedAndEaten(s, from, to)).toEqual({ unit: "g", planned: 400, least: 90, most: 170 });
  });

  it("become energy where another diet was fed", () => {
    // 100 g x 1.2 + 80 g x 0.75 = 180 kcal of 400 x 1.2 = 480.
    const s = series(
      ["P1,2025-05-11 07:00,milk,100,0,bottle", "P1,2025-05-11 12:00,clam,80,0,hand"],
      [milkPlan],
    );
    const found = plannedAndEaten(s, from, to);
    expect(found).toMatchObject({ unit: "kcal" });
    expect(found).toHaveProperty("planned", expect.closeTo(480, 9));
    expect(found).toHaveProperty("least", expect.closeTo(180, 9));
    expect(found).toHaveProperty("most", expect.closeTo(180, 9));
  });

  it("count the newest plan only, and no feed outside the stretch", () => {
    const s = series(
      ["P1,2025-05-11 05:59,milk,70,0,bottle", "P1,2025-05-12 06:00,milk,70,0,bottle"],
      [milkPlan, "P1,2025-05-09 06:00,,milk,60,6"],
    );
    expect(plannedAndEaten(s, from, to)).toEqual({ unit: "g", planned: 360, least: 0, most: 0 });
  });

  it("say where there is nothing to compare", () => {
    const fed = ["P1,2025-05-11 07:00,odd,100,0,hand"];
    expect(plannedAndEaten(series(fed, []), from, to)).toBe("no plan");
    // An order without an amount is an order all the same.
    const bare = series(fed, ["P1,2025-05-05 06:00,,milk,,8"]);
    expect(comparablePlan(bare, from, to)).toBe("not comparable");
    // What was fed has no known energy.
    expect(plannedAndEaten(series(fed, [milkPlan]), from, to)).toBe("not comparable");
  });
});
