import { beforeAll, describe, expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { leaveOutPeople } from "../../src/analysis/leave-out-people.js";
import type { StudyAnalysis } from "../../src/analysis/study-analysis.js";
import { parseStudy } from "../../src/records/parse-study.js";
import {
  flagLogTable,
  flagSeasonsTable,
  ofLatestSeason,
} from "../../src/report/animal/flag-log-table.js";

/**
 * An invented pup weighed and fed every day, whose temperature lies outside the
 * range of its species (37.5 to 38.1 degC) on 11 and 12 May only. By the rule of
 * the episodes (three days in a row without any signal close one) the danger
 * signal opens an episode on the 11th; treatment and note fall into it.
 */
const days = Array.from({ length: 20 }, (_, i) => `2025-05-${String(i + 4).padStart(2, "0")}`);
const hot = new Set(["2025-05-11", "2025-05-12"]);
const files = {
  "study.json": JSON.stringify({
    title: "Log",
    species: ["sea otter"],
    zone: "America/Vancouver",
    feeding_day_start_hour: 6,
    date_style: "year-month-day",
    decimal: "point",
  }),
  "animals.csv":
    "animal_id,name,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season,outcome\n" +
    "P1,Mica,sea otter,female,2025-04-20,2025-04-20,observed,2025-05-04 07:00,2025,in care\n",
  "weighings.csv": `animal_id,at,mass_g,tare_g,method,coat,meal\n${days
    .map((d, i) => `P1,${d} 09:00,${2000 + 40 * i},0,platform,dry,before`)
    .join("\n")}\n`,
  "feeds.csv": `animal_id,at,diet_id,offered_g,refused_g,route\n${days
    .flatMap((d) =>
      ["02:30", "06:30", "10:30", "14:30", "18:30", "22:30"].map(
        (t) => `P1,${d} ${t},milk,70,0,bottle`,
      ),
    )
    .join("\n")}\n`,
  "diets.csv": "diet_id,name,kind,energy_kcal_per_g\nmilk,Formula A,formula,1.2\n",
  "observations.csv": `animal_id,at,kind,value,unit,notes\n${days
    .flatMap((d) => [
      `P1,${d} 08:00,temperature,${hot.has(d) ? "39.6" : "37.8"},degC,`,
      `P1,${d} 10:00,stool,firm,,`,
      `P1,${d} 11:00,urine,seen,,`,
    ])
    .join("\n")}\nP1,2025-05-12 14:00,medication,antibiotic as ordered,,\n`,
  "acknowledgements.csv":
    "animal_id,acknowledged_on,acknowledged_by,note\nP1,2025-05-12,R. Quent,seen by the veterinarian\n",
};
const inputs = Object.entries(files).map(([path, text]) => ({ path, bytes: Buffer.from(text) }));

let analysis: StudyAnalysis;
beforeAll(async () => {
  analysis = (await analyse(parseStudy(inputs), { curves: [] })).value;
});

const temperatureRow = (of: StudyAnalysis) =>
  flagLogTable(of).rows.find((row) => String(row[4]).includes("temperature"));

describe("the log of flags", () => {
  it("names the days of an episode, what was raised, the note and the treatment", () => {
    const row = temperatureRow(analysis)!;
    expect(row[0]).toBe("Mica (P1)");
    expect(row[1]).toBe("2025-05-11");
    expect(row[3]).toBe("rule");
    expect(row[4]).toContain("temperature (11 to 12 May 2025)");
    expect(row[5]).toBe("12 May 2025, R. Quent: seen by the veterinarian");
    expect(row[6]).toBe("medication 1");
    // Quiet from the 13th: the third day without a signal is the 15th.
    expect(row[2]).toBe("2025-05-15");
  });

  it("counts what it lists", () => {
    const rows = flagLogTable(analysis).rows;
    const [counts] = flagSeasonsTable(analysis).rows;
    expect(counts![0]).toBe("sea otter");
    expect(counts![1]).toBe("2025");
    expect(counts![4]).toBe(rows.length);
    expect(Number(counts![5]) + Number(counts![6])).toBe(rows.length);
    expect(counts![7]).toBe(rows.filter((row) => row[5] !== "not acknowledged").length);
    expect(counts![9]).toBe(rows.filter((row) => row[6] !== "nothing written").length);
    expect(flagLogTable(analysis, { of: ofLatestSeason(analysis) }).rows).toEqual(rows);
    expect(flagLogTable(analysis, { animalId: "nobody" }).rows).toEqual([]);
  });

  it("on an earlier day does not know what came later", async () => {
    const earlier = (await analyse(parseStudy(inputs), { curves: [], onDay: "2025-05-11" })).value;
    const row = temperatureRow(earlier)!;
    expect(row.slice(1, 4)).toEqual(["2025-05-11", "open", "rule"]);
    expect(row[5]).toBe("not acknowledged");
    expect(row[6]).toBe("nothing written");
  });

  it("names nobody where people are left out", async () => {
    const study = leaveOutPeople(parseStudy(inputs));
    const quiet = (await analyse(study, { curves: [] })).value;
    expect(temperatureRow(quiet)![5]).toBe("12 May 2025");
    expect(JSON.stringify(flagLogTable(quiet).rows)).not.toContain("Quent");
  });
});
