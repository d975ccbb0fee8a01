import { seededRandom } from "../../src/core/random.js";
import type { Study, StudySettings, WeighingRow } from "../../src/records/study.js";

const DAY = 86_400_000;
export const start = Date.parse("2025-03-05T06:00Z");

export const settings: StudySettings = {
  title: "grown",
  species: ["sea otter"],
  zone: "Europe/Berlin",
  feedingDayStartHour: 6,
  blankTareIsZero: false,
  blankRefusalIsNone: false,
  dateStyle: "year-month-day",
  decimal: "point",
  scaleErrorG: { b1: 3 },
  speciesOverrides: {},
};

/** A weighing with everything usual. */
export function weighing(
  animalId: string,
  at: number,
  massG: number,
  more: Partial<WeighingRow> = {},
): WeighingRow {
  return {
    animalId,
    at,
    massG,
    tareG: 0,
    scaleId: "b1",
    method: "bucket",
    coat: "dry",
    meal: "before",
    notes: null,
    origin: { file: "weighings.csv", line: 2 },
    ...more,
  };
}

/** Animals that grow about 1 % a day with honest noise, weighed each morning. */
export function grown(n: number, days: number, seed: number, firstG = 2000): WeighingRow[] {
  const random = seededRandom(seed);
  const rows: WeighingRow[] = [];
  for (let a = 1; a <= n; a++) {
    let log = Math.log(firstG * (0.8 + 0.4 * random.uniform()));
    for (let d = 0; d < days; d++) {
      log += d < 3 ? -0.01 : 0.009 + 0.006 * random.normal();
      const g = Math.round(Math.exp(log) * (1 + 0.006 * random.normal()));
      rows.push(
        weighing(`P${a}`, start + d * DAY + Math.round(30 * random.uniform()) * 60_000, g + 410, {
          tareG: 410,
          origin: { file: "weighings.csv", line: rows.length + 2 },
        }),
      );
    }
  }
  return rows;
}

/** A study of these weighings; every animal in it is born ten days before the first. */
export function studyOf(
  weighings: readonly WeighingRow[],
  more: Partial<Study["tables"]> = {},
): Study {
  const names = [...new Set(weighings.map((w) => w.animalId))];
  return {
    settings,
    tables: {
      animals: names.map((animalId, i) => ({
        animalId,
        name: null,
        species: "sea otter",
        sex: "unknown",
        birthDateEarliest: "2025-02-23",
        birthDateLatest: "2025-02-23",
        birthDateBasis: "observed",
        admittedAt: start,
        season: "2025",
        outcome: null,
        outcomeReason: null,
        outcomeDate: null,
        notes: null,
        origin: { file: "animals.csv", line: i + 2 },
      })),
      weighings,
      scaleChecks: [],
      feeds: [],
      plans: [],
      diets: [],
      batches: [],
      ingredients: [],
      housing: [],
      observations: [],
      events: [],
      ...more,
    },
    setAside: [],
    counts: [],
    notices: [],
    inputs: [],
  };
}
